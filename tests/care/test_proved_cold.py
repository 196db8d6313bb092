"""What two stations saw of one container, in whatever order they tell it: seen outside, it was out since it was last
proved cold before that. No source: the longest time that what was seen allows is the rule."""

from datetime import datetime, timedelta

import pytest

from station.care.late import Late, LateRefused
from station.care.words import Card, HoldReason
from station.services import lead_acts
from station.services.counting import begin_count
from tests.care.bench import Bench, berlin, site_f
from tests.care.fleet import Fleet
from tests.care.leading import PROOF
from tests.care.test_stores import two_stores

HOUR = timedelta(hours=1)
EITHER = pytest.mark.parametrize("busy", ["A", "B"])


def apart(busy: str) -> tuple[Fleet, str]:
    """A jar put away at A at 08:00 that both know, and from then on one station has more to tell than the other: its
    facts come later in the order of all stations, whatever the clocks say."""
    fleet = Fleet(site=two_stores(), start="2026-11-10T08:00")
    jar = fleet["A"].cold()
    fleet.meet("A", "B")
    for humidity in range(40, 60):
        fleet[busy].station.read_room(22, humidity, None)
    return fleet, jar


def minute(text: str) -> datetime:
    return berlin(f"2026-11-10T{text}")


def count(bench: Bench, jar: str) -> None:
    begin_count(bench.station, "FRIDGE")
    assert bench.scan(jar, "FRIDGE").code == "counted"
    bench.later(3)


def seen_by(bench: Bench, jar: str) -> None:
    assert bench.scan(jar, "LINE1").code == "not-taken-out"


@EITHER
def test_a_count_after_it_was_seen_outside_proves_no_cold(busy: str) -> None:
    fleet, jar = apart(busy)
    seen_by(fleet.at("2026-11-10T10:00")["B"], jar)
    fleet.at("2026-11-10T11:00")
    count(fleet["A"], jar)
    fleet.meet("A", "B")
    fleet.at("2026-11-10T12:00")["A"].scan(jar, "FRIDGE")
    found = fleet["A"].container(jar)
    assert found.out_from == minute("08:00")
    assert HoldReason.SEEN_WARM in [hold.reason for hold in found.holds]


@EITHER
def test_a_count_before_it_was_seen_outside_proves_it_cold_till_then_or_is_left_out(busy: str) -> None:
    fleet, jar = apart(busy)
    fleet.at("2026-11-10T09:00")
    count(fleet["A"], jar)
    seen_by(fleet.at("2026-11-10T10:00")["B"], jar)
    fleet.meet("A", "B")
    fleet.at("2026-11-10T12:00")["A"].scan(jar, "FRIDGE")
    # folded after the sighting, nobody can tell any more that the count came first
    assert fleet["A"].container(jar).out_from == minute("09:00" if busy == "B" else "08:00")


@EITHER
def test_taken_out_by_a_station_that_had_not_heard_that_it_was_seen_outside(busy: str) -> None:
    fleet, jar = apart(busy)
    seen_by(fleet.at("2026-11-10T10:00")["B"], jar)
    fleet.at("2026-11-10T12:00")["A"].scan(jar, "FRIDGE")
    before = fleet["A"].container(jar)
    assert (before.out_from, before.holds) == (minute("12:00"), ())
    fleet.meet("A", "B")
    for station in "AB":
        found = fleet[station].container(jar)
        assert found.out_from == minute("08:00")
        assert before.room_end is not None
        assert found.room_end == before.room_end - 4 * HOUR
        assert [hold.reason for hold in found.holds] == [HoldReason.SEEN_WARM]
    fleet.at("2026-11-10T15:30")
    assert fleet["A"].scan(jar, "LINE1").code == "held"
    fleet["A"].release_all(jar)
    fleet.meet("A", "B")
    assert fleet["B"].scan(jar, "LINE1").code == "opening-check"


@EITHER
def test_seen_outside_after_it_was_taken_out_accuses_nobody(busy: str) -> None:
    fleet, jar = apart(busy)
    fleet.later(60)["A"].scan(jar, "FRIDGE")
    seen_by(fleet.later(2)["B"], jar)
    fleet.meet("A", "B")
    assert fleet["A"].container(jar).holds == ()


@EITHER
def test_moved_after_it_was_seen_outside(busy: str) -> None:
    fleet, jar = apart(busy)
    seen_by(fleet.at("2026-11-10T10:00")["B"], jar)
    moving = fleet.at("2026-11-10T11:00")["A"]
    moving.scan(jar, "SECOND")
    assert moving.card(Card.MOVED_HERE, "SECOND").code == "moved-here"
    fleet.meet("A", "B")
    fleet.at("2026-11-10T12:00")["A"].scan(jar, "SECOND")
    found = fleet["A"].container(jar)
    assert found.out_from is not None
    assert found.out_from - found.warm_spent <= minute("08:00")


@EITHER
def test_put_away_by_two_stations_it_was_out_in_between(busy: str) -> None:
    fleet = Fleet(start="2026-11-10T07:30")
    jar = fleet["A"].receive()
    fleet.meet("A", "B")
    for humidity in range(40, 60):
        fleet[busy].station.read_room(22, humidity, None)
    fleet.at("2026-11-10T08:00")["A"].scan(jar, "FRIDGE")
    assert fleet.at("2026-11-10T10:00")["B"].scan(jar, "FRIDGE").code == "put-away"
    fleet.meet("A", "B")
    assert fleet["A"].container(jar).warm_spent >= 2.5 * HOUR


@EITHER
def test_seen_outside_after_the_put_away_that_the_other_station_knew_of(busy: str) -> None:
    fleet = Fleet(start="2026-11-10T07:30")
    jar = fleet["A"].receive()
    fleet.meet("A", "B")
    for humidity in range(40, 60):
        fleet[busy].station.read_room(22, humidity, None)
    fleet.at("2026-11-10T08:00")["A"].scan(jar, "FRIDGE")
    seen_by(fleet.at("2026-11-10T10:00")["B"], jar)
    fleet.meet("A", "B")
    fleet.at("2026-11-10T11:00")["A"].scan(jar, "FRIDGE")
    found = fleet["A"].container(jar)
    assert found.out_from == minute("08:00")
    assert found.held


def test_of_two_sightings_the_earlier_one_counts() -> None:
    fleet = Fleet(("A", "B", "C"), two_stores(), "2026-11-10T08:00")
    jar = fleet["A"].cold()
    fleet.meet("A", "B")
    fleet.meet("A", "C")
    for humidity in range(40, 60):
        fleet["B"].station.read_room(22, humidity, None)
    seen_by(fleet.at("2026-11-10T10:00")["B"], jar)
    fleet.at("2026-11-10T11:00")
    count(fleet["A"], jar)
    seen_by(fleet.at("2026-11-10T13:00")["C"], jar)
    fleet.meet("A", "C")
    fleet.meet("A", "B")
    found = fleet["A"].container(jar)
    assert (found.sighted_warm_at, found.last_cold_at) == (minute("10:00"), minute("08:00"))


@EITHER
def test_frozen_paste_seen_outside_before_its_thaw_was_out_until_it_lies_in_the_refrigerator(busy: str) -> None:
    fleet = Fleet(site=site_f(), start="2026-11-10T08:00")
    a, b = fleet["A"], fleet["B"]
    jar = a.receive("FZ-7", temperature_c=-18)
    a.scan(jar, "FREEZER")
    fleet.meet("A", "B")
    for humidity in range(40, 60):
        fleet[busy].station.read_room(22, humidity, None)
    seen_by(fleet.at("2026-11-10T10:00")["B"], jar)
    assert fleet.at("2026-11-10T12:00")["A"].scan(jar, "FREEZER").code == "thaw-begun"
    fleet.meet("A", "B")
    fleet.at("2026-11-10T12:10")
    assert a.scan(jar, "FRIDGE").code == "put-away"
    fleet.meet("A", "B")
    assert b.container(jar).warm_spent >= 4 * HOUR


# ---------------------------------------------------------------------- undone


def test_the_minutes_until_a_take_out_was_taken_back_are_time_out_of_the_cold() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(11).scan(jar, "FRIDGE")
    bench.later(4)
    bench.scan(jar, "FRIDGE")
    assert bench.card(Card.UNDO, "FRIDGE").code == "undone"
    assert bench.container(jar).warm_spent >= timedelta(minutes=4)
    first = bench.container(jar).warm_spent
    bench.later(20).scan(jar, "FRIDGE")
    out = bench.container(jar)
    assert out.out_from is not None
    assert out.room_end is not None
    assert out.room_end <= out.out_from + 168 * HOUR - first + timedelta(minutes=1)


def test_taken_back_at_another_door_the_way_there_and_back_counts() -> None:
    bench = Bench(two_stores())
    jar = bench.cold()
    bench.at("2026-11-10T09:00").scan(jar, "SECOND")
    assert bench.card(Card.TAKEN_OUT, "SECOND").code == "taken-out"
    bench.later(2).scan(jar, "SECOND")
    said = bench.card(Card.UNDO, "SECOND")
    assert said.code == "undone"
    assert "The way there and back counts" in said.todo
    found = bench.container(jar)
    # plant T counts 15 min for a way between two doors
    assert (found.store, found.warm_spent) == ("FRIDGE", timedelta(minutes=15 + 2 + 15))


def test_two_stations_that_both_take_one_take_out_back_count_it_once() -> None:
    fleet = Fleet(start="2026-11-10T08:00")
    jar = fleet["A"].cold()
    fleet.later(20)
    fleet["A"].scan(jar, "FRIDGE")
    fleet.meet("A", "B")
    for minutes, station in ((1, "A"), (2, "B")):
        fleet.later(minutes)
        fleet[station].scan(jar, "FRIDGE")
        assert fleet[station].card(Card.UNDO, "FRIDGE").code == "undone"
    fleet.meet("A", "B")
    assert fleet["A"].container(jar).warm_spent == timedelta(minutes=3)


def test_what_was_seen_outside_counts_since_then_and_not_twice() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(60)
    seen_by(bench, jar)
    bench.later(60).scan(jar, "FRIDGE")
    bench.later(1).scan(jar, "FRIDGE")
    assert bench.card(Card.UNDO, "FRIDGE").code == "nothing-to-undo"


def test_a_thaw_taken_back_was_time_out_of_the_cold() -> None:
    bench = Bench(site_f())
    jar = bench.receive("FZ-7", temperature_c=-18)
    bench.scan(jar, "FREEZER")
    bench.later(30).scan(jar, "FREEZER")
    bench.later(3).scan(jar, "FREEZER")
    assert bench.card(Card.UNDO, "FREEZER").code == "undone"
    assert bench.container(jar).warm_spent >= timedelta(minutes=3)


def test_a_take_out_entered_late_lies_between_proof_and_sighting() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.at("2026-11-09T10:00")
    seen_by(bench, jar)
    bench.at("2026-11-09T12:00")
    late = Late(jar, berlin("2026-11-09T09:00"), berlin("2026-11-09T11:00"), "said so")
    with pytest.raises(LateRefused, match="seen outside"):
        lead_acts.take_out_late(bench.station, late, PROOF)


def test_seen_outside_still_earlier_it_was_out_longer_and_is_held_once() -> None:
    """A counts, sees it outside and takes it out; C had seen it outside before the count."""
    fleet = Fleet(("A", "B", "C"), two_stores(), "2026-11-10T08:00")
    a, jar = fleet["A"], fleet["A"].cold()
    fleet.meet("A", "C")
    for humidity in range(40, 60):
        fleet["C"].station.read_room(22, humidity, None)
    seen_by(fleet.at("2026-11-10T09:00")["C"], jar)
    fleet.at("2026-11-10T10:00")
    count(a, jar)
    seen_by(fleet.at("2026-11-10T11:00")["A"], jar)
    fleet.at("2026-11-10T12:00")["A"].scan(jar, "FRIDGE")
    assert a.container(jar).out_from == minute("10:00")
    fleet.meet("A", "C")
    found = a.container(jar)
    assert found.out_from == minute("08:00")
    assert [hold.reason for hold in found.holds] == [HoldReason.SEEN_WARM]


def test_seen_within_the_minute_before_the_scan_at_the_door() -> None:
    fleet = Fleet(site=two_stores(), start="2026-11-10T08:00")
    jar = fleet["A"].cold()
    fleet.meet("A", "B")
    seen_by(fleet.at("2026-11-10T12:00")["B"], jar)
    fleet.later(0.2)["A"].scan(jar, "FRIDGE")
    fleet.meet("A", "B")
    assert fleet["A"].container(jar).out_from == minute("08:00")
