"""Files kept as proof beside the journal, each under the digest of its content.

A file gets its name only when it is whole and on disk, and is never rewritten: facts name it by its digest, so the
chain of facts vouches for it too.
"""

import re
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

from station.journal.database import discard, part_of, put_in_place
from station.journal.troubles import told
from station.services.ports import JournalEnvironment, JournalRefusal

FOLDER = "evidence"
_DIGEST = re.compile(r"[0-9a-f]{64}")


class FolderEvidence:
    """Evidence in one folder on a disk of this PC; `folder` is made with the first file."""

    def __init__(self, folder: Path) -> None:
        """Nothing is touched before something is kept."""
        self.folder = folder

    def keep(self, content: bytes) -> str:
        """Store `content`; on return it is on disk. What is there already is not written again."""
        digest = sha256(content).hexdigest()
        path = self._path(digest)
        with told(path):
            if path.exists() and sha256(path.read_bytes()).hexdigest() == digest:
                return digest
            self.folder.mkdir(parents=True, exist_ok=True)
            part = part_of(path)
            try:
                part.write_bytes(content)
                put_in_place(part, path)
            finally:
                discard(part)
        return digest

    def fetch(self, digest: str) -> bytes:
        """What was kept under this digest. Raises JournalRefusal `evidence-missing`, JournalEnvironment
        `evidence-changed` where the file is not what was kept."""
        path = self._path(digest)
        if not path.exists():
            raise JournalRefusal(
                "evidence-missing", f"The file {digest[:12]} is not in {self.folder}. Look for it in a backup."
            )
        with told(path):
            content = path.read_bytes()
        if sha256(content).hexdigest() != digest:
            raise JournalEnvironment(
                "evidence-changed", f"The file {path} was changed after it was kept. Bring it back from a backup."
            )
        return content

    def digests(self) -> Iterator[str]:
        """Every digest kept here."""
        if not self.folder.exists():
            return
        with told(self.folder):
            names = sorted(found.name for found in self.folder.iterdir())
        yield from (name for name in names if _DIGEST.fullmatch(name))

    def _path(self, digest: str) -> Path:
        if not _DIGEST.fullmatch(digest):
            raise JournalRefusal("evidence-name", f"{digest!r} is no digest of a kept file.")
        return self.folder / digest
