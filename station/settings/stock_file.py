"""A CSV file of stock that was there before the station: rows as typed values, or every fault by row and column.

Nothing is guessed. Columns go by their headings, the separator by the header line, dates only in ISO form or in the
form that is declared; a number that a spreadsheet has rewritten is refused, because what it was cannot be told.
"""

import csv
import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from enum import StrEnum
from zoneinfo import ZoneInfo

from station.services.stock_rows import StockFault, StockRow

REQUIRED = ("paste", "kind", "lot", "store", "bin", "arrived")
DATED = ("expires", "made")
OUT = "out minutes"
TOLD = ("opened", "thaw start", "grams", OUT)
COLUMNS = (*REQUIRED, *DATED, *TOLD)
SEPARATORS = {",": "comma", ";": "semicolon", "\t": "tab"}
MOST_BYTES = 5_000_000
ISO_DAY = re.compile(r"(\d{4})-(\d{2})-(\d{2})")
PARTED_DAY = re.compile(r"(\d{1,2})[./-](\d{1,2})[./-](\d{4})")
CLOCK = re.compile(r"(\d{2}):(\d{2})(?::(\d{2}))?")
# a lot of digits around one E becomes a power of ten in a spreadsheet: `47E08` is saved as `4.7E+09`
REWRITTEN = re.compile(r"\d+([.,]\d+)?E[+-]\d+", re.IGNORECASE)
NO_TEXT = "Save it as CSV, UTF-8, from the spreadsheet."


class DayOrder(StrEnum):
    """How dates that are not ISO are written; None allows ISO alone."""

    DAY_FIRST = "day-first"
    MONTH_FIRST = "month-first"


@dataclass(frozen=True, slots=True)
class StockRead:
    """What a file says: its good rows, and its faults."""

    rows: tuple[StockRow, ...]
    faults: tuple[StockFault, ...]


def read_stock(data: bytes, zone: ZoneInfo, order: DayOrder | None) -> StockRead:
    """The rows of a file, and every fault in it."""
    if len(data) > MOST_BYTES:
        return _only(1, f"The file has more than {MOST_BYTES // 1_000_000} MB. Divide it.")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return _only(1, f"The file is not UTF-8 text. {NO_TEXT}")
    if "\0" in text:
        return _only(1, f"The file is not text. {NO_TEXT}")
    separator = _separator(text)
    if separator is None:
        wanted = ", ".join(REQUIRED)
        return _only(1, f"No header line with {wanted}, parted by comma, semicolon or tab. Begin the file with one.")
    try:
        lines = list(csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True))
    except csv.Error as trouble:
        return _only(1, f"The quotes do not close ({trouble}). Save the file anew from the spreadsheet.")
    return _table(lines, zone, order)


def _only(row: int, sentence: str) -> StockRead:
    return StockRead((), (StockFault(row, "", sentence),))


def _separator(text: str) -> str | None:
    """The sign that parts the header into headings of ours; of no two signs could both do."""
    header = next(iter(text.splitlines()), "")
    return next((sign for sign in SEPARATORS if "paste" in map(_heading, header.split(sign))), None)


def _heading(cell: str) -> str:
    return " ".join(cell.strip().strip('"').replace("_", " ").lower().rstrip("?").split())


def _table(lines: list[list[str]], zone: ZoneInfo, order: DayOrder | None) -> StockRead:
    headings = [_heading(cell) for cell in lines[0]]
    faults = list(_heading_faults(headings))
    if faults:
        return StockRead((), tuple(faults))
    rows: list[StockRow] = []
    for number, cells in enumerate(lines[1:], start=2):
        if not any(cell.strip() for cell in cells):
            continue
        if len(cells) != len(headings):
            said = f"It has {len(cells)} cells, the header {len(headings)}. Put text with a separator in it in quotes."
            faults.append(StockFault(number, "", said))
            continue
        reading = _Row(number, dict(zip(headings, map(str.strip, cells), strict=True)), zone, order)
        row = reading.read()
        faults.extend(reading.faults)
        if row is not None and not reading.faults:
            rows.append(row)
    if not rows and not faults:
        faults.append(StockFault(2, "", "There is no row below the header. Add one row for each container."))
    return StockRead(tuple(rows), tuple(faults))


def _heading_faults(headings: list[str]) -> Iterator[StockFault]:
    for wanted in REQUIRED:
        if wanted not in headings:
            yield StockFault(1, wanted, "This column is missing. Add it to the header.")
    if not any(name in headings for name in DATED):
        yield StockFault(1, "expires", "There is neither expires nor made. Add one of the two columns.")
    for name in dict.fromkeys(headings):
        if name not in COLUMNS:
            yield StockFault(
                1, name, f"This column is not known. Name it one of: {', '.join(COLUMNS)}; or leave it out."
            )
        elif headings.count(name) > 1:
            yield StockFault(1, name, "This column stands there twice. Leave one out.")


class _Row:
    """Reads one row, and keeps its faults."""

    def __init__(self, number: int, cells: dict[str, str], zone: ZoneInfo, order: DayOrder | None) -> None:
        self.number, self.cells, self.zone, self.order = number, cells, zone, order
        self.faults: list[StockFault] = []

    def read(self) -> StockRow | None:
        """The row; None where something without which there is none is missing. See `faults`."""
        texts = {name: self._text(name) for name in REQUIRED[:-1]}
        arrived = self._arrived()
        days = {name: self._day(name) for name in DATED}
        if not any(self.cells.get(name) for name in DATED):
            self._fault("expires", "Give the expiry date of the maker's label, or when it was made.")
        self._only_closed_and_cold()
        if arrived is None:
            return None
        return StockRow(self.number, arrived_at=arrived, out=self._out(), **texts, **days)  # type: ignore[arg-type]

    def _fault(self, column: str, sentence: str) -> None:
        self.faults.append(StockFault(self.number, column, sentence))

    def _out(self) -> timedelta:
        """Whole minutes out of the cold; none where nothing is told."""
        text = self.cells.get(OUT, "")
        if text and not re.fullmatch(r"\d{1,5}", text):
            self._fault(OUT, f"{text} is no number of minutes. Write digits alone, such as 45.")
            return timedelta(0)
        return timedelta(minutes=int(text or 0))

    def _text(self, name: str) -> str:
        text = self.cells[name]
        if not text:
            self._fault(name, "This is empty. Fill it in.")
        elif not text.isprintable():
            self._fault(name, "There is a line break or a control character in it. Type it anew.")
        elif name == "lot" and REWRITTEN.fullmatch(text):
            said = f"{text} is what a spreadsheet makes of a lot with an E in it. Take the lot from the maker's label"
            self._fault(name, f"{said} and format the column as text.")
        return text

    def _day(self, name: str) -> date | None:
        text = self.cells.get(name, "")
        return self._date(name, text) if text else None

    def _arrived(self) -> datetime | None:
        text = self.cells["arrived"]
        day, _, clock = text.replace("T", " ").partition(" ")
        found = self._date("arrived", day)
        if found is None:
            return None
        at = self._clock(clock.strip()) if clock else time(0)
        if at is None:
            self._fault("arrived", f"{clock} is no time of day. Write it as 14:05, or give the date alone.")
            return None
        return datetime.combine(found, at, self.zone).astimezone(ZoneInfo("UTC"))

    def _clock(self, text: str) -> time | None:
        match = CLOCK.fullmatch(text)
        if match is None:
            return None
        try:
            return time(int(match[1]), int(match[2]), int(match[3] or 0))
        except ValueError:
            return None

    def _date(self, name: str, text: str) -> date | None:
        iso, parted = ISO_DAY.fullmatch(text), PARTED_DAY.fullmatch(text)
        if iso is None and (parted is None or self.order is None):
            declared = "or say with --dates how they are written" if parted else "with the year in four digits"
            self._fault(name, f"{text or 'An empty cell'} is no date that is sure. Write 2027-03-31, {declared}.")
            return None
        if iso is not None:
            year, month, day = map(int, iso.groups())
        else:
            assert parted is not None
            first, second, year = map(int, parted.groups())
            day, month = (first, second) if self.order is DayOrder.DAY_FIRST else (second, first)
        try:
            return date(year, month, day)
        except ValueError:
            written = f" with {self.order.value} dates" if iso is None and self.order else ""
            self._fault(name, f"There is no day {text}{written}. Check it on the maker's label.")
            return None

    def _only_closed_and_cold(self) -> None:
        """Nobody could say since when an open or a warm one ages, so its row is refused."""
        for name in ("opened", "thaw start"):
            if self.cells.get(name, "").lower() not in ("", "no"):
                self._fault(name, "open or warm containers: discard or take in by hand at the shift desk")
        grams = self.cells.get("grams", "")
        if grams and not re.fullmatch(r"\d{1,5}([.,]\d{1,3})?", grams):
            self._fault("grams", f"{grams} is no weight in grams. Write digits alone, such as 500 or 499,5.")
