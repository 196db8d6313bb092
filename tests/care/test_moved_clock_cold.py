"""Clocks that were wrong when paste went into the cold: nothing that lay ahead of the right time proves it cold.

In each test the true time is told in the names of the times; the clock is three hours ahead or behind meanwhile.
"""

from datetime import timedelta

import pytest

from station.care.cold_readings_rules import Policy
from station.care.cold_readings_stays import stays
from station.care.late import Late
from station.care.stores import WholeStore
from station.care.words import Card, HoldReason
from station.services import lead_acts
from station.services.stock import move_store, store_out_since
from tests.care.bench import LEAD, LEAD_PIN, Bench, berlin
from tests.care.leading import PROOF
from tests.care.test_stores import two_stores
from tests.services.test_cold_readings import plant

HOUR = timedelta(hours=1)
CONFIRMED = pytest.mark.parametrize("confirmed", [True, False])


def put_right(bench: Bench, minutes: float, *, confirmed: bool) -> None:
    bench.step(minutes)
    if confirmed:
        bench.station.confirm_clock(LEAD, LEAD_PIN)


def put_away_ahead(*, confirmed: bool) -> tuple[Bench, str]:
    """Put away at 10:00, when the clock shows 13:00; put right at 10:30."""
    bench = Bench(two_stores(), "2026-11-10T13:00")
    jar = bench.cold()
    bench.later(30)
    put_right(bench, -180, confirmed=confirmed)
    assert bench.clock.wall == berlin("2026-11-10T10:30")
    return bench, jar


@CONFIRMED
def test_a_store_that_failed_counts_from_the_true_put_away(confirmed: bool) -> None:
    bench, jar = put_away_ahead(confirmed=confirmed)
    store_out_since(bench.station, WholeStore("FRIDGE", berlin("2026-11-10T09:00"), "power cut"), PROOF)
    assert bench.container(jar).out_from == berlin("2026-11-10T10:00")


@CONFIRMED
def test_a_store_that_is_moved_counts_from_the_true_put_away(confirmed: bool) -> None:
    bench, jar = put_away_ahead(confirmed=confirmed)
    move_store(bench.station, WholeStore("FRIDGE", berlin("2026-11-10T10:10"), "power cut", "SECOND"), PROOF)
    assert bench.container(jar).warm_spent >= timedelta(minutes=20)


@CONFIRMED
@pytest.mark.parametrize("card", [Card.MOVED_HERE, Card.TAKEN_OUT])
def test_carried_to_another_door_it_was_out_for_the_time_of_the_way(card: Card, confirmed: bool) -> None:
    bench, jar = put_away_ahead(confirmed=confirmed)
    bench.scan(jar, "SECOND")
    bench.card(card, "SECOND")
    found = bench.container(jar)
    out = found.warm_spent if found.out_from is None else bench.clock.wall - found.out_from
    assert out >= timedelta(minutes=15)  # plant T: 15 min for such a way


@CONFIRMED
def test_seen_outside_it_was_out_since_the_true_put_away(confirmed: bool) -> None:
    bench, jar = put_away_ahead(confirmed=confirmed)
    bench.later(30).scan(jar, "LINE1")
    assert bench.later(5).scan(jar, "FRIDGE").code == "taken-out"
    assert bench.container(jar).out_from == berlin("2026-11-10T10:00")


@CONFIRMED
def test_a_take_out_may_be_entered_from_the_true_put_away_on(confirmed: bool) -> None:
    bench, jar = put_away_ahead(confirmed=confirmed)
    at = berlin("2026-11-10T10:05")
    lead_acts.take_out_late(bench.station, Late(jar, at, at, "seen on the bench"), PROOF)
    assert bench.container(jar).out_from == at


def test_a_proof_ahead_of_now_that_no_step_explains_proves_nothing() -> None:
    """The right clock of today cannot have put it away tomorrow, whoever says so."""
    bench = Bench(two_stores(), "2026-11-10T10:00")
    jar = bench.receive()
    bench.later(30).scan(jar, "FRIDGE")
    stranger = bench.container(jar)
    ahead = bench.floor.now - timedelta(minutes=10)
    assert bench.floor.cold_until(stranger) == berlin("2026-11-10T10:30")
    early = type(bench.floor)(bench.plant, bench.station.ledger, ahead, bench.site.zone)
    assert early.cold_until(stranger) == berlin("2026-11-10T10:00")


def test_time_from_the_dock_is_counted_by_the_true_arrival() -> None:
    """Arrived 10:00, shown as 13:00; the clock is put right; put away 11:30."""
    bench = Bench(start="2026-11-10T13:00")
    jar = bench.receive()
    put_right(bench, -180, confirmed=True)
    by = bench.container(jar).to_cold_by
    assert by is not None
    assert by - bench.container(jar).arrived_at == bench.limits().to_cold
    bench.at("2026-11-10T11:30").scan(jar, "FRIDGE")
    assert bench.container(jar).warm_spent == 1.5 * HOUR


def test_time_from_the_dock_confirmed_only_after_the_put_away_is_no_shorter() -> None:
    bench = Bench(start="2026-11-10T13:00")
    jar = bench.receive()
    bench.step(-180)
    bench.at("2026-11-10T11:30").scan(jar, "FRIDGE")
    bench.station.confirm_clock(LEAD, LEAD_PIN)
    assert bench.container(jar).warm_spent == 1.5 * HOUR


def test_a_clock_that_ran_slow_at_the_put_away_hides_no_hour_from_the_dock() -> None:
    """Arrived 10:00 by a right clock, which is set back three hours; put away 12:00, shown as 9:00."""
    bench = Bench(start="2026-11-10T10:00")
    jar = bench.receive()
    bench.step(-180)
    bench.at("2026-11-10T09:00").scan(jar, "FRIDGE")
    bench.later(11).scan(jar, "FRIDGE")
    before = bench.container(jar).room_end
    assert bench.container(jar).warm_spent == timedelta(0)
    put_right(bench, 180, confirmed=True)
    assert bench.container(jar).warm_spent == 2 * HOUR
    assert before is not None
    assert bench.container(jar).room_end == before - 2 * HOUR


def test_a_clock_that_was_years_ahead_all_the_time_costs_no_life() -> None:
    bench = Bench(start="2026-11-10T10:00")
    bench.step(3 * 365 * 24 * 60)
    jar = bench.receive(expires=berlin("2032-01-01T00:00").date())
    bench.later(20).scan(jar, "FRIDGE")
    put_right(bench, -3 * 365 * 24 * 60, confirmed=True)
    found = bench.container(jar)
    assert (found.warm_spent, found.put_away_at) == (timedelta(minutes=20), berlin("2026-11-10T10:20"))


@CONFIRMED
def test_warming_is_not_counted_from_a_slow_clocks_sighting(confirmed: bool) -> None:
    """Seen outside 10:30, shown as 7:30: a take-out told by a lead may have been until 10:30 and warms from there."""
    bench = Bench(start="2026-11-10T06:00")
    jar = bench.cold()
    bench.at("2026-11-10T10:00").step(-180)
    bench.later(30).scan(jar, "LINE1")
    put_right(bench, 180, confirmed=confirmed)
    told = Late(jar, berlin("2026-11-10T10:00"), berlin("2026-11-10T10:25"), "carried past at half past ten")
    lead_acts.take_out_late(bench.station, told, PROOF)
    ready = bench.container(jar).earliest_use
    assert ready is not None
    assert ready >= berlin("2026-11-10T13:25")


def test_an_excursion_reaches_what_a_wrong_clock_says_was_not_inside() -> None:
    """Put away 10:00 by a clock that shows 13:00; the store is too warm from 11:00 to 12:00."""
    bench = Bench(plant(Policy.HOLD), "2026-11-10T13:00")
    jar = bench.cold()
    put_right(bench, -180, confirmed=True)
    (stay,) = stays(bench.station.ledger, jar)
    assert stay.begins == berlin("2026-11-10T10:00")


def test_an_excursion_reaches_what_a_slow_clock_says_had_left() -> None:
    """Taken out 12:00 by a clock that shows 9:00."""
    bench = Bench(start="2026-11-10T06:00")
    jar = bench.cold()
    bench.at("2026-11-10T12:00").step(-180)
    bench.scan(jar, "FRIDGE")
    put_right(bench, 180, confirmed=True)
    (stay,) = stays(bench.station.ledger, jar)
    assert stay.until == berlin("2026-11-10T12:00")
    assert HoldReason.STORE_OUT not in [hold.reason for hold in bench.container(jar).holds]
