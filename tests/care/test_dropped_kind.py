"""A version that has no warming time any more for a kind of container: what lies there of it warms no shorter."""

from datetime import timedelta

import pytest

from station.care.by_hand import warming_by_hand
from station.care.late import Late, taken_out_late
from station.care.spec_drafts import SpecificationRefused
from station.care.specification import Conditioning
from station.care.words import Card, Word
from station.services.site import Site
from tests.care.bench import LEAD, Bench, site_t, with_limits, with_room_paste
from tests.care.engineering import approved
from tests.care.test_not_set_up_here import stranger
from tests.care.test_paste_lists import restarted

JAR = timedelta(hours=3)
"""What plant T asks of a jar in these tests; the figure is invented."""
OTHERS = (Conditioning("CART-600", timedelta(hours=1)),)


def without_jars(version: int = 2) -> Site:
    """Plant T with a version of SN-4 that has no time for jars."""
    return with_limits(with_room_paste(site_t()), "SN-4", version=version, conditioning=OTHERS)


def test_a_jar_taken_out_under_a_file_that_dropped_its_kind_warms_as_long_as_before() -> None:
    bench = Bench(with_room_paste(site_t()))
    jar, late = bench.cold(), bench.cold()
    restarted(bench.later(30), without_jars())
    assert bench.scan(jar, "FRIDGE").code == "taken-out"
    ready = bench.container(jar).earliest_use
    assert ready is not None
    assert ready >= bench.clock.wall + JAR
    told = taken_out_late(bench.floor, Late(late, bench.clock.wall, bench.clock.wall, "seen"), LEAD)
    assert dict(told.verdict.times)["earliest use"] >= bench.clock.wall + JAR
    by_hand = warming_by_hand(bench.floor, "SN-4", "JAR-500")
    assert by_hand is not None
    assert by_hand >= JAR


def test_the_longest_time_any_version_had_counts() -> None:
    bench = Bench(with_room_paste(site_t()))
    longer = (*OTHERS, Conditioning("JAR-500", timedelta(hours=5)))
    restarted(bench, with_limits(with_room_paste(site_t()), "SN-4", version=2, conditioning=longer))
    jar = bench.cold()
    restarted(bench.later(30), without_jars(3))
    assert bench.floor.minimum_for("SN-4", "JAR-500") == timedelta(hours=5)
    assert bench.floor.minimum_for("SN-4", "CART-600") == timedelta(hours=1)
    bench.scan(jar, "FRIDGE")
    assert bench.container(jar).earliest_use >= bench.clock.wall + timedelta(hours=5)  # type: ignore[operator]


def test_a_kind_no_version_ever_had_a_time_for_is_not_taken_out() -> None:
    bench = Bench(with_limits(with_room_paste(site_t()), "SN-4", conditioning=OTHERS))
    jar = stranger(bench, "K9-001", out=False, paste="SN-4", kind="JAR-500")
    verdict = bench.later(30).scan(jar, "FRIDGE")
    assert (verdict.word, verdict.headline) == (Word.STOP, "NO WARMING TIME")
    assert "ask the process engineer" in verdict.todo
    assert bench.container(jar).out_from is None
    assert warming_by_hand(bench.floor, "SN-4", "JAR-500") is None
    told = taken_out_late(bench.floor, Late(jar, bench.clock.wall, bench.clock.wall, "seen"), LEAD)
    assert "earliest use" not in dict(told.verdict.times)


def test_no_draft_drops_a_kind_that_is_in_stock_but_one_may_when_it_is_used_up() -> None:
    bench = Bench(with_room_paste(site_t()))
    jar = bench.cold()
    kinds = tuple(entry for entry in bench.limits().conditioning if entry.kind != "JAR-500")
    with pytest.raises(SpecificationRefused, match="There is SN-4 in JAR-500 in stock"):
        approved(bench, conditioning=kinds)
    bench.scan(jar, "DESK")
    assert bench.card(Card.DISCARD, "DESK").word is Word.DONE
    assert approved(bench, conditioning=kinds).verdict is not None
