"""Everything in a journal file at one moment, read without changing it and while a station may be at work on it."""

from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from station.care.facts import Fact
from station.journal.codec import Codec, Unreadable
from station.journal.database import NO_HASH, connect_read_only, inspect
from station.journal.opening import continued_journals, own_journal
from station.journal.troubles import damaged, told
from station.journal.upgrade import STEPS, refuse_newer


@dataclass(frozen=True, slots=True)
class Snapshot:
    """All facts in fold order, the journals this station's clock dated, and the chain hash of its own last fact."""

    facts: tuple[Fact, ...]
    own: frozenset[int]
    head: str


def snapshot(path: Path) -> Snapshot:
    """Read the journal file at `path`. Raises JournalRefusal or JournalEnvironment."""
    with told(path):
        refuse_newer(path, inspect(path), STEPS)
        with closing(connect_read_only(path)) as connection:
            connection.execute("BEGIN")  # facts and head of one moment
            number = own_journal(connection, path)
            before = (int(journal, 16) for journal, _, _ in continued_journals(connection))
            rows = connection.execute("SELECT journal, seq, stored FROM facts ORDER BY tick, journal, seq").fetchall()
            query = "SELECT hash FROM facts WHERE journal = ? ORDER BY seq DESC LIMIT 1"
            head = connection.execute(query, (f"{number:016x}",)).fetchone()
            own = frozenset((number, *before))
    codec = Codec()
    facts = tuple(_decoded(codec, path, *row) for row in rows)
    return Snapshot(facts, own, head[0] if head else NO_HASH)


def _decoded(codec: Codec, path: Path, journal: str, seq: int, stored: str) -> Fact:
    try:
        return codec.read(stored)
    except Unreadable as error:
        raise damaged(path, f"fact {journal}-{seq}: {error}") from error
