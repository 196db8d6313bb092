"""Dates on makers' labels: two-digit years by the sliding window of GS1, day 00, and day-first traps."""

import re
from calendar import monthrange
from collections.abc import Iterable
from datetime import date
from enum import StrEnum

YEARS_BACK, YEARS_AHEAD = 10, 15
"""No paste in a plant was made earlier or is good for longer (common practice, no source)."""


class DateForm(StrEnum):
    """The order of a date's digits."""

    YEAR_FIRST = "YYYYMMDD"
    DAY_FIRST = "DDMMYYYY"
    MONTH_FIRST = "MMDDYYYY"
    SHORT_YEAR_FIRST = "YYMMDD"
    SHORT_DAY_FIRST = "DDMMYY"
    SHORT_MONTH_FIRST = "MMDDYY"


LONG_FORMS = (DateForm.YEAR_FIRST, DateForm.DAY_FIRST, DateForm.MONTH_FIRST)
_SIGNS = re.compile(r"[-./ ]")


def full_year(two_digits: int, this_year: int) -> int:
    """The year meant by its last two digits: from 49 years back to 50 years ahead (GS1 General Specifications 7.12)."""
    apart = two_digits - this_year % 100
    century = this_year - this_year % 100
    if apart >= 51:
        century -= 100
    elif apart <= -50:
        century += 100
    return century + two_digits


def day_of(text: str, form: DateForm, today: date, *, day_zero: bool = False) -> date | None:
    """The day these digits mean in this form, None if there is no such day.

    `day_zero` lets day 00 stand for the last day of the month (GS1 General Specifications, AI 17).
    """
    if not (text.isascii() and text.isdigit()) or len(text) != len(form):
        return None
    parts = {
        letter: int("".join(sign for sign, of in zip(text, form, strict=True) if of == letter)) for letter in "YMD"
    }
    year = parts["Y"] if form in LONG_FORMS else full_year(parts["Y"], today.year)
    day = parts["D"]
    try:
        return date(year, parts["M"], monthrange(year, parts["M"])[1] if day_zero and day == 0 else day)
    except ValueError:  # calendar's own error for a month is one, too
        return None


def plausible(day: date | None, today: date) -> bool:
    """Whether a paste may carry this date at all."""
    return day is not None and -YEARS_BACK <= day.year - today.year <= YEARS_AHEAD


def readings(text: str, forms: Iterable[DateForm], today: date) -> tuple[date, ...]:
    """The different plausible days these digits can mean, in the order of the forms."""
    days = (day_of(text, form, today) for form in forms)
    return tuple(dict.fromkeys(day for day in days if day is not None and plausible(day, today)))


def written(text: str) -> str:
    """A date without the signs people write between its parts."""
    return _SIGNS.sub("", text)
