"""Reads a file by its layout: every row, then every fault at once."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import TypeVar

from station.readings.cells import NoFigure, humidity, temperature
from station.readings.gaps import gap_problems
from station.readings.grid import Line, split
from station.readings.layout import Layout, SensorColumn
from station.readings.placing import Stamp, newest_first, place
from station.readings.sensorfaults import fault_problems, without_power_up
from station.readings.series import Noticed, Problem, Reading, ReadingsRefused, Row, Series
from station.readings.timeform import Unreadable

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class _Read:
    """One line read, its time not yet placed."""

    stamp: Stamp
    temperatures: Mapping[str, Reading]
    humidity: Reading | None


def read(file: str, text: str, layout: Layout) -> Series:
    """The series of a file; `file` is its name, for sentences and rows.

    Raises ReadingsRefused with every cell that can't be read as declared. What a person has to know but need not
    mend first (sensor faults, gaps, rows left out because their time can't be) is in the series' problems.
    """
    found, faults = _lines(file, text, layout)
    if faults:
        raise ReadingsRefused(file, faults)
    if not found:
        raise ReadingsRefused(file, ["there is no row of readings in it."])
    turned = newest_first([line.stamp for line in found])
    in_order = found[::-1] if turned else found
    placed = place([line.stamp for line in in_order], layout.zone)
    rows = [
        Row(file, line.stamp.number, at, line.temperatures, line.humidity)
        for line, at in zip(in_order, placed.instants, strict=True)
        if at is not None
    ]
    single, doubled = _one_row_per_instant(rows)
    sensors = tuple(column.sensor for column in layout.sensors)
    clean = _judged(single, [column.sensor for column in layout.sensors if column.digital])
    problems = [*layout.remarks, *_turned(turned), *placed.problems, *doubled]
    for sensor in sensors:
        problems += fault_problems(clean, sensor)
    problems += gap_problems([(row.number, row.at) for row in clean])
    return Series(file, sensors, tuple(clean), tuple(problems))


def _turned(turned: bool) -> list[Problem]:
    return [Problem(Noticed.NEWEST_FIRST, None, None, "the file runs from new to old and was turned")] if turned else []


def _lines(file: str, text: str, layout: Layout) -> tuple[list[_Read], list[str]]:
    found: list[_Read] = []
    faults: list[str] = []
    for line in split(file, text, layout.delimiter):
        if line.number <= layout.header_rows:
            continue
        wrong: list[str] = []
        one = _one(line, layout, wrong)
        faults += [f"line {line.number}: {fault}." for fault in wrong]
        if one is not None:
            found.append(one)
    if not faults:
        faults += _mixed([line.stamp for line in found])
    return found, faults


def _mixed(stamps: Sequence[Stamp]) -> list[str]:
    """A file tells its offset in every line or in none; half and half, one half would be taken wrongly."""
    without = [stamp.number for stamp in stamps if stamp.at.tzinfo is None]
    if not without or len(without) == len(stamps):
        return []
    told = f"{len(without)} times have no offset while the others have one (the first in line {without[0]})."
    return [f"{told} Export it again with an offset in every line or in none."]


def _one(line: Line, layout: Layout, wrong: list[str]) -> _Read | None:
    """The readings of a line, or None and everything wrong with it, as clauses."""
    needed = max(layout.columns) + 1
    if len(line.cells) < needed:
        wrong.append(f"it has {len(line.cells)} columns where {needed} are needed")
        return None
    at = _tried(lambda: _time(line, layout), "", wrong)
    temperatures = {
        column.sensor: _tried(_temperature(line, column, layout), f"sensor {column.sensor}: ", wrong)
        for column in layout.sensors
    }
    damp = layout.humidity_column
    air = None if damp is None else _tried(lambda: humidity(line.cells[damp], layout.decimal), "humidity: ", wrong)
    if at is None or wrong:
        return None
    whole = {sensor: reading for sensor, reading in temperatures.items() if reading is not None}
    return _Read(Stamp(line.number, at), whole, air)


def _temperature(line: Line, column: SensorColumn, layout: Layout) -> Callable[[], Reading]:
    return lambda: temperature(line.cells[column.column], column.unit, layout.decimal)


def _tried(read_cell: Callable[[], T], whose: str, wrong: list[str]) -> T | None:
    """What a cell holds, or None and a clause that says why it can't be read."""
    try:
        return read_cell()
    except (Unreadable, NoFigure) as unread:
        wrong.append(f"{whose}{unread}")
        return None


def _time(line: Line, layout: Layout) -> datetime:
    cell = " ".join(line.cells[column] for column in layout.time_columns)
    if layout.time_form.elapsed and layout.start is not None:
        return layout.start.astimezone(UTC) + layout.time_form.since_start(cell)
    at = layout.time_form.read(cell)
    if at.tzinfo is None and layout.zone is None:
        raise Unreadable(f'the time "{cell}" has no offset, and no zone was declared')
    return at


def _one_row_per_instant(rows: Sequence[Row]) -> tuple[list[Row], list[Problem]]:
    """The first of rows with the same instant, and what is to be said of the others."""
    kept: list[Row] = []
    problems: list[Problem] = []
    for row in rows:
        if not kept or row.at > kept[-1].at:
            kept.append(row)
            continue
        first = kept[-1]
        if (row.temperatures, row.humidity) == (first.temperatures, first.humidity):
            told = f"the same time and readings as line {first.number}, counted once"
            problems.append(Problem(Noticed.REPEATED, row.number, row.number, told))
        else:
            told = f"the same time as line {first.number} with other readings; line {first.number} was kept"
            problems.append(Problem(Noticed.CONTRADICTION, row.number, row.number, told))
    return kept, problems


def _judged(rows: Sequence[Row], sensors: Sequence[str]) -> list[Row]:
    """The rows with 85.0 at power-up marked as a fault, for the sensors that can give it."""
    columns = {sensor: without_power_up([row.temperatures[sensor] for row in rows]) for sensor in sensors}
    return [
        Row(row.file, row.number, row.at, {**row.temperatures, **{s: columns[s][i] for s in sensors}}, row.humidity)
        for i, row in enumerate(rows)
    ]
