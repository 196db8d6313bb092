"""A table as CSV that a spreadsheet can neither run nor change, and that is read back as it was.

Text a spreadsheet would take for a formula, a number or a date gets one apostrophe in front, which the reader takes
away again. The first line states separator, decimal sign and which columns are numbers.
"""

import csv
import io
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation

from station.reports.document import Cell, Column, Table

NAME = "station-csv-1"
GUARD = "'"
# signs that begin a formula, a number or a date in one spreadsheet or another, and the guard itself
RISKY_FIRST = frozenset("=+-@\t\r\n.,'$ %") | frozenset("0123456789")
RISKY_FIRST_WIDE = frozenset("＝＋－＠")
SEPARATORS = {"semicolon": ";", "comma": ",", "tab": "\t"}
DECIMALS = {"point": ".", "comma": ","}


class CsvRefused(Exception):
    """The file is not one of ours, or was changed; the sentence says where."""


@dataclass(frozen=True, slots=True)
class CsvForm:
    """How figures and columns are parted, by name."""

    separator: str = "semicolon"
    decimal: str = "point"


def to_csv(table: Table, form: CsvForm, told: tuple[tuple[str, str], ...] = ()) -> bytes:
    """The table in UTF-8 with byte-order mark, every text quoted. KeyError for a form that is not known."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, delimiter=SEPARATORS[form.separator], quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    kinds = ["number" if column.number else "text" for column in table.columns]
    writer.writerow([NAME, f"separator {form.separator}", f"decimal {form.decimal}", *kinds])
    writer.writerows((_guarded(name), _guarded(value)) for name, value in (("title", table.title), *told))
    writer.writerow([])
    writer.writerow([_guarded(column.heading) for column in table.columns])
    writer.writerows([_written(cell, DECIMALS[form.decimal]) for cell in row] for row in table.rows)
    return text.getvalue().encode("utf-8-sig")


def _written(cell: Cell, decimal: str) -> str:
    if cell is None:
        return ""
    return _guarded(cell) if isinstance(cell, str) else f"{cell:f}".replace(".", decimal)


def _guarded(text: str) -> str:
    risky = text[:1] in RISKY_FIRST or text[:1] in RISKY_FIRST_WIDE
    return f"{GUARD}{text}" if text and risky else text


def from_csv(data: bytes) -> Table:
    """The table of a file of ours, with or without byte-order mark. Raises CsvRefused."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise CsvRefused("The file is not UTF-8. Save it as CSV UTF-8.") from None
    separator = next((sign for sign in SEPARATORS.values() if sign in text.partition("\n")[0]), ";")
    lines = list(csv.reader(io.StringIO(text, newline=""), delimiter=separator))
    if not lines or len(lines[0]) < 3 or lines[0][0] != NAME or [] not in lines:
        raise CsvRefused(f"The first line does not say {NAME}: this is no table written by a station.")
    decimal = DECIMALS.get(lines[0][2].removeprefix("decimal "), ".")
    gap = lines.index([])
    headings, rows = lines[gap + 1], lines[gap + 2 :]
    columns = tuple(Column(_bare(name), kind == "number") for name, kind in zip(headings, lines[0][3:], strict=False))
    first = gap + 3
    return Table(
        _bare(lines[1][1]), columns, tuple(_row(row, columns, decimal, first + at) for at, row in enumerate(rows))
    )


def _row(row: list[str], columns: tuple[Column, ...], decimal: str, place: int) -> tuple[Cell, ...]:
    if len(row) != len(columns):
        raise CsvRefused(f"Row {place} has {len(row)} columns instead of {len(columns)}.")
    return tuple(_cell(cell, column, decimal, place) for cell, column in zip(row, columns, strict=True))


def _cell(cell: str, column: Column, decimal: str, place: int) -> Cell:
    if not column.number:
        if cell != _guarded(_bare(cell)):
            raise CsvRefused(f"Row {place}, {column.heading}: {cell!r} was changed after it was written.")
        return _bare(cell)
    if not cell:
        return None
    try:
        return Decimal(cell.replace(decimal, "."))
    except InvalidOperation:
        raise CsvRefused(f"Row {place}, {column.heading}: {cell!r} is no number.") from None


def _bare(text: str) -> str:
    return text[1:] if text.startswith(GUARD) else text
