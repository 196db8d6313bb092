"""Fills in a maker's label piece by piece; two pieces that contradict each other become a question."""

from dataclasses import fields
from datetime import date
from typing import Any

from station.care.makers_label import Carrier, Extra, MakersLabel, Question

_TITLES = {
    "lot": "lot",
    "quantity": "quantity",
    "unit": "unit",
    "made": "date of manufacture",
    "expires": "expiry date",
    "serial": "serial number",
    "package": "number of the package",
    "net_mass_g": "net mass",
    "supplier": "supplier",
    "order": "order",
}


def shown(value: object) -> str:
    """A value as a person reads it."""
    return value.isoformat() if isinstance(value, date) else str(value)


class Filling:
    """What a label said so far. `today` is the day at the plant, for years of two digits."""

    def __init__(self, today: date) -> None:
        self.today = today
        self._said: dict[str, list[object]] = {}
        self._items: dict[str, list[str]] = {}
        self._extras: list[Extra] = []
        self._unknown: list[str] = []
        self._questions: list[Question] = []

    def say(self, field: str, value: object) -> None:
        """The label says this of a field of `MakersLabel`."""
        said = self._said.setdefault(field, [])
        if value not in said:
            said.append(value)

    def item(self, kind: str, number: str) -> None:
        """The label gives this number for what it stands on."""
        numbers = self._items.setdefault(kind, [])
        if number not in numbers:
            numbers.append(number)

    def extra(self, code: str, title: str, value: str) -> None:
        """Something known without a field of its own."""
        self._extras.append(Extra(code, title, value))

    def unknown(self, raw: str) -> None:
        """Something not known, kept as it came."""
        self._unknown.append(raw)

    def ask(self, field: str, sentence: str, choices: tuple[str, ...] = ()) -> None:
        """A person has to say; the field stays empty."""
        self._questions.append(Question(field, sentence, choices))

    def speaks_of(self, field: str) -> bool:
        """Whether the label says this field, or it is asked already."""
        return field in self._said or any(question.field == field for question in self._questions)

    def label(self, carrier: Carrier, text: str) -> MakersLabel:
        """The label as far as it is certain."""
        for field, values in self._said.items():
            if len(values) > 1:
                choices = tuple(map(shown, values))
                self.ask(field, f"The label gives more than one {_TITLES[field]}: {' and '.join(choices)}.", choices)
        asked = {question.field for question in self._questions}
        sure: dict[str, Any] = {
            name: values[0] for name, values in self._said.items() if name not in asked and name in _FIELDS
        }
        return MakersLabel(
            carrier,
            text,
            items=tuple((kind, number) for kind, numbers in self._items.items() for number in numbers),
            extras=tuple(self._extras),
            unknown=tuple(self._unknown),
            questions=tuple(self._questions),
            **sure,
        )


_FIELDS = {field.name for field in fields(MakersLabel)}
