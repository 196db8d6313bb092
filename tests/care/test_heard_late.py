"""What a station hears late of another one takes back no stay, no way, no charge and no minute outside."""

from datetime import timedelta

import pytest

from station.care import facts as f
from station.care.cold_readings_rules import Policy
from station.care.cold_readings_stays import stays
from station.care.words import Card, Ending, HoldReason
from tests.care.bench import Bench, berlin
from tests.care.fleet import Fleet
from tests.care.test_cold_readings_back import back, give
from tests.care.test_move_away import away, met
from tests.services.test_cold_readings import NIGHT, WARM_HALF_AN_HOUR, plant, take_in, track

FROST = (6.0, 6.0, -2.0, -3.0, -3.0, -3.0, -2.0, 6.0, 6.0, 6.0)
SHORTER = (7.0, 7.0, 7.0, 12.0, 12.0, 12.0, 11.0, 7.0, 7.0, 7.0, 7.0, 7.0)
EITHER = pytest.mark.parametrize("busy", ["A", "B"])


def minutes(count: float) -> timedelta:
    return timedelta(minutes=count)


def met_while_busy(busy: str) -> tuple[Fleet, str]:
    """The facts of the busy station come last in the common order."""
    fleet, jar = met()
    for _ in range(20):
        fleet[busy].station.read_room(22, 45, None)
    return fleet, jar


def moved_here(bench: Bench, jar: str, place: str = "SECOND") -> None:
    assert bench.scan(jar, place).code == "other-store"
    assert bench.card(Card.MOVED_HERE, place).code == "moved-here"


# ------------------------------------------------------------------ stays


@EITHER
def test_frost_in_the_store_it_was_put_into_holds_it_though_its_way_was_heard_of_late(busy: str) -> None:
    fleet, jar = met_while_busy(busy)
    away(fleet["A"], jar)
    moved_here(fleet.later(20)["B"], jar)
    fleet.meet("A", "B")
    a = fleet.at("2026-11-11T09:00")["A"]
    take_in(a, track("2026-11-10T22:00", *FROST), store="SECOND")
    assert [hold.reason for hold in a.container(jar).holds] == [HoldReason.STORE_OUT]
    assert a.scan(jar, "SECOND").word == "STOP"


@EITHER
def test_frost_holds_it_too_where_another_station_had_taken_it_out_before_it_lay_there(busy: str) -> None:
    fleet, jar = met_while_busy(busy)
    assert fleet["A"].scan(jar, "FRIDGE").code == "taken-out"
    moved_here(fleet.later(20)["B"], jar)
    fleet.meet("A", "B")
    a = fleet.at("2026-11-11T09:00")["A"]
    take_in(a, track("2026-11-10T22:00", *FROST), store="SECOND")
    assert HoldReason.STORE_OUT in [hold.reason for hold in a.container(jar).holds]


@EITHER
def test_a_warm_store_costs_nothing_of_a_life_that_runs_anyway(busy: str) -> None:
    fleet, jar = met_while_busy(busy)
    fleet["A"].scan(jar, "FRIDGE")
    moved_here(fleet.later(20)["B"], jar)
    fleet.meet("A", "B")
    (stay,) = (one for one in stays(fleet["A"].station.ledger, jar) if one.store == "SECOND")
    assert stay.out_from <= stay.begins < stay.until


def test_a_stay_goes_on_until_somebody_who_knew_of_it_ends_it() -> None:
    fleet, jar = met_while_busy("A")
    away(fleet["A"], jar)
    moved_here(fleet.later(20)["B"], jar)
    fleet.meet("A", "B")
    assert away(fleet.later(60)["A"], jar, "SECOND") == "move-begun"
    left = fleet["A"].clock.wall
    assert fleet.later(10)["A"].scan(jar, "FRIDGE").code == "put-away"
    fleet["A"].tell(f.Ended(jar, Ending.DISCARDED, "", "DESK", None))
    by_store = {one.store: one.until for one in stays(fleet["A"].station.ledger, jar)}
    assert by_store == {"FRIDGE": fleet["A"].clock.wall, "SECOND": left}


# ------------------------------------------------------------------ ways


@EITHER
def test_a_way_that_began_after_another_stations_put_away_goes_on(busy: str) -> None:
    """B put it into the second refrigerator; somebody carried it back, and A, who has not heard, says MOVE."""
    fleet, jar = met_while_busy(busy)
    moved_here(fleet["B"], jar)
    assert away(fleet.later(30)["A"], jar) == "move-begun"
    began = fleet["A"].clock.wall
    fleet.later(10).meet("A", "B")
    found = fleet["A"].container(jar)
    assert found == fleet["B"].container(jar)
    # plant T counts 15 min for the way between two doors
    assert (found.on_its_way, found.store, found.move_from, found.warm_spent) == (True, None, began, minutes(15))
    fleet.later(90)
    assert [hold.reason for hold in fleet["A"].container(jar).holds] == [HoldReason.LATE_TO_COLD]


def test_within_the_difference_two_clocks_may_have_the_put_away_ends_the_way() -> None:
    fleet, jar = met_while_busy("B")
    fleet["B"].step(-4)
    away(fleet["A"], jar)
    fleet.later(1)
    moved_here(fleet["B"], jar)
    fleet.meet("A", "B")
    assert not fleet["A"].container(jar).on_its_way


def test_a_station_that_knew_of_the_way_ends_it_however_slow_its_clock_is() -> None:
    fleet, jar = met()
    fleet["B"].clock.wall -= minutes(12)
    away(fleet["A"], jar)
    fleet.later(1).meet("A", "B")
    assert fleet.later(2)["B"].scan(jar, "SECOND").code == "put-away"
    fleet.meet("A", "B")
    assert [fleet[name].container(jar).store for name in "AB"] == ["SECOND", "SECOND"]


def test_a_put_away_that_ended_an_earlier_way_ends_no_later_one() -> None:
    """B knew of the first way; the jar was carried back, and A, who has not heard, moves it again."""
    fleet, jar = met()
    a, b = fleet["A"], fleet["B"]
    away(a, jar)
    fleet.later(1).meet("A", "B")
    for _ in range(20):
        b.station.read_room(22, 45, None)
    assert fleet.later(9)["B"].scan(jar, "SECOND").code == "put-away"
    assert fleet.later(15)["A"].scan(jar, "FRIDGE").code == "put-away"
    assert away(fleet.later(11)["A"], jar) == "move-begun"
    fleet.meet("A", "B")
    assert [bench.container(jar).on_its_way for bench in (a, b)] == [True, True]


# ------------------------------------------------------------------ charges


def test_minutes_given_back_are_charged_again_by_another_loggers_excursion() -> None:
    """B read a second logger whose excursion the first one's charge covered; A gave that back before they met."""
    fleet = Fleet(site=plant(Policy.CHARGE), start="2026-11-09T12:00")
    a, b = fleet["A"], fleet["B"]
    jar = a.cold()
    fleet.at("2026-11-10T08:00")
    take_in(a, track(NIGHT, *WARM_HALF_AN_HOUR))
    fleet.meet("A", "B")
    b.station.evidence = a.station.evidence  # kept files went with the facts
    take_in(b, track(NIGHT, *SHORTER), "second.csv", sensor="second logger")
    back(a)
    give(a, jar)
    fleet.meet("A", "B")
    fleet.later(1)
    (stands,) = a.station.ledger.cold.excursions("FRIDGE")
    assert [bench.container(jar).charged for bench in (a, b)] == [((stands.start, stands.end),)] * 2
    fleet.later(5).meet("A", "B")
    a.restart()
    assert a.container(jar).charged == ((stands.start, stands.end),)


# ------------------------------------------------------------------ taken back


def test_a_take_out_taken_back_counts_though_another_station_saw_it_outside_since() -> None:
    fleet, jar = met_while_busy("A")
    a, b = fleet["A"], fleet["B"]
    assert a.scan(jar, "FRIDGE").code == "taken-out"
    assert fleet.later(4.5)["A"].card(Card.UNDO, "FRIDGE").code == "card-alone"
    assert away(fleet.later(0.1)["A"], jar) == "move-begun"
    fleet.later(0.2)
    b.scan(jar, "LINE1")
    assert fleet.later(0.2)["A"].scan(jar, "FRIDGE").code == "put-away"
    fleet.meet("A", "B")
    assert a.container(jar).warm_spent >= berlin("2026-11-10T09:05") - berlin("2026-11-10T09:00")
