"""A logger's file looked through beside what is on record of its store. Nothing here is recorded or changes anything,
so that another thread may do it: `StoreSoFar` is what the record said when it began."""

from array import array
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from hashlib import sha256
from math import isnan
from typing import Protocol
from zoneinfo import ZoneInfo

from station.care import facts as f
from station.care.cold_readings import Flat, Judged
from station.care.cold_readings_merge import Merged, added, compared, look_through_both, merged, with_sources
from station.care.cold_readings_rules import Instrument
from station.care.floor import Floor
from station.care.outside import Limits
from station.care.saying import day_time, span_up
from station.care.specification import Store
from station.care.words import Storage
from station.services.outcome import Refusal

# our own choice, no source: clocks of loggers run a little off
AHEAD = timedelta(minutes=5)
AROUND = timedelta(days=1)
BACK_FIRST = "Let a shift lead take that file back first (Store temperatures, Take a file back)."
"""Series already here this near the new one are looked through with it, so an excursion over both is one."""


class Series(Protocol):
    """Readings in flat arrays: microseconds since 1970 in UTC, strictly rising, and Celsius, NaN for a fault."""

    @property
    def at(self) -> "array[int]":
        """When."""
        ...

    @property
    def celsius(self) -> "array[float]":
        """How warm."""
        ...

    def pack(self) -> bytes:
        """The stored form."""
        ...


Unpack = Callable[[bytes], Series]


@dataclass(frozen=True, slots=True)
class LoggerFile:
    """A logger's file as it was read. `zone` is what its times were taken in, `longest_step` what is no gap yet."""

    store: str
    name: str
    content: bytes
    series: Series
    longest_step: timedelta | None
    sensor: str
    zone: str
    rows: int
    faults: int
    repeated: int
    instrument: str = ""


@dataclass(frozen=True, slots=True)
class StoreSoFar:
    """What is on record of a store at `now`: its instruments, and every import of any store that counts."""

    store: Store
    now: datetime
    zone: ZoneInfo
    instruments: tuple[Instrument, ...]
    imports: tuple[f.Fact, ...]

    @property
    def limits(self) -> Limits:
        """What its readings are judged by."""
        return self.store.care.limits(self.store.storage, self.store.low_c, self.store.high_c)

    def of_logger(self, logger: str) -> list[f.ReadingsImported]:
        """The files of one logger of this store, the first to come in first."""
        bodies = (fact.body for fact in self.imports)
        return [
            one
            for one in bodies
            if isinstance(one, f.ReadingsImported) and one.store == self.store.id and one.logger == logger
        ]

    def instrument(self, name: str) -> Instrument | None:
        """The instrument that was named, else the only one; None where the settings name none. Raises Refusal."""
        if not name and len(self.instruments) < 2:
            return next(iter(self.instruments), None)
        found = next((one for one in self.instruments if one.id == name), None)
        if found is not None:
            return found
        known = ", ".join(one.id for one in self.instruments) or "none"
        told = f"has no instrument {name!r}" if name else "has several instruments: say which one it was"
        raise Refusal("instrument", f"{self.store.id} {told}. stores.toml names: {known}.")

    def overdue(self, instrument: Instrument | None) -> bool:
        """Whether its calibration has run out today."""
        return instrument is not None and instrument.overdue(self.now.astimezone(self.zone).date())


@dataclass(frozen=True, slots=True)
class Found:
    """What a file comes to: its fact, and the excursions in or beside it. `stored` is its readings as they are kept."""

    given: LoggerFile
    so_far: StoreSoFar
    stored: bytes
    imported: f.ReadingsImported
    near: tuple[Judged, ...]


@dataclass(frozen=True, slots=True)
class Known:
    """This very file was taken in before, and it counts."""

    given: LoggerFile
    so_far: StoreSoFar
    fact: f.Fact


def so_far(floor: Floor, name: str) -> StoreSoFar:
    """What is on record of a store now. Raises Refusal for one that is not there."""
    store = floor.plant.stores.get(name)
    if store is None:
        raise Refusal("store-unknown", f"There is no store {name!r}. Choose from {', '.join(floor.plant.stores)}.")
    here = tuple(one for one in floor.plant.instruments.values() if one.store == name)
    return StoreSoFar(store, floor.now, floor.zone, here, floor.ledger.cold.every_file())


def judge(given: LoggerFile, known: StoreSoFar, fetch: Callable[[str], bytes], unpack: Unpack) -> Found | Known:
    """Look a file through. `fetch` reads kept files, `unpack` the stored form of earlier series.

    Raises Refusal for what can't be taken in, and whatever `fetch` raises.
    """
    instrument = known.instrument(given.instrument)
    stored = given.series.pack()
    digest, series = sha256(given.content).hexdigest(), sha256(stored).hexdigest()
    before = _before(given, known, digest, series)
    if before is not None:
        return Known(given, known, before)
    step = _fit(given, known)
    logger = instrument.id if instrument is not None else given.sensor
    flat = Flat(given.series.at, given.series.celsius)
    others = [(one.series, opened(one, fetch, unpack)) for one in _around(known, logger, flat)]
    here = merged(other for _, other in others)
    near = _near(known, added(here, flat), flat, max([step, *(one.longest_step for one in known.of_logger(logger))]))
    sources = [*others, (series, flat)]
    imported = _imported(
        given,
        known,
        instrument,
        flat,
        digest=digest,
        series=series,
        logger=logger,
        step=step,
        beside=compared(here, flat),
    )
    return Found(given, known, stored, imported, tuple(with_sources(one, sources, known.limits) for one in near))


def opened(imported: f.ReadingsImported, fetch: Callable[[str], bytes], unpack: Unpack) -> Flat:
    """The kept readings of an import."""
    series = unpack(fetch(imported.series))
    return Flat(series.at, series.celsius)


# ---------------------------------------------------------------------- inside


def _before(given: LoggerFile, known: StoreSoFar, digest: str, series: str) -> f.Fact | None:
    """The import of this very file into this store, if there was one. Refusal where it was taken in otherwise."""
    for fact in known.imports:
        body = fact.body
        if not isinstance(body, f.ReadingsImported) or (body.digest, body.sensor) != (digest, given.sensor):
            continue
        at = day_time(fact.at, known.now, known.zone)
        if body.store != given.store:
            told = f"{given.name} was taken in {at} as the readings of {body.store}. {BACK_FIRST}"
            raise Refusal("readings-elsewhere", told)
        if body.series == series:
            return fact
        zone = f" with its clock in {body.zone}" if body.zone != given.zone else ""
        raise Refusal("readings-otherwise", f"{given.name} was taken in {at} and read otherwise{zone}. {BACK_FIRST}")
    return None


def _fit(given: LoggerFile, known: StoreSoFar) -> timedelta:
    """The longest step that is no gap. Refusal for a file that can't be judged."""
    if given.longest_step is None:
        raise Refusal("readings-few", f"{given.name}: it has fewer than two readings, so nothing can be said of it.")
    last = Flat(given.series.at, given.series.celsius).instant(len(given.series.at) - 1)
    if last - known.now > AHEAD:
        raise Refusal(
            "readings-ahead",
            f"{given.name}: its last reading is {span_up(last - known.now)} ahead of this PC's clock. "
            "Look at the logger's clock and its zone.",
        )
    return given.longest_step


def _near(known: StoreSoFar, readings: Merged, flat: Flat, longest: timedelta) -> Iterator[Judged]:
    """The excursions that the new readings have a part in."""
    freezing = known.store.storage is Storage.COLD
    begins, ends = flat.instant(0), flat.instant(len(flat) - 1)
    judged = look_through_both(readings, known.limits, longest, freezing=freezing)
    return (one for one in judged if one.excursion.start <= ends and begins <= one.excursion.end)


def _imported(
    given: LoggerFile,
    known: StoreSoFar,
    instrument: Instrument | None,
    flat: Flat,
    *,
    digest: str,
    series: str,
    logger: str,
    step: timedelta,
    beside: tuple[int, int],
) -> f.ReadingsImported:
    """The fact of this file; `beside` is how many readings were here already, and how many say otherwise."""
    limits = known.limits
    return f.ReadingsImported(
        store=known.store.id,
        file=given.name,
        digest=digest,
        series=series,
        logger=logger,
        sensor=given.sensor,
        instrument=instrument.id if instrument is not None else "",
        zone=given.zone,
        begins=flat.instant(0),
        ends=flat.instant(len(flat) - 1),
        last_c=None if isnan(flat.celsius[-1]) else flat.celsius[-1],
        rows=given.rows,
        readings=len(flat),
        faults=given.faults,
        gaps=_gaps(flat, step),
        repeated=given.repeated,
        known=beside[0],
        conflicts=beside[1],
        longest_step=step,
        overdue=known.overdue(instrument),
        policy=known.store.care.policy,
        low_c=limits.low_c,
        high_c=limits.high_c,
        dead_band_k=limits.dead_band_k,
        delay=limits.delay,
    )


def _around(known: StoreSoFar, logger: str, flat: Flat) -> Sequence[f.ReadingsImported]:
    """The files of this logger that lie beside the new one, the first to come in first."""
    begins, ends = flat.instant(0) - AROUND, flat.instant(len(flat) - 1) + AROUND
    return [one for one in known.of_logger(logger) if one.begins <= ends and begins <= one.ends]


def _gaps(flat: Flat, step: timedelta) -> int:
    longest = step // timedelta(microseconds=1)
    return sum(flat.at[index] - flat.at[index - 1] > longest for index in range(1, len(flat)))
