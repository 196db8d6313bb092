"""Which columns of a file hold its times and in which form, as far as the cells leave no doubt."""

import re
from collections import Counter
from collections.abc import Sequence

from station.readings.grid import Line
from station.readings.questions import Option, Question
from station.readings.timeform import ISO

_SEPARATED = r"(?P<first>\d{1,2})(?P<sign>[./-])(?P<second>\d{1,2})(?P=sign)\d{4}"
_DATES = (
    ("iso", re.compile(r"\d{4}-\d{2}-\d{2}")),
    ("year first", re.compile(r"\d{4}(?P<sign>[./-])\d{1,2}(?P=sign)\d{1,2}")),
    ("separated", re.compile(_SEPARATED)),
    ("worded", re.compile(r"\d{1,2}(?P<sign>[ -])[A-Za-z]{3,9}\.?(?P=sign)\d{4}")),
    ("two digits", re.compile(r"\d{1,2}([./-])\d{1,2}\1\d{2}")),
)
_TIME = re.compile(r"\d{1,2}:\d{2}(?P<seconds>:\d{2}(?:[.,]\d{1,9})?)?(?P<half> ?[AaPp]\.?\s?[Mm]\.?)?")
_ISO_TAIL = re.compile(r"[T ]?(?:\d{2}:\d{2}(?::\d{2}(?:[.,]\d+)?)?)(?: ?(?:Z|[+-]\d{2}:?\d{2}))?")
DATE, TIME, BOTH = "date", "time", "date and time"


def sort_of(cell: str) -> str | None:
    """Whether a cell is a date, a time of day, or both; None for anything else."""
    if _TIME.fullmatch(cell):
        return TIME
    date, rest = _cut(cell)
    if not date:
        return None
    if not rest:
        return DATE
    return BOTH if _TIME.fullmatch(rest.lstrip("T ")) or (date == "iso" and _ISO_TAIL.fullmatch(rest)) else None


def _cut(cell: str) -> tuple[str, str]:
    """The sort of date that a cell begins with, and what follows it; two empty texts for none."""
    for sort, pattern in _DATES:
        found = pattern.match(cell)
        if found is not None and not cell[found.end() : found.end() + 1].isdigit():
            return sort, cell[found.end() :].strip(" ,")
    return "", ""


def usual_width(lines: Sequence[Line], columns: Sequence[tuple[int, str]]) -> int:
    """How many cells most of the lines have whose times stand in these columns."""
    widths = Counter(
        len(line.cells)
        for line in lines
        if all(index < len(line.cells) and sort_of(line.cells[index]) == sort for index, sort in columns)
    )
    return widths.most_common(1)[0][0]


def time_columns(lines: Sequence[Line]) -> tuple[tuple[int, str], ...]:
    """The columns with times and what they hold, as most lines have them; empty where none has any."""
    signatures: Counter[tuple[tuple[int, str], ...]] = Counter()
    for line in lines:
        sorts = tuple((index, sort) for index, cell in enumerate(line.cells) if (sort := sort_of(cell)) is not None)
        if sorts:
            signatures[sorts] += 1
    return signatures.most_common(1)[0][0] if signatures else ()


def chosen(columns: Sequence[tuple[int, str]]) -> tuple[int, ...] | Question:
    """The time columns to read, or the question which of them is meant."""
    whole = [index for index, sort in columns if sort == BOTH]
    dates = [index for index, sort in columns if sort == DATE]
    times = [index for index, sort in columns if sort == TIME]
    if len(whole) == 1 and not dates:
        return (whole[0],)
    if not whole and len(dates) == 1 and len(times) == 1:
        return (dates[0], times[0])
    if not whole and not dates and len(times) == 1:
        return Question(Option.TIME_FORMAT, "Its times have no date", ('"elapsed hh:mm:ss"',))
    if dates and not whole and not times:
        return Question(Option.TIME_COLUMN, "It has dates but no time of day")
    places = " and ".join(f"column {index + 1}" for index, _ in columns)
    return Question(Option.TIME_COLUMN, f"Several columns could be its time: {places}")


def form_of(cells: Sequence[str]) -> str | Question:
    """The form in which all cells are written, or the question that is left open."""
    sorts = {_cut(cell)[0] for cell in cells}
    if sorts == {"iso"}:
        return ISO
    if "two digits" in sorts:
        return Question(
            Option.TIME_FORMAT,
            "Its years have two digits, and nobody can say which century 27 or 68 is in",
            mend="Export it again with four-digit years",
        )
    found = next(iter(sorts)) if len(sorts) == 1 else ""
    if not found:
        return Question(Option.TIME_FORMAT, "Its times are not all written alike")
    date = _date_form(found, cells)
    return date if isinstance(date, Question) else f"{date} {_time_form(cells)}"


def _date_form(sort: str, cells: Sequence[str]) -> str | Question:
    pattern = dict(_DATES)[sort]
    matches = [match for cell in cells if (match := pattern.match(cell)) is not None]
    signs = {match["sign"] for match in matches}
    if len(signs) != 1:
        return Question(Option.TIME_FORMAT, "Its dates are not all written alike")
    (sign,) = signs
    if sort == "year first":
        return f"YYYY{sign}MM{sign}DD"
    if sort == "worded":
        return f"DD{sign}MMM{sign}YYYY"
    day_first, month_first = f"DD{sign}MM{sign}YYYY", f"MM{sign}DD{sign}YYYY"
    is_day_first = any(int(match["first"]) > 12 for match in matches)
    is_month_first = any(int(match["second"]) > 12 for match in matches)
    if is_day_first and is_month_first:
        return Question(Option.TIME_FORMAT, "In some dates the day stands first and in some the month")
    if not is_day_first and not is_month_first:
        tail = _time_form(cells)
        told = f"Every day in it is 12 or less, so {matches[0][0]} could be either of two dates"
        return Question(Option.TIME_FORMAT, told, (f'"{day_first} {tail}"', f'"{month_first} {tail}"'))
    return day_first if is_day_first else month_first


def _time_form(cells: Sequence[str]) -> str:
    halves = any(cell.rstrip(".").lower().endswith("m") for cell in cells)
    return "hh:mm[:ss]" + (" AM" if halves else "")
