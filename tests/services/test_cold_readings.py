"""A logger's file of a store comes in: what is new, what stands, and what an excursion does to what lay inside."""

from array import array
from dataclasses import replace
from datetime import date, datetime, timedelta
from math import nan

import pytest

from station.care import facts as f
from station.care.cold_readings_rules import Instrument, Policy, StoreCare
from station.care.words import HoldReason
from station.readings.track import Track, microseconds, unpack
from station.services.cold_readings import import_store_readings, read_display, series_of
from station.services.cold_readings_judged import LoggerFile
from station.services.outcome import Outcome, Refusal
from station.services.site import Site
from tests.care.bench import Bench, berlin, site_t

NIGHT = "2026-11-09T22:00"


def plant(policy: Policy = Policy.HOLD, *, due: date | None = None) -> Site:
    """Plant T (refrigerator 5 to 10 C), its refrigerator judged so; with an instrument where `due` is given."""
    site = site_t()
    fridge = replace(site.plant.stores["FRIDGE"], care=StoreCare(policy))
    instruments = {"LOG-1": Instrument("LOG-1", "FRIDGE", due)} if due else {}
    return replace(site, plant=replace(site.plant, stores={"FRIDGE": fridge}, instruments=instruments))


def track(start: str, *celsius: float, step: int = 5) -> Track:
    first = berlin(start)
    instants = (first + timedelta(minutes=step * index) for index in range(len(celsius)))
    return Track(array("q", map(microseconds, instants)), array("d", celsius))


def take_in(bench: Bench, series: Track, name: str = "a.csv", **told: object) -> Outcome:
    given = LoggerFile("FRIDGE", name, series.pack(), series, series.longest_step(), "T1", "UTC", len(series), 0, 0)
    return import_store_readings(bench.station, replace(given, **told), unpack)  # type: ignore[arg-type]


def of(outcome: Outcome, kind: type) -> list[object]:
    return [fact.body for fact in outcome.facts if isinstance(fact.body, kind)]


def in_the_morning(policy: Policy = Policy.HOLD, **told: object) -> tuple[Bench, str]:
    """A jar in the cold since noon; it is eight the next morning."""
    bench = Bench(plant(policy, **told), "2026-11-09T12:00")  # type: ignore[arg-type]
    jar = bench.cold()
    bench.at("2026-11-10T08:00")
    return bench, jar


WARM_HALF_AN_HOUR = (7.0, 7.0, 12.0, 13.5, 12.0, 12.0, 11.0, 11.0, 7.0, 7.0, 7.0, 7.0, 7.0)
"""Every 5 min from 22:00: above 10 C from 22:10 to 22:40."""


def test_an_excursion_holds_what_lay_inside_unless_the_site_says_otherwise() -> None:
    bench, jar = in_the_morning()
    outcome = take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    assert outcome.verdict is not None
    assert outcome.verdict.headline == "1 EXCURSION"
    (found,) = of(outcome, f.ExcursionFound)
    assert isinstance(found, f.ExcursionFound)
    assert (found.start, found.end) == (berlin("2026-11-09T22:10"), berlin("2026-11-09T22:40"))
    assert (found.peak_c, found.outside, found.containers) == (13.5, timedelta(minutes=30), (jar,))
    assert found.kinetic_c == pytest.approx(11.96, abs=0.1)
    assert [hold.reason for hold in bench.container(jar).holds] == [HoldReason.STORE_OUT]
    assert bench.scan(jar, "FRIDGE").word == "STOP"


def test_held_by_a_logger_is_not_seen_by_a_person() -> None:
    bench, jar = in_the_morning()
    seen = bench.container(jar).last_seen_at
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    assert bench.container(jar).last_seen_at == seen


def test_the_same_file_twice_adds_nothing_and_says_so() -> None:
    """BR-87."""
    bench, _ = in_the_morning(Policy.CHARGE)
    series = track(NIGHT, *WARM_HALF_AN_HOUR)
    take_in(bench, series)
    again = take_in(bench, series)
    assert again.facts == ()
    assert again.verdict is not None
    assert again.verdict.headline == "NOTHING NEW"


def test_a_longer_file_adds_only_the_new_and_of_two_figures_the_worse_counts() -> None:
    """BR-87: overlap, then the same minute with another figure. The conflict is told, and no figure hides the other."""
    bench, _ = in_the_morning()
    take_in(bench, track(NIGHT, 7.0, 7.1, 7.2))
    (longer,) = of(take_in(bench, track(NIGHT, 7.0, 7.1, 7.2, 7.3)), f.ReadingsImported)
    assert isinstance(longer, f.ReadingsImported)
    assert (longer.readings, longer.known, longer.conflicts) == (4, 3, 0)
    assert bench.container("K7-001").holds == ()
    other = take_in(bench, track(NIGHT, 7.0, 30.0, 30.0, 30.0))
    (changed,) = of(other, f.ReadingsImported)
    assert isinstance(changed, f.ReadingsImported)
    assert (changed.known, changed.conflicts) == (1, 3)
    assert other.verdict is not None
    assert "3 otherwise than known: the worse of both counts" in other.verdict.why
    assert [hold.reason for hold in bench.container("K7-001").holds] == [HoldReason.STORE_OUT]
    flat, _step = series_of(bench.station, "FRIDGE", unpack, timedelta(days=7))
    assert list(flat.celsius) == [7.0, 30.0, 30.0, 30.0]


def test_a_charge_counts_each_minute_once_in_whatever_order_files_come() -> None:
    bench, jar = in_the_morning(Policy.CHARGE)
    before = bench.container(jar).warm_spent
    take_in(bench, track("2026-11-09T22:20", *WARM_HALF_AN_HOUR[4:]))
    assert bench.container(jar).warm_spent - before == timedelta(minutes=20)
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    assert bench.container(jar).warm_spent - before == timedelta(minutes=30)
    assert [one.start for one in bench.station.ledger.cold.excursions("FRIDGE")] == [berlin("2026-11-09T22:10")]
    assert bench.container(jar).holds == ()


def test_a_jar_taken_out_since_loses_the_minutes_it_lay_inside() -> None:
    bench = Bench(plant(Policy.CHARGE), "2026-11-09T12:00")
    jar = bench.cold()
    bench.at("2026-11-09T22:20").scan(jar, "FRIDGE")
    end = bench.container(jar).room_end
    assert end is not None
    bench.at("2026-11-10T08:00")
    outcome = take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    assert bench.container(jar).room_end == end - timedelta(minutes=10)
    assert outcome.verdict is not None
    assert "Print new labels of K7 001." in outcome.verdict.todo


def test_what_came_later_or_left_before_is_not_touched() -> None:
    bench = Bench(plant(Policy.CHARGE), "2026-11-09T12:00")
    early = bench.cold()
    bench.at("2026-11-09T21:00").scan(early, "FRIDGE")
    bench.at("2026-11-10T07:00")
    late = bench.cold()
    spent = [bench.container(name).warm_spent for name in (early, late)]
    bench.at("2026-11-10T08:00")
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    assert [bench.container(name).warm_spent for name in (early, late)] == spent


@pytest.mark.parametrize("policy", list(Policy))
def test_below_freezing_always_holds_however_short(policy: Policy) -> None:
    bench, jar = in_the_morning(policy)
    take_in(bench, track(NIGHT, 6.0, 6.0, -0.5, 6.0, 6.0, 6.0, 6.0, 6.0, 6.0))
    assert [hold.reason for hold in bench.container(jar).holds] == [HoldReason.STORE_OUT]


@pytest.mark.parametrize(
    ("policy", "headline"), [(Policy.LOG, "READINGS IN"), (Policy.WARN, "1 EXCURSION"), (Policy.CHARGE, "1 EXCURSION")]
)
def test_too_cold_but_not_frozen_is_told_by_the_policy_and_holds_nothing(policy: Policy, headline: str) -> None:
    bench, jar = in_the_morning(policy)
    outcome = take_in(bench, track(NIGHT, 6.0, *([3.0] * 6), 6.0, 6.0, 6.0, 6.0))
    assert outcome.verdict is not None
    assert outcome.verdict.headline == headline
    assert bench.container(jar).holds == ()
    assert bench.container(jar).charged == ()


def test_a_released_hold_comes_back_only_when_the_excursion_has_grown() -> None:
    bench, jar = in_the_morning()
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR[:6]))
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR[:5]), "part.csv")
    assert len(bench.container(jar).holds) == 1
    bench.release_all(jar)
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR[:4]), "less.csv")
    assert bench.container(jar).holds == ()
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR), "whole.csv")
    assert len(bench.container(jar).holds) == 1


def test_swinging_round_the_limit_is_one_excursion() -> None:
    """BR-77, with the limit of plant T: 9.9 and 10.1 C by turns for an hour."""
    bench, _ = in_the_morning()
    outcome = take_in(bench, track(NIGHT, *([9.9, 10.1] * 30), *([7.0] * 20), step=1))
    assert len(of(outcome, f.ExcursionFound)) == 1


def test_a_gap_beside_an_excursion_is_told_and_not_counted() -> None:
    bench, _ = in_the_morning()
    warm = track(NIGHT, 7.0, 7.0, 12.0, 12.0, 12.0)
    late = track("2026-11-10T01:20", 7.0, 7.0, nan)
    both = Track(warm.at + late.at, warm.celsius + late.celsius)
    (found,) = of(take_in(bench, both), f.ExcursionFound)
    assert isinstance(found, f.ExcursionFound)
    assert (found.ended, found.outside, found.longest_gap) == (False, timedelta(minutes=10), timedelta(hours=3))
    assert bench.station.ledger.cold.last_reading("FRIDGE") == (berlin("2026-11-10T01:30"), None)


def test_an_instrument_whose_calibration_ran_out_is_marked_and_said() -> None:
    bench, _ = in_the_morning(due=date(2026, 11, 9))
    outcome = take_in(bench, track(NIGHT, 7.0, 7.0, 7.0))
    (imported,) = of(outcome, f.ReadingsImported)
    assert isinstance(imported, f.ReadingsImported)
    assert (imported.instrument, imported.overdue) == ("LOG-1", True)
    assert outcome.verdict is not None
    assert "calibration of LOG-1 has run out" in outcome.verdict.why


def test_of_several_instruments_the_one_that_was_read_has_to_be_said() -> None:
    """One of them may be overdue; nobody knows which, so nobody could say that the readings are good."""
    site = plant(due=date(2026, 11, 9))
    both = {**site.plant.instruments, "LOG-2": Instrument("LOG-2", "FRIDGE", date(2027, 1, 1))}
    bench = Bench(replace(site, plant=replace(site.plant, instruments=both)), "2026-11-10T08:00")
    with pytest.raises(Refusal, match="several instruments: say which one it was"):
        take_in(bench, track(NIGHT, 7.0, 7.0))
    with pytest.raises(Refusal, match="names: LOG-1, LOG-2"):
        read_display(bench.station, "FRIDGE", 7.0)
    (read,) = of(read_display(bench.station, "FRIDGE", 7.0, "LOG-1"), f.StoreRead)
    assert isinstance(read, f.StoreRead)
    assert (read.instrument, read.overdue) == ("LOG-1", True)


def ahead(bench: Bench) -> Outcome:
    return take_in(bench, track("2026-11-10T08:00", 7.0, 7.0, 7.0, 7.0))


def few(bench: Bench) -> Outcome:
    return take_in(bench, track(NIGHT, 7.0))


@pytest.mark.parametrize(
    ("told", "code"),
    [
        ({"store": "CELLAR"}, "store-unknown"),
        ({"instrument": "LOG-9"}, "instrument"),
        ({"longest_step": None}, "readings-few"),
    ],
)
def test_what_can_not_be_taken_in_is_refused_and_nothing_is_kept(told: dict[str, object], code: str) -> None:
    bench, _ = in_the_morning()
    with pytest.raises(Refusal) as refused:
        take_in(bench, track(NIGHT, 7.0, 7.0), "a.csv", **told)
    assert refused.value.code == code
    assert list(bench.station.evidence.digests()) == []


def test_readings_ahead_of_the_clock_are_refused_since_their_zone_is_wrong() -> None:
    bench, _ = in_the_morning()
    with pytest.raises(Refusal, match="ahead of this PC's clock"):
        ahead(bench)


@pytest.mark.parametrize(("celsius", "code"), [(7.0, "store-read"), (-0.1, "store-read-outside")])
def test_a_display_that_was_read_is_the_last_reading(celsius: float, code: str) -> None:
    bench, _ = in_the_morning()
    verdict = read_display(bench.station, "FRIDGE", celsius).verdict
    assert verdict is not None
    assert verdict.code == code
    last = bench.station.ledger.cold.last_reading("FRIDGE")
    assert last == (datetime.fromisoformat("2026-11-10T07:00:00+00:00"), celsius)


def test_a_figure_no_store_shows_is_refused() -> None:
    bench, _ = in_the_morning()
    with pytest.raises(Refusal, match="Look at the display again"):
        read_display(bench.station, "FRIDGE", 700.0)
