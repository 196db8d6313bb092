"""Facts about the people of a site: who they are, and what became of a PIN they gave."""

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from station.care.words import Role


@dataclass(frozen=True, slots=True)
class PersonSet:
    """A person was added, changed or left. `pin` is what is kept of the PIN, never the PIN itself: an argon2id hash
    by a site key, as `services.people` has it, or a plain one, as those from the settings are.

    `training_until` is the last day the person's training is valid; None where the site keeps no such date."""

    NAME: ClassVar[str] = "person-set"
    person: str
    name: str
    roles: tuple[Role, ...]
    pin: str | None
    left: bool
    training_until: date | None = None


@dataclass(frozen=True, slots=True)
class PinRefused:
    """A wrong PIN was given with a badge. It is nobody's proof, so it says who was meant and not who it was."""

    NAME: ClassVar[str] = "pin-refused"
    person: str


@dataclass(frozen=True, slots=True)
class PinProved:
    """The right PIN was given after wrong ones; the count begins anew."""

    NAME: ClassVar[str] = "pin-proved"
    person: str


@dataclass(frozen=True, slots=True)
class BadgesPrinted:
    """Badges were drawn for printing, of these people; who had it done stands in the envelope."""

    NAME: ClassVar[str] = "badges-printed"
    people: tuple[str, ...]
