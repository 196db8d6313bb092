"""What a report is before it is shown or written: tables of typed columns, and what it was asked with."""

from dataclasses import dataclass
from decimal import Decimal

Cell = str | Decimal | None

NOTHING_FOUND = "Nothing on record for these parameters."


@dataclass(frozen=True, slots=True)
class Column:
    """One column; in a `number` column every cell is a Decimal, or None where there is no figure."""

    heading: str
    number: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under typed columns."""

    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]

    def __post_init__(self) -> None:
        """Raises ValueError for a row that does not fit its columns."""
        for row in self.rows:
            if len(row) != len(self.columns) or not all(map(_fits, row, self.columns)):
                raise ValueError(f"A row of {self.title!r} does not fit its columns: {row!r}.")


def _fits(cell: Cell, column: Column) -> bool:
    return cell is None or isinstance(cell, Decimal) if column.number else isinstance(cell, str)


@dataclass(frozen=True, slots=True)
class Report:
    """A whole report. `told` says what it was asked with, who, when, station and journal digest, in words."""

    title: str
    told: tuple[tuple[str, str], ...]
    tables: tuple[Table, ...]
