"""One sensor of a logger's file in one pass, however long the file: a year of minutes is two flat arrays.

It makes the same of every cell as `reader` does. It is fast because the parts of a file repeat: a date with its hour,
the minutes of an hour and a temperature are each read once with every check, and looked up from then on. A block of
lines whose every part is known or plain is taken as whole columns (`columns`); any other goes row by row.
"""

import csv
import io
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, timezone
from itertools import chain
from math import nan
from typing import Any, TextIO

from station.readings.cells import POWER_UP_C, SAME_K, NoFigure, temperature
from station.readings.columns import columns
from station.readings.layout import Layout, SensorColumn
from station.readings.series import Problem, Reading, ReadingsRefused, SensorFault
from station.readings.settling import Raw, settled
from station.readings.timeform import Unreadable
from station.readings.track import Track, microseconds

PIECE = 100_000
"""Characters of a block: a cell that the csv module finds too long (131,072) makes a block no column is cut from."""
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
    *,
    blocks: bool = True,
) -> LongFile:
    """Read one sensor. `go_on` is told the rows so far every few thousand; where it says no, Cancelled is raised.

    Without `blocks` every row is looked at by itself, which takes longer and comes to the same.
    Raises ReadingsRefused with the cells that can't be read as declared, as `reader.read` does.
    """
    lines = io.TextIOWrapper(io.BytesIO(content), encoding=encoding, errors="replace", newline="")
    reading = _Reading(file, layout, column)
    try:
        reading.through(lines, go_on, blocks=blocks)
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
    """Times of one ending (an offset, a half of the day or none): what is known of each hour and each minute.

    `tails` are the minutes with the colon before them. `aware` says whether its times have an offset.
    """

    def __init__(self) -> None:
        self.hours: dict[str, int] = {}
        self.minutes: dict[str, int] = {}
        self.tails: dict[str, int] = {}
        self.aware: bool | None = None


class _Odd(Exception):
    """Something in a block wants a look at its row."""


class _Reading:
    """One pass through a file."""

    def __init__(self, file: str, layout: Layout, column: SensorColumn) -> None:
        self._file, self._layout, self._column = file, layout, column
        self._raw = Raw(layout.zone)
        self._wrong: list[str] = []
        self._clocks: dict[str, _Clock] = {}
        self._known: dict[str, float] = {}  # temperatures by their cells as a block has them
        self._first_bare = self._first_offset = 0
        self._needed = max(layout.columns) + 1

    def through(self, text: TextIO, go_on: Callable[[int], bool], *, blocks: bool = True) -> None:
        """Every line of the file; without `blocks` row by row."""
        heading = csv.reader(text, delimiter=self._layout.delimiter, strict=True)
        self._skip_heading(heading)
        number = heading.line_num
        while len(self._wrong) <= MOST_FAULTS:
            block = text.read(PIECE)
            block += "" if block.endswith("\n") else text.readline()
            if not block:
                return
            last = self._block(block, number) if blocks else 0
            if not last:
                lines = list(io.StringIO(block, newline=""))
                last = self._rows(chain(lines, text), number, len(lines))
            number = last
            if not go_on(len(self._raw.at)):
                raise Cancelled(self._file)

    # ------------------------------------------------------------------ a block at once

    def _block(self, block: str, before: int) -> int:
        """Take the lines of a block; gives the number of its last one, 0 where its rows have to be looked at."""
        form, raw = self._layout.time_form, self._raw
        found = None if form.elapsed else columns(block, self._layout.delimiter, self._needed)
        if found is None:
            return 0
        kept = len(raw.at)
        try:
            times = found.texts(self._layout.time_columns)
            clock = self._clock_of(times[0])
            self._add_times(times, clock)
            doubtful = self._add_celsius(found.of(self._column.column))
        except _Odd:
            del raw.at[kept:], raw.celsius[kept:]
            return 0
        for index, reading in doubtful:
            if isinstance(reading, SensorFault):
                raw.note_fault(reading, index)
            else:
                raw.power_up.append(index)
        raw.numbers.extend(range(before + 1, before + found.rows + 1))
        if clock.aware:
            self._first_offset = self._first_offset or before + 1
        else:
            self._first_bare = self._first_bare or before + 1
        return before + found.rows

    def _clock_of(self, cell: str) -> _Clock:
        tail = _TAIL.fullmatch(cell.partition(":")[2])
        if tail is None:
            raise _Odd
        return self._clocks.setdefault((tail[4] or "").strip(), _Clock())

    def _add_times(self, times: Sequence[str], clock: _Clock) -> None:
        at, hours, tails = self._raw.at, clock.hours, clock.tails
        begun, cut = len(at), times[0].find(":")
        rest = iter(times)
        while len(at) - begun < len(times):
            try:
                at.extend(hours[time[:cut]] + tails[time[cut:]] for time in rest)
            except KeyError:
                time = times[len(at) - begun]
                cut = time.find(":")
                at.append(self._plain_time(time, clock))

    def _plain_time(self, cell: str, clock: _Clock) -> int:
        """The time of a cell, remembered for its hour. Raises _Odd where it is in doubt or of another ending."""
        hour, _, minute = cell.partition(":")
        if hour in clock.hours and minute in clock.minutes:  # an hour written with one digit more than the one before
            return clock.hours[hour] + clock.minutes[minute]
        try:
            at = self._read_time(cell.strip())
        except Unreadable:
            raise _Odd from None
        parts = _TAIL.fullmatch(minute)
        if parts is None or (at.tzinfo is None and _doubtful(at, self._layout)):
            raise _Odd
        count = microseconds(at if at.tzinfo is not None else at.replace(tzinfo=self._layout.zone))
        if self._remembered(hour, minute, parts, count, aware=at.tzinfo is not None) is not clock:
            raise _Odd
        return count

    def _add_celsius(self, cells: Sequence[str]) -> list[tuple[int, Reading]]:
        """Gives the faults, and what may be the value at power-up, each with its place."""
        celsius = self._raw.celsius
        begun = len(celsius)
        doubtful: list[tuple[int, Reading]] = []
        figures = map(self._known.__getitem__, cells)
        while len(celsius) - begun < len(cells):
            try:
                celsius.extend(figures)
            except KeyError:
                cell = cells[len(celsius) - begun]
                reading = self._reading(cell.strip())
                if isinstance(reading, SensorFault) or self._at_power_up(reading):
                    doubtful.append((len(celsius), reading))
                else:
                    self._known[cell] = reading
                celsius.append(nan if isinstance(reading, SensorFault) else reading)
        if len(self._known) > MOST_KEPT:
            self._known.clear()
        return doubtful

    def _reading(self, cell: str) -> Reading:
        try:
            return temperature(cell, self._column.unit, self._layout.decimal)
        except NoFigure:
            raise _Odd from None

    # ------------------------------------------------------------------ row by row

    def _rows(self, lines: Iterable[str], before: int, many: int) -> int:
        """As many lines, one by one, and what follows as far as their last row goes on; gives the last one's number."""
        layout, raw = self._layout, self._raw
        reader = csv.reader(lines, delimiter=layout.delimiter, strict=True)
        warm, one, joined = self._column.column, layout.time_columns[0], len(layout.time_columns) > 1
        clock, values = _Clock(), raw.values
        while reader.line_num < many and (row := next(reader, None)) is not None:
            number = before + reader.line_num
            if len(row) < self._needed:
                self._short(number, row, self._needed)
                continue
            time = self._joined(row) if joined else row[one]
            hour, _, minute = time.partition(":")
            try:
                at = clock.hours[hour] + clock.minutes[minute]
            except KeyError:
                found = self._time(number, row, time)
                if found is None:
                    continue
                at, clock = found
            celsius = values.get(row[warm])
            if celsius is None:
                celsius = self._celsius(number, row[warm])
            raw.at.append(at)
            raw.celsius.append(celsius)
            raw.numbers.append(number)
        if len(values) > MOST_KEPT:
            values.clear()
        return before + reader.line_num

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
        return count, self._remembered(hour, minute, parts, count, aware=at.tzinfo is not None)

    def _remembered(self, hour: str, minute: str, parts: re.Match[str], count: int, *, aware: bool) -> _Clock:
        minutes, seconds, part, ending = parts.groups()
        clock = self._clocks.setdefault((ending or "").strip(), _Clock())
        clock.aware = aware
        past = (int(minutes) * 60 + int(seconds or 0)) * 1_000_000 + int((part or "").ljust(6, "0")[:6])
        clock.hours[hour], clock.minutes[minute], clock.tails[f":{minute}"] = count - past, past, past
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
        if self._at_power_up(reading):
            self._raw.power_up.append(len(self._raw.at))
        else:
            self._raw.values[cell] = reading
        return reading

    def _at_power_up(self, celsius: float) -> bool:
        return self._column.digital and abs(celsius - POWER_UP_C) <= SAME_K


def _doubtful(at: datetime, layout: Layout) -> bool:
    """Whether any minute of this hour of the logger's clock comes twice or never."""
    if isinstance(layout.zone, timezone):  # a fixed offset never changes
        return False
    begin = at.replace(minute=0, second=0, microsecond=0)
    instants = [
        (begin + step).replace(tzinfo=layout.zone, fold=fold).astimezone(UTC)
        for step in (timedelta(0), _HOUR)
        for fold in (0, 1)
    ]
    first, doubled, last, doubled_last = instants
    return first != doubled or last != doubled_last or last - first != _HOUR
