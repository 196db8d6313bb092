"""What a journal file holds, read without writing to it: every row as stored, and every fact in it."""

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby
from operator import attrgetter
from pathlib import Path

from station.care.facts import Fact, StationStarted
from station.journal.codec import Codec, Unreadable
from station.journal.database import NO_HASH, Step, connect_read_only, inspect
from station.journal.troubles import told
from station.journal.upgrade import STEPS, refuse_newer


@dataclass(frozen=True, slots=True)
class Row:
    """One row: `journal` in hex, `stored` the bytes the chain is computed over, `hash` the chain hash in hex."""

    journal: str
    seq: int
    tick: int
    stored: bytes
    hash: str


def read_rows(path: Path, steps: Sequence[Step] = STEPS) -> list[Row]:
    """Every row by journal and seq. The file may be in use. Raises JournalRefusal or JournalEnvironment."""
    with told(path):
        refuse_newer(path, inspect(path), steps)
        with closing(connect_read_only(path)) as connection:
            return _rows(connection)


def _rows(connection: sqlite3.Connection) -> list[Row]:
    connection.text_factory = lambda raw: raw.decode("utf-8", "backslashreplace")
    query = "SELECT journal, seq, tick, CAST(stored AS BLOB), hash FROM facts ORDER BY journal, seq"
    return [Row(*row) for row in connection.execute(query)]


def facts_of(rows: Iterable[Row]) -> tuple[Fact, ...]:
    """The facts of these rows in fold order; what can't be read is left out, for `verify` names it.

    Raises JournalRefusal for facts of a newer program.
    """
    codec, found = Codec(), []
    for row in rows:
        try:
            found.append(codec.read(row.stored.decode()))
        except (Unreadable, UnicodeDecodeError):
            continue
    return tuple(sorted(found, key=lambda fact: fact.order))


def continued_elsewhere(facts: Iterable[Fact], rows: Iterable[Row]) -> Iterator[str]:
    """A sentence for each fact that says it continues a journal whose row of that number and hash is not here."""
    known = {f"{row.journal}-{row.seq}-{row.hash}" for row in rows}
    for fact in facts:
        if isinstance(fact.body, StationStarted) and fact.body.continues:
            continues = fact.body.continues
            if continues not in known and not continues.endswith(f"-0-{NO_HASH}"):
                yield f"Fact {fact.key} says its journal continues {continues}, but no such row is here."


@dataclass(frozen=True, slots=True)
class Span:
    """Rows of one journal that follow each other, and the chain hash before the first of them."""

    journal: str
    before: str
    rows: tuple[Row, ...]


def spans(rows: Iterable[Row], facts: Iterable[Fact], begin: datetime | None, end: datetime | None) -> Iterator[Span]:
    """Of each journal the rows from the first fact at `begin` or later to the last before `end`, and all between.

    `rows` are all of a file by journal and seq, `facts` those of them that could be read. A clock that was moved
    takes no row out of the middle, for the chain goes through all of them. Journals with no such row are left out.
    """
    at = {(f"{fact.journal:016x}", fact.seq): fact.at for fact in facts}
    for journal, members in groupby(rows, attrgetter("journal")):
        whole = list(members)
        inside = [place for place, row in enumerate(whole) if _between(at.get((row.journal, row.seq)), begin, end)]
        if inside:
            first = inside[0] if begin is not None else 0
            last = inside[-1] if end is not None else len(whole) - 1
            yield Span(journal, whole[first - 1].hash if first else NO_HASH, tuple(whole[first : last + 1]))


def _between(at: datetime | None, begin: datetime | None, end: datetime | None) -> bool:
    return at is not None and (begin is None or at >= begin) and (end is None or at < end)
