"""The story of anything: all that happened to a container, lot, position, work order or person, or on a day."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from itertools import dropwhile
from zoneinfo import ZoneInfo

from station.care import facts as f
from station.care import trace
from station.care.clock_story import is_clock_fact
from station.care.ledger import Ledger
from station.care.pace import Pace, paced, unhurried
from station.care.saying import spot
from station.care.story_words import in_words

CONTAINER, LOT, POSITION, WORK_ORDER, PERSON, DAY = "container", "lot", "position", "work order", "person", "day"
STORE = "store"
KINDS = (CONTAINER, LOT, POSITION, WORK_ORDER, STORE, PERSON, DAY)
READING = "reading the record"
ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Told:
    """One thing that happened: when (aware UTC), by whom (badge, None for the program), where, and what in words.

    `taken_back` says that a person took it back afterwards.
    """

    at: datetime
    who: str | None
    where: str
    what: str
    taken_back: bool


def story(ledger: Ledger, kind: str, name: str, zone: ZoneInfo, pace: Pace = unhurried) -> tuple[Told, ...]:
    """Everything on record here about one thing, in the order of the record. KeyError for a kind that is not known."""
    found = {fact.key: fact for fact in _about(ledger, kind, name, zone, pace)}
    return tuple(_told(ledger, fact, zone) for fact in sorted(found.values(), key=lambda fact: fact.order))


def _about(ledger: Ledger, kind: str, name: str, zone: ZoneInfo, pace: Pace) -> Iterable[f.Fact]:
    if kind == PERSON:
        told = paced(ledger.facts(), pace, READING)
        return (*(fact for fact in told if _is_by(fact, name)), *_kept(ledger, f"person:{name}"))
    if kind == DAY:
        begins, ends = _bounds(date.fromisoformat(name), zone)
        return (fact for fact in paced(ledger.facts(), pace, READING) if begins <= fact.at < ends)
    return FINDERS[kind](ledger, name, pace)


def named(ledger: Ledger, text: str, zone: ZoneInfo, pace: Pace = unhurried) -> tuple[tuple[str, str], ...]:
    """What a person may mean by a text, as (kind, name): a whole number, lot, position, order, badge, name or date."""
    wanted = " ".join(text.split())
    known = trace.stays(ledger, pace)
    orders = {stay.work_order for stay in known}
    orders |= {place.work_order for place in ledger.positions.values()}
    people = [one.id for one in ledger.people.values() if wanted.casefold() in (one.id.casefold(), one.name.casefold())]
    found = [
        *((CONTAINER, name) for name in ledger.containers if name == wanted.upper().replace(" ", "-")),
        *((LOT, name) for name in trace.lots_named(ledger, wanted, known)),
        *((POSITION, wanted) for _ in {*ledger.positions, *_noted(ledger, POSITION)} & {wanted}),
        *((WORK_ORDER, wanted) for _ in orders & {wanted}),
        *((STORE, wanted) for _ in _stores(ledger, pace) & {wanted}),
        *((PERSON, name) for name in people),
        *((DAY, day.isoformat()) for day in _days(ledger, wanted, zone, pace)),
    ]
    return tuple(found)


def _days(ledger: Ledger, text: str, zone: ZoneInfo, pace: Pace) -> Iterator[date]:
    """The day that is meant, if anything happened on it."""
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return
    begins, ends = _bounds(day, zone)
    if any(begins <= fact.at < ends for fact in paced(ledger.facts(), pace, READING)):
        yield day


def _bounds(day: date, zone: ZoneInfo) -> tuple[datetime, datetime]:
    """When a plant day begins and ends."""
    first, after = (datetime.combine(found, time(), zone).astimezone(UTC) for found in (day, day + ONE_DAY))
    return first, after


def _is_by(fact: f.Fact, person: str) -> bool:
    return person in (fact.who, getattr(fact.body, "person", None), getattr(fact.body, "second", None))


def _of_container(ledger: Ledger, name: str, _pace: Pace) -> Iterator[f.Fact]:
    yield from dropwhile(is_clock_fact, ledger.history("container", name))
    yield from _alarms(ledger, name)
    yield from _kept(ledger, f"container:{name}")
    for lot in trace.lots_of(ledger, name):
        yield from ledger.history("lot", lot)


def _of_lot(ledger: Ledger, name: str, pace: Pace) -> Iterator[f.Fact]:
    yield from ledger.history("lot", name)
    yield from _kept(ledger, f"lot:{name}")
    for container in paced(tuple(ledger.containers), pace, READING):
        if name in trace.lots_of(ledger, container):
            yield from _of_container(ledger, container, pace)


def _of_position(ledger: Ledger, name: str, _pace: Pace) -> Iterator[f.Fact]:
    yield from dropwhile(is_clock_fact, ledger.history("position", name))
    yield from _alarms(ledger, name)
    yield from _kept(ledger, f"position:{name}")


def _of_work_order(ledger: Ledger, name: str, pace: Pace) -> Iterator[f.Fact]:
    """What names it, and all that happened at a position while its paste lay there for it."""
    told = paced(ledger.facts(), pace, READING)
    yield from (fact for fact in told if getattr(fact.body, "work_order", None) == name)
    for stay in trace.of_work_order(ledger, name, pace):
        for fact in _of_position(ledger, stay.position, pace):
            if stay.since <= fact.at and (stay.until is None or fact.at <= stay.until):
                yield fact


def _of_store(ledger: Ledger, name: str, pace: Pace) -> Iterator[f.Fact]:
    told = paced(ledger.facts(), pace, READING)
    yield from (fact for fact in told if name in (_store(fact), getattr(fact.body, "from_store", None)))
    yield from _kept(ledger, f"store:{name}")


def _store(fact: f.Fact) -> str:
    return getattr(fact.body, "store", None) or ""


def _stores(ledger: Ledger, pace: Pace) -> set[str]:
    return {*map(_store, paced(ledger.facts(), pace, READING)), *_noted(ledger, STORE)} - {""}


def _noted(ledger: Ledger, kind: str) -> set[str]:
    """What notes or files were kept of, of one kind."""
    return {about.partition(":")[2] for about in ledger.attached if about.startswith(f"{kind}:")}


FINDERS: dict[str, Callable[[Ledger, str, Pace], Iterator[f.Fact]]] = {
    CONTAINER: _of_container,
    LOT: _of_lot,
    POSITION: _of_position,
    WORK_ORDER: _of_work_order,
    STORE: _of_store,
}


def _alarms(ledger: Ledger, subject: str) -> Iterator[f.Fact]:
    for alarm in tuple(ledger.alarms.values()):
        if alarm.subject == subject:
            yield from ledger.history("alarm", alarm.id)
            yield from _kept(ledger, f"alarm:{alarm.id}")


def _kept(ledger: Ledger, about: str) -> Iterable[f.Fact]:
    return ledger.attached.get(about, ())


def _told(ledger: Ledger, fact: f.Fact, zone: ZoneInfo) -> Told:
    return Told(fact.at, fact.who, _where(fact), _what(ledger, fact, zone), ledger.is_undone(fact.key))


def _what(ledger: Ledger, fact: f.Fact, zone: ZoneInfo) -> str:
    if not isinstance(fact.body, f.Undone):
        return in_words(fact.body, zone)
    back = ledger.fact(fact.body.fact)
    what = in_words(back.body, zone) if back is not None else "something this station has not heard of"
    return f"Taken back: {what}{f' ({fact.body.reason})' if fact.body.reason else ''}"


def _where(fact: f.Fact) -> str:
    said = (getattr(fact.body, name, "") for name in ("position", "where", "store"))
    place = next((name for name in said if name), "")
    return spot(place) if place else f"station {fact.station}"
