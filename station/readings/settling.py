"""A sensor's rows put in order: turned, placed where the clock was changed, each instant once, faults and gaps told."""

from array import array
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta, tzinfo
from itertools import islice, pairwise
from math import isnan, nan
from operator import lt, sub

from station.readings.gaps import GAP_STEPS, told_length
from station.readings.layout import SensorColumn
from station.readings.placing import STANDARD_TIME, Stamp, place
from station.readings.sensorfaults import JUMP_K
from station.readings.series import FaultKind, Noticed, Problem, SensorFault
from station.readings.track import Track, instant_of, microseconds, steps_of, usual_of

AROUND = 200
"""Rows on either side of an hour in doubt: enough to know the logger's step."""


@dataclass(slots=True)
class FaultRun:
    """Rows in a row with one fault."""

    fault: SensorFault
    first: int
    last: int


@dataclass(slots=True)
class Raw:
    """The rows of one sensor as the file has them. `doubt` holds the local times that can't be placed by themselves."""

    zone: tzinfo | None
    at: "array[int]" = field(default_factory=lambda: array("q"))
    celsius: "array[float]" = field(default_factory=lambda: array("d"))
    numbers: "array[int]" = field(default_factory=lambda: array("Q"))
    values: dict[str, float] = field(default_factory=dict)
    doubt: dict[int, datetime] = field(default_factory=dict)
    power_up: "array[int]" = field(default_factory=lambda: array("Q"))
    runs: list[FaultRun] = field(default_factory=list)

    def note_fault(self, fault: SensorFault, index: int) -> None:
        """A fault in place of the reading of this row."""
        last = self.runs[-1] if self.runs else None
        if last is not None and last.last == index - 1 and last.fault == fault:
            last.last = index
        else:
            self.runs.append(FaultRun(fault, index, index))


@dataclass(frozen=True, slots=True)
class Settled:
    """The readings in order, and what became of the rest."""

    track: Track
    faults: int
    repeated: int
    left_out: int
    problems: tuple[Problem, ...]


def settled(raw: Raw, column: SensorColumn) -> Settled:
    """Put the rows in order, as `reader.read` does with its own."""
    problems: list[Problem] = []
    _judge_power_up(raw)
    problems += _fault_problems(raw, column.sensor)
    lost = _place_doubt(raw, problems)
    left_out = len(lost)
    _drop(raw, sorted(lost))
    repeated = 0
    steps = steps_of(raw.at)
    if min(steps, default=1) <= 0:
        if _newest_first(raw):
            problems.append(Problem(Noticed.NEWEST_FIRST, None, None, "the file runs from new to old and was turned"))
            raw.at, raw.celsius, raw.numbers = raw.at[::-1], raw.celsius[::-1], raw.numbers[::-1]
        repeated, dropped = (0, 0) if _rising(raw) else _in_order(raw, problems)
        left_out += dropped
        steps = steps_of(raw.at)
    track = Track(raw.at, raw.celsius)
    problems += _gap_problems(track, raw.numbers, steps)
    faults = sum(map(isnan, track.celsius)) if raw.runs else 0
    return Settled(track, faults, repeated, left_out, tuple(problems))


# ---------------------------------------------------------------------- sensor faults


def _judge_power_up(raw: Raw) -> None:
    """85.0 is a fault where no real neighbour is near it; the nearest other real readings speak for it."""
    judged = set(raw.power_up)
    for index in raw.power_up:
        around = (_nearest(raw, index, -1, judged), _nearest(raw, index, 1, judged))
        if all(abs(value - raw.celsius[index]) > JUMP_K for value in around if value is not None):
            raw.note_fault(SensorFault(FaultKind.POWER_UP, "85.0"), index)
    for run in raw.runs:
        for index in range(run.first, run.last + 1):
            raw.celsius[index] = nan


def _nearest(raw: Raw, index: int, step: int, judged: set[int]) -> float | None:
    at = index + step
    while 0 <= at < len(raw.celsius):
        if at not in judged and not isnan(raw.celsius[at]):
            return raw.celsius[at]
        at += step
    return None


def _fault_problems(raw: Raw, sensor: str) -> Iterator[Problem]:
    for run in sorted(raw.runs, key=lambda run: run.first):
        written = f' "{run.fault.written}"' if run.fault.written else ""
        told = f"sensor {sensor}: sensor fault{written} ({run.fault.kind.value}), not taken as a temperature"
        yield Problem(Noticed.SENSOR_FAULT, raw.numbers[run.first], raw.numbers[run.last], told)


# ---------------------------------------------------------------------- times


def _place_doubt(raw: Raw, problems: list[Problem]) -> set[int]:
    """Place the rows of hours that come twice or never; gives those that have no place."""
    lost: set[int] = set()
    for first, last in _stretches(sorted(raw.doubt)):
        begin, end = max(0, first - AROUND), min(len(raw.at), last + AROUND + 1)
        indices = list(range(begin, end))
        local = [_local(raw, index) for index in indices]
        turned = sum(later < earlier for earlier, later in pairwise(local)) * 2 > len(local)
        if turned:
            indices, local = indices[::-1], local[::-1]
        stamps = [Stamp(raw.numbers[index], at) for index, at in zip(indices, local, strict=True)]
        placed = place(stamps, raw.zone)
        inside = {raw.numbers[index] for index in range(first, last + 1)}
        problems += [
            found for found in placed.problems if found.first in inside and found.code is not Noticed.BACKWARDS
        ]
        for index, instant in zip(indices, placed.instants, strict=True):
            if not first <= index <= last:
                continue
            if instant is None:
                lost.add(index)
            else:
                raw.at[index] = microseconds(instant)
    return lost


def _stretches(indices: list[int]) -> Iterator[tuple[int, int]]:
    """Runs of neighbouring indices."""
    begin = 0
    for place_, index in enumerate(indices):
        if place_ + 1 == len(indices) or indices[place_ + 1] != index + 1:
            yield indices[begin], index
            begin = place_ + 1


def _local(raw: Raw, index: int) -> datetime:
    """What the logger's clock showed."""
    doubted = raw.doubt.get(index)
    return doubted or instant_of(raw.at[index]).astimezone(raw.zone).replace(tzinfo=None)


def _drop(raw: Raw, indices: list[int]) -> None:
    """Take these rows out, the last stretch first so that the others keep their places."""
    for first, last in reversed(list(_stretches(indices))):
        for column in (raw.at, raw.celsius, raw.numbers):
            del column[first : last + 1]


def _rising(raw: Raw) -> bool:
    return all(map(lt, raw.at, islice(raw.at, 1, None)))


def _newest_first(raw: Raw) -> bool:
    back = sum(later < earlier for earlier, later in pairwise(raw.at))
    return back > 0 and back >= 9 * sum(later > earlier for earlier, later in pairwise(raw.at))


def _in_order(raw: Raw, problems: list[Problem]) -> tuple[int, int]:
    """Keep rows whose time rises, the first of each instant; gives how many repeat, and how many were left out."""
    at, celsius, numbers = array("q"), array("d"), array("Q")
    repeated = dropped = 0
    back: tuple[int, int] | None = None
    for index, (instant, value, number) in enumerate(zip(raw.at, raw.celsius, raw.numbers, strict=True)):
        if at and instant < at[-1]:
            dropped += 1
            back = (back[0] if back else index, index)
            continue
        if back is not None:
            problems.append(_backwards(raw, back, at[-1], numbers[-1]))
            back = None
        if not at or instant > at[-1]:
            at.append(instant)
            celsius.append(value)
            numbers.append(number)
        elif value == celsius[-1] or (isnan(value) and isnan(celsius[-1])):
            repeated += 1
            told = f"the same time and readings as line {numbers[-1]}, counted once"
            problems.append(Problem(Noticed.REPEATED, number, number, told))
        else:
            dropped += 1
            told = f"the same time as line {numbers[-1]} with other readings; line {numbers[-1]} was kept"
            problems.append(Problem(Noticed.CONTRADICTION, number, number, told))
    if back is not None:
        problems.append(_backwards(raw, back, at[-1], numbers[-1]))
    raw.at, raw.celsius, raw.numbers = at, celsius, numbers
    return repeated, dropped


def _backwards(raw: Raw, stretch: tuple[int, int], last: int, number: int) -> Problem:
    first, end = stretch
    zone = raw.zone or UTC
    clock = [f"{instant_of(count).astimezone(zone):%H:%M:%S}" for count in (last, raw.at[first])]
    told = f"time runs backwards, from {clock[0]} in line {number} to {clock[1]}"
    return Problem(Noticed.BACKWARDS, raw.numbers[first], raw.numbers[end], told, STANDARD_TIME)


def _gap_problems(track: Track, numbers: "array[int]", steps: Counter[int]) -> list[Problem]:
    usual = usual_of(steps)
    if usual is None or max(steps) <= usual * GAP_STEPS:
        return []
    return [
        Problem(
            Noticed.GAP,
            numbers[index],
            numbers[index + 1],
            f"nothing was measured for {told_length(timedelta(microseconds=step))}",
        )
        for index, step in enumerate(map(sub, islice(track.at, 1, None), track.at))
        if step > usual * GAP_STEPS
    ]
