"""Reads a file by its layout: every row, then every fault at once."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from station.readings.cells import NoFigure, humidity, temperature
from station.readings.gaps import gap_problems
from station.readings.grid import Line, split
from station.readings.layout import Layout
from station.readings.placing import Stamp, newest_first, place
from station.readings.sensorfaults import fault_problems, without_power_up
from station.readings.series import Noticed, Problem, Reading, ReadingsRefused, Row, Series
from station.readings.timeform import Unreadable


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
        wrong = list(_wrong(line, layout))
        faults += [f"line {line.number}: {fault}." for fault in wrong]
        if not wrong:
            found.append(_one(line, layout))
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


def _wrong(line: Line, layout: Layout) -> Iterator[str]:
    """Everything in a row that can't be read as declared, as clauses."""
    needed = max(layout.columns) + 1
    if len(line.cells) < needed:
        yield f"it has {len(line.cells)} columns where {needed} are needed"
        return
    try:
        at = _time(line, layout)
        if at.tzinfo is None and layout.zone is None:
            yield f'the time "{_time_text(line, layout)}" has no offset, and no zone was declared'
    except Unreadable as unreadable:
        yield str(unreadable)
    for column in layout.sensors:
        try:
            temperature(line.cells[column.column], column.unit, layout.decimal)
        except NoFigure as wrong:
            yield f"sensor {column.sensor}: {wrong}"
    if layout.humidity_column is not None:
        try:
            humidity(line.cells[layout.humidity_column], layout.decimal)
        except NoFigure as wrong:
            yield f"humidity: {wrong}"


def _time_text(line: Line, layout: Layout) -> str:
    return " ".join(line.cells[column] for column in layout.time_columns)


def _time(line: Line, layout: Layout) -> datetime:
    cell = _time_text(line, layout)
    if layout.time_form.elapsed and layout.start is not None:
        return layout.start.astimezone(UTC) + layout.time_form.since_start(cell)
    return layout.time_form.read(cell)


def _one(line: Line, layout: Layout) -> _Read:
    temperatures = {
        column.sensor: temperature(line.cells[column.column], column.unit, layout.decimal) for column in layout.sensors
    }
    damp = layout.humidity_column
    return _Read(
        Stamp(line.number, _time(line, layout)),
        temperatures,
        humidity(line.cells[damp], layout.decimal) if damp is not None else None,
    )


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
