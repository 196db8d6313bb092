"""A copy of a station to try a scan on: what grows is copied, what never changes is shared."""

from typing import TypeVar

from station.care.ledger import Ledger
from station.rehearsal.clock import SetClock
from station.services.due_list import DueList
from station.services.memory import MemoryJournal
from station.services.people import Doorkeeper
from station.services.station import Station

GROW = (Station, Ledger, DueList, Doorkeeper, MemoryJournal, SetClock)
Thing = TypeVar("Thing")


def copy_of(thing: Thing, known: dict[int, object] | None = None) -> Thing:
    """The thing with copies of everything in it that may change; one that is in it twice is copied once."""
    seen = known if known is not None else {}
    if id(thing) not in seen:
        seen[id(thing)] = _copied(thing, seen)
    return seen[id(thing)]  # type: ignore[return-value]  # a copy is of the type of what it copies


def _copied(thing: object, seen: dict[int, object]) -> object:
    if isinstance(thing, dict):
        return {key: copy_of(value, seen) for key, value in thing.items()}
    if isinstance(thing, list):
        return [copy_of(value, seen) for value in thing]
    if isinstance(thing, set):
        return set(thing)
    if not isinstance(thing, GROW):
        return thing
    other = object.__new__(type(thing))
    for name, value in vars(thing).items():
        setattr(other, name, copy_of(value, seen))
    return other
