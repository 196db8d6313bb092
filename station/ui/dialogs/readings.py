"""What was typed into a form, read strictly: one declared way of writing for each field, never a guess.

Dates are year-month-day only, since 07-06 means two days depending on who reads it; a fragment is never filled up
from today. Decimal comma and decimal point are the same; marks between thousands are refused.
"""

import math
import re
from datetime import UTC, date, datetime, time
from zoneinfo import ZoneInfo

from station.care.saying import MONTHS, is_doubled

_DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_TIME = re.compile(r"([0-9]{1,2}):([0-9]{2})")
_FIGURE = re.compile(r"[-\N{MINUS SIGN}]?[0-9]{1,6}(?:[.,][0-9]{1,6})?")
_COUNT = re.compile(r"[0-9]{1,4}")
FIRST_YEAR, LAST_YEAR = 2000, 2099


class Unreadable(Exception):
    """What was typed can't be used; the sentence stands beside the field and says how to write it."""

    def __init__(self, sentence: str) -> None:
        super().__init__(sentence)
        self.sentence = sentence


def iso_date(text: str) -> date:
    """A calendar day written YYYY-MM-DD, from the years 2000 to 2099. Raises Unreadable for anything else."""
    written = text.strip()
    if _DATE.fullmatch(written) is None:
        raise Unreadable("Write the date as year-month-day, such as 2027-03-31.")
    try:
        day = date.fromisoformat(written)
    except ValueError:
        raise Unreadable(f"{written} is no day of the calendar. Look at the label again.") from None
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise Unreadable(f"The year {day.year} can't be right. Look at the label again.")
    return day


def wall_time(text: str) -> time:
    """A time of day written HH:MM on the 24 h clock. Raises Unreadable for anything else."""
    match = _TIME.fullmatch(text.strip())
    if match is None or int(match[1]) > 23 or int(match[2]) > 59:
        raise Unreadable("Write the time as hours and minutes from 00:00 to 23:59, such as 14:05.")
    return time(int(match[1]), int(match[2]))


def plant_instant(day: date, clock: time, zone: ZoneInfo, *, later: bool = False) -> datetime:
    """The instant (aware UTC) of a plant-zone wall time; of an hour that comes twice the earlier one is meant.

    The earlier one is the safe side, as every life is counted from it; `later` is for what must not have begun
    before, such as warming. Raises Unreadable for a time the clocks skipped that night.
    """
    local = datetime.combine(day, clock, zone).replace(fold=int(later))
    instant = local.astimezone(UTC)
    if instant.astimezone(zone).replace(tzinfo=None) != local.replace(tzinfo=None):
        raise Unreadable(f"{clock:%H:%M} was skipped that night, as the clocks went forward. Give another time.")
    return instant


def comes_twice(instant: datetime, zone: ZoneInfo) -> bool:
    """Whether this instant's wall time stands on the plant's clock twice that night."""
    return is_doubled(instant.astimezone(zone))


def figure(text: str) -> float:
    """A decimal figure with comma or point. Raises Unreadable for no figure, and for marks between thousands."""
    written = text.strip()
    if _FIGURE.fullmatch(written) is None:
        raise Unreadable("Write a plain figure, such as 5.5 or 5,5, with nothing between thousands.")
    return float(written.replace(",", ".").replace("\N{MINUS SIGN}", "-"))


def celsius(figure_: float, unit: str) -> float:
    """A temperature in degrees Celsius, rounded to a hundredth; `unit` is C or F."""
    return figure_ if unit == "C" else round((figure_ - 32) * 5 / 9, 2)


def count(text: str, most: int) -> int:
    """A whole number from 1 to `most`. Raises Unreadable for anything else."""
    written = text.strip()
    if _COUNT.fullmatch(written) is None or not 1 <= int(written) <= most:
        raise Unreadable(f"Write a whole number from 1 to {most}.")
    return int(written)


def grams(text: str) -> float | None:
    """A mass in grams, 0 or more; None for an empty field. Raises Unreadable for anything else."""
    if not text.strip():
        return None
    mass = figure(text)
    if not 0 <= mass <= 20_000 or not math.isfinite(mass):
        raise Unreadable("Write the grams left in it, from 0 to 20000, or leave this empty.")
    return mass


def day_in_words(day: date) -> str:
    """`31 Mar 2027`, so that nobody has to know which figure is the month."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"
