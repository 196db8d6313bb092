"""A copy of the picture stays as it is while the floor goes on."""

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

import pytest

from station.care import facts as f
from station.care.ledger import Ledger
from tests.care.test_trace import after

SIX = datetime(2026, 11, 9, 6, tzinfo=UTC)


def fact(place: int, body: f.Body) -> f.Fact:
    return f.Fact(1, place, place, SIX + timedelta(minutes=place), 1, None, f.Segment("boot", 0), body)


def test_a_copy_shows_the_same_picture() -> None:
    ledger = after("recall_at_two_printers").ledger
    twin = ledger.copied()
    assert (twin.containers, twin.positions, twin.alarms) == (ledger.containers, ledger.positions, ledger.alarms)
    assert twin.history("position", "P1") == ledger.history("position", "P1")
    assert twin.facts() == ledger.facts()


def test_what_happens_afterwards_reaches_the_floor_and_not_the_copy() -> None:
    ledger = Ledger()
    ledger.apply(fact(1, f.PositionSetUp("2", "WO1", "CTRL", ("SN-4",))))
    twin = ledger.copied()
    ledger.apply(fact(2, f.PositionSetUp("2", "WO2", "CTRL", ("SN-4",))))
    ledger.apply(fact(3, f.Undone(fact(1, f.Cleaned("2")).key, "wrong")))
    assert (ledger.positions["2"].work_order, twin.positions["2"].work_order) == ("WO2", "WO1")
    assert [len(found.history("position", "2")) for found in (ledger, twin)] == [3, 1]
    assert [len(found.facts()) for found in (ledger, twin)] == [3, 1]
    assert not twin.is_undone(fact(1, f.Cleaned("2")).key)


def test_a_temperature_read_afterwards_reaches_the_floor_and_not_the_copy() -> None:
    ledger = Ledger()
    ledger.apply(fact(1, f.StoreRead("FRIDGE", 5.0, 0.0, 10.0)))
    twin = ledger.copied()
    ledger.apply(fact(2, f.StoreRead("FRIDGE", 9.0, 0.0, 10.0)))
    assert [found.cold.last_reading("FRIDGE") for found in (ledger, twin)] == [
        (SIX + timedelta(minutes=2), 9.0),
        (SIX + timedelta(minutes=1), 5.0),
    ]


def picture(ledger: Ledger) -> list[object]:
    """All that is added up, and every history."""
    subjects = sorted(ledger._histories)
    tables = (ledger.containers, ledger.positions, ledger.alarms, ledger.people, ledger.lots, ledger.attached)
    return [*tables, ledger.facts(), {one: ledger.history(*one) for one in subjects}]


def told_of(facts: Iterable[f.Fact]) -> Ledger:
    """A ledger that heard these."""
    ledger = Ledger()
    for one in facts:
        ledger.apply(one)
    return ledger


@pytest.mark.parametrize("day", ["changeovers", "recall_at_two_printers", "decanted_and_held"])
@pytest.mark.parametrize("part", [0.2, 0.5, 0.9])
def test_whichever_of_the_two_is_told_more_the_other_stands_as_if_there_were_no_copy(day: str, part: float) -> None:
    facts = after(day).ledger.facts()
    split = round(len(facts) * part)
    first, rest = facts[:split], facts[split:]
    ledger = told_of(first)
    twin = ledger.copied()
    for one in rest:
        ledger.apply(one)
    assert picture(ledger) == picture(told_of(facts))
    assert picture(twin) == picture(told_of(first))
    for one in reversed(rest):  # late and the wrong way round
        twin.apply(one)
    assert picture(twin) == picture(told_of((*first, *reversed(rest))))
    assert picture(ledger) == picture(told_of(facts))


def test_a_copy_of_a_copy_lends_no_history_twice() -> None:
    ledger = told_of([fact(1, f.Cleaned("2"))])
    twin = ledger.copied()
    third = twin.copied()
    for place, one in enumerate((ledger, twin, third), start=2):
        one.apply(fact(place, f.Cleaned("2")))
    assert [[told.seq for told in one.history("position", "2")] for one in (ledger, twin, third)] == [
        [1, 2], [1, 3], [1, 4],
    ]  # fmt: skip
