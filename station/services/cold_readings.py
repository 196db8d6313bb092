"""Readings of a store: a logger's file taken in, or a display a person read. Evidence is kept before any fact."""

from bisect import bisect_left
from datetime import timedelta

from station.care import facts as f
from station.care.cold_readings import Flat, counted
from station.care.cold_readings_back import TakeBack, seen, take_back
from station.care.cold_readings_given_back import give_back
from station.care.cold_readings_merge import merged
from station.care.cold_readings_outcome import told
from station.care.floor import Floor
from station.care.verdict import Decision
from station.care.words import Role
from station.services.cold_readings_judged import Found, Known, LoggerFile, Unpack, judge, opened, so_far
from station.services.cold_readings_said import display_verdict, import_verdict, known_verdict
from station.services.outcome import Outcome, Refusal
from station.services.ports import Evidence
from station.services.station import Proof, Station

COLDEST_C, WARMEST_C = -90.0, 60.0


def import_store_readings(station: Station, given: LoggerFile, unpack: Unpack) -> Outcome:
    """Take in a logger's file: its readings, the excursions in them and what these come to, in one append.

    `unpack` reads the stored form of earlier series. Raises Refusal or JournalTrouble; nothing is recorded then.
    """
    found = judge(given, so_far(station.floor(), given.store), station.evidence.fetch, unpack)
    return record(station, found, unpack)


def keep(evidence: Evidence, found: Found) -> None:
    """Put the file and its readings on disk, so that facts may name them; what is kept already is not written again."""
    evidence.keep(found.given.content)
    evidence.keep(found.stored)


def record(station: Station, found: Found | Known, unpack: Unpack, *, kept: bool = False) -> Outcome:
    """Write down what was found in a file. Where other files came in meanwhile it is looked through once more.

    `kept`: `keep` was called already, by another thread. Raises Refusal or JournalTrouble; nothing is recorded then.
    """
    now = so_far(station.floor(), found.given.store)
    if now.imports != found.so_far.imports:
        found = judge(found.given, now, station.evidence.fetch, unpack)
    if isinstance(found, Known):
        return Outcome(known_verdict(found), (), ())
    if not kept:
        keep(station.evidence, found)
    store, imported, near = now.store, found.imported, found.near

    def decide(floor: Floor) -> Decision:
        bodies = (imported, *told(floor, store, imported.logger, near))
        return Decision(import_verdict(floor, store, imported, bodies), bodies)

    return station.said(decide, station.place)


def read_display(station: Station, store_id: str, temperature_c: float, instrument: str = "") -> Outcome:
    """A person read the display of a store, degrees Celsius; `instrument` is which, where the store has several.

    Raises Refusal for what no store shows.
    """
    known = so_far(station.floor(), store_id)
    read = known.instrument(instrument)
    if not COLDEST_C <= temperature_c <= WARMEST_C:
        raise Refusal("no-store", f"{temperature_c:g} C is no temperature of a store. Look at the display again.")
    name = read.id if read is not None else ""
    limits = known.limits
    body = f.StoreRead(store_id, temperature_c, limits.low_c, limits.high_c, name, known.overdue(read))
    verdict = display_verdict(known.store, body)
    return station.said(lambda _floor: Decision(verdict, (body,)), station.place)


def take_back_readings(station: Station, told_of: TakeBack, proof: Proof) -> Outcome:
    """A shift lead takes a file back: it counts no more, and may be read in again where it belongs.

    Raises Refusal, or care.refused.Refused; nothing is recorded then.
    """

    def decide(floor: Floor, person: str) -> Decision:
        fact, verdict = take_back(floor, told_of, person)
        return Decision(verdict, (fact,))

    return station.decided(proof, Role.LEAD, decide)


def give_minutes_back(station: Station, container: str, reason: str, proof: Proof) -> Outcome:
    """A shift lead gives a container back what a file charged that was taken back.

    Raises Refusal, or care.refused.Refused; nothing is recorded then.
    """

    def decide(floor: Floor, person: str) -> Decision:
        facts, verdict = give_back(floor, container, reason, person)
        return Decision(verdict, facts)

    return station.decided(proof, Role.LEAD, decide)


def see_excursions(
    station: Station, store: str, shown: tuple[f.ExcursionFound, ...], note: str, proof: Proof
) -> Outcome:
    """A shift lead has seen these excursions of a store as they were shown; they leave the day list.

    Raises Refusal, or care.refused.Refused; nothing is recorded then.
    """

    def decide(floor: Floor, person: str) -> Decision:
        facts, verdict = seen(floor, store, shown, note, person)
        return Decision(verdict, facts)

    return station.decided(proof, Role.LEAD, decide)


def series_of(station: Station, store: str, unpack: Unpack, since: timedelta) -> tuple[Flat, timedelta]:
    """The readings of a store of the last `since`, every logger's together, and the longest step that is no gap.

    Where two figures are of one instant, the one further from the middle of the limits stands.
    """
    floor = station.floor()
    imports = [one for one in floor.ledger.cold.imports(store) if one.ends >= floor.now - since]
    first = counted(floor.now - since)
    flats = [_since(opened(one, station.evidence.fetch, unpack), first) for one in imports]
    step = max((one.longest_step for one in imports), default=timedelta(0))
    found = floor.plant.stores[store]
    return merged(flats).furthest((found.low_c + found.high_c) / 2), step


def _since(flat: Flat, first: int) -> Flat:
    kept = bisect_left(flat.at, first)
    return Flat(flat.at[kept:], flat.celsius[kept:])
