"""What a store went through, reading by reading: excursions, gaps, faults and the mean over what is known."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.care.excursions import Reading, Survey, survey
from station.care.kinetic import mean_kinetic_c
from station.care.outside import Limits, Side, Span

START = datetime(2026, 11, 24, 2, 0, tzinfo=UTC)
MINUTE = timedelta(minutes=1)
FRIDGE = Limits(low_c=2, high_c=8, dead_band_k=0.5, delay=timedelta(0))
PATIENT = Limits(low_c=2, high_c=8, dead_band_k=0.5, delay=10 * MINUTE)


def at(minutes: float) -> datetime:
    return START + minutes * MINUTE


def each(step: float, *temperatures: float | None) -> list[Reading]:
    """Readings every `step` minutes from the start."""
    return [Reading(at(number * step), celsius) for number, celsius in enumerate(temperatures)]


def look(readings: list[Reading], limits: Limits = FRIDGE, longest: float = 12, until: float | None = None) -> Survey:
    """Longest step and end of the window in minutes; by default the window ends with the last reading."""
    end = readings[-1].at if until is None else at(until)
    return survey(readings, limits, longest * MINUTE, Span(START, end))


def test_one_warm_spell_has_its_start_end_peak_and_minutes() -> None:
    seen = look(each(5, 5, 8.1, 9.5, 8.4, 7, 5))
    (warm,) = seen.excursions
    assert (warm.side, warm.start, warm.end, warm.peak_c) == (Side.HIGH, at(5), at(20), 9.5)
    assert (warm.outside, warm.ended) == (15 * MINUTE, True)
    assert not seen.all_in_range


def test_a_cold_spell_is_told_with_its_lowest() -> None:
    (cold,) = look(each(5, 3, 1.9, -0.5, 1, 2.6, 3)).excursions
    assert (cold.side, cold.start, cold.end, cold.peak_c) == (Side.LOW, at(5), at(20), -0.5)


def test_the_limits_themselves_are_in_range() -> None:
    seen = look(each(5, 8.0, 2.0, 8.0, 2.0))
    assert (seen.excursions, seen.all_in_range, seen.in_range) == ((), True, 15 * MINUTE)


@pytest.mark.parametrize("last", [8.1, None])
def test_a_last_reading_outside_or_at_fault_spoils_the_claim_though_it_took_no_time(last: float | None) -> None:
    seen = look(each(5, 5, 5, last))
    assert seen.in_range == seen.window.length
    assert not seen.all_in_range


def test_a_value_swinging_round_the_limit_is_one_excursion() -> None:
    """BR-77: 7.9 and 8.1 every minute for an hour, limit 8.0."""
    swinging = each(1, 5, *[8.1, 7.9] * 30, 5, 5)
    (one,) = look(swinging, longest=5).excursions
    assert (one.start, one.end, one.outside) == (at(1), at(61), 30 * MINUTE)


def test_swinging_further_than_the_dead_band_is_one_excursion_by_the_delay() -> None:
    """BR-77 with a dead band of exactly the swing, which alone would not hold it together."""
    narrow = Limits(low_c=2, high_c=8, dead_band_k=0.1, delay=5 * MINUTE)
    (one,) = look(each(1, 5, *[8.1, 7.9] * 30, *[5] * 10), narrow, longest=5).excursions
    assert (one.start, one.end, one.outside, one.ended) == (at(1), at(60), 30 * MINUTE, True)


def test_a_dead_band_of_a_tenth_ends_at_seven_nine() -> None:
    narrow = Limits(low_c=2, high_c=8, dead_band_k=0.1, delay=timedelta(0))
    assert len(look(each(1, 8.1, 7.9, 8.1, 7.9), narrow).excursions) == 2
    assert len(look(each(1, 8.1, 7.91, 8.1, 7.91), narrow).excursions) == 1


def test_a_door_opened_for_less_than_the_delay_is_no_excursion() -> None:
    seen = look(each(5, 5, 8.5, 5, 5, 5), PATIENT)
    assert seen.excursions == ()
    assert seen.in_range == 15 * MINUTE  # yet those 5 min are not called in range
    assert not seen.all_in_range


def test_outside_for_just_the_delay_is_one() -> None:
    (one,) = look(each(5, 5, 8.5, 8.5, 5, 5, 5), PATIENT).excursions
    assert (one.start, one.end) == (at(5), at(15))


def test_one_that_still_lasts_is_told_as_not_ended_once_the_delay_is_over() -> None:
    (one,) = look(each(5, 5, 8.5, 8.5, 9), PATIENT).excursions
    assert (one.start, one.end, one.ended, one.peak_c) == (at(5), at(15), False, 9)
    assert look(each(5, 5, 8.5, 8.5), PATIENT).excursions == ()


def test_back_inside_for_less_than_the_delay_at_the_end_is_not_yet_ended() -> None:
    (one,) = look(each(5, 8.5, 8.5, 9, 5, 5), PATIENT).excursions
    assert (one.start, one.end, one.ended) == (at(0), at(15), False)


def test_warm_and_then_too_cold_are_two_in_their_order() -> None:
    seen = look(each(5, 5, 9, 1, 5, 9, 5))
    assert [(one.side, one.start) for one in seen.excursions] == [
        (Side.HIGH, at(5)),
        (Side.LOW, at(10)),
        (Side.HIGH, at(20)),
    ]


def test_sensor_faults_are_named_and_neither_averaged_nor_taken_for_temperatures() -> None:
    """BR-82: 85.0 and -127 between good readings, already told apart as faults."""
    seen = look(each(5, 4.1, 4.2, None, 4.2, None, 4.3), until=30)
    assert [(fault.start, fault.end) for fault in seen.faults] == [(at(10), at(15)), (at(20), at(25))]
    assert (seen.excursions, seen.gaps) == ((), ())
    assert seen.kinetic_c == pytest.approx(mean_kinetic_c([4.1, 4.2, 4.2, 4.3]))
    assert seen.known == 20 * MINUTE
    assert seen.covered == pytest.approx(2 / 3)
    assert not seen.all_in_range


def test_a_gap_is_named_counted_and_not_called_in_range() -> None:
    """BR-86: three hours missing from a steady day."""
    readings = [reading for reading in each(5, *[5.0] * 289) if not at(300) < reading.at < at(480)]
    seen = look(readings)
    assert [(gap.start, gap.end) for gap in seen.gaps] == [(at(300), at(480))]
    assert seen.known == seen.in_range == 21 * 60 * MINUTE
    assert seen.covered == pytest.approx(21 / 24)
    assert (seen.excursions, seen.all_in_range) == ((), False)
    assert seen.kinetic_c == pytest.approx(5)


def test_a_step_as_long_as_allowed_is_no_gap() -> None:
    assert look(each(12, 5, 5)).gaps == ()
    assert len(look(each(12.1, 5, 5)).gaps) == 1


def test_a_gap_cuts_an_excursion_in_two_and_bridges_nothing() -> None:
    seen = look([*each(5, 5, 9, 9), Reading(at(200), 9), Reading(at(205), 5)])
    before, after = seen.excursions
    assert (before.start, before.end, before.outside, before.ended) == (at(5), at(10), 5 * MINUTE, False)
    assert (after.start, after.end, after.outside, after.ended) == (at(200), at(205), 5 * MINUTE, True)


def test_beside_a_gap_the_delay_excuses_nothing() -> None:
    """Warm for a moment before the logger fell silent, or after it spoke again: nobody knows for how long."""
    seen = look([*each(5, 5, 9), Reading(at(100), 9), *[Reading(at(105 + 5 * n), 5) for n in range(3)]], PATIENT)
    assert [(one.start, one.end, one.ended) for one in seen.excursions] == [
        (at(5), at(5), False),
        (at(100), at(105), True),
    ]


def test_a_logger_that_falls_silent_while_warm_is_an_excursion() -> None:
    seen = look(each(5, 5, 8.5), PATIENT, until=120)
    (one,) = seen.excursions
    assert (one.start, one.ended, one.outside) == (at(5), False, timedelta(0))
    assert [(gap.start, gap.end) for gap in seen.gaps] == [(at(5), at(120))]


def test_a_logger_that_begins_late_and_warm_is_an_excursion() -> None:
    late = [Reading(at(60), 8.5), Reading(at(65), 5), Reading(at(70), 5), Reading(at(75), 5)]
    seen = look(late, PATIENT)
    assert [one.start for one in seen.excursions] == [at(60)]
    assert [(gap.start, gap.end) for gap in seen.gaps] == [(START, at(60))]


def test_a_fault_within_a_warm_spell_neither_ends_it_nor_counts_as_warm() -> None:
    (one,) = look(each(5, 5, 9, None, 9, 5)).excursions
    assert (one.start, one.end, one.outside) == (at(5), at(20), 10 * MINUTE)


def test_faults_for_longer_than_a_step_cut_a_warm_spell_as_a_gap_does() -> None:
    seen = look(each(5, 5, 9, None, None, None, 9, 5))
    assert [(one.start, one.ended) for one in seen.excursions] == [(at(5), False), (at(25), True)]
    assert seen.gaps == ()
    assert len(seen.faults) == 3


def test_a_fault_before_a_gap_is_an_instant_of_its_own() -> None:
    seen = look([*each(5, 5, None), Reading(at(60), 5)])
    assert [(fault.start, fault.end) for fault in seen.faults] == [(at(5), at(5))]
    assert len(seen.gaps) == 1


def test_the_mean_weighs_each_reading_by_how_long_it_held() -> None:
    """20 h of 5 C and 4 h of 23 C; by hand with USP <1160>: 11.650721."""
    readings = [Reading(at(60 * hour), 5.0 if hour < 20 else 23.0) for hour in range(24)]
    assert look(readings, longest=61, until=24 * 60).kinetic_c == pytest.approx(11.650721, abs=1e-6)


def test_a_store_that_froze_has_no_kinetic_mean() -> None:
    assert look(each(5, 3, -1, 3)).kinetic_c is None


def test_without_a_single_reading_nothing_is_claimed() -> None:
    seen = survey([], FRIDGE, 12 * MINUTE, Span(START, at(60)))
    assert (seen.excursions, seen.faults, seen.kinetic_c, seen.covered) == ((), (), None, 0)
    assert seen.gaps == (Span(START, at(60)),)
    assert not seen.all_in_range


def test_readings_outside_the_window_are_left_alone() -> None:
    readings = [Reading(at(-5), 20), *each(5, 5, 5, 5), Reading(at(15), 20)]
    seen = look(readings, until=10)
    assert (seen.excursions, seen.known) == ((), 10 * MINUTE)


@pytest.mark.parametrize("second", [at(0), at(-1)])
def test_time_that_stands_still_or_runs_back_is_refused(second: datetime) -> None:
    with pytest.raises(ValueError, match="does not come after"):
        survey([Reading(at(0), 5), Reading(second, 5)], FRIDGE, MINUTE, Span(at(-10), at(10)))


@pytest.mark.parametrize(("end", "longest"), [(0, 5), (-1, 5), (60, 0)])
def test_an_empty_window_or_step_is_refused(end: float, longest: float) -> None:
    with pytest.raises(ValueError, match="must have a length"):
        survey([], FRIDGE, longest * MINUTE, Span(START, at(end)))


@pytest.mark.parametrize(
    ("low_c", "high_c", "dead_band_k", "delay", "why"),
    [
        (8, 2, 0.5, 0, "no room"),
        (2, 8, 6, 0, "no room"),
        (2, 8, -0.1, 0, "negative"),
        (2, 8, 0.5, -1, "negative"),
        (2, float("nan"), 0.5, 0, "no room"),
    ],
)
def test_limits_that_make_no_sense_are_refused(
    low_c: float, high_c: float, dead_band_k: float, delay: float, why: str
) -> None:
    with pytest.raises(ValueError, match=why):
        Limits(low_c, high_c, dead_band_k, delay * MINUTE)


SERIES = st.lists(st.tuples(st.integers(1, 40), st.none() | st.floats(-5, 15)), min_size=1, max_size=40)


@given(SERIES, st.integers(0, 20), st.integers(0, 60))
def test_nothing_is_counted_twice_or_claimed_unknown(
    steps: list[tuple[int, float | None]], delay: int, more: int
) -> None:
    """Whatever a logger writes: time outside and in range never exceed what is known, and spans stay in the window."""
    minute, readings = 0, []
    for step, celsius in steps:
        minute += step
        readings.append(Reading(at(minute), celsius))
    seen = look(readings, Limits(2, 8, 0.5, delay * MINUTE), until=minute + more)
    for side in Side:
        outside = sum((one.outside for one in seen.excursions if one.side is side), timedelta(0))
        assert outside <= seen.known - seen.in_range
    unknown = sum((span.length for span in (*seen.gaps, *seen.faults)), timedelta(0))
    assert seen.known + unknown <= seen.window.length
    assert all(START <= one.start <= one.end <= at(minute + more) for one in seen.excursions)
    assert not (seen.all_in_range and (seen.excursions or seen.gaps))
    if delay == 0:
        outside_at_all = any(celsius is not None and not 2 <= celsius <= 8 for _, celsius in steps)
        assert bool(seen.excursions) == outside_at_all
