"""A copy of the picture stays as it is while the floor goes on."""

from datetime import UTC, datetime, timedelta

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
