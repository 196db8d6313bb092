"""Which part of a thermocouple run counts, and which runs are refused with which reason."""

from dataclasses import replace

import numpy as np
import pytest

from station.care.warmup.judge import Doubt, Reason, judge, judge_fit
from station.care.warmup.runs import Run, smoothed, steady_room, strays, trim
from tests.care.warmup.thermocouples import (
    LAG_S,
    ROOM_C,
    START_C,
    STEP_S,
    TAU_S,
    curve,
    floats,
    joined,
    noise,
    warming,
)

HOUR = int(3600 / STEP_S)


def reasons(run: Run) -> dict[Doubt, str]:
    return {reason.code: reason.sentence for reason in judge(trim(run))}


def rise(minutes: float = 240, tau_s: float = TAU_S, lag_s: float = LAG_S) -> list[float]:
    return list(floats(curve(np.arange(0, minutes * 60, STEP_S), tau_s, lag_s)))


def cooling(minutes: float) -> list[float]:
    """A sensor from the room pushed into cold paste."""
    seconds = np.arange(0, minutes * 60, STEP_S)
    return list(floats(START_C + (ROOM_C - START_C) * np.exp(-seconds / 120)))


def test_a_run_logged_from_the_take_out_counts_from_its_first_reading() -> None:
    part = trim(warming(spread_k=0.08))
    assert (part.start, part.zero_s) == (0, 0.0)
    assert part.cold_c == pytest.approx(START_C, abs=0.2)
    assert part.cold_for_s == pytest.approx(LAG_S, abs=120)
    assert judge(part) == ()


def test_the_sensor_cooling_down_in_the_paste_is_cut_away() -> None:
    """Twenty minutes in which a warm sensor takes the paste's temperature are not part of the warming."""
    part = trim(joined(cooling(20), rise()))
    assert part.zero_s == pytest.approx(20 * 60 - 700, abs=90)  # exp(-t/120) is within 0.3 K after 8.2 min
    assert part.cold_c == pytest.approx(START_C, abs=0.3)
    assert part.seconds[0] == 0.0
    assert judge(part) == ()


def test_the_hours_after_settling_are_cut_away_with_what_happened_then() -> None:
    back_in_the_cold = [ROOM_C - 2.0 * minute for minute in range(9)]
    part = trim(joined(rise(), [ROOM_C] * 4 * HOUR, back_in_the_cold))
    assert part.seconds[-1] < 5 * 3600
    assert abs(part.temperatures_c[-1] - ROOM_C) < 0.3
    assert judge(part) == ()


def test_a_noted_take_out_is_where_the_time_counts_from() -> None:
    in_store = [START_C] * HOUR
    run = joined(in_store, rise())
    assert Doubt.TAKE_OUT_UNKNOWN in reasons(run)
    noted = replace(run, taken_out_s=3600.0)
    part = trim(noted)
    assert (part.zero_s, part.seconds[0], part.start) == (3600.0, 0.0, HOUR)
    assert reasons(noted) == {}
    between = trim(replace(run, taken_out_s=3610.0))
    assert between.seconds[:2] == (-10.0, 20.0)


def test_spikes_of_handling_do_not_count() -> None:
    spiky = rise()
    for index in (3, 40, 200):
        spiky[index] += 12.0
    assert judge(trim(joined(spiky))) == ()
    assert smoothed([1.0, 1.0, 9.0, 1.0, 1.0]) == (1.0, 1.0, 1.0, 1.0, 1.0)
    assert strays([1.0, 1.0, 9.0, 1.0, 1.0]) == (False, False, True, False, False)


def test_quick_warming_seen_in_few_readings_has_no_strays() -> None:
    """A small syringe logged every five minutes moves by kelvins from one reading to the next."""
    assert not any(strays(floats(curve(np.arange(0, 7200, 300.0), 600.0, 0.0))))


def test_an_empty_run_is_too_few() -> None:
    assert reasons(Run("none", (), (), ())).keys() == {Doubt.TOO_FEW}
    assert reasons(steady_room("one", [0.0], [5.0], ROOM_C)).keys() == {Doubt.TOO_FEW}


def test_too_few_readings_are_said_with_their_number() -> None:
    told = reasons(warming(step_s=900.0))
    assert told == {Doubt.TOO_FEW: "It has 15 readings from the take-out on; at least 20 are needed. Log more often."}


def test_a_run_that_ends_before_four_fifths_of_the_way_is_too_short() -> None:
    told = reasons(warming(1.0))
    assert told == {Doubt.TOO_SHORT: "It ends 66% of the way to the room; it has to come to 80%. Log longer."}


def test_reaching_four_fifths_is_enough() -> None:
    """80 % is reached ln 5 time constants after the dead time."""
    enough = (LAG_S + 1.66 * TAU_S) / 3600
    assert reasons(warming(enough)) == {}


def test_paste_warmed_above_the_room_is_refused_with_the_caution() -> None:
    bath = 30.0 - (30.0 - START_C) * np.exp(-np.arange(0, 7200, STEP_S) / 1200)
    told = reasons(joined(floats(bath)))
    assert "Never heat paste" in told[Doubt.HEATED]
    assert "The paste went 6.9 K above the room." in told[Doubt.HEATED]


def test_half_a_kelvin_above_the_room_is_only_the_sensors() -> None:
    over = [value + 0.45 * (value - START_C) / 18 for value in rise()]
    assert Doubt.HEATED not in reasons(joined(over))
    assert Doubt.HEATED in reasons(joined([value + 0.75 * (value - START_C) / 18 for value in rise()]))


def test_heating_after_it_had_settled_is_seen_as_well() -> None:
    told = reasons(joined(rise(), [ROOM_C] * HOUR, [26.0] * 20))
    assert told.keys() == {Doubt.HEATED}


def test_a_run_that_levels_off_below_the_room_has_the_wrong_room() -> None:
    draught = [20.5 - (20.5 - START_C) * float(np.exp(-second / 1500)) for second in np.arange(0, 4 * 3600, STEP_S)]
    told = reasons(joined(draught))
    assert told == {
        Doubt.NOT_SETTLING: "It levels off 2.5 K below the room of 23.0 C. Give the temperature of the air beside the "
        "container."
    }


def test_warming_that_merely_slows_as_still_air_does_is_no_levelling_off() -> None:
    """Free convection and radiation fall by about a quarter from 18 K to 1 K: estimated, no source."""
    value, slow = START_C, []
    for _ in range(3 * HOUR):
        left = ROOM_C - value
        value += STEP_S / 2700 * left * (0.75 + 0.25 * left / 18)
        slow.append(value)
    assert reasons(joined(slow)) == {}


@pytest.mark.parametrize("first", [16.0, 23.0, 25.0])
def test_a_start_that_is_not_cold_is_refused(first: float) -> None:
    seconds = np.arange(0, 4 * 3600, STEP_S)
    told = reasons(joined(floats(ROOM_C - (ROOM_C - first) * np.exp(-seconds / 2700))))
    assert "Start at least 8 K below the room" in told[Doubt.NOT_COLD]
    assert (Doubt.HEATED in told) is (first > ROOM_C)


def test_a_container_put_back_into_the_cold_on_its_way_is_refused() -> None:
    halfway = rise(50)
    back = [halfway[-1] - 0.25 * step for step in range(20)]
    again = [ROOM_C - (ROOM_C - back[-1]) * float(np.exp(-second / TAU_S)) for second in np.arange(0, 14400, STEP_S)]
    told = reasons(joined(halfway, back, again))
    assert told.keys() == {Doubt.FELL}
    assert "It fell by 4.5 K before it had warmed" in told[Doubt.FELL]


def test_of_a_file_with_a_false_start_the_whole_warming_counts() -> None:
    """Taken out, put back until it was quite cold again, and taken out for good."""
    halfway = rise(40)
    back = [max(START_C, halfway[-1] - 0.25 * step) for step in range(60)]
    part = trim(joined(halfway, back, rise()))
    assert part.zero_s > 40 * 60
    assert judge(part) == ()


def test_a_room_that_moved_is_refused_and_one_that_breathes_is_not() -> None:
    run = warming()
    breathing = tuple(ROOM_C + 0.8 * float(np.sin(second / 1000)) for second in run.seconds)
    warming_up = tuple(ROOM_C + 3.0 * second / run.seconds[-1] for second in run.seconds)
    assert Doubt.ROOM_MOVED not in reasons(replace(run, room_c=breathing))
    assert "The room moved by 3.0 K" in reasons(replace(run, room_c=warming_up))[Doubt.ROOM_MOVED]


def test_a_hole_in_the_run_is_refused_and_a_missing_reading_is_not() -> None:
    run = warming()

    def without(start: int, end: int) -> Run:
        kept = [index for index in range(len(run.seconds)) if not start <= index < end]
        return steady_room("a jar", [run.seconds[i] for i in kept], [run.temperatures_c[i] for i in kept], ROOM_C)

    assert reasons(without(60, 64)) == {}
    assert reasons(without(60, 90)) == {
        Doubt.GAP: "Nothing was measured for 16 min of it. Measure again without a gap."
    }


def test_slow_but_steady_logging_is_no_gap() -> None:
    assert reasons(warming(6.0, step_s=600.0)) == {}


def test_every_reason_is_told_at_once() -> None:
    run = warming(1.0)
    moved = replace(run, room_c=tuple(21.0 + 4.0 * second / run.seconds[-1] for second in run.seconds))
    assert set(reasons(moved)) == {Doubt.TOO_SHORT, Doubt.ROOM_MOVED}


def test_a_jump_to_the_middle_leaves_nothing_to_compare_the_end_with() -> None:
    """One reading cold, the next more than half way: no slope of the beginning, so none is made up."""
    jump = [START_C] * 10 + [18.0] * 30
    assert set(reasons(joined(jump))) == {Doubt.TOO_SHORT}


@pytest.mark.parametrize(
    ("rms_k", "r_squared", "refused"), [(0.7, 0.985, False), (0.71, 0.999, True), (0.1, 0.98, True)]
)
def test_a_curve_that_does_not_describe_the_run_is_refused(rms_k: float, r_squared: float, refused: bool) -> None:
    found = judge_fit(rms_k, r_squared)
    assert bool(found) is refused
    assert all(isinstance(reason, Reason) and reason.code is Doubt.POOR_FIT for reason in found)


@pytest.mark.parametrize(
    ("seconds", "temperatures", "room", "out", "told"),
    [
        ((0.0, 1.0), (5.0,), (23.0, 23.0), None, "every reading needs"),
        ((0.0, 1.0), (5.0, 5.0), (23.0,), None, "every reading needs"),
        ((0.0, 0.0), (5.0, 5.0), (23.0, 23.0), None, "the times of a run rise"),
        ((0.0, 1.0), (5.0, 5.0), (23.0, 23.0), 2.0, "the take-out lies outside"),
        ((), (), (), 0.0, "the take-out lies outside"),
    ],
)
def test_what_is_no_run_can_not_be_made(
    seconds: tuple[float, ...], temperatures: tuple[float, ...], room: tuple[float, ...], out: float | None, told: str
) -> None:
    with pytest.raises(ValueError, match=told):
        Run("a jar", seconds, temperatures, room, out)


def test_noise_as_large_as_a_cheap_logger_has_changes_no_verdict() -> None:
    for seed in range(20):
        assert reasons(warming(spread_k=0.25, correlation=0.5, seed=seed)) == {}, seed
    assert float(np.std(noise(5000, 0.25, 0.5, 1))) == pytest.approx(0.25, rel=0.1)
