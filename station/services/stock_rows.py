"""Stock that was there before the station, row by row of a table, and what is wrong with a row."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta


@dataclass(frozen=True, slots=True)
class StockFault:
    """One fault: the row as a spreadsheet numbers it (the header is row 1), the column, what is wrong, how to mend."""

    row: int
    column: str
    sentence: str

    def __str__(self) -> str:
        """`row 7, expires: ...`"""
        place = f"row {self.row}, {self.column}" if self.column else f"row {self.row}"
        return f"{place}: {self.sentence}"


@dataclass(frozen=True, slots=True)
class StockRow:
    """One container. `arrived_at` is aware UTC; of a date alone the beginning of that day, the safe side.

    `out` is how long it was out of the cold since then, where the file tells."""

    row: int
    paste: str
    kind: str
    lot: str
    expires: date | None
    made: date | None
    store: str
    bin: str
    arrived_at: datetime
    out: timedelta = timedelta(0)
