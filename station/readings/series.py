"""What a logger's file holds once it is read: rows in order of time, and what was noticed on the way."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

MOST_TOLD = 20


class FaultKind(StrEnum):
    """Why there is no temperature where one was expected."""

    NO_CONTACT = "no contact"
    POWER_UP = "value at power-up"
    OUT_OF_RANGE = "outside what any sensor here can measure"
    TEXT = "a text in place of a reading"
    MISSING = "no reading"


@dataclass(frozen=True, slots=True)
class SensorFault:
    """A fault in place of a reading, kept so that nobody takes it for a temperature. `written` is as in the file."""

    kind: FaultKind
    written: str


Reading = float | SensorFault
"""Degrees Celsius (or percent for humidity), or what went wrong."""


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a file: `number` counts the file's lines from 1, `at` is aware UTC, temperatures are Celsius."""

    file: str
    number: int
    at: datetime
    temperatures: Mapping[str, Reading]
    humidity: Reading | None = None


class Noticed(StrEnum):
    """What can be noticed in a file that is read all the same."""

    SENSOR_FAULT = "sensor-fault"
    GAP = "gap"
    REPEATED = "repeated-row"
    NEWEST_FIRST = "newest-first"
    DECLARED_AGAINST_HEADING = "declared-against-heading"
    IMPOSSIBLE_TIME = "impossible-time"
    DOUBLED_HOUR_UNCLEAR = "doubled-hour-unclear"
    BACKWARDS = "time-runs-backwards"
    CONTRADICTION = "two-readings-at-one-time"


TIME_IN_DOUBT = frozenset({Noticed.IMPOSSIBLE_TIME, Noticed.DOUBLED_HOUR_UNCLEAR, Noticed.BACKWARDS})
"""With one of these the file's zone is probably not the one declared."""
LEFT_OUT = TIME_IN_DOUBT | {Noticed.CONTRADICTION}
"""The rows of these were not taken."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing noticed, with the file's line numbers from first to last (None where it is about the whole file)."""

    code: Noticed
    first: int | None
    last: int | None
    what: str
    mend: str = ""

    @property
    def sentence(self) -> str:
        """Where, what, and how to mend it where that can be done."""
        where = "" if self.first is None else f"{lines(self.first, self.last or self.first)}: "
        return f"{where}{self.what}.{f' {self.mend}.' if self.mend else ''}"


def lines(first: int, last: int) -> str:
    """`line 5` or `lines 5 to 9`, the smaller first even where a file runs from new to old."""
    low, high = min(first, last), max(first, last)
    return f"line {low}" if low == high else f"lines {low} to {high}"


@dataclass(frozen=True, slots=True)
class Series:
    """A file read. `rows` rise strictly in time; everything left out or doubtful stands in `problems`."""

    file: str
    sensors: tuple[str, ...]
    rows: tuple[Row, ...]
    problems: tuple[Problem, ...]

    def points(self, sensor: str) -> tuple[tuple[datetime, float], ...]:
        """The real temperatures of one sensor (UTC, Celsius); faults and missing readings are not among them."""
        found = ((row.at, row.temperatures.get(sensor)) for row in self.rows)
        return tuple((at, reading) for at, reading in found if isinstance(reading, float))

    def noticed(self, *codes: Noticed) -> tuple[Problem, ...]:
        """The problems of some sorts."""
        return tuple(problem for problem in self.problems if problem.code in codes)


class ReadingsRefused(Exception):
    """The file can't be read as told; nothing of it was taken. `faults` are all of them, as sentences."""

    def __init__(self, file: str, faults: Iterable[str]) -> None:
        """Keep the faults in the order of the file."""
        self.file, self.faults = file, tuple(faults)
        super().__init__("\n".join(self.sentences()))

    def sentences(self, most: int = MOST_TOLD) -> tuple[str, ...]:
        """At most `most` faults with the file's name, then how many more there are."""
        return bounded([f"{self.file}: {fault}" for fault in self.faults], most)


def bounded(sentences: Iterable[str], most: int = MOST_TOLD) -> tuple[str, ...]:
    """At most `most` sentences, then one that says how many more there are."""
    every = tuple(sentences)
    over = len(every) - most
    return every if over <= 0 else (*every[:most], f"... and {over} more like these.")
