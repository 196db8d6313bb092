"""A logger's file takes time from paste that is out: its label says too much, and every scan tells."""

from station.care import facts as f
from station.care.cold_readings_rules import Policy
from station.care.day_list import DayKind, day_list
from station.care.scans import SeenLabel
from station.care.words import Card
from tests.care.bench import Bench, berlin
from tests.services.test_cold_readings import NIGHT, WARM_HALF_AN_HOUR, plant, take_in, track

# room life of this paste is 7 days by the site's own file
BEHIND = "Its label says Mon 16 Nov 22:20, the record Mon 16 Nov 22:10: print a new one (REPRINT)."


def printed_then_charged() -> tuple[Bench, str]:
    """Out at 22:20 with a label; in the morning a file charges it the ten minutes before."""
    bench = Bench(plant(Policy.CHARGE), "2026-11-09T12:00")
    jar = bench.cold()
    bench.at("2026-11-09T22:20").scan(jar, "FRIDGE")
    bench.at("2026-11-10T08:00")
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    return bench, jar


def printed(bench: Bench, jar: str, number: int, ends: str) -> SeenLabel:
    """A time label of this jar as it was printed."""
    found = bench.container(jar)
    assert found.out_from is not None
    assert found.earliest_use is not None
    open_life = bench.limits().open_life
    return SeenLabel(number, berlin("2026-11-09T22:20"), found.earliest_use, berlin(ends), open_life, 4, leaded=False)


def test_every_scan_of_it_says_that_its_label_promises_too_much() -> None:
    bench, jar = printed_then_charged()
    for place in ("DESK", "FRIDGE", "LINE1"):
        assert BEHIND in bench.later(1).scan(jar, place).note, place
    bench.later(1).restart()
    assert BEHIND in bench.scan(jar, "DESK").note


def test_so_does_the_scan_of_the_time_label_itself_but_not_of_a_true_one() -> None:
    bench, jar = printed_then_charged()
    assert BEHIND in bench.scan(jar, "DESK", printed(bench, jar, 1, "2026-11-16T22:20")).note
    assert "Its label says" not in bench.later(1).scan(jar, "DESK", printed(bench, jar, 1, "2026-11-16T22:10")).note


def test_a_new_label_says_what_moved_and_then_the_note_is_gone() -> None:
    bench, jar = printed_then_charged()
    bench.scan(jar, "DESK")
    why = bench.card(Card.REPRINT, "DESK").why
    assert "its discard-by is Mon 16 Nov 22:10, not Mon 16 Nov 22:20 as on the old one" in why
    assert bench.later(1).scan(jar, "DESK").note == ""
    assert not [row for row in day_list(bench.floor) if row.kind is DayKind.LABEL]
    bench.card(Card.REPRINT, "DESK")
    bench.later(1).scan(jar, "DESK")
    assert "the clocks are unchanged" in bench.card(Card.REPRINT, "DESK").why
    assert "replaced it" in bench.later(1).scan(jar, "DESK", printed(bench, jar, 1, "2026-11-16T22:20")).note


def test_the_day_list_names_it_until_it_is_used_up() -> None:
    bench, jar = printed_then_charged()
    (row,) = [row for row in day_list(bench.floor) if row.kind is DayKind.LABEL]
    assert (row.subject, row.what) == (jar, "K7 001: its label says Mon 16 Nov 22:20, the record Mon 16 Nov 22:10")
    bench.scan(jar, "DESK")
    bench.card(Card.DISCARD, "DESK")
    assert "Its label says" not in bench.later(1).scan(jar, "DESK").note


def test_an_opening_makes_no_label_untrue() -> None:
    """The label names open life as a length; that it runs now is no reason for another label."""
    bench = Bench(plant(Policy.CHARGE), "2026-11-09T12:00")
    jar = bench.ready()
    bench.later(1).scan(jar, "LINE1")
    assert bench.container(jar).open_end is not None
    assert "Its label says" not in bench.later(1).scan(jar, "DESK").note


def test_an_older_label_heard_of_late_is_not_taken_for_the_newest() -> None:
    bench, jar = printed_then_charged()
    bench.scan(jar, "DESK")
    bench.card(Card.REPRINT, "DESK")
    newest = bench.container(jar).label_end
    bench.tell_own(f.LabelAsked(jar, 1, "as once printed", berlin("2026-11-17T22:20")))
    assert (bench.container(jar).print_number, bench.container(jar).label_end) == (2, newest)
