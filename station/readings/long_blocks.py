"""One sensor of a logger's file in blocks: one whose every part is known or plain is taken as whole columns, any other
goes row by row, and both come to the same."""

import csv
import io
from collections.abc import Callable, Sequence
from itertools import chain
from math import nan
from typing import TextIO

from station.readings.cells import NoFigure, temperature
from station.readings.columns import columns
from station.readings.layout import Layout, SensorColumn
from station.readings.long_rows import MOST_KEPT, TAIL, Clock, RowReading, doubtful
from station.readings.series import Reading, SensorFault
from station.readings.timeform import Unreadable
from station.readings.track import microseconds

PIECE = 100_000
"""Characters of a block: a cell that the csv module finds too long (131,072) makes a block no column is cut from."""
MOST_FAULTS = 1000
"""Cells that can't be read are told up to here; a file with more is of another layout."""


class Cancelled(Exception):
    """Somebody stopped the reading; nothing of the file was taken."""


class _Odd(Exception):
    """Something in a block wants a look at its row."""


class BlockReading(RowReading):
    """One pass through a file, a block of lines at a time."""

    def __init__(self, file: str, layout: Layout, column: SensorColumn) -> None:
        super().__init__(file, layout, column)
        self._known: dict[str, float] = {}  # temperatures by their cells as a block has them

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

    def _clock_of(self, cell: str) -> Clock:
        tail = TAIL.fullmatch(cell.partition(":")[2])
        if tail is None:
            raise _Odd
        return self._clocks.setdefault((tail[4] or "").strip(), Clock())

    def _add_times(self, times: Sequence[str], clock: Clock) -> None:
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

    def _plain_time(self, cell: str, clock: Clock) -> int:
        """The time of a cell, remembered for its hour. Raises _Odd where it is in doubt or of another ending."""
        hour, _, minute = cell.partition(":")
        if hour in clock.hours and minute in clock.minutes:  # an hour written with one digit more than the one before
            return clock.hours[hour] + clock.minutes[minute]
        try:
            at = self._read_time(cell.strip())
        except Unreadable:
            raise _Odd from None
        parts = TAIL.fullmatch(minute)
        if parts is None or (at.tzinfo is None and doubtful(at, self._layout)):
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
