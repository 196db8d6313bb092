"""GS1 element strings: split at their identifiers, never quietly where a separator seems to be missing."""

from collections.abc import Iterator
from datetime import date, timedelta
from typing import TypeAlias

from station.care.makers_label import Carrier, MakersLabel
from station.labels.makers.damaged import DamagedLabel
from station.labels.makers.dates import DateForm, day_of, plausible
from station.labels.makers.filling import Filling
from station.labels.makers.gs1_ids import DATES, Gs1Id, good_check_digit, id_at

SEPARATOR = "\x1d"
CHECKED = ("00", "01", "02")
BEST_BEFORE = "15"
KILOGRAMS_PER_POUND = 0.45359237  # exact: international yard and pound agreement of 1959
_PLAIN_FIELDS = {"10": "lot", "21": "serial", "00": "package", "30": "quantity", "37": "quantity", "400": "order"}
_ITEMS = {"01": "gtin", "02": "gtin of the contents", "240": "further number", "241": "customer's part"}

Swallowed: TypeAlias = tuple[str, tuple[tuple[Gs1Id, str], ...]]
"""A shorter value of a field, and the elements that would follow it."""


def read_elements(text: str, today: date) -> MakersLabel:
    """The label these elements say; DamagedLabel with the reason otherwise. `text` is without symbology identifier."""
    filling = Filling(today)
    fill(filling, text)
    return filling.label(Carrier.GS1, text)


def fill(filling: Filling, text: str) -> None:
    """Say all that the elements say."""
    elements = tuple(split(text))
    given = {known.code for known, _ in elements if known is not None}
    for known, value in elements:
        if known is None:
            filling.unknown(value)
            continue
        swallowed = () if known.fixed else swallowed_in(known, value, given, filling.today)
        if swallowed:
            _ask_where_it_ends(filling, known, value, swallowed)
        else:
            say_element(filling, known, value)
    best_before = next((value for known, value in elements if known is not None and known.code == BEST_BEFORE), "")
    ask_whether_it_expires(filling, best_before)


def ask_whether_it_expires(filling: Filling, best_before: str) -> None:
    """A best-before date speaks of quality: where no expiry is given, a person says whether it is one."""
    day = day_of(best_before, DateForm.SHORT_YEAR_FIRST, filling.today, day_zero=True) if best_before else None
    if day is not None and not filling.speaks_of("expires"):
        sentence = f"The label gives a best-before date ({BEST_BEFORE}) and no expiry. Is it the expiry?"
        filling.ask("expires", sentence, (day.isoformat(),))


def split(text: str) -> Iterator[tuple[Gs1Id | None, str]]:
    """The elements in order; what begins with no known identifier goes, whole, up to the next separator."""
    rest = text.strip(SEPARATOR)
    while rest:
        known = id_at(rest)
        if known is not None and known.fixed:
            end = len(known.code) + known.most
            yield known, rest[len(known.code) : end]
            rest = rest[end:].lstrip(SEPARATOR)
            continue
        piece, _, rest = rest.partition(SEPARATOR)
        rest = rest.lstrip(SEPARATOR)
        yield (known, piece[len(known.code) :]) if known is not None else (None, piece)


def swallowed_in(field: Gs1Id, value: str, given: set[str], today: date) -> tuple[Swallowed, ...]:
    """Where a field may really have ended: each shorter value with the elements that would follow it.

    Only dates give a lost separator away, for only they can be told from letters and digits of a lot.
    """
    found = []
    for end in range(1, len(value)):
        known = id_at(value[end:]) if field.fits(value[:end]) else None
        if known is None or known.code not in DATES or known.code in given:
            continue
        elements = tuple(split(value[end:]))
        day = day_of(elements[0][1], DateForm.SHORT_YEAR_FIRST, today, day_zero=True)
        sound = tuple((one, data) for one, data in elements if one is not None and one.fits(data))
        if plausible(day, today) and len(sound) == len(elements):
            found.append((value[:end], sound))
    return tuple(found)


def _ask_where_it_ends(filling: Filling, known: Gs1Id, value: str, swallowed: tuple[Swallowed, ...]) -> None:
    """Nobody guesses where the field ended: it and all it may have swallowed are asked."""
    whole = (value,) if known.fits(value) else ()
    choices = (*(short for short, _ in swallowed), *whole)
    sentence = f"A separator may be missing after the {known.title}: {value} holds what looks like a date."
    filling.ask(_field_of(known), sentence, choices)
    inner: dict[str, tuple[str, ...]] = {}
    for _, elements in swallowed:
        for one, data in elements:
            inner[_field_of(one)] = (*inner.get(_field_of(one), ()), _said(one, data, filling.today))
    for field, readings in inner.items():
        why = f"It may stand inside the {known.title} {value}, where a separator may be missing."
        filling.ask(field, why, tuple(dict.fromkeys(readings)))


def _field_of(known: Gs1Id) -> str:
    dates = {"11": "made", "17": "expires"}
    return dates.get(known.code) or _PLAIN_FIELDS.get(known.code) or _ITEMS.get(known.code) or known.title


def _said(known: Gs1Id, value: str, today: date) -> str:
    if known.code not in DATES:
        return value
    day = day_of(value, DateForm.SHORT_YEAR_FIRST, today, day_zero=True)
    return day.isoformat() if day is not None else value


def say_element(filling: Filling, known: Gs1Id, value: str) -> None:
    """Say one element; DamagedLabel if its data cannot be right."""
    code = known.code
    if not known.fits(value):
        raise DamagedLabel(f"The {known.title} on this label ({code}) is not whole: {value!r}.")
    if code in CHECKED and not good_check_digit(value):
        raise DamagedLabel(f"The check digit of the {known.title} {value} is wrong.")
    if code in DATES:
        _say_date(filling, code, known.title, value)
    elif code == "7003":
        _say_expiry_with_time(filling, value)
    elif code == "8008":
        filling.say("made", _day(known.title, value[:6], filling.today))
        filling.extra(code, known.title, value)
    elif code[:3] in ("310", "320"):
        filling.say("net_mass_g", _grams(code, value))
    elif code in _ITEMS:
        filling.item(_ITEMS[code], value)
    elif code in _PLAIN_FIELDS:
        filling.say(_PLAIN_FIELDS[code], str(int(value)) if code in ("30", "37") else value)
    else:
        filling.extra(code, known.title, value)


def _grams(code: str, value: str) -> float:
    kilograms = 1.0 if code.startswith("310") else KILOGRAMS_PER_POUND
    return round(int(value) * kilograms * 1000.0 / 10.0 ** int(code[3]), 3)


def _day(title: str, digits: str, today: date, *, day_zero: bool = False) -> date:
    day = day_of(digits, DateForm.SHORT_YEAR_FIRST, today, day_zero=day_zero)
    if day is None:
        raise DamagedLabel(f"There is no such day as {digits} ({title}).")
    return day


def _say_date(filling: Filling, code: str, title: str, value: str) -> None:
    day = _day(title, value, filling.today, day_zero=True)
    if code in ("11", "17"):
        filling.say(DATES[code], day)
    else:
        filling.extra(code, title, day.isoformat())


def _say_expiry_with_time(filling: Filling, value: str) -> None:
    """The station counts whole days; a day that ends early is asked, not stretched."""
    day = _day("expires, with the time", value[:6], filling.today)
    hours, minutes = int(value[6:8]), int(value[8:])
    if (hours, minutes) == (99, 99):  # the standard's way of giving no time
        filling.say("expires", day)
        return
    if hours > 23 or minutes > 59:
        raise DamagedLabel(f"There is no such time as {value[6:8]}:{value[8:]} (expires).")
    filling.extra("7003", "expires, with the time", f"{day.isoformat()} {value[6:8]}:{value[8:]}")
    if (hours, minutes) == (23, 59):
        filling.say("expires", day)
        return
    sentence = f"It expires on {day.isoformat()} at {value[6:8]}:{value[8:]}; this station counts whole days."
    filling.ask("expires", sentence, ((day - timedelta(days=1)).isoformat(), day.isoformat()))
