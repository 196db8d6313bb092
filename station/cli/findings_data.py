"""The doctor's look at the data folder: where it lies, whether it can be written, the journal and the key."""

import os
import tempfile
from collections.abc import Iterator
from pathlib import Path

from station.bootstrap import JOURNAL_NAME, KEY_NAME, keys_in
from station.cli.findings import Finding
from station.journal.shares import refuse_share
from station.journal.verify import verify
from station.labels.faults import LabelFault
from station.services.ports import JournalTrouble


def data_findings(folder: Path) -> Iterator[Finding]:
    """Everything about the data folder; nothing in it is changed."""
    yield place_finding(folder)
    yield writing_finding(folder)
    yield journal_finding(folder / JOURNAL_NAME)
    yield key_finding(folder)


def place_finding(folder: Path) -> Finding:
    """Whether it lies on a disk of this PC."""
    try:
        refuse_share(folder)
    except JournalTrouble as refused:
        return Finding(False, "data folder", refused.sentence)
    return Finding(True, "data folder", f"{folder} is on a disk of this PC")


def writing_finding(folder: Path) -> Finding:
    """Whether this account may write there, or may make the folder."""
    nearest = next(path for path in (folder, *folder.absolute().parents) if path.exists())
    try:
        with tempfile.TemporaryFile(dir=nearest) as file:
            file.write(b"x")
            file.flush()
            os.fsync(file.fileno())
    except OSError as trouble:
        told = f"nothing can be written in {nearest} ({trouble.strerror}). Give this account the right."
        return Finding(False, "writing", told)
    if nearest != folder:
        return Finding(True, "writing", f"{folder} is not there yet and will be made at the first start")
    return Finding(True, "writing", f"{folder} can be written")


def journal_finding(path: Path) -> Finding:
    """Whether the journal's chain holds."""
    if not path.exists():
        return Finding(None, "journal", f"none at {path} yet; the first start makes one")
    try:
        found = verify(path)
    except JournalTrouble as trouble:
        return Finding(False, "journal", trouble.sentence)
    if not found.ok:
        return Finding(False, "journal", f"{found.findings[0].sentence} Run station verify --data {path.parent}.")
    return Finding(True, "journal", f"{sum(chain.rows for chain in found.chains)} facts, the chain holds")


def key_finding(folder: Path) -> Finding:
    """Whether the key that signs labels is there and can be used, and is nobody else's to read."""
    path = folder / KEY_NAME
    if not path.exists():
        if (folder / JOURNAL_NAME).exists():
            return Finding(False, "key", f"{path} is missing. Bring it back from the latest backup.")
        return Finding(None, "key", f"none at {path} yet; the first start makes one")
    try:
        keys_in(folder, create=False)
    except LabelFault as fault:
        return Finding(False, "key", fault.sentence)
    if os.name == "posix" and path.stat().st_mode & 0o077:
        return Finding(False, "key", f"{path} can be read by other accounts. Run chmod 600 on it.")
    return Finding(True, "key", f"{path} is there and only this account can read it")
