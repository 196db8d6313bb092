"""Thermocouple runs made up from the model, with seeded noise, so that the right answer is known."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from station.care.warmup.runs import Run, steady_room

ROOM_C, START_C = 23.0, 5.0
TAU_S, LAG_S = 2700.0, 600.0
STEP_S = 30.0
Floats = NDArray[np.float64]


def curve(seconds: Floats, tau_s: float = TAU_S, lag_s: float = LAG_S, start_c: float = START_C) -> Floats:
    """The closed form: nothing for the dead time, then an exponential approach to the room."""
    warmed = np.maximum(seconds - lag_s, 0.0)
    found: Floats = ROOM_C - (ROOM_C - start_c) * np.exp(-warmed / tau_s)
    return found


def noise(count: int, spread_k: float, correlation: float, seed: int) -> Floats:
    """First-order autoregressive noise of a given standard deviation."""
    fresh = np.random.default_rng(seed).normal(size=count)
    found = np.empty(count)
    found[0] = fresh[0]
    for index in range(1, count):
        found[index] = correlation * found[index - 1] + np.sqrt(1 - correlation**2) * fresh[index]
    return spread_k * found


def warming(
    hours: float = 4.0,
    *,
    tau_s: float = TAU_S,
    lag_s: float = LAG_S,
    spread_k: float = 0.0,
    correlation: float = 0.0,
    seed: int = 1,
    step_s: float = STEP_S,
) -> Run:
    """A run logged from the take-out on."""
    seconds = np.arange(0.0, hours * 3600, step_s)
    measured = curve(seconds, tau_s, lag_s) + noise(len(seconds), spread_k, correlation, seed)
    return steady_room("a jar", floats(seconds), floats(measured), ROOM_C)


def joined(*parts: Sequence[float], step_s: float = STEP_S, room_c: float = ROOM_C) -> Run:
    """A run of temperatures one after the other."""
    temperatures = [value for part in parts for value in part]
    seconds = [index * step_s for index in range(len(temperatures))]
    return steady_room("a jar", seconds, floats(temperatures), room_c)


def floats(values: Floats | Sequence[float]) -> tuple[float, ...]:
    """Plain numbers of an array."""
    return tuple(float(value) for value in values)
