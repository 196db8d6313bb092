"""Time constant and dead time of a container kind from thermocouple runs, by least squares, with their doubt.

The model is T(t) = T_room - (T_room - T_start) exp(-(t - lag) / tau) for t > lag, and T_start before. Three figures
are fitted to each run: tau, lag and T_start. T_start is fitted because a single first reading's error would go
straight into the lag; the room is the mean of its readings and not fitted.

Residuals of such runs are not independent: a sensor's error and the paste's own layers stay for minutes. The
covariance is therefore taken for the number of independent readings, n (1 - r) / (1 + r) with r the residuals'
correlation from one reading to the next (first-order autoregressive), and Student's t for that number.

Runs are pooled with random effects (DerSimonian and Laird) and the interval of Hartung, Knapp, Sidik and Jonkman, so
that how much containers differ counts and not only how well each curve fits.

Still air takes less and less heat as paste and room come closer, so the best exponential runs a few percent ahead of
the paste near the room, just where the floor relies on it. The safe pair is lengthened until it is behind every run
from two fifths of the way to within 2 K of the room.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares
from scipy.special import stdtrit

from station.care.warmup.judge import Reason, judge, judge_fit
from station.care.warmup.runs import Run, Trimmed, smoothed, strays, trim

CONFIDENCE = 0.95
FITTED = 3
MOST_CORRELATION = 0.98
"""Above it the formula for independent readings would divide by nearly nothing."""
WATCHED_FROM, WATCHED_TO_K, WATCHED = 0.6, 2.0, 12
"""Where no run may be ahead of the safe pair: from this share left to these kelvin left, at so many points."""
FEWEST_POOLED = 2
"""One run says nothing of how much containers differ."""
MINUTE = timedelta(minutes=1)
Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Interval:
    """A 95 % confidence interval of a length of time, never below zero."""

    low: timedelta
    high: timedelta


@dataclass(frozen=True, slots=True)
class Fitted:
    """What one run says. Temperatures in Celsius, `rms_k` in kelvin.

    `independent` is how many of the `readings` count as independent. `residuals` are (seconds since the take-out,
    kelvin measured above the curve). `approach` is how it came nearer the room, without the model: (ln of start over
    what is left, seconds since the take-out), which for first order with dead time is a straight line.
    """

    name: str
    time_constant: timedelta
    dead_time: timedelta
    time_constant_interval: Interval
    dead_time_interval: Interval
    start_c: float
    room_c: float
    rms_k: float
    r_squared: float
    readings: int
    independent: float
    residuals: tuple[tuple[float, float], ...]
    approach: tuple[tuple[float, float], ...]
    time_constant_error: timedelta
    dead_time_error: timedelta

    def temperature_c(self, seconds: float) -> float:
        """The curve at a time since the take-out, for drawing it."""
        warmed = seconds - self.dead_time.total_seconds()
        left = math.exp(-warmed / self.time_constant.total_seconds()) if warmed > 0 else 1.0
        return self.room_c - (self.room_c - self.start_c) * left


@dataclass(frozen=True, slots=True)
class Judged:
    """A run with what came of it: the reasons against it, or its fit. A poor fit is kept beside its reason."""

    part: Trimmed
    reasons: tuple[Reason, ...]
    fitted: Fitted | None

    @property
    def used(self) -> bool:
        """Whether the run counts."""
        return not self.reasons


@dataclass(frozen=True, slots=True)
class Pooled:
    """Several runs of a kind together. The spreads are the standard deviations between runs.

    The safe pair is what an engineer may accept: the upper end of each interval, at least the slowest run seen and
    behind every run on its way, rounded up to the minute, because figures on the floor may err on the slow side only.
    """

    runs: int
    time_constant: timedelta
    dead_time: timedelta
    time_constant_interval: Interval
    dead_time_interval: Interval
    time_constant_spread: timedelta
    dead_time_spread: timedelta
    safe_time_constant: timedelta
    safe_dead_time: timedelta


def evaluate(run: Run) -> Judged:
    """Trim, judge and fit one run."""
    part = trim(run)
    reasons = judge(part)
    if reasons:
        return Judged(part, reasons, None)
    fitted = fit(part)
    return Judged(part, judge_fit(fitted.rms_k, fitted.r_squared), fitted)


def fit(part: Trimmed) -> Fitted:
    """The curve through a run that `judge` has nothing against; stray readings are set aside."""
    kept = ~np.array(strays(part.temperatures_c))
    seconds = np.array(part.seconds)[kept]
    measured = np.array(part.temperatures_c)[kept]
    room = part.room_c
    found = _best(seconds, measured, room, part.cold_c)
    residuals = measured - _curve(found, seconds, room)
    squares = float(residuals @ residuals)
    independent = _independent(residuals)
    errors, student = _errors(found, seconds, room, squares, independent)
    tau, lag, start = (float(figure) for figure in found)
    spread = float(np.sum((measured - measured.mean()) ** 2))
    return Fitted(
        name=part.run.name,
        time_constant=timedelta(seconds=tau),
        dead_time=timedelta(seconds=lag),
        time_constant_interval=_interval(tau, student * errors[0]),
        dead_time_interval=_interval(lag, student * errors[1]),
        start_c=start,
        room_c=room,
        rms_k=math.sqrt(squares / len(seconds)),
        r_squared=1 - squares / spread,
        readings=len(seconds),
        independent=independent,
        residuals=tuple(zip(map(float, seconds), map(float, residuals), strict=True)),
        approach=_approach(part, room - start),
        time_constant_error=timedelta(seconds=errors[0]),
        dead_time_error=timedelta(seconds=errors[1]),
    )


def _approach(part: Trimmed, difference: float) -> tuple[tuple[float, float], ...]:
    """When each of some differences from the room was passed: midway between the first time and the last."""
    smooth = smoothed(part.temperatures_c)
    found = []
    for left in np.geomspace(WATCHED_FROM * difference, min(WATCHED_TO_K, difference / 2), WATCHED):
        level = part.room_c - float(left)
        above = [second for second, value in zip(part.seconds, smooth, strict=True) if value >= level]
        below = [second for second, value in zip(part.seconds, smooth, strict=True) if value < level]
        if above and below:
            found.append((math.log(difference / float(left)), (above[0] + below[-1]) / 2))
    return tuple(found)


def _curve(figures: Floats, seconds: Floats, room: float) -> Floats:
    tau, lag, start = figures
    curve: Floats = room - (room - start) * np.exp(-np.maximum(seconds - lag, 0.0) / tau)
    return curve


def _slopes(figures: Floats, seconds: Floats, room: float) -> Floats:
    """How the curve moves with tau, lag and T_start, one row for each reading."""
    tau, lag, start = figures
    warmed = np.maximum(seconds - lag, 0.0)
    left = np.exp(-warmed / tau)
    by_tau = -(room - start) * left * warmed / tau**2
    by_lag = np.where(warmed > 0, -(room - start) * left / tau, 0.0)
    return np.column_stack((by_tau, by_lag, left))


def _best(seconds: Floats, measured: Floats, room: float, cold: float) -> Floats:
    """The least squares from several starts: the curve has a corner at the lag, so one start can get stuck."""
    length = float(seconds[-1])
    tau, lag = _first_guess(seconds, measured, room, cold)
    # a start as warm as the room would leave nothing to warm, whatever a stray first reading says
    bounds = ([1.0, 0.0, -np.inf], [100 * length, length, room - 1.0])

    def misses(figures: Floats) -> Floats:
        return _curve(figures, seconds, room) - measured

    def slopes(figures: Floats) -> Floats:
        return _slopes(figures, seconds, room)

    found = [
        least_squares(
            misses,
            (tau, begin, cold),
            jac=slopes,
            bounds=bounds,
            x_scale=(tau, tau, 1.0),
            xtol=1e-12,
            ftol=1e-12,
            gtol=1e-12,
        )
        for begin in (lag, lag / 2, min(1.5 * lag + length / 100, length / 2), length / 1000)
    ]
    return np.asarray(min(found, key=lambda result: float(result.cost)).x, dtype=np.float64)


def _first_guess(seconds: Floats, measured: Floats, room: float, cold: float) -> tuple[float, float]:
    """tau and lag from when a fifth and two thirds of the way are done."""
    way = (measured - cold) / (room - cold)
    fifth, thirds = (float(seconds[int(np.argmax(way >= share))]) for share in (0.2, 2 / 3))
    tau = max((thirds - fifth) / math.log(0.8 * 3), float(seconds[-1]) / 1000)
    return tau, max(fifth + tau * math.log(0.8), 0.0)


def _independent(residuals: Floats) -> float:
    """How many readings count as independent, from the residuals' correlation with their neighbours."""
    count = len(residuals)
    squares = float(residuals @ residuals)
    correlation = float(residuals[1:] @ residuals[:-1]) / squares if squares > 0 else 0.0
    # the estimate is low by about (1 + 3 r) / n (Kendall 1954, Marriott and Pope 1954; from memory)
    corrected = min(max(correlation + (1 + 3 * correlation) / count, 0.0), MOST_CORRELATION)
    return max(count * (1 - corrected) / (1 + corrected), FITTED + 1.0)


def _errors(
    found: Floats, seconds: Floats, room: float, squares: float, independent: float
) -> tuple[tuple[float, float], float]:
    """Standard errors of tau and lag in seconds, and Student's t for them."""
    slopes = _slopes(found, seconds, room)
    variance = squares / len(seconds) * independent / (independent - FITTED)
    covariance = np.linalg.inv(slopes.T @ slopes) * variance * len(seconds) / independent
    errors = (math.sqrt(float(covariance[0, 0])), math.sqrt(float(covariance[1, 1])))
    return errors, _student(independent - FITTED)


def _student(freedom: float) -> float:
    return float(stdtrit(freedom, (1 + CONFIDENCE) / 2))


def _interval(middle: float, half: float) -> Interval:
    return Interval(timedelta(seconds=max(middle - half, 0.0)), timedelta(seconds=middle + half))


def pool(runs: Sequence[Fitted]) -> Pooled | None:
    """The runs of a kind together; None with fewer than two, which say nothing of how much containers differ."""
    if len(runs) < FEWEST_POOLED:
        return None
    taus = [run.time_constant.total_seconds() for run in runs]
    lags = [run.dead_time.total_seconds() for run in runs]
    tau, tau_interval, tau_spread = _together(taus, [run.time_constant_error.total_seconds() for run in runs])
    lag, lag_interval, lag_spread = _together(lags, [run.dead_time_error.total_seconds() for run in runs])
    safe_lag = _up(max(lag_interval.high, timedelta(seconds=max(lags))))
    return Pooled(
        runs=len(runs),
        time_constant=timedelta(seconds=tau),
        dead_time=timedelta(seconds=lag),
        time_constant_interval=tau_interval,
        dead_time_interval=lag_interval,
        time_constant_spread=timedelta(seconds=tau_spread),
        dead_time_spread=timedelta(seconds=lag_spread),
        safe_time_constant=_up(max(tau_interval.high, timedelta(seconds=max(taus)), _behind(runs, safe_lag))),
        safe_dead_time=safe_lag,
    )


def _behind(runs: Sequence[Fitted], lag: timedelta) -> timedelta:
    """The time constant that, after this dead time, is ahead of no run on its way to the room."""
    wanted = [(seconds - lag.total_seconds()) / way for run in runs for way, seconds in run.approach]
    return timedelta(seconds=max(wanted, default=0.0))


def _together(values: Sequence[float], errors: Sequence[float]) -> tuple[float, Interval, float]:
    """Mean, its interval, and the standard deviation between runs, in seconds."""
    figures = np.array(values)
    within = np.maximum(np.array(errors), 1e-3) ** 2  # a curve without noise would weigh infinitely
    weights = 1 / within
    freedom = len(values) - 1
    fixed = float(np.average(figures, weights=weights))
    heterogeneity = float(weights @ (figures - fixed) ** 2)
    scale = float(weights.sum() - (weights**2).sum() / weights.sum())
    between = max(0.0, (heterogeneity - freedom) / scale)
    weights = 1 / (within + between)
    mean = float(np.average(figures, weights=weights))
    seen = float(weights @ (figures - mean) ** 2) / freedom / float(weights.sum())
    # runs that agree by luck must not make the interval narrower than their own errors do
    variance = max(seen, 1 / float(weights.sum()))
    return mean, _interval(mean, _student(freedom) * math.sqrt(variance)), math.sqrt(between)


def _up(length: timedelta) -> timedelta:
    return -(-length // MINUTE) * MINUTE
