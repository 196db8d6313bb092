"""Readings of a store: a logger's file taken in, or a display a person read. Evidence is kept before any fact."""

from array import array
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import timedelta
from hashlib import sha256
from math import isnan
from typing import Protocol

from station.care import facts as f
from station.care.cold_readings import Flat, counted, look_through
from station.care.cold_readings_outcome import told
from station.care.cold_readings_rules import Instrument, Policy
from station.care.floor import Floor
from station.care.saying import day_time, span_up
from station.care.specification import Store
from station.care.verdict import Decision, Verdict
from station.care.words import Storage, Word
from station.services.outcome import Outcome, Refusal
from station.services.station import Station

# our own choice, no source: clocks of loggers run a little off
AHEAD = timedelta(minutes=5)
AROUND = timedelta(days=1)
"""Series already here this near the new one are looked through with it, so an excursion over both is one."""
COLDEST_C, WARMEST_C = -90.0, 60.0


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


def import_store_readings(station: Station, given: LoggerFile, unpack: Callable[[bytes], Series]) -> Outcome:
    """Take in a logger's file: its readings, the excursions in them and what these come to, in one append.

    `unpack` reads the stored form of earlier series. Raises Refusal or JournalTrouble; nothing is recorded then.
    """
    floor = station.floor()
    store, instrument = _store(floor, given.store), _instrument(floor, given.store, given.instrument)
    digest = sha256(given.content).hexdigest()
    before = _refuse_elsewhere(floor, digest, given)
    if before is not None:
        at = day_time(before.at, floor.now, floor.zone)
        verdict = Verdict(
            Word.DONE,
            "readings-known",
            "NOTHING NEW",
            f"This very file was taken in {at}, and nothing was added.",
            "Read the logger out again for what it measured since.",
        )
        return Outcome(verdict, (), ())
    step = _refuse_unfit(floor, given)
    logger = instrument.id if instrument is not None else given.sensor
    flat = Flat(given.series.at, given.series.celsius)
    others = _series_around(station, floor, given.store, logger, flat, unpack)
    known, conflicts = _compared(others, flat)
    merged = merge([*others, flat])
    step = max([step, *(one.longest_step for one in _of_logger(floor, given.store, logger))])
    limits = store.care.limits(store.storage, store.low_c, store.high_c)
    judged = look_through(merged, limits, step, freezing=store.storage is Storage.COLD)
    begins, ends = flat.instant(0), flat.instant(len(flat) - 1)
    near = [one for one in judged if one.excursion.start <= ends and begins <= one.excursion.end]
    kept, series = station.evidence.keep(given.content), station.evidence.keep(given.series.pack())
    overdue = _overdue(floor, instrument)
    imported = f.ReadingsImported(
        store=store.id,
        file=given.name,
        digest=kept,
        series=series,
        logger=logger,
        sensor=given.sensor,
        instrument=instrument.id if instrument is not None else "",
        zone=given.zone,
        begins=begins,
        ends=ends,
        last_c=None if isnan(flat.celsius[-1]) else flat.celsius[-1],
        rows=given.rows,
        readings=len(flat),
        faults=given.faults,
        gaps=_gaps(flat, given.longest_step or step),
        repeated=given.repeated,
        known=known,
        conflicts=conflicts,
        longest_step=given.longest_step or step,
        overdue=overdue,
        policy=store.care.policy,
        low_c=limits.low_c,
        high_c=limits.high_c,
        dead_band_k=limits.dead_band_k,
        delay=limits.delay,
    )

    def decide(now: Floor) -> Decision:
        bodies = (imported, *told(now, store, logger, near))
        return Decision(_verdict(store, imported, bodies), bodies)

    return station.said(decide, station.place)


def read_display(station: Station, store_id: str, temperature_c: float) -> Outcome:
    """A person read the display of a store, degrees Celsius. Raises Refusal for what no store shows."""
    floor = station.floor()
    store, instrument = _store(floor, store_id), _instrument(floor, store_id, "")
    if not COLDEST_C <= temperature_c <= WARMEST_C:
        raise Refusal("no-store", f"{temperature_c:g} C is no temperature of a store. Look at the display again.")
    limits = store.care.limits(store.storage, store.low_c, store.high_c)
    name = instrument.id if instrument is not None else ""
    overdue = _overdue(floor, instrument)
    body = f.StoreRead(store.id, temperature_c, limits.low_c, limits.high_c, name, overdue)
    inside = limits.low_c <= temperature_c <= limits.high_c
    headline = f"{temperature_c:g} C" if inside else f"{temperature_c:g} C IS OUTSIDE"
    why = f"{store.title} is to be between {limits.low_c:g} and {limits.high_c:g} C.{_mark(name, overdue=overdue)}"
    todo = "" if inside else "Read its logger out now, so that what lies in it can be judged, and call a lead."
    verdict = Verdict(Word.DONE, "store-read" if inside else "store-read-outside", headline, why, todo)
    return station.said(lambda _floor: Decision(verdict, (body,)), station.place)


def series_of(
    station: Station, store: str, unpack: Callable[[bytes], Series], since: timedelta
) -> tuple[Flat, timedelta]:
    """The readings of a store of the last `since`, every logger's together, and the longest step that is no gap."""
    floor = station.floor()
    imports = [one for one in floor.ledger.cold.imports(store) if one.ends >= floor.now - since]
    first = counted(floor.now - since)
    flats = [_since(_opened(station, one, unpack), first) for one in imports]
    step = max((one.longest_step for one in imports), default=timedelta(0))
    return merge(flats), step


# ---------------------------------------------------------------------- what speaks against it


def _store(floor: Floor, name: str) -> Store:
    store = floor.plant.stores.get(name)
    if store is None:
        raise Refusal("store-unknown", f"There is no store {name!r}. Choose from {', '.join(floor.plant.stores)}.")
    return store


def _instrument(floor: Floor, store: str, name: str) -> Instrument | None:
    """The instrument that was named, else the only one of the store."""
    here = [one for one in floor.plant.instruments.values() if one.store == store]
    if not name:
        return here[0] if len(here) == 1 else None
    found = next((one for one in here if one.id == name), None)
    if found is None:
        known = ", ".join(one.id for one in here) or "none"
        raise Refusal("instrument", f"{store} has no instrument {name!r}. stores.toml names: {known}.")
    return found


def _overdue(floor: Floor, instrument: Instrument | None) -> bool:
    return instrument is not None and instrument.overdue(floor.now.astimezone(floor.zone).date())


def _refuse_elsewhere(floor: Floor, digest: str, given: LoggerFile) -> f.Fact | None:
    """The import of this very file into this store, if there was one. Refusal where it was another store's."""
    for fact in floor.ledger.cold.with_file(digest):
        body = fact.body
        if not isinstance(body, f.ReadingsImported) or body.sensor != given.sensor:
            continue
        if body.store == given.store:
            return fact
        raise Refusal(
            "readings-elsewhere",
            f"{given.name} was taken in as the readings of {body.store}. Choose the logger of {given.store}.",
        )
    return None


def _refuse_unfit(floor: Floor, given: LoggerFile) -> timedelta:
    if given.longest_step is None:
        raise Refusal("readings-few", f"{given.name}: it has fewer than two readings, so nothing can be said of it.")
    last = Flat(given.series.at, given.series.celsius).instant(len(given.series.at) - 1)
    if last - floor.now > AHEAD:
        raise Refusal(
            "readings-ahead",
            f"{given.name}: its last reading is {span_up(last - floor.now)} ahead of this PC's clock. "
            "Look at the logger's clock and its zone.",
        )
    return given.longest_step


# ---------------------------------------------------------------------- what is here already


def _of_logger(floor: Floor, store: str, logger: str) -> list[f.ReadingsImported]:
    return [one for one in floor.ledger.cold.imports(store) if one.logger == logger]


def _series_around(
    station: Station, floor: Floor, store: str, logger: str, flat: Flat, unpack: Callable[[bytes], Series]
) -> list[Flat]:
    """The series of this logger that lie beside the new one, the first to come in first."""
    begins, ends = flat.instant(0) - AROUND, flat.instant(len(flat) - 1) + AROUND
    near = (one for one in _of_logger(floor, store, logger) if one.begins <= ends and begins <= one.ends)
    return [_opened(station, one, unpack) for one in near]


def _opened(station: Station, imported: f.ReadingsImported, unpack: Callable[[bytes], Series]) -> Flat:
    series = unpack(station.evidence.fetch(imported.series))
    return Flat(series.at, series.celsius)


def _since(flat: Flat, first: int) -> Flat:
    kept = [index for index, at in enumerate(flat.at) if at >= first]
    return Flat([flat.at[index] for index in kept], [flat.celsius[index] for index in kept])


def merge(flats: Sequence[Flat]) -> Flat:
    """All of them in order; where two speak of one instant, the first of them stands."""
    if len(flats) == 1:
        return flats[0]
    found: dict[int, float] = {}
    for flat in flats:
        for at, celsius in zip(flat.at, flat.celsius, strict=True):
            found.setdefault(at, celsius)
    instants = sorted(found)
    return Flat(array("q", instants), array("d", (found[at] for at in instants)))


def _compared(others: Sequence[Flat], flat: Flat) -> tuple[int, int]:
    """How many readings were here already, and how many say otherwise than what was here."""
    if not others:
        return 0, 0
    here = merge(others)
    stands = dict(zip(here.at, here.celsius, strict=True))
    both = [(stands[at], celsius) for at, celsius in zip(flat.at, flat.celsius, strict=True) if at in stands]
    same = sum(old == new or (isnan(old) and isnan(new)) for old, new in both)
    return same, len(both) - same


def _gaps(flat: Flat, step: timedelta) -> int:
    longest = step // timedelta(microseconds=1)
    return sum(flat.at[index] - flat.at[index - 1] > longest for index in range(1, len(flat)))


# ---------------------------------------------------------------------- what is said


def _mark(instrument: str, *, overdue: bool) -> str:
    return f" The calibration of {instrument} has run out: have it calibrated." if overdue else ""


def _verdict(store: Store, imported: f.ReadingsImported, bodies: Sequence[f.Body]) -> Verdict:
    found = [one for one in bodies if isinstance(one, f.ExcursionFound)]
    loud = [one for one in found if imported.policy is not Policy.LOG or _holds(bodies)]
    charged = len({one.container for one in bodies if isinstance(one, f.WarmCharged)})
    held = len({one.container for one in bodies if isinstance(one, f.Held)})
    new = imported.readings - imported.known - imported.conflicts
    headline = f"{_many(len(found), 'EXCURSION')}" if loud else "READINGS IN"
    overdue = _mark(imported.instrument, overdue=imported.overdue)
    why = f"{new} new readings of {store.title}. {_beside(imported)}{overdue}"
    return Verdict(
        Word.DONE,
        "readings-excursion" if loud else "readings-in",
        headline,
        why.strip(),
        _todo(charged, held, loud=bool(loud)),
    )


def _holds(bodies: Sequence[f.Body]) -> bool:
    return any(isinstance(one, f.Held) for one in bodies)


def _beside(imported: f.ReadingsImported) -> str:
    counts = (
        (imported.known, "known already"),
        (imported.conflicts, "otherwise than known, and what was known stands"),
        (imported.faults, "sensor fault" if imported.faults == 1 else "sensor faults"),
        (imported.gaps, "gap" if imported.gaps == 1 else "gaps"),
    )
    told_of = [f"{count} {what}" for count, what in counts if count]
    return f"{', '.join(told_of)}." if told_of else ""


def _todo(charged: int, held: int, *, loud: bool) -> str:
    parts = [
        f"{_many(held, 'container')} on hold: a lead judges each." if held else "",
        f"{_many(charged, 'container')} lost time; print new labels of those that are out." if charged else "",
        "Look at the store." if loud and not held else "",
    ]
    return " ".join(part for part in parts if part)


def _many(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}{'S' if what.isupper() else 's'}"
