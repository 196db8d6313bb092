"""Kinds of setting: how the written value of one key becomes a typed value, or an Unfit that says why not."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from difflib import get_close_matches
from enum import StrEnum
from typing import Any, Generic, TypeVar

from station.settings import quantities
from station.settings.faults import printable
from station.settings.quantities import Unfit, written

T = TypeVar("T")
E = TypeVar("E", bound=StrEnum)
N = TypeVar("N", int, float)

MINUTE = timedelta(minutes=1)
SECOND = timedelta(seconds=1)
_ID = re.compile(r"[A-Z0-9][A-Z0-9.-]{0,15}")
_TIME_OF_DAY = re.compile(r"(?:[01][0-9]|2[0-3]):[0-5][0-9]")


@dataclass(frozen=True, slots=True)
class Field(Generic[T]):
    """A kind of setting. `form` says how it is written; `placeholder` stands in where a fault was found.

    A placeholder never leaves the reader: one fault anywhere and nothing is handed out.
    """

    form: str
    parse: Callable[[object], T]
    placeholder: T
    secret: bool = False


def shown_value(value: object) -> str:
    """A value about as it stands in the file, short enough for one line."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list):
        return "[" + printable(", ".join(shown_value(item) for item in value)) + "]"
    if isinstance(value, Mapping):
        return "{...}"
    if isinstance(value, int) and abs(value) > 10**18:
        return "a huge figure"
    return f'"{printable(value)}"' if isinstance(value, str) else str(value)


def nearest(name: str, known: Any) -> str | None:
    """The closest of the known names, blind to case; None where none is close."""
    by_case = {str(other).lower(): str(other) for other in known}
    found = get_close_matches(name.lower(), by_case, 1, 0.5)
    return by_case[found[0]] if found else None


def listed(names: Any) -> str:
    """Names for a sentence, at most a dozen of them."""
    every = [str(name) for name in names]
    return ", ".join(every[:12]) + (", ..." if len(every) > 12 else "")


def _string(value: object, form: str) -> str:
    if isinstance(value, str):
        return value
    if isinstance(value, int | float) and not isinstance(value, bool):
        raise Unfit("a bare figure is not understood here", f"Write {form}, in quotes")
    raise Unfit("this is no text", f"Write {form}, in quotes")


def text(most: int = 60) -> Field[str]:
    """One line of text, not empty, at most `most` characters."""
    form = f'text such as "Line 2", at most {most} characters'

    def parse(value: object) -> str:
        said = _string(value, form)
        if not said.strip():
            raise Unfit("it is empty", f"Write {form}")
        if len(said) > most or not said.isprintable():
            raise Unfit(f"it is longer than {most} characters or more than one line", f"Write {form}")
        return said.strip()

    return Field(form, parse, "")


def identifier() -> Field[str]:
    """An id: it is printed in codes that know no lower case, and read aloud."""
    form = "an id of capital letters A-Z, digits, points and hyphens, at most 16 characters"

    def parse(value: object) -> str:
        said = _string(value, form)
        if _ID.fullmatch(said) is None:
            upper = said.strip().upper().replace(" ", "-")
            raise Unfit("it can't be an id", f"Write {form}", upper if _ID.fullmatch(upper) else None)
        return said

    return Field(form, parse, "")


def one_of(names: tuple[str, ...]) -> Field[str]:
    """One of a closed list of texts."""
    form = f"one of {listed(names)}"

    def parse(value: object) -> str:
        said = _string(value, form)
        if said not in names:
            raise Unfit("there is no such choice", f"Write {form}", nearest(said, names))
        return said

    return Field(form, parse, names[0])


def choice(kind: type[E]) -> Field[E]:
    """One member of a closed set, by its value."""
    by_name = one_of(tuple(member.value for member in kind))
    return Field(by_name.form, lambda value: kind(by_name.parse(value)), next(iter(kind)))


def several(item: Field[T]) -> Field[tuple[T, ...]]:
    """A list of at least one item, none of them twice."""
    form = f"a list in square brackets, each item {item.form}"

    def parse(value: object) -> tuple[T, ...]:
        if not isinstance(value, list):
            raise Unfit("this is no list", f"Write {form}")
        if not value:
            raise Unfit("the list is empty", f"Write {form}")
        found = tuple(item.parse(entry) for entry in value)
        if len(set(found)) < len(found):
            raise Unfit("the same item stands in it twice", "Take one of them out")
        return found

    return Field(form, parse, ())


def flag() -> Field[bool]:
    """Yes or no."""
    form = "true or false, without quotes"

    def parse(value: object) -> bool:
        if not isinstance(value, bool):
            raise Unfit("this is neither true nor false", f"Write {form}")
        return value

    return Field(form, parse, False)


def whole(least: int, most: int) -> Field[int]:
    """A whole number from `least` to `most`, without quotes."""
    form = f"a whole number from {least} to {most}, without quotes"

    def parse(value: object) -> int:
        if not isinstance(value, int) or isinstance(value, bool):
            raise Unfit("this is no whole number", f"Write {form}")
        return _within(value, least, most, str)

    return Field(form, parse, least)


def duration(least: timedelta, most: timedelta, step: timedelta = MINUTE) -> Field[timedelta]:
    """A length of time within bounds, in whole steps (the label minute decides, so limits step by minutes)."""

    def parse(value: object) -> timedelta:
        span = quantities.duration(_string(value, quantities.DURATION_FORM))
        if span % step:
            raise Unfit(f"it is not a whole number of steps of {written(step)}", f"Round it to {written(step)}")
        if not least <= span <= most:
            raise Unfit(_outside(written(least), written(most)), "Check the figure and its unit")
        return span

    return Field(quantities.DURATION_FORM, parse, timedelta(0))


def allowed(least: timedelta, most: timedelta) -> Field[timedelta | None]:
    """A length of time within bounds, or the words for what this paste is not to be used for."""
    form = f'"not allowed", or {quantities.DURATION_FORM}'
    within = duration(least, most)

    def parse(value: object) -> timedelta | None:
        if _string(value, form) == "not allowed":
            return None
        try:
            return within.parse(value)
        except Unfit as unfit:
            raise Unfit(unfit.reason, f'{unfit.remedy}, or "not allowed"', unfit.nearest) from unfit

    return Field(form, parse, None)


def celsius(least: float, most: float) -> Field[float]:
    """A temperature in degrees Celsius."""
    return _measure(quantities.celsius, 'a temperature such as "5 C"', "C", least, most)


def grams(least: float, most: float) -> Field[float]:
    """A mass in grams."""
    return _measure(quantities.grams, 'a mass such as "500 g"', "g", least, most)


def percent(least: float, most: float) -> Field[float]:
    """A share or a relative humidity in percent."""
    return _measure(quantities.percent, 'a share such as "40 %"', "%", least, most)


def _measure(read: Callable[[str], float], form: str, unit: str, least: float, most: float) -> Field[float]:
    def parse(value: object) -> float:
        return _within(read(_string(value, form)), least, most, lambda figure: f"{figure:g} {unit}")

    return Field(form, parse, 0.0)


def _within(figure: N, least: N, most: N, told: Callable[[N], str]) -> N:
    if not least <= figure <= most:
        raise Unfit(_outside(told(least), told(most)), "Check the figure and its unit")
    return figure


def _outside(least: str, most: str) -> str:
    return f"it is outside {least} to {most}"


def time_of_day() -> Field[str]:
    """A plant time such as "06:00"."""
    form = 'a time of day from "00:00" to "23:59"'

    def parse(value: object) -> str:
        said = _string(value, form)
        if _TIME_OF_DAY.fullmatch(said) is None:
            raise Unfit("this is no time of day", f"Write {form}")
        return said

    return Field(form, parse, "00:00")


def day() -> Field[date]:
    """A date as ISO 8601 writes it; no other form is guessed at."""
    form = 'a date as "2027-03-31"'

    def parse(value: object) -> date:
        if isinstance(value, date) and not isinstance(value, datetime):
            return value
        try:
            return date.fromisoformat(_string(value, form))
        except ValueError as fault:
            raise Unfit("this is no date", f"Write {form}") from fault

    return Field(form, parse, date(2000, 1, 1))


def some_months() -> Field[int]:
    """A number of months from 1 to 60, written as one says it."""
    form = 'months such as "3 months"'

    def parse(value: object) -> int:
        return _within(quantities.months(_string(value, form)), 1, 60, "{} months".format)

    return Field(form, parse, 1)


def shelf_months() -> Field[int | None]:
    """Months from the date of manufacture, or the words for a paste whose label bears its expiry date."""
    form = '"as labelled", or months from manufacture such as "6 months"'

    def parse(value: object) -> int | None:
        said = _string(value, form)
        return None if said == "as labelled" else _within(quantities.months(said), 1, 60, "{} months".format)

    return Field(form, parse, None)
