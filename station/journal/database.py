"""The database file itself: its tables, its ways of being opened, and putting a finished file into place."""

import os
import secrets
import sqlite3
import sys
from collections.abc import Callable, Sequence
from contextlib import closing
from datetime import timedelta
from pathlib import Path

from station.journal.troubles import damaged
from station.services.ports import JournalRefusal

APPLICATION_ID = 0x5448574D  # "THWM", so another program's SQLite file is not taken for ours
NO_HASH = "0" * 64  # what the first fact of a chain is chained to

# Brings a file up by one version, inside a transaction that it must not end.
Step = Callable[[sqlite3.Connection], None]

# Version 1; what later versions add is in their steps. TEXT wherever a code may stand: a numeric column would drop
# leading zeros. The journal number is 16 hex digits, because SQLite's integers end at 63 bits, and of fixed length
# so that text order is number order.
TABLES = """
CREATE TABLE own (journal TEXT NOT NULL);
CREATE TABLE facts (
    journal TEXT NOT NULL,
    seq INTEGER NOT NULL,
    tick INTEGER NOT NULL,
    stored TEXT NOT NULL,
    hash TEXT NOT NULL,
    PRIMARY KEY (journal, seq)
);
CREATE INDEX facts_in_fold_order ON facts (tick, journal, seq);
"""

# Only in a restored file: what its own journal continues, the newest row last. Older programs pass it over.
CONTINUED = "CREATE TABLE IF NOT EXISTS continued (journal TEXT NOT NULL, seq INTEGER NOT NULL, hash TEXT NOT NULL)"


def connect_read_only(path: Path) -> sqlite3.Connection:
    """Open for reading; neither the file nor its write-ahead log is changed, closing included."""
    return sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True, isolation_level=None)


def connect_writer(path: Path, factory: type[sqlite3.Connection], busy_wait: timedelta) -> sqlite3.Connection:
    """Open the one writing connection: write-ahead log, and a sync to disk at every commit."""
    seconds = busy_wait.total_seconds()
    connection = sqlite3.connect(path, timeout=seconds, isolation_level=None, factory=factory)
    try:
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("BEGIN IMMEDIATE")  # tells a write-protected file now and not at the first scan
        connection.execute("ROLLBACK")
    except BaseException:
        connection.close()
        raise
    return connection


def inspect(path: Path) -> int:
    """The version of a whole journal file.

    Raises JournalRefusal for another program's file, JournalEnvironment `journal-damaged` and sqlite3.Error.
    """
    if path.stat().st_size == 0:
        raise damaged(path, "the file is empty")
    with closing(connect_read_only(path)) as connection:
        findings = [row[0] for row in connection.execute("PRAGMA quick_check")]
        if findings != ["ok"]:
            raise damaged(path, "; ".join(findings))
        if _number(connection, "application_id") != APPLICATION_ID:
            raise JournalRefusal(
                "journal-foreign",
                f"The file {path} belongs to another program. Move it away, or choose another data folder.",
            )
        return _number(connection, "user_version")


def version_of(connection: sqlite3.Connection) -> int:
    """The version of the file an open connection works on."""
    return _number(connection, "user_version")


def _number(connection: sqlite3.Connection, pragma: str) -> int:
    return int(connection.execute(f"PRAGMA {pragma}").fetchone()[0])


def new_journal_number() -> int:
    """A random 64-bit number: no clock and no counter, so two journals never share one."""
    return secrets.randbits(64)


def build(path: Path, steps: Sequence[Step]) -> None:
    """Make a new, empty journal file of the newest version; it gets its name only when it is whole and on disk."""
    part = part_of(path)
    discard(part)
    with closing(sqlite3.connect(part, isolation_level=None)) as connection:
        connection.executescript(f"BEGIN; {TABLES}")
        connection.execute("INSERT INTO own VALUES (?)", (f"{new_journal_number():016x}",))
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        for step in steps:
            step(connection)
        connection.execute(f"PRAGMA user_version = {1 + len(steps)}")
        connection.execute("COMMIT")
    put_in_place(part, path)


def part_of(path: Path) -> Path:
    """Where a file is made before it is whole; in the same folder, so that the last step is one rename."""
    return path.with_name(f"{path.name}.part")


def discard(part: Path) -> None:
    """Remove an unfinished file and its side files: a stale log would be played into the next file so named."""
    for end in ("", "-journal", "-wal", "-shm"):
        part.with_name(part.name + end).unlink(missing_ok=True)


def put_in_place(part: Path, path: Path) -> None:
    """Give a finished file its name: content to disk first, then the name, then the folder's entry."""
    _sync(part, os.O_RDWR)
    part.replace(path)
    sync_folder(path.parent)


def sync_folder(folder: Path) -> None:
    """Bring a folder's entries to disk; Windows does so by itself."""
    if sys.platform != "win32":  # pragma: no branch
        _sync(folder, os.O_RDONLY)


def _sync(path: Path, flags: int) -> None:
    handle = os.open(path, flags)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def copy_database(source: sqlite3.Connection, target: Path) -> None:
    """Copy what `source` sees into one new file without a write-ahead log, so the copy is complete by itself."""
    discard(target)
    with closing(sqlite3.connect(target, isolation_level=None)) as copy:
        source.backup(copy)
        copy.execute("PRAGMA journal_mode = DELETE")
