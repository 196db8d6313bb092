"""Stock and expiry: what is here now, what runs short and whose shelf life ends soon."""

from station.care.stock import Lying, Reserve, StockRow, stock
from station.reports.asked import Asked, figure, report
from station.reports.document import Cell, Column, Report, Table

ROWS = (
    *map(Column, ("paste", "lot", "state")),
    *(Column(heading, number=True) for heading in ("containers", "on hold", "grams at most")),
    Column("first end"),
    Column("days left", number=True),
)
RESERVES = (Column("paste"), Column("usable", number=True), Column("wanted", number=True), Column("short"))
SOON = (
    *map(Column, ("container", "paste", "lot", "where", "last usable", "by limit")),
    Column("days left", number=True),
    Column("may be used"),
)
NOW = "at the moment the report was made, not in a period; grams are net mass as bought"


def stock_report(asked: Asked) -> Report:
    """Of now, whatever the period."""
    found = stock(asked.floor)
    tables = (
        Table("Stock", ROWS, tuple(_row(asked, row) for row in found.rows)),
        Table("Reserve", RESERVES, tuple(map(_reserve, found.reserves))),
        Table("Shelf life ends soon", SOON, tuple(_soon(asked, one) for one in found.soon)),
    )
    return report(asked, "Stock and expiry", tables, ("stock is", NOW))


def _row(asked: Asked, row: StockRow) -> tuple[Cell, ...]:
    counted = (figure(row.count), figure(row.held), figure(row.grams, 1))
    return (row.paste, row.lot, row.stage.value, *counted, asked.instant(row.first_end), figure(row.days_left))


def _reserve(found: Reserve) -> tuple[Cell, ...]:
    return found.paste, figure(found.usable), figure(found.minimum), "short" if found.short else ""


def _soon(asked: Asked, one: Lying) -> tuple[Cell, ...]:
    return (
        *(one.container.id, one.container.paste, one.container.lot, one.where, asked.instant(one.container.shelf_end)),
        one.governing.value if one.governing is not None else "",
        figure(one.left.days) if one.left is not None else None,
        "yes" if one.usable else "no",
    )
