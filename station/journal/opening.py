"""What happens before the first fact can be written: nothing may be replaced, and nothing damaged written to."""

import sqlite3
from collections.abc import Sequence
from pathlib import Path

from station.journal.database import Step, build, inspect, sync_folder
from station.journal.troubles import damaged, told
from station.journal.upgrade import refuse_newer
from station.services.ports import JournalEnvironment, JournalRefusal

ASIDE = ".damaged-"
_SIDE_FILES = ("-wal", "-shm")  # a log without its database is worth nothing, so they move together


def prepare(path: Path, steps: Sequence[Step]) -> bool:
    """Leave a whole journal of this version or an older one at `path`; True if it had to be made.

    Raises `journal-missing` where a journal must have been, `journal-damaged` after setting a damaged file aside,
    `journal-newer` and `journal-foreign` without touching the file. The caller holds the folder's lock.
    """
    with told(path):
        if not path.exists():
            _refuse_if_one_was_here(path)
            build(path, steps)
            return True
        refuse_newer(path, _inspect(path), steps)
        return False


def _inspect(path: Path) -> int:
    try:
        with told(path):
            return inspect(path)
    except JournalEnvironment as trouble:
        if trouble.code != "journal-damaged":
            raise
        raise _set_aside(path, trouble) from trouble


def _refuse_if_one_was_here(path: Path) -> None:
    """A missing file beside remains of a journal is a loss. Starting an empty one would hide it."""
    remains = [path.with_name(path.name + end) for end in _SIDE_FILES]
    left = sorted([file for file in remains if file.exists()] + list(path.parent.glob(f"{path.name}{ASIDE}*")))
    if left:
        raise JournalRefusal(
            "journal-missing",
            f"The journal {path} is missing, but remains of it lie beside it ({left[0].name}). Restore the latest "
            "backup; to begin an empty journal instead, move the remains to another folder.",
        )


def _set_aside(path: Path, trouble: JournalEnvironment) -> JournalEnvironment:
    aside = _free_name(path)
    path.rename(aside)
    for end in _SIDE_FILES:
        beside = path.with_name(path.name + end)
        if beside.exists():
            beside.rename(aside.with_name(aside.name + end))
    sync_folder(path.parent)
    return JournalEnvironment(
        trouble.code,
        f"The journal {path} is damaged and was kept aside unchanged as {aside.name}. "
        "Restore the latest backup; labels in the field stay valid and can still be read.",
        trouble.detail,
    )


def _free_name(path: Path) -> Path:
    number = 1
    while (aside := path.with_name(f"{path.name}{ASIDE}{number}")).exists():
        number += 1
    return aside


def own_journal(connection: sqlite3.Connection, path: Path) -> int:
    """The number of the journal this file writes to."""
    rows = connection.execute("SELECT journal FROM own").fetchall()
    if len(rows) != 1:
        raise damaged(path, f"table own has {len(rows)} rows")
    return int(rows[0][0], 16)


def continued_journals(connection: sqlite3.Connection) -> tuple[tuple[str, int, str], ...]:
    """What this file's journal continues: number in hex, last seq and hash of each, the oldest first."""
    if not connection.execute("SELECT 1 FROM sqlite_master WHERE name = 'continued'").fetchall():
        return ()
    return tuple(connection.execute("SELECT journal, seq, hash FROM continued ORDER BY rowid").fetchall())
