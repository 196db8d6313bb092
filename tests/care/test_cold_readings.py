"""Readings of a store looked through from flat arrays, what containers went through in it, and what is charged."""

from array import array
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from math import nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.care import facts as f
from station.care.cold_readings import Flat, counted, look_through
from station.care.cold_readings_charge import charged, length, union
from station.care.cold_readings_outcome import policy_for
from station.care.cold_readings_record import ColdRecord
from station.care.cold_readings_rules import Instrument, Policy, StoreCare
from station.care.cold_readings_stays import FOREVER, Stay, stays
from station.care.excursions import survey
from station.care.outside import Excursion, Limits, Side, Span
from station.care.words import Ending, Storage
from tests.care.bench import Bench, berlin, site_f
from tests.services.test_cold_readings import NIGHT, WARM_HALF_AN_HOUR, in_the_morning, plant, take_in, track

START = datetime(2026, 11, 9, 22, tzinfo=UTC)
LIMITS = Limits(2, 8, 0.5, timedelta(minutes=10))
STEP = timedelta(minutes=12)


def flat(*celsius: float, minutes: tuple[int, ...] | None = None) -> Flat:
    steps = minutes or tuple(range(0, 5 * len(celsius), 5))
    return Flat(array("q", (counted(START + timedelta(minutes=at)) for at in steps)), array("d", celsius))


@settings(max_examples=150)
@given(
    st.lists(
        st.tuples(st.integers(1, 20), st.sampled_from([1.0, 2.4, 5.0, 7.4, 7.6, 8.5, 12.0, nan])),
        min_size=2,
        max_size=40,
    )
)
def test_looking_at_stretches_finds_what_looking_at_everything_finds(told: list[tuple[int, float]]) -> None:
    minutes, at = [], 0
    for step, _ in told:
        at += step
        minutes.append(at)
    readings = flat(*(celsius for _, celsius in told), minutes=tuple(minutes))
    found = [one.excursion for one in look_through(readings, LIMITS, STEP, freezing=False)]
    whole = Span(readings.instant(0), readings.instant(len(readings) - 1))
    assert found == list(survey(readings.between(0, len(readings) - 1), LIMITS, STEP, whole).excursions)


def test_below_freezing_counts_however_short_and_once() -> None:
    short = flat(5.0, 5.0, -0.2, 5.0, 5.0, 5.0, 5.0, 5.0)
    assert look_through(short, LIMITS, STEP, freezing=False) == ()
    (found,) = look_through(short, LIMITS, STEP, freezing=True)
    assert (found.excursion.side, found.excursion.peak_c, found.kinetic_c) == (Side.LOW, -0.2, None)
    long = flat(5.0, -0.2, -0.3, -0.2, -0.2, 5.0, 5.0, 5.0, 5.0, 5.0)
    assert len(look_through(long, LIMITS, STEP, freezing=True)) == 1


def test_a_single_reading_proves_no_excursion() -> None:
    assert look_through(flat(12.0), LIMITS, STEP, freezing=True) == ()


def test_in_a_refrigerator_the_low_limit_is_never_below_freezing() -> None:
    assert StoreCare().limits(Storage.COLD, -2, 8).low_c == 0
    assert StoreCare().limits(Storage.FROZEN, -22, -15).low_c == -22


def test_an_instrument_is_good_on_its_last_day() -> None:
    due = Instrument("L1", "FRIDGE", START.date())
    assert (due.overdue(START.date()), due.overdue(START.date() + timedelta(days=1))) == (False, True)


TIMES = st.lists(st.tuples(st.integers(0, 200), st.integers(1, 60)), max_size=8)


@settings(max_examples=60)
@given(TIMES, st.randoms(use_true_random=False))
def test_charges_in_any_order_and_twice_come_to_the_same(told: list[tuple[int, int]], chance: object) -> None:
    bench = Bench(plant(), "2026-11-09T12:00")
    jar = bench.container(bench.receive())
    bodies = [
        f.WarmCharged(
            jar.id, "FRIDGE", "x", START + timedelta(seconds=7 * at), START + timedelta(seconds=7 * (at + by))
        )
        for at, by in told
    ]
    shuffled = [*bodies, *bodies]
    chance.shuffle(shuffled)  # type: ignore[attr-defined]
    ending = replace(jar, room_end=START)
    one, other = ending, ending
    for body in bodies:
        one = charged(one, body)
    for body in shuffled:
        other = charged(other, body)
    assert (one.charged, one.warm_spent, one.room_end) == (other.charged, other.warm_spent, other.room_end)
    assert one.warm_spent - jar.warm_spent == length(union((body.start, body.end) for body in bodies))


def test_a_stay_ends_with_whatever_takes_the_container_out() -> None:
    bench = Bench(site_f(), "2026-11-09T12:00")
    jar = bench.receive(next(iter(bench.plant.pastes)))
    first, then = berlin("2026-11-09T12:00"), berlin("2026-11-09T14:00")
    bench.tell(f.PutAway(jar, "FREEZER", "F1", returning=False))
    bench.at("2026-11-09T14:00")
    bench.tell(f.Transferred(jar, "FREEZER", "FRIDGE", "A1", berlin("2026-11-09T13:50"), timedelta(minutes=10)))
    assert stays(bench.station.ledger, jar) == (
        Stay("FREEZER", first, berlin("2026-11-09T13:50"), then),
        Stay("FRIDGE", then),
    )
    bench.at("2026-11-09T15:00")
    bench.tell(f.Ended(jar, Ending.DISCARDED, "", "FRIDGE", None))
    assert stays(bench.station.ledger, jar)[-1].until == berlin("2026-11-09T15:00") != FOREVER


def test_a_put_away_that_was_taken_back_is_no_stay_and_one_after_a_take_out_costs_no_minute() -> None:
    bench = Bench(plant(), "2026-11-09T12:00")
    jar = bench.receive()
    (put,) = bench.tell(f.PutAway(jar, "FRIDGE", "A1", returning=False))
    bench.tell(f.Undone(put.key, "wrong jar"))
    assert stays(bench.station.ledger, jar) == ()
    out = bench.cold()
    bench.later(60)
    bench.scan(out, "FRIDGE")
    bench.tell(f.PutAway(out, "FRIDGE", "A1", returning=False))
    (_, after) = stays(bench.station.ledger, out)  # a station that knew of no take-out told that it lies there
    assert after.out_from == after.begins < after.until


def test_two_batches_of_one_excursion_become_one_that_replaces_them() -> None:
    bench, jar = in_the_morning()
    take_in(bench, track("2026-11-09T22:20", *WARM_HALF_AN_HOUR[4:]))
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    (found,) = bench.station.ledger.cold.excursions("FRIDGE")
    assert len(found.replaces) == 1
    assert [hold.reason for hold in bench.container(jar).holds] != []
    assert len(bench.container(jar).holds) == 1


def test_a_longer_file_charges_what_was_charged_no_second_time() -> None:
    bench, jar = in_the_morning(Policy.CHARGE)
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    longer = take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR, 7.0))
    assert [fact.body for fact in longer.facts if isinstance(fact.body, f.WarmCharged | f.ExcursionFound)] == []
    assert len(bench.container(jar).charged) == 1


def test_what_was_discarded_is_not_held_any_more() -> None:
    bench, jar = in_the_morning()
    bench.tell(f.Ended(jar, Ending.DISCARDED, "dropped", "FRIDGE", None))
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    assert bench.container(jar).holds == ()


def test_facts_in_another_order_give_the_same_record() -> None:
    bench, _ = in_the_morning(Policy.WARN)
    take_in(bench, track("2026-11-09T22:20", *WARM_HALF_AN_HOUR[4:]))
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    other = ColdRecord()
    for fact in reversed(list(bench.journal.facts())):
        other.note(fact)
    assert other.excursions("FRIDGE") == bench.station.ledger.cold.excursions("FRIDGE")
    assert other.imports("FRIDGE") == bench.station.ledger.cold.imports("FRIDGE")
    assert other.last_reading("SHELF") is None


def test_what_fell_due_by_a_charge_is_an_alarm() -> None:
    """Room life of plant T is 168 h; with half an hour charged it ends half an hour sooner."""
    bench = Bench(plant(Policy.CHARGE), "2026-11-09T12:00")
    jar = bench.cold()
    bench.at("2026-11-09T22:50").scan(jar, "FRIDGE")
    end = bench.container(jar).room_end
    assert end is not None
    bench.later((end - bench.clock.wall) / timedelta(minutes=1) - 10)
    assert bench.alarms() == []
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    assert len(bench.alarms()) == 1


@pytest.mark.parametrize("grown", [(13.5, 14.5), (13.5, 13.5)])
def test_a_peak_that_is_further_out_is_told_anew(grown: tuple[float, float]) -> None:
    bench, _ = in_the_morning(Policy.WARN)
    first, second = grown
    take_in(bench, track(NIGHT, 7.0, 7.0, 12.0, first, 12.0, 12.0, 7.0, 7.0, 7.0, 7.0, 7.0))
    take_in(bench, track("2026-11-09T22:02", 7.0, 7.0, 12.0, second, 12.0, 7.0, 7.0, 7.0, 7.0), "b.csv")
    assert bench.station.ledger.cold.excursions("FRIDGE")[0].peak_c == second


@pytest.mark.parametrize(
    ("storage", "peak_c", "policy", "comes_to"),
    [
        (Storage.COLD, -0.1, Policy.LOG, Policy.HOLD),
        (Storage.FROZEN, -30.0, Policy.LOG, Policy.LOG),
        (Storage.COLD, 1.0, Policy.CHARGE, Policy.WARN),
    ],
)
def test_frozen_paste_is_held_and_cold_spends_no_time(
    storage: Storage, peak_c: float, policy: Policy, comes_to: Policy
) -> None:
    store = replace(plant(policy).plant.stores["FRIDGE"], storage=storage)
    one = Excursion(Side.LOW, START, START + STEP, peak_c, STEP, ended=True)
    assert policy_for(store, one) is comes_to
