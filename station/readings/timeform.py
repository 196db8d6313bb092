"""How a file writes its times. One form for one file; nothing is guessed and nothing is filled in.

A form is "ISO" (2027-07-06T14:05, with or without seconds and offset), a pattern of YYYY MM MMM DD hh mm ss AM such
as "DD.MM.YYYY hh:mm:ss", or the time since the start: "elapsed s", "elapsed min", "elapsed h", "elapsed hh:mm:ss".
What stands in square brackets may be left out in a cell. Years have four digits. MMM is an English month (Jan).
"""

import re
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

ISO = "ISO"
ELAPSED = "elapsed "
CLOCK = "hh:mm:ss"
ELAPSED_SECONDS = {"s": 1.0, "min": 60.0, "h": 3600.0}
LIKE = '"ISO", "DD.MM.YYYY hh:mm:ss", "MM/DD/YYYY hh:mm AM" or "elapsed s"'
MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")

_TOKENS = {
    "YYYY": r"(?P<year>\d{4})",
    "MMM": r"(?P<word>[A-Za-z]{3})[a-z]*\.?",
    "MM": r"(?P<month>\d{1,2})",
    "DD": r"(?P<day>\d{1,2})",
    "hh": r"(?P<hour>\d{1,2})",
    "mm": r"(?P<minute>\d{2})",
    "ss": r"(?P<second>\d{2})(?:[.,](?P<part>\d{1,9}))?",
    "AM": r"(?P<half>[AaPp])\.?\s?[Mm]\.?",
    "[": "(?:",
    "]": ")?",
}
_SPLIT = re.compile("(" + "|".join(re.escape(token) for token in _TOKENS) + ")")
_ISO_PATTERN = re.compile(r"\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}(?::\d{2}(?:[.,]\d{1,9})?)?(?: ?(?:Z|[+-]\d{2}:?\d{2}))?")
_CLOCK_PATTERN = re.compile(r"(\d{1,4}):([0-5]\d):([0-5]\d)(?:[.,](\d{1,9}))?")
_NUMBER = re.compile(r"\d+(?:[.,]\d+)?")


class FormUnknown(ValueError):
    """No form of times; the sentence says how forms are written."""


class Unreadable(ValueError):
    """A cell that is no time of the form declared; the text is a clause without a full stop."""


@dataclass(frozen=True, slots=True)
class TimeForm:
    """A form, ready to read cells with. Make it with `time_form`."""

    text: str
    pattern: re.Pattern[str]

    @property
    def elapsed(self) -> bool:
        """Whether cells count from the start instead of naming an instant."""
        return self.text.startswith(ELAPSED)

    def read(self, cell: str) -> datetime:
        """The date and time of a cell: aware where the cell has its own offset, else naive.

        Raises Unreadable for anything that is not wholly of this form.
        """
        match = self.pattern.fullmatch(cell)
        if match is None:
            raise Unreadable(f'"{cell}" is no time like {self.text}')
        if self.text == ISO:
            return _iso(cell)
        try:
            return _assembled(match.groupdict())
        except ValueError as error:
            raise Unreadable(f'there is no date or time "{cell}"') from error

    def since_start(self, cell: str) -> timedelta:
        """The time since the start, of a cell of an elapsed form. Raises Unreadable."""
        match = self.pattern.fullmatch(cell)
        if match is None:
            raise Unreadable(f'"{cell}" is no {self.text}')
        unit = self.text.removeprefix(ELAPSED)
        if unit in ELAPSED_SECONDS:
            return timedelta(seconds=float(cell.replace(",", ".")) * ELAPSED_SECONDS[unit])
        hours, minutes, seconds, part = match.groups()
        return timedelta(hours=int(hours), minutes=int(minutes), seconds=int(seconds) + float(f"0.{part or 0}"))


def time_form(text: str) -> TimeForm:
    """The form of a text. Raises FormUnknown for one with two-digit years, parts missing or parts doubled."""
    name = " ".join(text.split())
    if name.upper() == ISO:
        return TimeForm(ISO, _ISO_PATTERN)
    if name.startswith(ELAPSED):
        return _elapsed_form(name)
    tokens = _SPLIT.findall(name)
    parts = set(tokens) - {"[", "]"}
    if "YY" in _SPLIT.sub("", name):
        raise FormUnknown("Years need four digits, because nobody can say which century 27 or 68 is in. Use YYYY.")
    needed = {"YYYY", "DD", "hh", "mm"}
    months = parts & {"MM", "MMM"}
    repeated = len([token for token in tokens if token in parts]) > len(parts)
    if not needed <= parts or len(months) != 1 or repeated:
        raise FormUnknown(f'"{text}" is no form of date and time. Write one like {LIKE}.')
    pattern = "".join(_TOKENS.get(piece, re.escape(piece)) for piece in _SPLIT.split(name))
    try:
        return TimeForm(name, re.compile(pattern))
    except re.error as error:
        raise FormUnknown(f'The square brackets in "{text}" do not match.') from error


def _elapsed_form(name: str) -> TimeForm:
    unit = name.removeprefix(ELAPSED)
    if unit == CLOCK:
        return TimeForm(name, _CLOCK_PATTERN)
    if unit not in ELAPSED_SECONDS:
        raise FormUnknown(f'"{name}" is not known. Write "elapsed s", "elapsed min", "elapsed h" or "elapsed {CLOCK}".')
    return TimeForm(name, _NUMBER)


def _iso(cell: str) -> datetime:
    try:
        found = datetime.fromisoformat(cell.replace(",", ".").replace(" +", "+").replace(" -", "-").replace(" Z", "Z"))
    except ValueError as error:
        raise Unreadable(f'there is no date or time "{cell}"') from error
    return found.astimezone(UTC) if found.tzinfo is not None else found


def _assembled(parts: dict[str, str | None]) -> datetime:
    def number(name: str) -> int:
        return int(parts.get(name) or 0)

    word = parts.get("word")
    month = MONTHS.index(word.lower()) + 1 if word else number("month")
    second, part = number("second"), (parts.get("part") or "").ljust(6, "0")[:6]
    hour = _hour(number("hour"), parts.get("half"))
    # naive on purpose: the zone comes from the layout, and only then is it an instant
    return datetime(number("year"), month, number("day"), hour, number("minute"), second, int(part))  # noqa: DTZ001


def _hour(hour: int, half: str | None) -> int:
    if half is None:
        return hour
    if not 1 <= hour <= 12:
        raise ValueError("a half day has the hours 1 to 12")
    return hour % 12 + (12 if half.lower() == "p" else 0)
