"""The two tables of an export: where each journal's part begins and ends, and its facts to look through."""

import json
from collections.abc import Iterable
from decimal import Decimal

from station.care.pace import Pace, paced, unhurried
from station.reports.document import Cell, Column, Table
from station.reports.record import Row, Span

LISTING = "listing facts"
SUBJECTS = ("container", "position", "lot", "paste", "alarm", "person", "store", "about")


def heads_table(parts: Iterable[Span]) -> Table:
    """Of each journal its number, first fact, the hash before it, last fact, head."""
    columns = (
        Column("journal"),
        Column("first", number=True),
        Column("hash before"),
        Column("last", number=True),
        Column("head"),
    )
    rows = (
        (part.journal, Decimal(part.rows[0].seq), part.before, Decimal(part.rows[-1].seq), part.rows[-1].hash)
        for part in parts
    )
    return Table("Journals", columns, tuple(rows))


def facts_table(parts: Iterable[Span], pace: Pace = unhurried) -> Table:
    """Every fact a row, what it is about in a column of its own, and all of its body as it stands."""
    columns = (
        Column("journal"),
        Column("number", number=True),
        Column("tick", number=True),
        Column("at, UTC"),
        Column("station", number=True),
        Column("who"),
        Column("what"),
        *map(Column, SUBJECTS),
        Column("all of it"),
    )
    rows = [row for part in parts for row in part.rows]
    return Table("Facts", columns, tuple(_row(row) for row in paced(rows, pace, LISTING)))


def _row(row: Row) -> tuple[Cell, ...]:
    start = (row.journal, Decimal(row.seq), Decimal(row.tick))
    try:
        fact = json.loads(row.stored)
        body = fact["body"]
        subjects = tuple(told if isinstance(told := body.get(name), str) else "" for name in SUBJECTS)
        whole = json.dumps(body, ensure_ascii=False, sort_keys=True)
        told = (str(fact["at"]), Decimal(fact["station"]), fact["who"] or "", str(fact["name"]))
    except (LookupError, TypeError, ValueError, AttributeError, ArithmeticError):  # changed: said by the check
        return (*start, "", None, "", "", *("" for _ in SUBJECTS), row.stored.decode("utf-8", "backslashreplace"))
    return (*start, *told, *subjects, whole)
