"""Who works here and who may decide: how people are added, changed and taken off, and when a PIN may be tried."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from station.care import facts as f
from station.care.context import Context
from station.care.floor import Floor
from station.care.moments import NOTHING
from station.care.refused import Refused
from station.care.state import Somebody
from station.care.words import Role

DECIDES = (Role.LEAD, Role.ENGINEER)
MOST_NAME = 40
_BADGE = re.compile(r"[A-Z0-9][A-Z0-9.-]{0,15}")  # what a code can carry and a person can read aloud
NEAR_TRAINING_DAYS = 30
# How long a scan of a shift lead's badge stands for the lead where no PIN can be asked. Our own choice, no source:
# time to look at a label and scan it, too short for the lead to be at another line.
BADGE_COUNTS_FOR = timedelta(minutes=2)
_PIN = re.compile(r"[0-9]{4,8}")
# How long after the n-th wrong PIN in a row the next one is looked at. Common practice, no source.
WAITS = (timedelta(0), timedelta(0), timedelta(seconds=5), timedelta(seconds=15), timedelta(seconds=60))
LOCKED_FOR = timedelta(minutes=15)


class PeopleRefused(Refused):
    """It can't be recorded as told; the sentence says what to mend."""


@dataclass(frozen=True, slots=True)
class PersonTold:
    """What is said of somebody. `pin` is the hash of a new PIN; None keeps the one there is."""

    person: str
    name: str
    roles: tuple[Role, ...]
    pin: str | None
    training_until: date | None
    left: bool = False


def called(people: Mapping[str, Somebody], badge: str) -> str:
    """`Kim Hazel (P30)`; the badge alone of somebody not on record."""
    known = people.get(badge)
    return f"{known.name} ({badge})" if known is not None else badge


def badge_shown(floor: Floor, context: Context, role: Role) -> bool:
    """Whether somebody who may decide what `role` may scanned a badge at this place a moment ago.

    Being badged in is not enough: whoever was here first stays so until the next badge, near the line or not.
    """
    at = context.badged_at
    shown = at is not None and NOTHING <= floor.now - at <= BADGE_COUNTS_FOR
    return shown and floor.person_has(context.person, role)


def pin_wait(floor: Floor, person: Somebody) -> timedelta:
    """How long until this badge's PIN is looked at again; nothing where it may be tried now."""
    if person.wrong_at is None:
        return NOTHING
    wait = WAITS[person.wrong_pins] if person.wrong_pins < len(WAITS) else LOCKED_FOR
    return max(NOTHING, person.wrong_at + wait - floor.moment.ages)


def refuse_weak_pin(pin: str) -> None:
    """PeopleRefused for a PIN that is too short, or one of the first that anybody would try."""
    if _PIN.fullmatch(pin) is None:
        raise PeopleRefused("A PIN has 4 to 8 digits. Choose another.")
    steps = {int(after) - int(before) for before, after in pairwise(pin)}
    if steps in ({0}, {1}, {-1}):
        raise PeopleRefused("That PIN is too easy to guess. Choose digits that are no row and not all the same.")


def set_person(floor: Floor, told: PersonTold, by: str) -> f.PersonSet:
    """The fact that adds somebody, changes somebody, or lets somebody go. Raises PeopleRefused."""
    known = floor.ledger.people.get(told.person)
    _may(floor, known, told, by)
    _fits(told)
    pin = told.pin if told.pin is not None else known.pin if known is not None else None
    decides = not told.left and any(role in DECIDES for role in told.roles)
    if decides and pin is None and not (floor.rules.demo and known is not None):
        raise PeopleRefused("A shift lead or process engineer needs a PIN. Type one twice.")
    _someone_left(floor, told)
    return f.PersonSet(
        person=told.person,
        name=told.name.strip(),
        roles=told.roles,
        pin=None if told.left else pin,
        left=told.left,
        training_until=told.training_until,
    )


def _may(floor: Floor, known: Somebody | None, told: PersonTold, by: str) -> None:
    """A shift lead minds the operators; whoever decides is an engineer's matter."""
    if floor.person_has(by, Role.ENGINEER):
        return
    touched = {*told.roles, *(known.roles if known is not None and not known.left else ())}
    if touched & set(DECIDES):
        raise PeopleRefused("Only a process engineer may add or change a shift lead or a process engineer.")


def _fits(told: PersonTold) -> None:
    if _BADGE.fullmatch(told.person) is None:
        raise PeopleRefused("The badge id has capital letters, digits, points and hyphens, at most 16. Choose another.")
    if not told.name.strip():
        raise PeopleRefused("The name is missing.")
    if len(told.name.strip()) > MOST_NAME:
        raise PeopleRefused(f"The name is longer than {MOST_NAME} characters; a badge has no room for it. Shorten it.")
    if not told.roles:
        raise PeopleRefused("Say what this person may do: operator, shift lead or process engineer.")


def _someone_left(floor: Floor, told: PersonTold) -> None:
    """The last one who can clear an alarm, or mind the people, must not take that away."""
    for role in _given_up(floor, told):
        others = (found for found in floor.ledger.people.values() if found.id != told.person and not found.left)
        if not any(role in found.roles for found in others):
            raise PeopleRefused(f"{told.name.strip()} is the last {role.value} here. Add another one first.")


def _given_up(floor: Floor, told: PersonTold) -> Iterator[Role]:
    known = floor.ledger.people.get(told.person)
    if known is not None and not known.left:
        yield from (role for role in DECIDES if role in known.roles and (told.left or role not in told.roles))


def training_note(floor: Floor, person: Somebody) -> str:
    """What to say of a training that is over or nearly so; nothing where it is not."""
    until = person.training_until
    if until is None:
        return ""
    left = (until - floor.now.astimezone(floor.zone).date()).days
    day = f"{until.day} {until:%B} {until.year}"
    if left < 0:
        return f"Training was valid until {day}: tell the shift lead."
    return f"Training is valid until {day}." if left <= NEAR_TRAINING_DAYS else ""
