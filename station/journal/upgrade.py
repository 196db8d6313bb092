"""Brings an older file up to this version: a copy first, then every step in one transaction, or nothing at all."""

import sqlite3
from collections.abc import Sequence
from contextlib import closing
from pathlib import Path

from station.journal.database import Step, connect_read_only, copy_database, part_of, put_in_place, version_of
from station.services.ports import JournalRefusal

# STEPS[n] brings a file from version n + 1 to n + 2.
STEPS: Sequence[Step] = ()


def newest(steps: Sequence[Step]) -> int:
    """The version of files this program writes."""
    return 1 + len(steps)


def refuse_newer(path: Path, version: int, steps: Sequence[Step]) -> None:
    """Raise JournalRefusal `journal-newer` for a file of a later program; nobody has touched it yet."""
    if version > newest(steps):
        raise JournalRefusal(
            "journal-newer",
            f"The journal {path} was written by a newer version of this program (file version {version}, this "
            f"program knows up to {newest(steps)}). Install the newer version; the file was left as it is.",
        )


def upgrade(connection: sqlite3.Connection, path: Path, steps: Sequence[Step]) -> Path | None:
    """Run the steps the file still needs; gives the path of the copy made before, None if none was needed."""
    version = version_of(connection)
    if version >= newest(steps):
        return None
    kept = path.with_name(f"{path.name}.version-{version}")
    _keep(path, kept)
    connection.execute("BEGIN EXCLUSIVE")
    try:
        while version < newest(steps):
            steps[version - 1](connection)
            version += 1
            connection.execute(f"PRAGMA user_version = {version}")
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise
    return kept


def _keep(path: Path, kept: Path) -> None:
    with closing(connect_read_only(path)) as source:
        copy_database(source, part_of(kept))
    put_in_place(part_of(kept), kept)
