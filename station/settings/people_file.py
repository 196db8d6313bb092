"""people.toml: who may do what. A PIN is kept only as an argon2id hash; plain digits are for demos.

The hash is a plain one, made where no site key is at hand. It goes into the record as it stands here, so whoever gets
the record or its export can find a short PIN from it, until the person chooses another one at a station.
"""

import re

import argon2
from argon2.exceptions import InvalidHashError

from station.care.words import Role
from station.services.site import Person
from station.settings import fields
from station.settings.fields import Field
from station.settings.parts import Entry
from station.settings.quantities import Unfit
from station.settings.table import Table

_PLAIN = re.compile(r"[0-9]{4,8}")
DECIDES = (Role.LEAD, Role.ENGINEER)


def read_people(root: Table) -> list[Entry[Person]]:
    """The people of the site."""
    found = [Entry(_person(table), table) for table in root.tables("person")]
    root.close()
    return found


def plain_pin(pin: str | None) -> bool:
    """Whether a PIN stands in the file as digits."""
    return pin is not None and _PLAIN.fullmatch(pin) is not None


def _person(table: Table) -> Person:
    roles = table.read("roles", fields.several(fields.choice(Role)))
    decides = any(role in DECIDES for role in roles)
    person = Person(
        id=table.read("id", fields.identifier()),
        name=table.read("name", fields.text(40)),
        roles=roles,
        pin=table.read("pin", _pin()) if decides else table.read_optional("pin", _pin()),
        training_until=table.read_optional("training_until", fields.day()),
    )
    table.close()
    return person


def _pin() -> Field[str]:
    form = "the argon2id hash of the PIN, or in a demo 4 to 8 digits in quotes"

    def parse(value: object) -> str:
        if not isinstance(value, str):
            raise Unfit("this is no text", f"Write {form}")
        if plain_pin(value) or _argon2id(value):
            return value
        raise Unfit("this is no argon2id hash", f"Write {form}")

    return Field(form, parse, "", secret=True)


def _argon2id(value: str) -> bool:
    try:
        return argon2.extract_parameters(value).type is argon2.Type.ID
    except (InvalidHashError, ValueError):
        return False
