"""One sensor of a logger's file row by row: what each cell means, and what is remembered of it for the next rows.

The parts of a file repeat: a date with its hour, the minutes of an hour and a temperature are each read once with every
check, and looked up from then on.
"""

import csv
import re
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta, timezone
from math import nan
from typing import Any

from station.readings.cells import POWER_UP_C, SAME_K, NoFigure, temperature
from station.readings.layout import Layout, SensorColumn
from station.readings.series import ReadingsRefused, SensorFault
from station.readings.settling import Raw
from station.readings.timeform import Unreadable
from station.readings.track import microseconds

MOST_KEPT = 100_000
TAIL = re.compile(r"(\d{2})(?::(\d{2})(?:[.,](\d{1,9}))?)?(\D.*)?")
_HOUR = timedelta(hours=1) - timedelta(microseconds=1)


class Clock:
    """Times of one ending (an offset, a half of the day or none): what is known of each hour and each minute.

    `tails` are the minutes with the colon before them. `aware` says whether its times have an offset.
    """

    def __init__(self) -> None:
        self.hours: dict[str, int] = {}
        self.minutes: dict[str, int] = {}
        self.tails: dict[str, int] = {}
        self.aware: bool | None = None


class RowReading:
    """What was read of a file so far."""

    def __init__(self, file: str, layout: Layout, column: SensorColumn) -> None:
        self._file, self._layout, self._column = file, layout, column
        self._raw = Raw(layout.zone)
        self._wrong: list[str] = []
        self._clocks: dict[str, Clock] = {}
        self._first_bare = self._first_offset = 0
        self._needed = max(layout.columns) + 1

    def _rows(self, lines: Iterable[str], before: int, many: int) -> int:
        """As many lines, one by one, and what follows as far as their last row goes on; gives the last one's number."""
        layout, raw = self._layout, self._raw
        reader = csv.reader(lines, delimiter=layout.delimiter, strict=True)
        warm, one, joined = self._column.column, layout.time_columns[0], len(layout.time_columns) > 1
        clock, values = Clock(), raw.values
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

    def _time(self, number: int, row: list[str], cell: str) -> tuple[int, Clock] | None:
        """The time of a cell that was not looked up, remembered for its hour where nothing about it is in doubt."""
        if not any(part.strip() for part in row):
            return None
        try:
            at = self._read_time(cell.strip())
        except Unreadable as unread:
            self._note(number, str(unread))
            return None
        hour, _, minute = cell.partition(":")
        parts = None if self._layout.time_form.elapsed else TAIL.fullmatch(minute)
        if at.tzinfo is None:
            self._first_bare = self._first_bare or number
        elif not self._layout.time_form.elapsed:
            self._first_offset = self._first_offset or number
        if at.tzinfo is None and doubtful(at, self._layout):
            self._raw.doubt[len(self._raw.at)] = at
            return microseconds(at.replace(tzinfo=UTC)), Clock()
        count = microseconds(at if at.tzinfo is not None else at.replace(tzinfo=self._layout.zone))
        if parts is None:
            return count, Clock()
        return count, self._remembered(hour, minute, parts, count, aware=at.tzinfo is not None)

    def _remembered(self, hour: str, minute: str, parts: re.Match[str], count: int, *, aware: bool) -> Clock:
        minutes, seconds, part, ending = parts.groups()
        clock = self._clocks.setdefault((ending or "").strip(), Clock())
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


def doubtful(at: datetime, layout: Layout) -> bool:
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
