"""The value 85.0 of digital sensors at power-up: a fault where it jumps out of the series, else a temperature."""

from collections.abc import Sequence
from itertools import groupby

from station.readings.cells import POWER_UP_C, SAME_K
from station.readings.series import FaultKind, Noticed, Problem, Reading, Row, SensorFault

JUMP_K = 20.0
"""Nothing in a store or on a bench warms or cools by this much from one reading to the next."""


def without_power_up(readings: Sequence[Reading]) -> list[Reading]:
    """The readings of one sensor in order of time, with 85.0 marked as a fault where no neighbour is near it.

    A neighbour is the nearest other real reading before or after. With none at all nothing speaks for 85.0 either.
    """
    before = _nearest_real(readings)
    after = _nearest_real(readings[::-1])[::-1]
    found: list[Reading] = []
    for reading, earlier, later in zip(readings, before, after, strict=True):
        neighbours = [value for value in (earlier, later) if value is not None]
        jumps = all(abs(value - POWER_UP_C) > JUMP_K for value in neighbours)
        fault = _is_power_up(reading) and jumps
        found.append(SensorFault(FaultKind.POWER_UP, "85.0") if fault else reading)
    return found


def _is_power_up(reading: Reading) -> bool:
    return isinstance(reading, float) and abs(reading - POWER_UP_C) <= SAME_K


def _nearest_real(readings: Sequence[Reading]) -> list[float | None]:
    """For each reading the latest real one before it that is not 85.0 itself."""
    found: list[float | None] = []
    last: float | None = None
    for reading in readings:
        found.append(last)
        if isinstance(reading, float) and not _is_power_up(reading):
            last = reading
    return found


def fault_problems(rows: Sequence[Row], sensor: str) -> list[Problem]:
    """One problem for each unbroken stretch of one kind of fault of a sensor."""

    def kind(row: Row) -> FaultKind | None:
        reading = row.temperatures[sensor]
        return reading.kind if isinstance(reading, SensorFault) else None

    found: list[Problem] = []
    for what, stretch in groupby(rows, kind):
        if what is None:
            continue
        members = list(stretch)
        fault = members[0].temperatures[sensor]
        written = f' "{fault.written}"' if isinstance(fault, SensorFault) and fault.written else ""
        told = f"sensor {sensor}: sensor fault{written} ({what.value}), not taken as a temperature"
        found.append(Problem(Noticed.SENSOR_FAULT, members[0].number, members[-1].number, told))
    return found
