"""What holds where contents of a specification were approved apart, at desks and by files, and what replaces them."""

from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest

from station.care import facts as f
from station.care.specification import Near
from station.care.words import Card, Word
from tests.care.bench import Bench, berlin, site_t, with_limits
from tests.care.engineering import approved
from tests.care.fleet import Fleet
from tests.care.test_paste_lists import restarted

HOUR, DAY = timedelta(hours=1), timedelta(days=1)


def counted_further(fleet: Fleet) -> None:
    """B tightens while A, which does not hear of it, approves two versions for other reasons."""
    approved(fleet["B"], open_life=6 * HOUR, stencil_life=2 * HOUR)
    approved(fleet["A"], room_life=160 * HOUR)
    fleet.later(1)
    approved(fleet["A"], room_life=150 * HOUR)
    fleet.later(1)


def test_a_tightening_is_not_lost_where_another_station_counted_further() -> None:
    fleet = Fleet()
    jar = fleet["A"].on_line()
    counted_further(fleet)
    for seed in range(3):
        fleet.later(1).meet("A", "B", seed)
        for bench in fleet.stations.values():
            limits = bench.limits()
            assert (limits.version, limits.open_life, limits.stencil_life) == (3, 6 * HOUR, 2 * HOUR)
            assert limits.room_life == 150 * HOUR
            assert bench.station.ledger.rulebook.disputed("SN-4")
            assert bench.container(jar).open_end == berlin("2026-11-08T21:11")
    assert "SN-4 version 3 does not take the place of version 2" in restarted(fleet["B"], fleet["B"].site)
    approved(fleet["B"], open_life=24 * HOUR)
    fleet.later(1).meet("A", "B")
    for bench in fleet.stations.values():
        assert (bench.limits().version, bench.limits().open_life) == (4, 24 * HOUR)
        assert not bench.station.ledger.rulebook.disputed("SN-4")


def test_a_tightening_is_not_lost_to_a_file_of_another_station_with_a_higher_number() -> None:
    fleet = Fleet()
    approved(fleet["B"], open_life=6 * HOUR, stencil_life=2 * HOUR)
    restarted(fleet["A"], with_limits(fleet["A"].site, "SN-4", version=3))
    fleet.meet("A", "B")
    for bench in fleet.stations.values():
        assert (bench.limits().version, bench.limits().open_life) == (3, 6 * HOUR)


def test_one_file_raised_at_every_station_in_turn_is_nothing_apart() -> None:
    fleet = Fleet()
    looser = {"version": 2, "open_life": 40 * HOUR}
    restarted(fleet["A"], with_limits(fleet["A"].site, "SN-4", **looser))
    for seed in range(2):
        fleet.later(1).meet("A", "B", seed)
        for bench in fleet.stations.values():
            assert (bench.limits().version, bench.limits().open_life) == (2, 40 * HOUR)
            assert not bench.station.ledger.rulebook.disputed("SN-4")
        assert restarted(fleet["B"], with_limits(fleet["B"].site, "SN-4", **looser)) == ""


@pytest.mark.parametrize("strict_first", [True, False])
def test_pauses_and_the_least_warmth_go_by_the_stricter_of_two_contents_whichever_was_told_last(
    strict_first: bool,
) -> None:
    fleet = Fleet()
    a, b = fleet["A"], fleet["B"]
    strict = {"pause_knead": timedelta(minutes=5), "pause_replace": timedelta(minutes=10), "floor_c": 20.5}
    tellings: list[dict[str, Any]] = [strict, {"open_life": 40 * HOUR}]
    for bench, figures in zip((a, b), tellings if strict_first else tellings[::-1], strict=True):
        approved(bench, **figures)
        fleet.later(1)
    fleet.meet("A", "B")
    jar = fleet.later(1)["A"].on_line()
    bead = a.position("1").bead
    assert bead is not None
    assert a.floor.pauses(bead) == (timedelta(minutes=5), timedelta(minutes=10))
    assert a.floor.least_c(a.container(jar)) == 20.5
    a.tag_card("1", Card.PAUSE, "LINE1")
    assert a.later(11).tag_card("1", Card.RESUME, "LINE1").word is Word.STOP


def test_what_was_written_before_contents_named_what_they_replace_goes_by_the_number() -> None:
    fleet = Fleet()
    a, b = fleet["A"], fleet["B"]
    first = replace(a.limits(), open_life=10 * HOUR, version=2)
    b.tell_own(f.SpecificationSet(first, ""))
    a.tell_own(f.SpecificationSet(replace(first, version=3, open_life=30 * HOUR), ""))
    fleet.meet("A", "B")
    for bench in (a, b):
        assert (bench.limits().version, bench.limits().open_life) == (3, 30 * HOUR)
    with_names = f.SpecificationSet(replace(first, version=2, open_life=9 * HOUR), "", replaces=())
    b.later(1).tell_own(with_names)
    assert (b.limits().version, b.limits().open_life) == (3, 9 * HOUR)


def test_a_version_of_the_desk_that_a_file_said_again_is_still_the_desk_s() -> None:
    bench = Bench()
    approved(bench, open_life=20 * HOUR)
    near = tuple((limit, Near(0.5, timedelta(minutes=1), DAY)) for limit, _ in bench.limits().near)
    limits = tuple(replace(entry, near=near) for entry in site_t().specifications)
    site = replace(site_t(), specifications=limits)
    restarted(bench, site)
    restarted(bench, with_limits(site, "SN-4", version=3))
    assert (bench.limits().version, bench.limits().open_life) == (3, 20 * HOUR)
