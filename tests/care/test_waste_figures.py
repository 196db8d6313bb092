"""Waste in order of its size, from facts told by hand."""

from datetime import UTC, datetime, timedelta

from station.care import facts as f
from station.care.ledger import Ledger
from station.care.waste_figures import NO_REASON, Share, Wasted, pareto, wasted
from station.care.words import Ending, HoldReason, Limit

SIX = datetime(2026, 11, 9, 6, tzinfo=UTC)
HOUR = timedelta(hours=1)


def told(*bodies: f.Body) -> Ledger:
    """Facts an hour apart from 06:00 on."""
    ledger = Ledger()
    for place, body in enumerate(bodies):
        segment = f.Segment("boot", 0)
        ledger.apply(f.Fact(1, place + 1, place + 1, SIX + place * HOUR, 1, "P1", segment, body))
    return ledger


def received(name: str) -> f.Received:
    return f.Received(name, "SN-4", "JAR-500", "A1", None, None, SIX, None, "not measured", False, None)


def ended(name: str, ending: Ending = Ending.DISCARDED, reason: str = "open life") -> f.Ended:
    return f.Ended(name, ending, reason, "L2", 120.0)


def test_what_was_discarded_is_told_with_its_cause_and_who() -> None:
    ledger = told(received("K1"), received("K2"), received("K3"), ended("K1", reason=" "), ended("K2", Ending.USED_UP))
    expected = Wasted("K1", "SN-4", "A1", NO_REASON, "L2", 120.0, SIX + 3 * HOUR, "P1", "JAR-500", said=False)
    assert wasted(ledger, SIX, SIX + 24 * HOUR) == (expected,)
    assert wasted(ledger, SIX, SIX + 3 * HOUR) == ()  # the end is not in the period


def test_a_discard_that_was_taken_back_is_no_waste() -> None:
    ledger = told(received("K1"), ended("K1"), f.Undone(f"{1:016x}-2", "wrong jar"))
    assert wasted(ledger, SIX, SIX + 24 * HOUR) == ()


def test_what_was_told_after_the_end_does_not_hide_it() -> None:
    ledger = told(received("K1"), ended("K1"), f.Sighted("K1", "L2", warm=True))
    assert [entry.at for entry in wasted(ledger, SIX, SIX + 24 * HOUR)] == [SIX + HOUR]


def entry(cause: str, grams: float | None) -> Wasted:
    return Wasted("K", "SN-4", "A1", cause, "L2", grams, SIX, None)


def test_the_largest_cause_comes_first_and_what_nobody_weighed_is_counted_apart() -> None:
    # 300 + 100 of 500 g: open life is 0.8, with dry crust 1.0
    found = pareto(
        [entry("dry crust", 100.0), entry("open life", 300.0), entry("open life", 100.0), entry("dry crust", None)],
        lambda one: one.cause,
    )
    assert found == (
        Share("open life", 400.0, 2, 0, 0.8),
        Share("dry crust", 100.0, 2, 1, 1.0),
    )


def test_where_nobody_weighed_anything_the_most_containers_come_first() -> None:
    found = pareto([entry("a", None), entry("b", None), entry("b", None)], lambda one: one.cause)
    assert [(share.name, share.not_weighed, share.up_to) for share in found] == [("b", 2, 0.0), ("a", 1, 0.0)]


def test_where_nobody_said_why_the_record_says_what_stood_against_it() -> None:
    received_, unsaid = received("K1"), ended("K1", reason="")
    alarm = f.AlarmRaised("room life/K1/x", "K1", Limit.ROOM, SIX, in_use=False)
    held = f.Held("K1", HoldReason.LOOKED_BAD, "")
    opened = f.Opened("K1", "2", early=False, open_end=SIX)
    stories: dict[tuple[f.Body, ...], str] = {
        (): NO_REASON,
        (alarm,): "room life passed",
        (alarm, held): "looked bad when opened",
    }
    stories[(opened,)] = "open life passed"
    for before, cause in stories.items():
        (found,) = wasted(told(received_, *before, unsaid), SIX, SIX + 24 * HOUR)
        assert (found.cause, found.said) == (cause, False)
    (said,) = wasted(told(received_, ended("K1", reason="dropped")), SIX, SIX + 24 * HOUR)
    assert (said.cause, said.said, said.words) == ("dropped", True, "dropped")


def test_the_words_of_ten_leads_are_one_cause_where_one_limit_stood_against_the_paste() -> None:
    held = f.Held("K1", HoldReason.LOOKED_BAD, "")
    (found,) = wasted(told(received("K1"), held, ended("K1", reason="dry, thrown away")), SIX, SIX + 24 * HOUR)
    assert (found.cause, found.said, found.words) == ("looked bad when opened", False, "dry, thrown away")
