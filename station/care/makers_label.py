"""What a maker's label says of the paste it stands on: plain data, and what of it a person has to be asked.

A field that is in question stays empty until a person has said which reading is right.
"""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class Carrier(StrEnum):
    """The form of data a maker's label was read from."""

    GS1 = "GS1 element string"
    ENVELOPE = "ISO/IEC 15434 message"
    DIGITAL_LINK = "GS1 Digital Link"
    PLAIN = "plain code of this site's pattern"


@dataclass(frozen=True, slots=True)
class Question:
    """What a person has to be asked: the field, why it is not certain, and the readings there are."""

    field: str
    sentence: str
    choices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Extra:
    """Something known that this station has no field for: its identifier, what it is, and what it says."""

    code: str
    title: str
    value: str


@dataclass(frozen=True, slots=True)
class MakersLabel:
    """One maker's label. `items` are (kind of number, number); `unknown` is kept as it was read.

    `made` and `expires` are days at the plant, `net_mass_g` is grams; what the label does not say is empty.
    """

    carrier: Carrier
    text: str
    lot: str = ""
    items: tuple[tuple[str, str], ...] = ()
    quantity: str = ""
    unit: str = ""
    made: date | None = None
    expires: date | None = None
    serial: str = ""
    package: str = ""
    net_mass_g: float | None = None
    supplier: str = ""
    order: str = ""
    extras: tuple[Extra, ...] = ()
    unknown: tuple[str, ...] = ()
    questions: tuple[Question, ...] = ()

    @property
    def besides(self) -> tuple[str, ...]:
        """What it says that this station has no field for, known by name or not."""
        return (*(f"{extra.title} {extra.value}" for extra in self.extras), *self.unknown)

    @property
    def fields(self) -> dict[str, str]:
        """Field by field, only what is filled in; days in ISO 8601."""
        said = {
            "lot": self.lot,
            **dict(self.items),
            "quantity": f"{self.quantity} {self.unit}".strip(),
            "made": self.made.isoformat() if self.made else "",
            "expires": self.expires.isoformat() if self.expires else "",
            "serial": self.serial,
            "package": self.package,
            "net_mass": f"{self.net_mass_g:g} g" if self.net_mass_g is not None else "",
            "supplier": self.supplier,
            "order": self.order,
        }
        return {name: value for name, value in said.items() if value}
