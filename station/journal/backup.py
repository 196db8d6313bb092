"""Backup and restore. A backup is done when its copy was opened, checked and found equal, and not before.

The copy is made by SQLite's own online backup, because a plain copy of the file misses what is still in the
write-ahead log. Keys are copied along: without them no label in the field could be checked after a restore. So are
the files kept as proof, after the database: what its facts name was kept before they were written.
"""

import os
import re
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from station.journal.database import (
    CONTINUED,
    NO_HASH,
    connect_read_only,
    copy_database,
    discard,
    inspect,
    new_journal_number,
    part_of,
    put_in_place,
)
from station.journal.evidence import FOLDER, FolderEvidence
from station.journal.opening import own_journal
from station.journal.shares import refuse_share
from station.journal.troubles import told
from station.journal.upgrade import STEPS, refuse_newer
from station.journal.verify import Chain, Verification, verify
from station.services.numbering import WAYS
from station.services.ports import JournalEnvironment, JournalRefusal, JournalTrouble

HEX = re.compile("[0-9a-f]{16}")


@dataclass(frozen=True, slots=True)
class Backup:
    """A finished backup. `verification` speaks of the copy; it has findings if the journal itself had them.

    `files` are the digests of kept files that lie in it, `lost` says of each that could not be copied why.
    """

    path: Path
    keys: tuple[Path, ...]
    verification: Verification
    files: tuple[str, ...] = ()
    lost: tuple[str, ...] = ()

    @property
    def rows(self) -> int:
        """How many facts the copy holds."""
        return sum(chain.rows for chain in self.verification.chains)


def evidence_beside(backup: Path) -> Path:
    """Where a backup has the files kept as proof."""
    return backup.with_name(f"{backup.name}.{FOLDER}")


def key_beside(backup: Path, key: str) -> Path:
    """Where a backup has a key file of this name."""
    return backup.with_name(f"{backup.name}.{key}")


def back_up(source: Path, target: Path, keys: Sequence[Path] = (), evidence: FolderEvidence | None = None) -> Backup:
    """Copy the journal `source`, which may be in use, to `target`, and each key file to `target` + "." + its name.

    The files of `evidence` go into the folder `target` + ".evidence", each read back; one that is not whole is named
    and keeps nothing else back. A backup already at `target` is replaced only by one that was found equal. Raises
    JournalRefusal or JournalEnvironment; then journal and keys there are as they were.
    """
    copies = [key_beside(target, key.name) for key in keys]
    if len(set(copies)) != len(copies):
        raise ValueError(f"key files of one name cannot lie beside one backup: {[key.name for key in keys]}")
    with told(source):
        refuse_newer(source, inspect(source), STEPS)
    with told(target):
        _refuse_itself(source, target, copies)
        with _part(target) as part:
            expected = _copied(source, part)
            verification = _verified(part, expected)
            for key, copy in zip(keys, copies, strict=True):
                copy_key(key, copy)
            files, lost = copy_evidence(evidence, FolderEvidence(evidence_beside(target))) if evidence else ((), ())
            put_in_place(part, target)
    return Backup(target, tuple(copies), verification, files, lost)


def copy_evidence(source: FolderEvidence, target: FolderEvidence) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Copy every kept file and read it back; the digests now there, and a sentence for each file that is not whole.

    Raises JournalEnvironment where the disk of `target` fails.
    """
    files, lost = [], []
    for digest in source.digests():
        try:
            content = source.fetch(digest)
        except JournalTrouble as trouble:
            lost.append(trouble.sentence)
            continue
        target.keep(content)
        target.fetch(digest)
        files.append(digest)
    return tuple(files), tuple(lost)


def restored_beside(backup: Path) -> Path:
    """Where a backup has the numbers of the journals it was restored to, a line each."""
    return backup.with_name(f"{backup.name}.restored")


def restore(backup: Path, path: Path) -> str:
    """Put a checked backup at `path`, where no journal may lie, as a journal with a new number.

    Gives what the first fact must say it continues: the old number, its last seq and hash, joined by "-". The
    caller holds the folder's lock. Two stations restored from one backup thus never write facts of one name. Nor do
    they number containers alike: the new number is noted beside the backup, where that can be written, and none is
    taken that would count on where one noted before does.
    """
    refuse_share(path)
    found = verify(backup)
    if not found.ok:
        raise JournalRefusal(
            "backup-broken",
            f"The backup {backup} does not hold together: {found.findings[0].sentence} Restore an earlier backup.",
            " ".join(finding.sentence for finding in found.findings),
        )
    with told(path):
        _refuse_taken(path)
        with _part(path) as part:
            _copied(backup, part)
            continued = _renumber(part, _noted_number(restored_beside(backup)))
            put_in_place(part, path)
    return continued


def _refuse_itself(source: Path, target: Path, copies: Sequence[Path]) -> None:
    if source.resolve() in {file.resolve() for file in (target, *copies)}:
        raise JournalRefusal(
            "backup-onto-itself", f"{target} is the journal itself. Choose another name, best on another disk."
        )


def _refuse_taken(path: Path) -> None:
    for file in (path, path.with_name(f"{path.name}-wal")):
        if file.exists():
            raise JournalRefusal(
                "restore-onto-journal", f"{file} is in the way. Move it to another folder, then restore again."
            )


@contextmanager
def _part(target: Path) -> Iterator[Path]:
    """Where the copy is made; nothing is left of it unless it got its name."""
    part = part_of(target)
    discard(part)  # left by a power cut
    try:
        yield part
    finally:
        discard(part)


def _copied(source: Path, part: Path) -> tuple[Chain, ...]:
    """Copy and list the heads from one and the same state, whatever is appended meanwhile."""
    with closing(connect_read_only(source)) as connection:
        connection.execute("BEGIN")
        heads = _heads(connection)
        copy_database(connection, part)
    return heads


def _heads(connection: sqlite3.Connection) -> tuple[Chain, ...]:
    # Beside max() SQLite gives the other columns of the very row that holds the maximum (sqlite.org, lang_select).
    query = "SELECT journal, count(*), hash, max(seq) FROM facts GROUP BY journal ORDER BY journal"
    return tuple(Chain(int(journal, 16), rows, digest) for journal, rows, digest, _ in connection.execute(query))


def _verified(part: Path, expected: tuple[Chain, ...]) -> Verification:
    verification = verify(part)
    if verification.chains != expected:
        raise JournalEnvironment(
            "backup-unequal",
            f"The copy in {part.parent} is not equal to the journal and was thrown away. Back up to another disk.",
            f"the copy holds {verification.chains}, the journal {expected}",
        )
    return verification


def copy_key(key: Path, copy: Path) -> None:
    """Copy a key file, readable by the owner only; it gets its name when it is whole and on disk."""
    with told(key):
        content = key.read_bytes()
    with _part(copy) as part:
        with os.fdopen(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
            file.write(content)
        put_in_place(part, copy)


def _noted_number(noted: Path) -> int:
    """A new journal number that counts on apart from those noted; it is noted too."""
    number = new_journal_number()
    # a backup on a disc that cannot be written may be restored all the same
    with suppress(OSError), noted.open("a+", encoding="ascii", errors="replace") as file:
        file.seek(0)
        taken = {int(line, 16) % WAYS for line in file.read().split() if HEX.fullmatch(line)}
        while number % WAYS in taken and len(taken) < WAYS:
            number = new_journal_number()
        file.write(f"{number:016x}\n")
    return number


def _renumber(part: Path, number: int) -> str:
    with closing(sqlite3.connect(part, isolation_level=None)) as connection:
        connection.execute("BEGIN")
        old = f"{own_journal(connection, part):016x}"
        query = "SELECT seq, hash FROM facts WHERE journal = ? ORDER BY seq DESC LIMIT 1"
        seq, digest = connection.execute(query, (old,)).fetchone() or (0, NO_HASH)
        connection.execute(CONTINUED)
        connection.execute("INSERT INTO continued VALUES (?, ?, ?)", (old, seq, digest))
        connection.execute("UPDATE own SET journal = ?", (f"{number:016x}",))
        connection.execute("COMMIT")
    return f"{old}-{seq}-{digest}"
