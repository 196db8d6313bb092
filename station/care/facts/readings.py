"""Facts about the temperature of stores: readings that came in, excursions found in them, what those came to."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import ClassVar

from station.care.cold_readings_rules import Mistake, Policy
from station.care.outside import Side


@dataclass(frozen=True, slots=True)
class ReadingsImported:
    """A logger's file of a store was read. `digest` is that of the file, `series` that of the readings as they are
    kept (SHA-256 of each); `logger` tells one logger's files from another's.

    `known` readings were there already, `conflicts` are figures that say otherwise than what was there; the worse of
    both counts. `overdue`: the calibration of `instrument` had run out. Limits in degrees Celsius, as used."""

    NAME: ClassVar[str] = "readings-imported"
    store: str
    file: str
    digest: str
    series: str
    logger: str
    sensor: str
    instrument: str
    zone: str
    begins: datetime
    ends: datetime
    last_c: float | None
    rows: int
    readings: int
    faults: int
    gaps: int
    repeated: int
    known: int
    conflicts: int
    longest_step: timedelta
    overdue: bool
    policy: Policy
    low_c: float
    high_c: float
    dead_band_k: float
    delay: timedelta


@dataclass(frozen=True, slots=True)
class StoreRead:
    """A person read the display of a store, degrees Celsius; `low_c` and `high_c` are the limits it was judged by."""

    NAME: ClassVar[str] = "store-read"
    store: str
    temperature_c: float
    low_c: float
    high_c: float
    instrument: str = ""
    overdue: bool = False


@dataclass(frozen=True, slots=True)
class ExcursionFound:
    """A store was out of its limits from `start` to `end`, or to the last reading where it is not `ended`.

    `excursion` is store, side and start. `outside` is how long readings prove it, `longest_gap` the longest time
    without a reading in it or right beside it, which is in no other figure. `containers` lay inside for some of it.
    `kinetic_c` is None where there is no such mean. `replaces` names those that this one says anew. `readings` are the
    series (SHA-256) with a reading outside in it; none is named on records made before they were noted."""

    NAME: ClassVar[str] = "excursion-found"
    excursion: str
    store: str
    logger: str
    side: Side
    start: datetime
    end: datetime
    peak_c: float
    outside: timedelta
    ended: bool
    kinetic_c: float | None
    longest_gap: timedelta
    containers: tuple[str, ...]
    replaces: tuple[str, ...]
    readings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ExcursionConfirmed:
    """Further series (SHA-256) have a reading outside in an excursion, which goes no further by them."""

    NAME: ClassVar[str] = "excursion-confirmed"
    store: str
    excursion: str
    readings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ReadingsWithdrawn:
    """A shift lead took a file back: its readings count no more for this store. `imports` are the facts that took it
    in, `mistake` says what was wrong with it.

    `excursions` were told from its readings alone and stand no more. What they came to for `containers` (holds,
    minutes charged) stands until somebody decides of each."""

    NAME: ClassVar[str] = "readings-withdrawn"
    store: str
    file: str
    digest: str
    series: str
    imports: tuple[str, ...]
    mistake: Mistake
    reason: str
    excursions: tuple[str, ...]
    containers: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ExcursionSeen:
    """A shift lead has seen an excursion as it stood then: until `end`, with this peak (Celsius)."""

    NAME: ClassVar[str] = "excursion-seen"
    store: str
    excursion: str
    start: datetime
    end: datetime
    peak_c: float
    note: str


@dataclass(frozen=True, slots=True)
class WarmCharged:
    """The minutes of an excursion that a container lay in it count as time out of the cold."""

    NAME: ClassVar[str] = "warm-charged"
    container: str
    store: str
    excursion: str
    start: datetime
    end: datetime
