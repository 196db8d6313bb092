"""`station backup FILE`: journal, key and kept files, and "done" only after all was read back and found equal."""

from argparse import Namespace
from pathlib import Path

from station.bootstrap import JOURNAL_NAME, KEY_NAME
from station.cli.saying import NO, YES, complain, say
from station.journal.backup import back_up, evidence_beside
from station.journal.evidence import FOLDER, FolderEvidence
from station.journal.verify import verify
from station.services.outcome import Refusal
from station.services.ports import JournalTrouble


def run(told: Namespace) -> int:
    """Back up; a copy without a key, or of a journal with faults, is made but answered with "no"."""
    _refuse_other_file(told.file)
    key = told.data / KEY_NAME
    keys = [key] if key.exists() else []
    done = back_up(told.data / JOURNAL_NAME, told.file, keys, FolderEvidence(told.data / FOLDER))
    faults = [*(finding.sentence for finding in done.verification.findings), *done.lost]
    if not keys:
        faults.append(f"There is no key {key} to copy: after a restore labels could not be checked.")
    complain(faults)
    copies = " and ".join(str(path) for path in (done.path, *done.keys))
    if faults:
        complain([f"{copies} holds what there is, faults included."])
        return NO
    files = f", and {len(done.files)} kept files in {evidence_beside(told.file)}" if done.files else ""
    say(f"done: {done.rows} facts in {copies}{files}, read back and found equal")
    say("Whoever has the key can make labels: keep the copy locked away.")
    return YES


def _refuse_other_file(file: Path) -> None:
    """Only an earlier backup may be replaced, nothing else that happens to lie there."""
    if not file.exists():
        return
    try:
        verify(file)
    except JournalTrouble as trouble:
        raise Refusal(
            "backup-in-the-way", f"{file} is there and is no backup of a journal. Choose another name."
        ) from trouble
