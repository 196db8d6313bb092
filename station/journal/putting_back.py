"""A whole data folder out of a backup: journal, key and kept files, or nothing at all.

The journal comes last and its rename is what counts: a folder with a journal has its key and its files too.
"""

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from station.journal.backup import copy_evidence, copy_key, evidence_beside, key_beside, restore
from station.journal.evidence import FOLDER, FolderEvidence
from station.journal.lock import FolderLock
from station.journal.shares import refuse_share
from station.journal.troubles import told
from station.services.ports import JournalRefusal


@dataclass(frozen=True, slots=True)
class PutBack:
    """What came back: `continues` as `restore` gives it, the digests of the files, and why others did not."""

    continues: str
    files: tuple[str, ...]
    lost: tuple[str, ...]


def put_back(backup: Path, data: Path, journal: str, key: str) -> PutBack:
    """Put a backup into the folder `data`, under these names of journal and key.

    Raises JournalRefusal `journal-in-use`, `restore-in-the-way`, `restore-no-key` and what `restore` raises, or
    JournalEnvironment; the folder is then as it was.
    """
    refuse_share(data / journal)
    with told(data):
        data.mkdir(parents=True, exist_ok=True)
    lock = FolderLock.take(data)
    try:
        _refuse_taken(data, journal, key)
        _refuse_without_key(backup, key)
        with _undone_on_failure(data / key, data / FOLDER):
            source = FolderEvidence(evidence_beside(backup))
            files, lost = copy_evidence(source, FolderEvidence(data / FOLDER))
            copy_key(key_beside(backup, key), data / key)
            return PutBack(restore(backup, data / journal), files, lost)
    finally:
        lock.release()


def _refuse_taken(data: Path, journal: str, key: str) -> None:
    """Nothing of another journal may end up beside this one: its key would not fit, its files prove nothing here."""
    for name in (journal, f"{journal}-wal", key, FOLDER):
        if (data / name).exists():
            raise JournalRefusal(
                "restore-in-the-way",
                f"{data / name} is in the way. Move what lies in {data} to another folder, then restore again.",
            )


def _refuse_without_key(backup: Path, key: str) -> None:
    beside = key_beside(backup, key)
    with told(backup):
        backup.stat()
    if not beside.exists():
        raise JournalRefusal(
            "restore-no-key",
            f"The key {beside} is not beside the backup; with a new one no label in the plant could be read. "
            "Copy it there, then restore again.",
        )


@contextmanager
def _undone_on_failure(key: Path, evidence: Path) -> Iterator[None]:
    try:
        yield
    except BaseException:
        key.unlink(missing_ok=True)
        shutil.rmtree(evidence, ignore_errors=True)
        raise
