"""One sensor of a logger's file in one pass, however long the file: a year of minutes is two flat arrays.

It makes the same of every cell as `reader` does. It is fast because the parts of a file repeat: a date with its hour,
the minutes of an hour and a temperature are each read once with every check, and looked up from then on.
"""

import csv
import io
import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import islice
from math import nan
from typing import Any

from station.readings.cells import POWER_UP_C, SAME_K, NoFigure, temperature
from station.readings.layout import Layout, SensorColumn
from station.readings.series import Problem, ReadingsRefused, SensorFault
from station.readings.settling import Raw, settled
from station.readings.timeform import Unreadable
from station.readings.track import Track, microseconds

BLOCK = 8192
MOST_FAULTS = 1000
"""Cells that can't be read are told up to here; a file with more is of another layout."""
MOST_KEPT = 100_000
_TAIL = re.compile(r"(\d{2})(?::(\d{2})(?:[.,](\d{1,9}))?)?(\D.*)?")
_HOUR = timedelta(hours=1) - timedelta(microseconds=1)


class Cancelled(Exception):
    """Somebody stopped the reading; nothing of the file was taken."""


@dataclass(frozen=True, slots=True)
class LongFile:
    """What a file holds of one sensor. `faults` counts readings that are sensor faults, `left_out` rows not taken.

    `repeated` are rows that say the same again; `problems` are in the order in which they were noticed.
    """

    file: str
    sensor: str
    track: Track
    rows: int
    faults: int
    repeated: int
    left_out: int
    problems: tuple[Problem, ...]


def read_long(
    file: str,
    content: bytes,
    encoding: str,
    layout: Layout,
    column: SensorColumn,
    go_on: Callable[[int], bool] = lambda _rows: True,
) -> LongFile:
    """Read one sensor. `go_on` is told the rows so far every few thousand; where it says no, Cancelled is raised.

    Raises ReadingsRefused with the cells that can't be read as declared, as `reader.read` does.
    """
    lines = io.TextIOWrapper(io.BytesIO(content), encoding=encoding, errors="replace", newline="")
    reading = _Reading(file, layout, column)
    try:
        reading.through(lines, go_on)
    except csv.Error as error:
        raise ReadingsRefused(file, [f"the quotation marks do not match ({error})."]) from error
    raw = reading.whole()
    rows = len(raw.at)
    done = settled(raw, column)
    return LongFile(
        file, column.sensor, done.track, rows, done.faults, done.repeated, done.left_out,
        (*layout.remarks, *done.problems),
    )  # fmt: skip


class _Clock:
    """Times of one ending (an offset, a half of the day or none): what is known of each hour and each minute."""

    def __init__(self) -> None:
        self.hours: dict[str, int] = {}
        self.minutes: dict[str, int] = {}


class _Reading:
    """One pass through a file."""

    def __init__(self, file: str, layout: Layout, column: SensorColumn) -> None:
        self._file, self._layout, self._column = file, layout, column
        self._raw = Raw(layout.zone)
        self._wrong: list[str] = []
        self._clocks: dict[str, _Clock] = {}
        self._first_bare = self._first_offset = 0

    def through(self, lines: Iterable[str], go_on: Callable[[int], bool]) -> None:
        """Every line of the file."""
        layout, raw = self._layout, self._raw
        reader = csv.reader(lines, delimiter=layout.delimiter, strict=True)
        self._skip_heading(reader)
        warm, one = self._column.column, layout.time_columns[0]
        needed, joined = max(layout.columns) + 1, len(layout.time_columns) > 1
        clock, values = _Clock(), raw.values
        add_at, add_celsius, add_number = raw.at.append, raw.celsius.append, raw.numbers.append
        hours, minutes = clock.hours, clock.minutes
        begun = -1
        while begun != reader.line_num:
            begun = reader.line_num
            for row in islice(reader, BLOCK):
                if len(row) < needed:
                    self._short(reader.line_num, row, needed)
                    continue
                time = self._joined(row) if joined else row[one]
                hour, _, minute = time.partition(":")
                try:
                    at = hours[hour] + minutes[minute]
                except KeyError:
                    found = self._time(reader.line_num, row, time)
                    if found is None:
                        continue
                    at, clock = found
                    hours, minutes = clock.hours, clock.minutes
                celsius = values.get(row[warm])
                if celsius is None:
                    celsius = self._celsius(reader.line_num, row[warm])
                add_at(at)
                add_celsius(celsius)
                add_number(reader.line_num)
            if not go_on(len(raw.at)):
                raise Cancelled(self._file)
            if len(self._wrong) > MOST_FAULTS:
                break
            if len(values) > MOST_KEPT:
                values.clear()

    def whole(self) -> Raw:
        """What was read; ReadingsRefused where anything of it can't be."""
        if not self._wrong and self._first_bare and self._first_offset:
            first = max(self._first_bare, self._first_offset)
            told = f"some times have an offset and some have none (they change in line {first})."
            self._wrong.append(f"{told} Export it again with an offset in every line or in none.")
        if self._wrong:
            raise ReadingsRefused(self._file, self._wrong)
        if not self._raw.at:
            raise ReadingsRefused(self._file, ["there is no row of readings in it."])
        return self._raw

    # ------------------------------------------------------------------ what is not known yet

    def _skip_heading(self, reader: Any) -> None:
        while reader.line_num < self._layout.header_rows and next(reader, None) is not None:
            pass

    def _joined(self, row: list[str]) -> str:
        return " ".join(row[column].strip() for column in self._layout.time_columns)

    def _short(self, number: int, row: list[str], needed: int) -> None:
        if any(cell.strip() for cell in row):
            self._note(number, f"it has {len(row)} columns where {needed} are needed")

    def _note(self, number: int, what: str) -> None:
        self._wrong.append(f"line {number}: {what}.")

    def _time(self, number: int, row: list[str], cell: str) -> tuple[int, _Clock] | None:
        """The time of a cell that was not looked up, remembered for its hour where nothing about it is in doubt."""
        if not any(part.strip() for part in row):
            return None
        try:
            at = self._read_time(cell.strip())
        except Unreadable as unread:
            self._note(number, str(unread))
            return None
        hour, _, minute = cell.partition(":")
        parts = None if self._layout.time_form.elapsed else _TAIL.fullmatch(minute)
        if at.tzinfo is None:
            self._first_bare = self._first_bare or number
        elif not self._layout.time_form.elapsed:
            self._first_offset = self._first_offset or number
        if at.tzinfo is None and _doubtful(at, self._layout):
            self._raw.doubt[len(self._raw.at)] = at
            return microseconds(at.replace(tzinfo=UTC)), _Clock()
        count = microseconds(at if at.tzinfo is not None else at.replace(tzinfo=self._layout.zone))
        if parts is None:
            return count, _Clock()
        return count, self._remembered(hour, minute, parts, count)

    def _remembered(self, hour: str, minute: str, parts: re.Match[str], count: int) -> _Clock:
        minutes, seconds, part, ending = parts.groups()
        clock = self._clocks.setdefault((ending or "").strip(), _Clock())
        past = (int(minutes) * 60 + int(seconds or 0)) * 1_000_000 + int((part or "").ljust(6, "0")[:6])
        clock.hours[hour], clock.minutes[minute] = count - past, past
        if len(clock.hours) + len(clock.minutes) > MOST_KEPT:
            self._clocks.clear()
        return clock

    def _read_time(self, cell: str) -> datetime:
        layout = self._layout
        if layout.time_form.elapsed and layout.start is not None:
            return layout.start.astimezone(UTC) + layout.time_form.since_start(cell)
        at = layout.time_form.read(cell)
        if at.tzinfo is None and layout.zone is None:
            raise Unreadable(f'the time "{cell}" has no offset, and no zone was declared')
        return at

    def _celsius(self, number: int, cell: str) -> float:
        """The temperature of a cell that was not looked up; a fault is NaN and noted."""
        try:
            reading = temperature(cell.strip(), self._column.unit, self._layout.decimal)
        except NoFigure as unread:
            self._note(number, f"sensor {self._column.sensor}: {unread}")
            return nan
        if isinstance(reading, SensorFault):
            self._raw.note_fault(reading, len(self._raw.at))
            return nan
        if self._column.digital and abs(reading - POWER_UP_C) <= SAME_K:
            self._raw.power_up.append(len(self._raw.at))
        else:
            self._raw.values[cell] = reading
        return reading


def _doubtful(at: datetime, layout: Layout) -> bool:
    """Whether any minute of this hour of the logger's clock comes twice or never."""
    begin = at.replace(minute=0, second=0, microsecond=0)
    instants = [
        (begin + step).replace(tzinfo=layout.zone, fold=fold).astimezone(UTC)
        for step in (timedelta(0), _HOUR)
        for fold in (0, 1)
    ]
    first, doubled, last, doubled_last = instants
    return first != doubled or last != doubled_last or last - first != _HOUR
