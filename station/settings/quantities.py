"""Figures with their units, as written in the settings: "4 h", "37.8 C", "35 g", "20 %".

A figure without its unit is refused, so nobody can take hours for minutes. Figures are plain digits with at most
one decimal point.
"""

import difflib
import re
from datetime import timedelta
from fractions import Fraction

SECONDS = {"d": 86_400, "h": 3_600, "min": 60, "s": 1}
ABSURD = timedelta(days=3_650)
_OTHER_NAMES = {
    "day": "d", "days": "d", "tage": "d", "hour": "h", "hours": "h", "hr": "h", "hrs": "h", "std": "h",
    "m": "min", "mins": "min", "minute": "min", "minutes": "min", "sec": "s", "second": "s", "seconds": "s",
}  # fmt: skip
_FIGURE = r"[0-9]{1,6}(?:\.[0-9]{1,4})?"
_PART = re.compile(rf"({_FIGURE}) ?([A-Za-z]*)")
_DURATION = re.compile(rf"{_FIGURE} ?[A-Za-z]*(?: {_FIGURE} ?[A-Za-z]*)*")
_WITH_UNIT = re.compile(rf"(-?{_FIGURE}) ?([A-Za-z°%]*)")
DURATION_FORM = 'a time with its unit, such as "7 d", "4 h", "30 min" or "1 h 30 min"'


class Unfit(Exception):
    """A value that can't be used: why, how to write it instead, and the nearest valid name where there is one."""

    def __init__(self, reason: str, remedy: str, nearest: str | None = None) -> None:
        """`reason` and `remedy` are clauses without a full stop."""
        self.reason, self.remedy, self.nearest = reason, remedy, nearest
        super().__init__(reason)


def duration(text: str) -> timedelta:
    """A length of time from days, hours, minutes and seconds, the largest unit first, each at most once.

    Raises Unfit for anything else: no unit, a negative or doubled part, parts of a second, over ten years.
    """
    if _DURATION.fullmatch(text) is None:
        raise _no_duration(text)
    parts = [(Fraction(figure), unit) for figure, unit in _PART.findall(text)]
    ranks = [_rank(unit) for _, unit in parts]
    if ranks != sorted(set(ranks)):
        raise Unfit("the units must fall, each named once", f"Write {DURATION_FORM}")
    return _whole_seconds(sum((figure * SECONDS[unit] for figure, unit in parts), Fraction(0)))


def _rank(unit: str) -> int:
    """How far down the list of units this one stands; Unfit for none or an unknown one."""
    if not unit:
        raise Unfit("a figure without its unit", f"Write {DURATION_FORM}")
    if unit not in SECONDS:
        raise Unfit(f'"{unit}" is no unit of time here', "Use d, h, min or s", _nearest_unit(unit))
    return list(SECONDS).index(unit)


def _nearest_unit(unit: str) -> str | None:
    low = unit.lower()
    if low in SECONDS:
        return low
    return _OTHER_NAMES.get(low) or next(iter(difflib.get_close_matches(low, SECONDS, 1)), None)


def _no_duration(text: str) -> Unfit:
    if text.lstrip().startswith("-"):
        return Unfit("a time can't be negative", f"Write {DURATION_FORM}")
    if "," in text:
        return Unfit("a decimal comma is not understood", "Use a decimal point")
    return Unfit("this is no length of time", f"Write {DURATION_FORM}")


def _whole_seconds(total: Fraction) -> timedelta:
    if total.denominator != 1:
        raise Unfit("it does not come out in whole seconds", "Write it in a smaller unit")
    if total > ABSURD.total_seconds():
        raise Unfit("longer than ten years", "Check the figure and its unit")
    return timedelta(seconds=int(total))


def written(span: timedelta) -> str:
    """A length of time the way `duration` reads it: "1 h 30 min"; "0 min" for none."""
    left, parts = int(span.total_seconds()), []
    for unit, seconds in SECONDS.items():
        count, left = divmod(left, seconds)
        if count:
            parts.append(f"{count} {unit}")
    return " ".join(parts) or "0 min"


def celsius(text: str) -> float:
    """A temperature in degrees Celsius from "37.8 C"; raises Unfit, with the converted figure for Fahrenheit."""
    figure, unit = _figure_and_unit(text, 'a temperature such as "5 C" or "-20 C"')
    if unit in {"F", "°F"}:
        in_celsius = round((figure - 32) * 5 / 9, 1)
        raise Unfit("temperatures are written in degrees Celsius", f'Write "{in_celsius:g} C"')
    if unit not in {"C", "°C"}:
        raise _wrong_unit(unit, "C")
    return figure


def grams(text: str) -> float:
    """A mass in grams from "500 g"; raises Unfit."""
    return _in_unit(text, "g", 'a mass such as "500 g"')


def percent(text: str) -> float:
    """A share in percent from "40 %"; raises Unfit."""
    return _in_unit(text, "%", 'a share such as "40 %"')


def months(text: str) -> int:
    """A whole number of calendar months from "6 months"; raises Unfit."""
    figure, unit = _figure_and_unit(text, '"6 months"')
    if unit not in {"month", "months"}:
        raise _wrong_unit(unit, "months")
    if figure != int(figure):
        raise Unfit("months are counted whole", 'Write it as in "6 months"')
    return int(figure)


def _in_unit(text: str, unit: str, form: str) -> float:
    figure, found = _figure_and_unit(text, form)
    if found != unit:
        raise _wrong_unit(found, unit)
    return figure


def _figure_and_unit(text: str, form: str) -> tuple[float, str]:
    match = _WITH_UNIT.fullmatch(text)
    if match is None:
        remedy = "Use a decimal point" if "," in text else f"Write {form}"
        raise Unfit("this is no figure with a unit", remedy)
    return float(match[1]), match[2]


def _wrong_unit(found: str, unit: str) -> Unfit:
    reason = f'"{found}" is not the unit expected here' if found else "a figure without its unit"
    return Unfit(reason, f"Write the unit {unit} after the figure", unit if found else None)
