"""What is said of people at the desk: somebody comes, changes, goes, or chooses another PIN."""

from dataclasses import dataclass, field
from datetime import date

from station.care import facts as f
from station.care.answers import plain
from station.care.floor import Floor
from station.care.people import PeopleRefused, PersonTold, set_person
from station.care.state import Somebody
from station.care.verdict import Decision, Verdict
from station.care.words import Role, Word
from station.services.badges import lead_or_engineer
from station.services.outcome import Outcome
from station.services.people import hashed
from station.services.station import Proof, Station


@dataclass(frozen=True, slots=True)
class PersonWord:
    """Somebody as told at the desk. `pin` are the digits of a new PIN, empty to keep the one there is."""

    person: str
    name: str
    roles: tuple[Role, ...]
    training_until: date | None = None
    pin: str = field(default="", repr=False)
    left: bool = False


def record_person(station: Station, word: PersonWord, proof: Proof) -> Outcome:
    """Add, change or let go somebody: a shift lead for operators, a process engineer for everybody.

    Raises Refusal and PeopleRefused; nothing is recorded then.
    """
    pin = hashed(word.pin, word.person, station.keys) if word.pin else None
    told = PersonTold(word.person, word.name, word.roles, pin, word.training_until, word.left)

    def decide(floor: Floor, by: str) -> Decision:
        known = floor.ledger.people.get(told.person)
        return Decision(_said(told, new=known is None or known.left), (set_person(floor, told, by),))

    return station.decided(proof, lead_or_engineer(station, proof), decide)


def _said(told: PersonTold, *, new: bool) -> Verdict:
    if told.left:
        why, todo = f"{told.name.strip()} no longer works here.", "Take back the badge."
        return plain(Word.DONE, "person-left", "TAKEN OFF", why, todo)
    roles = " and ".join(role.value for role in told.roles)
    todo = "Print the badge: Cards and tags, Badges." if new else "Go on."
    why = f"{told.name.strip()} works here as {roles}."
    return plain(Word.DONE, "person-set", told.name.strip().upper(), why, todo)


def change_pin(station: Station, proof: Proof, new: str) -> Outcome:
    """Somebody proves who they are and chooses another PIN. Raises Refusal and PeopleRefused.

    It has to be another one: what was kept of the old PIN stays in the record, perhaps without a key.
    """
    pin = hashed(new, proof.badge, station.keys)

    def decide(floor: Floor, by: str) -> Decision:
        if new == proof.pin:
            raise PeopleRefused("That is the PIN you have already. Choose another.")
        known = floor.ledger.people[by]
        verdict = plain(Word.DONE, "pin-changed", "PIN CHANGED", "The old one proves nothing any more.", "Go on.")
        return Decision(verdict, (_with_pin(known, pin),))

    return station.decided(proof, None, decide)


def _with_pin(known: Somebody, pin: str) -> f.PersonSet:
    return f.PersonSet(known.id, known.name, known.roles, pin, left=False, training_until=known.training_until)
