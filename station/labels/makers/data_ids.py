"""ANSI MH10.8.2 data identifiers: what each one says of the paste, and which of them must be asked about."""

import re
from datetime import date

from station.labels.makers.damaged import DamagedLabel
from station.labels.makers.dates import LONG_FORMS, DateForm, day_of, plausible, readings
from station.labels.makers.filling import Filling

_FORM = re.compile(r"([0-9]{0,3}[A-Z])(.+)", re.DOTALL)
_FIELDS = {
    "1T": "lot",
    "S": "serial",
    "3S": "package",
    "4S": "package",
    "5S": "package",
    "V": "supplier",
    "1V": "supplier",
    "K": "order",
}
_ITEMS = {
    "P": "customer's part",
    "1P": "maker's part",
    "30P": "maker's part, first level",
    "31P": "manufacturer's part",
}
_LONG_DATES = {
    "14D": ("expires", "expiry date", DateForm.YEAR_FIRST),
    "15D": ("expires", "expiry date", DateForm.DAY_FIRST),
    "16D": ("made", "date of manufacture", DateForm.YEAR_FIRST),
    "17D": ("made", "date of manufacture", DateForm.DAY_FIRST),
}
_QUALIFIED = {"5D": DateForm.SHORT_YEAR_FIRST, "6D": DateForm.YEAR_FIRST}
_QUALIFIERS = {"036": ("expires", "expiry date"), "094": ("made", "date of manufacture")}  # X12 element 374
_NO_MEANING = {
    "D": DateForm.SHORT_YEAR_FIRST,
    "1D": DateForm.SHORT_DAY_FIRST,
    "2D": DateForm.SHORT_MONTH_FIRST,
    "3D": None,
    "4D": None,
    "12D": DateForm.YEAR_FIRST,
    "25D": DateForm.YEAR_FIRST,
    "28D": DateForm.YEAR_FIRST,
}
_EXTRAS = {
    "7D": "date, month and year",
    "9D": "date, as agreed",
    "10D": "date, year and week",
    "11D": "date, year and week",
    "13D": "weeks of oldest and newest manufacture",
    "18D": "date and time in UTC",
    "19D": "date and time in UTC",
    "22D": "date and time in UTC",
    "23D": "date and time with offset",
    "2E": "highest temperature allowed, degC",
    "3E": "lowest temperature allowed, degC",
    "4E": "highest humidity allowed, %",
    "5E": "lowest humidity allowed, %",
    "10E": "time-temperature index",
    "13E": "moisture level",
    "4L": "country of origin",
    "T": "customer's lot",
    "2P": "revision",
}
_QUANTITY = re.compile(r"[0-9]+(?:\.[0-9]+)?")
_HIDDEN = re.compile(r"1[2-7]D([0-9]{8})")


def fill_from(filling: Filling, pieces: list[str]) -> None:
    """Say all that the pieces between separators say; DamagedLabel if one cannot be right."""
    found = [(piece, _FORM.fullmatch(piece)) for piece in pieces]
    codes = {match.group(1) for _, match in found if match is not None}
    for piece, match in found:
        if match is None:
            filling.unknown(piece)
        else:
            _say(filling, match.group(1), match.group(2), codes)


def _say(filling: Filling, code: str, value: str, codes: set[str]) -> None:
    field = "lot" if code == "T" and "1T" not in codes else _FIELDS.get(code)
    hidden = _date_inside(value, codes, filling.today)
    if hidden is not None and (field or code in _ITEMS or code in ("Q", "7Q")):
        _ask_where_it_ends(filling, field or _ITEMS.get(code, "quantity"), value, hidden)
    elif field:
        filling.say(field, value)
    elif code in _ITEMS:
        filling.item(_ITEMS[code], value)
    elif code in ("Q", "7Q"):
        _say_quantity(filling, code, value)
    elif code.endswith("D") and code not in _EXTRAS:
        _say_date(filling, code, value, codes)
    elif code in _EXTRAS:
        filling.extra(code, _EXTRAS[code], value)
    else:
        filling.unknown(code + value)


def _date_inside(value: str, codes: set[str], today: date) -> re.Match[str] | None:
    """A dated identifier that stands inside another field: most likely a separator is missing before it."""
    for match in _HIDDEN.finditer(value):
        code = match.group()[:3]
        if match.start() and code not in codes and readings(match.group(1), LONG_FORMS, today):
            return match
    return None


def _ask_where_it_ends(filling: Filling, field: str, value: str, hidden: re.Match[str]) -> None:
    sentence = f"A separator may be missing: {value} holds what looks like a date."
    filling.ask(field, sentence, (value[: hidden.start()], value))
    dated = _LONG_DATES.get(hidden.group()[:3])
    days = tuple(day.isoformat() for day in readings(hidden.group(1), LONG_FORMS, filling.today))
    filling.ask(dated[0] if dated else "expires", f"It may stand inside {value}.", days)


def _say_quantity(filling: Filling, code: str, value: str) -> None:
    number, unit = (value[:-2], value[-2:]) if code == "7Q" else (value, "")
    if not _QUANTITY.fullmatch(number):
        raise DamagedLabel(f"The quantity on this label ({code}) is no number: {value!r}.")
    filling.say("quantity", number)
    if unit:
        filling.say("unit", unit)


def _say_date(filling: Filling, code: str, value: str, codes: set[str]) -> None:
    if code in _LONG_DATES:
        _say_long_date(filling, code, value)
    elif code in _QUALIFIED and value[-3:] in _QUALIFIERS:
        field, title = _QUALIFIERS[value[-3:]]
        filling.say(field, _valid(code, title, value[:-3], day_of(value[:-3], _QUALIFIED[code], filling.today)))
    elif code in _QUALIFIED:
        filling.extra(code, "date of another kind", value)
    elif code in _NO_MEANING and codes & {"14D", "15D"}:
        filling.extra(code, "date", value)  # the expiry is said, so this one is another
    elif code in _NO_MEANING:
        _ask_what_it_is(filling, code, value)
    else:
        filling.unknown(code + value)


def _say_long_date(filling: Filling, code: str, value: str) -> None:
    """The standard's own reading if no other is possible; asked where makers may have taken another order."""
    field, title, standard = _LONG_DATES[code]
    days = readings(value, (standard, *LONG_FORMS), filling.today)
    own = day_of(value, standard, filling.today)
    if not days:
        _valid(code, title, value, own)
        raise DamagedLabel(f"The {title} on this label ({code}) is out of all reason: {value}.")
    if days == (own,):
        filling.say(field, own)
        return
    choices = tuple(day.isoformat() for day in days)
    why = "day and month may be the wrong way round" if len(days) > 1 else f"the standard wants {standard.value}"
    filling.ask(field, f"The {title} reads {value} ({code}): {why}. Look at what is printed beside the code.", choices)


def _ask_what_it_is(filling: Filling, code: str, value: str) -> None:
    filling.extra(code, "date", value)
    form = _NO_MEANING[code]
    day = day_of(value, form, filling.today) if form is not None else None
    choices = (day.isoformat(),) if day is not None and plausible(day, filling.today) else ()
    kind = "a best-before date" if code in ("25D", "28D") else "a date without saying what of"
    filling.ask("expires", f"The label gives {kind} ({code} {value}). Is it the expiry?", choices)


def _valid(code: str, title: str, value: str, day: date | None) -> date:
    if day is None:
        raise DamagedLabel(f"There is no such day as {value} ({title}, {code}).")
    return day
