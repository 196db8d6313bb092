"""The journal: facts are appended to one SQLite file and never changed. What `append` returns is on disk."""

import hashlib
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager, suppress
from datetime import timedelta
from pathlib import Path
from types import TracebackType
from typing import Self

from station.care.facts import Fact
from station.journal.codec import Codec, Unreadable
from station.journal.database import NO_HASH, Step, connect_writer
from station.journal.lock import FolderLock
from station.journal.opening import continued_journals, own_journal, prepare
from station.journal.shares import refuse_share
from station.journal.troubles import damaged, told
from station.journal.upgrade import STEPS, upgrade
from station.services.ports import Draft

BUSY_WAIT = timedelta(seconds=2)
PAGE = 1000


def chained(before: str, stored: bytes) -> str:
    """The chain hash of a row, in hex: SHA-256 over the hash before it (32 bytes) and the bytes as stored."""
    return hashlib.sha256(bytes.fromhex(before) + stored).hexdigest()


class Journal:
    """One open journal file. It belongs to the thread that opened it and to no other process.

    `number` is the journal's random 64-bit number, `created` tells that the file was made by this opening.
    """

    def __init__(self, path: Path, connection: sqlite3.Connection, codec: Codec, *, created: bool) -> None:
        self.path = path
        self.created = created
        self.number = own_journal(connection, path)
        self._own = f"{self.number:016x}"
        self._continued = continued_journals(connection)
        self._connection = connection
        self._codec = codec
        self._closing = ExitStack()

    @classmethod
    def open(
        cls,
        path: Path,
        *,
        lock: FolderLock | None = None,
        codec: Codec | None = None,
        steps: Sequence[Step] = STEPS,
        factory: type[sqlite3.Connection] = sqlite3.Connection,
        busy_wait: timedelta = BUSY_WAIT,
    ) -> Self:
        """Open the journal at `path`, or make it where none has been; the order of the checks matters.

        Give `lock` if the caller already holds the folder's; it stays the caller's then. `busy_wait` is how long
        a write waits for another program to let go of the file. Raises JournalRefusal or JournalEnvironment.
        """
        refuse_share(path)
        with ExitStack() as undo:
            if lock is None:
                with told(path):
                    path.parent.mkdir(parents=True, exist_ok=True)
                undo.callback(FolderLock.take(path.parent).release)
            created = prepare(path, steps)
            with told(path):
                connection = connect_writer(path, factory, busy_wait)
                undo.callback(connection.close)
                upgrade(connection, path, steps)
                journal = cls(path, connection, codec or Codec(), created=created)
            journal._closing = undo.pop_all()
        return journal

    @property
    def own(self) -> frozenset[int]:
        """This journal and those it continues: everything the clock of this station dated."""
        return frozenset((self.number, *(int(journal, 16) for journal, _, _ in self._continued)))

    @property
    def continues(self) -> str:
        """What the first fact must say this journal continues; "" once it has a fact, or if it continues none."""
        if not self._continued or self.head()[0]:
            return ""
        journal, seq, digest = self._continued[-1]
        return f"{journal}-{seq}-{digest}"

    def close(self) -> None:
        """Close the file and give up the folder; doing it twice is harmless."""
        with told(self.path):
            self._closing.close()

    def __enter__(self) -> Self:
        """Use the journal for one block."""
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        """Close it."""
        self.close()

    def append(self, drafts: Sequence[Draft]) -> tuple[Fact, ...]:
        """Store all drafts in one transaction and return them, as they will be read again, once they are on disk.

        Each gets the next number of this journal and a tick one above the largest seen, in the order given. On
        any error nothing of the call is stored, and the journal can be used again.
        """
        if not drafts:
            return ()
        with self._settled(), self._transaction():
            seq, before = self._head()
            tick = self._largest_tick()
            facts = []
            for place, draft in enumerate(drafts, start=1):
                stored, fact = self._codec.write(self._placed(draft, seq + place, tick + place))
                before = chained(before, stored.encode())
                self._insert(fact, stored, before)
                facts.append(fact)
        return tuple(facts)

    def facts(self) -> Iterator[Fact]:
        """Every fact stored when the iteration begins, of this and other journals, in fold order.

        Read in pages: an unfinished read of one statement would turn the next append away as locked.
        """
        with self._settled():
            last_tick = self._largest_tick()
        place = (-1, "", -1)
        while rows := self._page(place, last_tick):
            for journal, seq, tick, stored in rows:
                yield self._decoded(journal, seq, stored)
                place = (tick, journal, seq)

    def head(self) -> tuple[int, str]:
        """Number and chain hash of this journal's own last fact; (0, 64 zeros) before the first."""
        with self._settled():
            return self._head()

    def _placed(self, draft: Draft, seq: int, tick: int) -> Fact:
        return Fact(
            journal=self.number,
            seq=seq,
            tick=tick,
            at=draft.at,
            station=draft.station,
            who=draft.who,
            segment=draft.segment,
            body=draft.body,
        )

    def _insert(self, fact: Fact, stored: str, digest: str) -> None:
        statement = "INSERT INTO facts (journal, seq, tick, stored, hash) VALUES (?, ?, ?, ?, ?)"
        self._connection.execute(statement, (self._own, fact.seq, fact.tick, stored, digest))

    def _head(self) -> tuple[int, str]:
        query = "SELECT seq, hash FROM facts WHERE journal = ? ORDER BY seq DESC LIMIT 1"
        row = self._connection.execute(query, (self._own,)).fetchone()
        return (row[0], row[1]) if row else (0, NO_HASH)

    def _largest_tick(self) -> int:
        return int(self._connection.execute("SELECT coalesce(max(tick), 0) FROM facts").fetchone()[0])

    def _page(self, place: tuple[int, str, int], last_tick: int) -> list[tuple[str, int, int, str]]:
        query = (
            "SELECT journal, seq, tick, stored FROM facts WHERE (tick, journal, seq) > (?, ?, ?) AND tick <= ? "
            "ORDER BY tick, journal, seq LIMIT ?"
        )
        with self._settled():
            return self._connection.execute(query, (*place, last_tick, PAGE)).fetchall()

    def _decoded(self, journal: str, seq: int, stored: str) -> Fact:
        try:
            return self._codec.read(stored)
        except Unreadable as error:
            raise damaged(self.path, f"fact {journal}-{seq}: {error}") from error

    @contextmanager
    def _settled(self) -> Iterator[None]:
        """End a transaction whose rollback failed with the disk; reading in it would show what is not stored."""
        with told(self.path):
            if self._connection.in_transaction:
                self._connection.execute("ROLLBACK")
            yield

    @contextmanager
    def _transaction(self) -> Iterator[None]:
        # The write lock is taken at the start: a read that turns into a write is refused at once if anyone wrote
        # in between, however long we are ready to wait.
        self._connection.execute("BEGIN IMMEDIATE")
        try:
            yield
            self._connection.execute("COMMIT")
        except BaseException:
            # The first error is the one to tell; what it left open is rolled back by the next call.
            with suppress(sqlite3.Error):
                if self._connection.in_transaction:
                    self._connection.execute("ROLLBACK")
            raise
