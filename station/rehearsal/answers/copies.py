"""A copy of a station to try a scan on: what grows is copied, what never changes is shared."""

from dataclasses import dataclass

from station.care.clock_book import ClockBook
from station.care.clock_story import Corrections
from station.care.cold_readings_record import ColdRecord
from station.care.ledger import Ledger
from station.care.rulebook import Rulebook
from station.care.spec_story import SpecificationStory
from station.rehearsal.clock import SetClock
from station.services.due_list import DueList
from station.services.memory import MemoryEvidence, MemoryJournal
from station.services.numbering import Numbering
from station.services.people import Doorkeeper
from station.services.printouts import Printouts
from station.services.reading import Reader
from station.services.station import Station

GROW = (
    *(Station, Ledger, ColdRecord, Rulebook, DueList, Doorkeeper, Reader, Printouts, Numbering),
    *(MemoryJournal, MemoryEvidence, SetClock, ClockBook, Corrections, SpecificationStory),
)


@dataclass(frozen=True, slots=True)
class Desk:
    """A station with its clock and its journal."""

    station: Station
    clock: SetClock
    journal: MemoryJournal

    def copy(self) -> "Desk":
        """The same again, to go another way."""
        seen: dict[int, object] = {}
        for part in (self.station, self.clock, self.journal):
            _copy(part, seen)
        station, clock, journal = (seen[id(part)] for part in (self.station, self.clock, self.journal))
        if isinstance(station, Station) and isinstance(clock, SetClock) and isinstance(journal, MemoryJournal):
            return Desk(station, clock, journal)
        raise AssertionError("a copy is of the type of what it copies")


def _copy(thing: object, seen: dict[int, object]) -> object:
    """A copy of everything in a thing that may change; what is in it twice is copied once."""
    if id(thing) not in seen:
        seen[id(thing)] = _copied(thing, seen)
    return seen[id(thing)]


def _copied(thing: object, seen: dict[int, object]) -> object:
    if isinstance(thing, dict):
        return {key: _copy(value, seen) for key, value in thing.items()}
    if isinstance(thing, list):
        return [_copy(value, seen) for value in thing]
    if isinstance(thing, set):
        return set(thing)
    if not isinstance(thing, GROW):
        return thing
    other = object.__new__(type(thing))
    for name, value in vars(thing).items():
        setattr(other, name, _copy(value, seen))
    return other
