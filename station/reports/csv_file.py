"""A table as CSV that a spreadsheet can neither run nor change, and that is read back as it was.

Text that a spreadsheet of any language might take for a formula, a number, money, a date or a truth value gets one
apostrophe in front, which the reader takes away again. The first line states separator, decimal sign and which columns
are numbers. A spreadsheet that saves it again fills rows up, drops quotes and writes a line break as one line feed.
"""

import csv
import io
import re
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation

from station.care.pace import Pace, paced, unhurried
from station.reports.document import Cell, Column, Table

NAME = "station-csv-1"
WRITING = "writing rows"
GUARD = "'"
# What has a digit and is this short may be money or a date in some language: `SEP-12`, `RM-4`, `kr 5`, `June 5, 2026`.
SHORT = 30
OUR_NUMBER = re.compile(r"K\d{1,3}-\d{3,7}", re.ASCII)  # of a container: money and dates have no such form
# "true" and "false" as spreadsheets know them in languages of Europe
TRUTHS = frozenset(
    {"true", "false", "wahr", "falsch", "vrai", "faux", "verdadero", "falso", "vero", "verdadeiro", "waar", "onwaar"}
    | {"prawda", "fałsz", "pravda", "nepravda", "sant", "falskt", "sand", "falsk", "tosi", "epätosi", "igaz", "hamis"}
    | {"doğru", "yanlış", "adevărat", "fals", "истина", "ложь", "αληθεσ", "ψευδεσ"}
)
SEPARATORS = {"semicolon": ";", "comma": ",", "tab": "\t"}
DECIMALS = {"point": ".", "comma": ","}


class CsvRefused(Exception):
    """The file is not one of ours, or was changed; the sentence says where."""


@dataclass(frozen=True, slots=True)
class CsvForm:
    """How figures and columns are parted, by name."""

    separator: str = "semicolon"
    decimal: str = "point"


# What a double click opens in columns: where figures are written 1.5, and where they are written 1,5
WITH_POINT, WITH_COMMA = CsvForm("comma", "point"), CsvForm("semicolon", "comma")


def to_csv(table: Table, form: CsvForm, told: tuple[tuple[str, str], ...] = (), pace: Pace = unhurried) -> bytes:
    """The table in UTF-8 with byte-order mark, every text quoted. KeyError for a form that is not known."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, delimiter=SEPARATORS[form.separator], quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    kinds = ["number" if column.number else "text" for column in table.columns]
    writer.writerow([NAME, f"separator {form.separator}", f"decimal {form.decimal}", *kinds])
    writer.writerows((_guarded(name), _guarded(value)) for name, value in (("title", table.title), *told))
    writer.writerow([])
    writer.writerow([_guarded(column.heading) for column in table.columns])
    writer.writerows(
        [_written(cell, DECIMALS[form.decimal]) for cell in row] for row in paced(table.rows, pace, WRITING)
    )
    return text.getvalue().encode("utf-8-sig")


def _written(cell: Cell, decimal: str) -> str:
    if cell is None:
        return ""
    return _guarded(cell) if isinstance(cell, str) else f"{cell:f}".replace(".", decimal)


def _guarded(text: str) -> str:
    return f"{GUARD}{text}" if text and _risky(text) else text


def _risky(text: str) -> bool:
    if not text[0].isalpha() or text.casefold() in TRUTHS:
        return True
    return len(text) <= SHORT and any(map(str.isnumeric, text)) and OUR_NUMBER.fullmatch(text) is None


def from_csv(data: bytes) -> Table:
    """The table of a file of ours, with or without byte-order mark. Raises CsvRefused."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise CsvRefused("The file is not UTF-8. Save it as CSV UTF-8.") from None
    separator = next((sign for sign in SEPARATORS.values() if sign in text.partition("\n")[0]), ";")
    lines = list(csv.reader(io.StringIO(text, newline=""), delimiter=separator))
    gap = next((place for place, line in enumerate(lines) if not any(line)), 0)
    if gap < 2 or len(lines) <= gap + 1 or lines[0][0] != NAME or len(lines[0]) < 3 or len(lines[1]) < 2:
        raise CsvRefused(f"The first line does not say {NAME}: this is no table written by a station.")
    decimal = DECIMALS.get(lines[0][2].removeprefix("decimal "), ".")
    kinds = [kind for kind in lines[0][3:] if kind]
    names = _as_many(lines[gap + 1], len(kinds), gap + 2)
    columns = tuple(Column(_bare(name), kind == "number") for name, kind in zip(names, kinds, strict=True))
    rows = (_row(row, columns, decimal, gap + 3 + at) for at, row in enumerate(lines[gap + 2 :]))
    return Table(_bare(lines[1][1]), columns, tuple(rows))


def _row(row: list[str], columns: tuple[Column, ...], decimal: str, place: int) -> tuple[Cell, ...]:
    cells = _as_many(row, len(columns), place)
    return tuple(_cell(cell, column, decimal, place) for cell, column in zip(cells, columns, strict=True))


def _as_many(row: list[str], wanted: int, place: int) -> list[str]:
    """A row without the empty cells that a spreadsheet puts behind it."""
    row = row or [""]  # a lone empty text
    if len(row) < wanted or any(row[wanted:]):
        raise CsvRefused(f"Row {place} has {len(row)} columns instead of {wanted}.")
    return row[:wanted]


def _cell(cell: str, column: Column, decimal: str, place: int) -> Cell:
    if not column.number:
        if cell != _guarded(_bare(cell)):
            raise CsvRefused(f"Row {place}, {column.heading}: {cell!r} was changed after it was written.")
        return _bare(cell)
    if not cell:
        return None
    try:
        return Decimal(_with_point(cell, decimal))
    except InvalidOperation:
        raise CsvRefused(f"Row {place}, {column.heading}: {cell!r} is no number.") from None


def _with_point(cell: str, decimal: str) -> str:
    """Only the sign that was stated parts a figure: a point that parts thousands is no decimal point."""
    return cell if decimal == "." else cell.replace(".", "?").replace(decimal, ".")


def _bare(text: str) -> str:
    return text[1:] if text.startswith(GUARD) else text
