"""The enclosed head: a bead like any other, with a life of its own by the specification."""

from datetime import timedelta

from station.care.alarms import open_alarms
from station.care.words import Card, Limit
from tests.care.bench import Bench, berlin, with_limits
from tests.care.places import site_d

HOUR = timedelta(hours=1)


def test_a_bead_in_a_head_lives_as_long_as_its_specification_gives_a_head() -> None:
    bench = Bench(site_d())
    jar = bench.on_line("HEAD")
    assert bench.position("H1").bead.stencil_end == berlin("2026-11-08T21:11")  # type: ignore[union-attr]
    assert bench.later(1).scan(jar, "LINE1").headline == "BEAD ENDS 23:12"


def test_the_life_in_a_head_may_be_the_longer_one() -> None:
    bench = Bench(with_limits(site_d(), "SN-4", enclosed_life=20 * HOUR))
    bench.on_line("HEAD")
    assert bench.position("H1").bead.stencil_end == berlin("2026-11-09T11:11")  # type: ignore[union-attr]


def test_paste_that_may_not_go_into_a_head_is_stopped_there_and_only_there() -> None:
    bench = Bench(site_d())
    jar = bench.ready("PB-1")
    verdict = bench.scan(jar, "HEAD")
    assert (verdict.word, verdict.code, verdict.headline) == ("STOP", "not-in-head", "NOT IN AN ENCLOSED HEAD")
    assert bench.container(jar).opened_at is None
    assert bench.later(1).scan(jar, "LINE1").code == "opening-check"


def test_a_top_up_of_a_head_never_makes_it_younger() -> None:
    bench = Bench(site_d())
    bench.on_line("HEAD")
    cartridge = bench.ready(kind="CART-600")
    bench.scan(cartridge, "HEAD")
    assert bench.card(Card.LOOKS_GOOD, "HEAD").headline == "BEAD ENDS 21:11"


def test_past_its_end_it_alarms_high_and_stops() -> None:
    bench = Bench(site_d())
    jar = bench.on_line("HEAD")
    bench.later(6 * 60 + 1)
    ((alarm, seen),) = open_alarms(bench.floor)
    assert (alarm.subject, alarm.limit, seen.priority) == ("H1", Limit.STENCIL, "high")
    assert bench.scan(jar, "HEAD").code == "bead-past"


def test_a_pause_counts_in_a_head_as_on_a_stencil() -> None:
    bench = Bench(site_d())
    bench.on_line("HEAD")
    bench.tag_card("H1", Card.PAUSE, "HEAD")
    bench.later(61)
    assert bench.tag_card("H1", Card.RESUME, "HEAD").code == "bead-replace"


def test_the_head_itself_is_cleaned() -> None:
    bench = Bench(site_d())
    bench.on_line("HEAD")
    bench.tag_card("H1", Card.REMOVE, "HEAD")
    assert bench.tag_card("H1", Card.CLEANED, "HEAD").why == "Head, stencil and tools of H1 are recorded as clean."


def test_time_in_a_head_is_stencil_time_for_used_paste() -> None:
    bench = Bench(site_d())
    bench.on_line("HEAD")
    bench.later(4 * 60)
    bench.tag_card("H1", Card.REMOVE, "HEAD")
    assert bench.card(Card.KEEP_USED, "HEAD").code == "used-paste-kept"
    assert bench.container("K7-002").stencil_spent == 4 * HOUR
