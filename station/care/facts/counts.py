"""Facts about counting a store, and about stock that was there before the station."""

from dataclasses import dataclass
from datetime import timedelta
from typing import ClassVar

from station.care.words import CountEnd, Finding, Settling


@dataclass(frozen=True, slots=True)
class CountBegun:
    """Somebody counts a store at one place: scans there only mean "seen". It ends by itself after `idle`."""

    NAME: ClassVar[str] = "count-begun"
    count: str
    store: str
    where: str
    idle: timedelta


@dataclass(frozen=True, slots=True)
class Counted:
    """A container was seen in a store. `recorded` is the store it stood in; `cold`: whether that proves it cold."""

    NAME: ClassVar[str] = "counted"
    count: str
    container: str
    store: str
    finding: Finding
    recorded: str
    cold: bool


@dataclass(frozen=True, slots=True)
class CountEnded:
    """A count is over. Only a whole one claims anything as missing; a person may say afterwards that one was whole."""

    NAME: ClassVar[str] = "count-ended"
    count: str
    how: CountEnd
    missing: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DifferenceSettled:
    """One difference of a count was seen to; what else was done about it has its own fact."""

    NAME: ClassVar[str] = "count-difference-settled"
    count: str
    container: str
    how: Settling
    note: str


@dataclass(frozen=True, slots=True)
class StockImported:
    """Stock that was there before the station was taken in from a file; `digest` is the SHA-256 of its bytes."""

    NAME: ClassVar[str] = "stock-imported"
    file: str
    digest: str
    rows: int
