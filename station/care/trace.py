"""Which paste lay where, for which work order, and who put it there: forward from a lot, back from a work order.

Read off the whole record of each position, however long ago. A bead that was carried over belongs to several work
orders, but paste put on it later belongs only to those that were still to come.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import datetime

from station.care import facts as f
from station.care.fold_lot import lot_name
from station.care.fold_position import position_step
from station.care.ledger import Ledger
from station.care.pace import Pace, paced, unhurried
from station.care.state import Bead, Mount, PositionState

READING = "reading where paste lay"


@dataclass(frozen=True, slots=True)
class Stay:
    """Paste of one container at one position for one work order (None: none was set up).

    `key` names the bead, or the mounting where `mounted`; `lots` are those its paste came from, called as in facts.
    `until` is None while it lies there; both instants are aware UTC. `people` are badges: who loaded, mounted or
    carried over.
    """

    key: str
    position: str
    container: str
    paste: str
    lots: tuple[str, ...]
    work_order: str | None
    since: datetime
    until: datetime | None
    people: tuple[str, ...]
    mounted: bool = False


@dataclass(slots=True)
class _Put:
    """The first time a container went on, and everybody who put paste of it on."""

    since: datetime
    paste: str
    lot: str
    people: list[str]


@dataclass(frozen=True, slots=True)
class _Job:
    """From when a bead or mounting was used for a work order, and who said so."""

    order: str | None
    since: datetime
    who: str | None


@dataclass(slots=True)
class _Lay:
    """One bead or mounting while its story is read."""

    key: str
    mounted: bool
    put: dict[str, _Put] = field(default_factory=dict)
    jobs: list[_Job] = field(default_factory=list)
    until: datetime | None = None


def stays(ledger: Ledger, pace: Pace = unhurried) -> tuple[Stay, ...]:
    """Every stay on record, in order of time."""
    found = [stay for position in ledger.positions for stay in _at(ledger, position, pace)]
    return tuple(sorted(found, key=lambda stay: (stay.since, stay.position, stay.container)))


def stays_at(ledger: Ledger, position: str, pace: Pace = unhurried) -> tuple[Stay, ...]:
    """Every stay at one position, in order of time."""
    return tuple(sorted(_at(ledger, position, pace), key=lambda stay: (stay.since, stay.container)))


def of_lot(ledger: Ledger, lot_id: str) -> tuple[Stay, ...]:
    """Where paste of a lot has been, decanted and used paste included."""
    return tuple(stay for stay in stays(ledger) if lot_id in stay.lots)


def of_work_order(ledger: Ledger, work_order: str, pace: Pace = unhurried) -> tuple[Stay, ...]:
    """What paste a work order was built with."""
    return tuple(stay for stay in stays(ledger, pace) if stay.work_order == work_order)


def lots_of(ledger: Ledger, container: str) -> tuple[str, ...]:
    """The lots the paste of a container came from, each once; nothing for one with no record here."""
    known = ledger.containers.get(container)
    if known is None:
        return ()
    if not known.sources:
        return (lot_name(known.paste, known.lot),)
    return tuple(dict.fromkeys(lot for source in known.sources for lot in lots_of(ledger, source)))


def lots_named(ledger: Ledger, text: str, known_stays: Iterable[Stay]) -> tuple[str, ...]:
    """The lots a person may mean by `SN-4 101`, `SN-4/101`, or by `101` alone; `known_stays` are all on record."""
    known = {lot for name in ledger.containers for lot in lots_of(ledger, name)}
    known |= {lot for stay in known_stays for lot in stay.lots} | set(ledger.lots)
    wanted = " ".join(text.split()).upper()
    return tuple(sorted(lot for lot in known if wanted in _spellings(lot)))


def _spellings(lot_id: str) -> tuple[str, ...]:
    paste, _, lot = lot_id.upper().partition("/")
    return f"{paste}/{lot}", f"{paste} {lot}", lot


def _at(ledger: Ledger, position: str, pace: Pace) -> Iterator[Stay]:
    standing = [fact for fact in ledger.history("position", position) if not ledger.is_undone(fact.key)]
    places, place = list[PositionState](), PositionState(position)
    for fact in paced(standing, pace, READING):
        place = position_step(place, fact, position)
        places.append(place)
    beads = _lays(standing, [found.bead for found in places], (f.Loaded, f.CarriedOver))
    mounts = _lays(standing, [found.mounted for found in places], (f.Mounted, f.PositionSetUp))
    for lay in (*beads, *mounts):
        yield from _told(ledger, position, lay)


def _lays(
    facts: list[f.Fact], lying: list[Bead | None] | list[Mount | None], heard: tuple[type[f.Body], ...]
) -> list[_Lay]:
    """The beads, or the mountings, one after another; `lying` is what was there after each fact."""
    found: list[_Lay] = []
    open_now: _Lay | None = None
    for fact, there in zip(facts, lying, strict=True):
        if open_now is not None and (there is None or there.key != open_now.key):
            open_now.until, open_now = fact.at, None
        if there is not None and open_now is None:
            open_now = _Lay(there.key, isinstance(there, Mount))
            found.append(open_now)
        if open_now is not None and isinstance(fact.body, heard):
            _hear(open_now, fact)
    return found


def _hear(lay: _Lay, fact: f.Fact) -> None:
    body = fact.body
    if isinstance(body, f.Loaded | f.Mounted):
        lot = body.lot if isinstance(body, f.Loaded) else ""
        put = lay.put.setdefault(body.container, _Put(fact.at, body.paste, lot, []))
        put.people.extend([fact.who] if fact.who else [])
    order = getattr(body, "work_order", None)
    if not lay.jobs or (order is not None and order != lay.jobs[-1].order):
        lay.jobs.append(_Job(order, fact.at, fact.who))


def _told(ledger: Ledger, position: str, lay: _Lay) -> Iterator[Stay]:
    ends = [*(job.since for job in lay.jobs[1:]), lay.until]
    for container, put in lay.put.items():
        lots = lots_of(ledger, container) or ((lot_name(put.paste, put.lot),) if put.lot else ())
        for job, end in zip(lay.jobs, ends, strict=True):
            if end is None or put.since < end:
                since = max(put.since, job.since)
                people = tuple(dict.fromkeys((*put.people, *([job.who] if job.who else []))))
                yield Stay(lay.key, position, container, put.paste, lots, job.order, since, end, people, lay.mounted)
