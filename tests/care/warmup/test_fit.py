"""Time constant and dead time from runs: against the closed form, a straight line through logarithms, and physics."""

import math
from dataclasses import fields, replace
from datetime import timedelta

import numpy as np
import pytest
from scipy import stats

from station.care.warmup.fit import Fitted, Interval, evaluate, fit, pool
from station.care.warmup.judge import Doubt
from station.care.warmup.runs import Run, steady_room, trim
from tests.care.warmup.thermocouples import (
    LAG_S,
    ROOM_C,
    START_C,
    TAU_S,
    curve,
    floats,
    joined,
    noise,
    warming,
)

SECOND = timedelta(seconds=1)
MINUTE = timedelta(minutes=1)


def fitted(run: Run) -> Fitted:
    found = evaluate(run)
    assert found.used, found.reasons
    assert found.fitted is not None
    return found.fitted


def holds(interval: Interval, seconds: float) -> bool:
    return interval.low.total_seconds() <= seconds <= interval.high.total_seconds()


@pytest.mark.parametrize("tau_s", [600.0, 2700.0, 7200.0])
@pytest.mark.parametrize("lag_s", [0.0, 45.0, 600.0, 1500.0])
def test_without_noise_the_figures_come_back(tau_s: float, lag_s: float) -> None:
    found = fitted(warming((lag_s + 6 * tau_s) / 3600, tau_s=tau_s, lag_s=lag_s, step_s=20.0))
    assert found.time_constant.total_seconds() == pytest.approx(tau_s, abs=0.5)
    assert found.dead_time.total_seconds() == pytest.approx(lag_s, abs=0.5)
    assert found.start_c == pytest.approx(START_C, abs=0.01)
    assert found.rms_k == pytest.approx(0.0, abs=1e-3)
    assert found.r_squared == pytest.approx(1.0, abs=1e-6)


def test_without_dead_time_and_noise_it_is_the_straight_line_through_the_logarithms() -> None:
    """The independent way: ln of the difference from the room falls by 1/tau a second (numpy's polyfit)."""
    run = warming(2.0, tau_s=1800.0, lag_s=0.0)
    slope, _ = np.polyfit(run.seconds, np.log(ROOM_C - np.array(run.temperatures_c)), 1)
    assert fitted(run).time_constant.total_seconds() == pytest.approx(-1 / slope, rel=1e-5)


def test_a_lump_of_metal_gives_mass_times_heat_over_surface() -> None:
    """Lumped capacity: tau = m c / (h A), no dead time; 500 g, 420 J/kgK, 9 W/m2K, 138.9 cm2 give 1680 s."""
    tau = 0.5 * 420 / (9 * 0.01388961)
    seconds = np.arange(0, 3 * 3600, 15.0)
    paste = floats(ROOM_C - (ROOM_C - START_C) * np.exp(-9 * 0.01388961 * seconds / (0.5 * 420)))
    found = fitted(steady_room("lump", floats(seconds), paste, ROOM_C))
    assert found.time_constant.total_seconds() == pytest.approx(tau, rel=1e-4)
    assert found.dead_time < 2 * SECOND


def test_the_centre_of_a_500_g_jar_becomes_a_time_constant_with_a_dead_time() -> None:
    """One-term series of a short cylinder (D 66 mm, H 34 mm, h 9 W/m2K, k 1 W/mK) for Fo > 0.2, 5 to 23 C.

    Its slowest term has tau = 1 / (alpha (l_wall^2 / L^2 + l_cyl^2 / R^2)) with the textbook roots .381388 and
    .742990, and starts A = 1.024165 x 1.070489 above one, which is a dead time of tau ln A.
    """
    alpha, half, radius = 5.537099e-7, 0.01699393, 0.033
    tau = 1 / (alpha * ((0.381388 / half) ** 2 + (0.742990 / radius) ** 2))
    lag = tau * math.log(1.024165 * 1.070489)
    found = fitted(warming(3.0, tau_s=tau, lag_s=lag))
    assert found.time_constant.total_seconds() == pytest.approx(tau, rel=1e-3)
    assert found.dead_time.total_seconds() == pytest.approx(lag, abs=2)
    assert found.temperature_c(3600) == pytest.approx(20.3676, abs=0.01)  # the whole series, computed elsewhere
    assert found.temperature_c(0) == pytest.approx(START_C, abs=0.01)


@pytest.mark.parametrize(("correlation", "seed"), [(0.0, 100), (0.8, 200), (0.95, 300)])
def test_the_interval_holds_the_truth_about_95_times_in_100(correlation: float, seed: int) -> None:
    """Also where neighbouring readings err alike; 100 seeded runs, and 88 would come once in 300 such tests."""
    runs = [
        fitted(warming(spread_k=0.1, correlation=correlation, seed=seed + index, step_s=60.0)) for index in range(100)
    ]
    assert sum(holds(run.time_constant_interval, TAU_S) for run in runs) >= 89
    assert sum(holds(run.dead_time_interval, LAG_S) for run in runs) >= 89


def test_readings_that_err_alike_count_as_few() -> None:
    free, alike = (fitted(warming(spread_k=0.1, correlation=r, seed=7)) for r in (0.0, 0.9))
    assert free.independent > 0.7 * free.readings
    assert alike.independent < 0.15 * alike.readings
    width = alike.time_constant_interval.high - alike.time_constant_interval.low
    assert width > 2 * (free.time_constant_interval.high - free.time_constant_interval.low)


def test_the_error_is_that_of_the_linearised_curve_for_independent_readings() -> None:
    """Against the textbook covariance s2 (J'J)^-1 with differences taken numerically, and scipy's Student t."""
    run = warming(spread_k=0.1, seed=11)
    found = fitted(run)
    part = trim(run)
    seconds = np.array(part.seconds)
    tau, lag = found.time_constant.total_seconds(), found.dead_time.total_seconds()
    steps = [
        curve(seconds, tau + 0.5, lag, found.start_c) - curve(seconds, tau - 0.5, lag, found.start_c),
        curve(seconds, tau, lag + 0.5, found.start_c) - curve(seconds, tau, lag - 0.5, found.start_c),
        curve(seconds, tau, lag, found.start_c + 0.5) - curve(seconds, tau, lag, found.start_c - 0.5),
    ]
    slopes = np.column_stack(steps)
    squares = sum(kelvin**2 for _, kelvin in found.residuals)
    covariance = np.linalg.inv(slopes.T @ slopes) * squares / (found.independent - 3)
    errors = np.sqrt(np.diag(covariance))
    assert found.time_constant_error.total_seconds() == pytest.approx(errors[0], rel=0.02)
    assert found.dead_time_error.total_seconds() == pytest.approx(errors[1], rel=0.02)
    half = (found.time_constant_interval.high - found.time_constant).total_seconds()
    assert half == pytest.approx(stats.t.ppf(0.975, found.independent - 3) * errors[0], rel=0.02)


def test_residuals_are_what_the_plot_shows() -> None:
    run = warming(spread_k=0.1, seed=3)
    found = fitted(run)
    second, kelvin = found.residuals[100]
    assert second == run.seconds[100]
    assert kelvin == pytest.approx(run.temperatures_c[100] - found.temperature_c(second), abs=1e-6)
    assert found.rms_k == pytest.approx(math.sqrt(np.mean([k**2 for _, k in found.residuals])))


def test_a_noted_take_out_gives_the_dead_time_from_there() -> None:
    store = [START_C] * 120
    run = replace(joined(store, warming(spread_k=0.05).temperatures_c), taken_out_s=3600.0)
    assert fitted(run).dead_time.total_seconds() == pytest.approx(LAG_S, abs=20)


def test_an_interval_never_goes_below_nothing() -> None:
    found = fitted(warming(3.0, tau_s=1500.0, lag_s=0.0, spread_k=0.2, seed=5))
    assert found.dead_time_interval.low >= timedelta(0)
    assert found.dead_time_interval.low <= found.dead_time <= found.dead_time_interval.high


def test_a_refused_run_is_not_fitted_and_a_poor_fit_is_shown_with_its_reason() -> None:
    short = evaluate(warming(1.0))
    assert (short.used, short.fitted) == (False, None)
    steps = [5.0] * 20 + [14.0] * 100 + [22.5] * 200
    poor = evaluate(joined(steps))
    assert not poor.used
    assert [reason.code for reason in poor.reasons] == [Doubt.POOR_FIT]
    assert poor.fitted is not None
    assert f"{poor.fitted.rms_k:.2f} K" in poor.reasons[0].sentence


def test_no_numpy_number_leaves_the_module() -> None:
    runs = [fitted(warming(spread_k=0.1, seed=seed)) for seed in (1, 2)]
    pooled = pool(runs)
    assert pooled is not None
    for result in (runs[0], pooled):
        for part in fields(result):
            value = getattr(result, part.name)
            assert type(value) in (str, int, float, timedelta, Interval, tuple), part.name
    assert {type(number) for pair in runs[0].residuals for number in pair} == {float}


def run_of(minutes: float, lag_minutes: float = 10.0, error_minutes: float = 0.5) -> Fitted:
    """A fitted run with given figures and standard errors."""
    tau, lag, error = (timedelta(minutes=value) for value in (minutes, lag_minutes, error_minutes))
    nothing = Interval(tau, tau)
    return Fitted("r", tau, lag, nothing, nothing, 5, 23, 0.1, 1, 400, 100, (), (), error, error)


def minutes(length: timedelta) -> float:
    return length / MINUTE


def test_one_run_says_nothing_of_how_containers_differ() -> None:
    assert pool([]) is None
    assert pool([run_of(45)]) is None


def test_runs_that_differ_by_more_than_their_own_errors_widen_the_interval() -> None:
    """By hand: equal errors give the plain mean 45, and t(3) s / sqrt(4) with s = sqrt(20/3) of 42, 44, 46, 48."""
    pooled = pool([run_of(value) for value in (42, 44, 46, 48)])
    assert pooled is not None
    assert minutes(pooled.time_constant) == pytest.approx(45)
    half = stats.t.ppf(0.975, 3) * math.sqrt(20 / 3) / 2
    assert minutes(pooled.time_constant_interval.high) == pytest.approx(45 + half)
    assert minutes(pooled.time_constant_interval.low) == pytest.approx(45 - half)
    assert minutes(pooled.time_constant_spread) == pytest.approx(math.sqrt(20 / 3 - 0.25))
    assert pooled.runs == 4


def test_runs_that_agree_by_luck_keep_their_own_errors() -> None:
    """By hand: no spread between runs; the error of the mean of four with 2 min each is 1 min."""
    pooled = pool([run_of(45, error_minutes=2.0) for _ in range(4)])
    assert pooled is not None
    assert minutes(pooled.time_constant_interval.high) == pytest.approx(45 + stats.t.ppf(0.975, 3))
    assert pooled.time_constant_spread == timedelta(0)


def test_a_run_with_a_small_error_weighs_more() -> None:
    """By hand, no spread between runs: weights 1 and 1/4 put the mean of 45.0 and 45.5 at 45.1."""
    pooled = pool([run_of(45.0, error_minutes=1.0), run_of(45.5, error_minutes=2.0)])
    assert pooled is not None
    assert minutes(pooled.time_constant) == pytest.approx(45.1)


def test_curves_without_noise_do_not_divide_by_nothing() -> None:
    pooled = pool([run_of(45, error_minutes=0.0), run_of(47, error_minutes=0.0)])
    assert pooled is not None
    assert minutes(pooled.time_constant) == pytest.approx(46)


def test_the_safe_pair_is_the_upper_end_rounded_up_to_the_minute() -> None:
    pooled = pool([run_of(value, lag_minutes=value / 5) for value in (44.0, 44.5, 45.0, 45.5)])
    assert pooled is not None
    assert pooled.safe_time_constant % MINUTE == timedelta(0)
    assert timedelta(0) <= pooled.safe_time_constant - pooled.time_constant_interval.high < MINUTE
    assert timedelta(0) <= pooled.safe_dead_time - pooled.dead_time_interval.high < MINUTE


def test_the_safe_pair_is_never_quicker_than_the_slowest_run_seen() -> None:
    """Many runs narrow the interval of the mean, but the slow container is still there."""
    pooled = pool([run_of(value) for value in [45.0] * 30 + [52.0]])
    assert pooled is not None
    assert minutes(pooled.time_constant_interval.high) < 47
    assert pooled.safe_time_constant == timedelta(minutes=52)


def test_the_safe_pair_is_behind_paste_that_still_air_warms_ever_more_slowly() -> None:
    """A film coefficient falling from 1 to 0.75 as paste and room come closer (estimated, no source).

    The best exponential is ahead of such paste near the room; what the floor gets must not be.
    """
    runs, measured = [], []
    for seed, tau in enumerate((2650.0, 2700.0, 2720.0)):
        value, warm = START_C, []
        for _ in range(600):
            left = ROOM_C - value
            value += 30 / tau * left * (0.75 + 0.25 * left / 18)
            warm.append(value)
        noisy = np.array(warm) + noise(len(warm), 0.03, 0.3, seed)
        runs.append(fitted(joined(floats(noisy))))
        measured.append(next(index for index, value in enumerate(warm) if value >= ROOM_C - 2) * 30.0)
    ahead = [run.dead_time / SECOND + run.time_constant / SECOND * math.log(9) for run in runs]
    assert all(fitted_s < real for fitted_s, real in zip(ahead, measured, strict=True))
    pooled = pool(runs)
    assert pooled is not None
    safe = pooled.safe_dead_time / SECOND + pooled.safe_time_constant / SECOND * math.log(9)
    assert max(measured) <= safe < 1.12 * max(measured)


def test_how_a_run_came_nearer_the_room_is_a_straight_line_without_noise() -> None:
    found = fitted(warming())
    ways, seconds = zip(*found.approach, strict=True)
    slope, begin = np.polyfit(ways, seconds, 1)
    assert slope == pytest.approx(TAU_S, rel=0.01)
    assert begin == pytest.approx(LAG_S, abs=30)
    assert ways[-1] == pytest.approx(math.log(9), abs=0.01)
    assert len(fitted(warming(1.4)).approach) < len(found.approach)  # it ended before within 2 K


def test_knocks_on_the_sensor_do_not_carry_the_curve_away() -> None:
    knocked = list(warming(spread_k=0.05).temperatures_c)
    for index, value in ((0, 40.0), (30, 22.0), (31, 21.0), (200, 4.0)):
        knocked[index] = value
    plain, found = fitted(warming(spread_k=0.05)), fitted(joined(knocked))
    assert found.time_constant / plain.time_constant == pytest.approx(1.0, abs=0.002)
    assert found.dead_time / plain.dead_time == pytest.approx(1.0, abs=0.02)
    assert plain.readings - found.readings == 4


def test_a_run_behind_its_own_curve_lengthens_the_safe_pair() -> None:
    """By hand: 100 min for ln 8 of the way, after 10 min, is 43.3 min; 130 min is 57.7 min."""
    late = replace(run_of(45), approach=((math.log(8), 130 * 60.0),))
    pooled = pool([replace(late, approach=((math.log(8), 100 * 60.0),)), late])
    plain = pool([run_of(45), run_of(45)])
    assert pooled is not None
    assert plain is not None
    assert plain.safe_time_constant < timedelta(minutes=56)
    dead = pooled.safe_dead_time
    assert pooled.safe_time_constant == timedelta(minutes=math.ceil((130 - dead / MINUTE) / math.log(8)))


def test_the_pooled_interval_holds_the_kind_though_containers_differ() -> None:
    """Containers spread by 4 % around the kind's figure; four runs of each, 60 seeded kinds."""
    held = 0
    for kind in range(60):
        taus = TAU_S * (1 + 0.04 * np.random.default_rng(1000 + kind).normal(size=4))
        runs = [
            fitted(warming(tau_s=float(tau), spread_k=0.08, correlation=0.6, seed=10 * kind + index, step_s=120.0))
            for index, tau in enumerate(taus)
        ]
        pooled = pool(runs)
        assert pooled is not None
        held += holds(pooled.time_constant_interval, TAU_S)
    assert held >= 53  # of 60 at 95 %; 52 or fewer come less than once in 100 such tests


def test_fit_takes_a_part_that_was_judged() -> None:
    part = trim(warming(spread_k=0.05))
    assert fit(part) == fitted(part.run)
