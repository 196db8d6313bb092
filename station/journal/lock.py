"""One program per data folder: a lock of the operating system, which ends with the process that holds it.

The file is only something to hold the lock on: it is never read, written or deleted, so one left by a crash, or
one that names another process, means nothing.
"""

import os
import sys
from pathlib import Path
from typing import Self

from station.journal.troubles import told
from station.services.ports import JournalRefusal

LOCK_NAME = "station.lock"

if sys.platform == "win32":  # pragma: no cover
    import msvcrt

    def _open(path: Path) -> int:
        return os.open(path, os.O_RDWR | os.O_CREAT, 0o666)

    def _try_lock(handle: int) -> bool:
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:
    import fcntl

    def _open(path: Path) -> int:
        # Reading is enough to lock, so a second account is told "in use" and not "no access".
        return os.open(path, os.O_RDONLY | os.O_CREAT, 0o666)

    def _try_lock(handle: int) -> bool:
        # flock and not lockf: the latter is dropped as soon as this process closes any handle of the file.
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True


class FolderLock:
    """The right to use one data folder, held until `release` or the end of the process, however it ends."""

    def __init__(self, folder: Path, handle: int) -> None:
        self.folder = folder
        self._handle: int | None = handle

    @classmethod
    def take(cls, folder: Path) -> Self:
        """Take the lock of an existing folder, or raise JournalRefusal `journal-in-use` having changed nothing."""
        with told(folder):
            handle = _open(folder / LOCK_NAME)
            if _try_lock(handle):
                return cls(folder, handle)
            os.close(handle)
        raise JournalRefusal(
            "journal-in-use",
            f"The station is already running on {folder}. Use the window that is open, or close it first.",
        )

    def release(self) -> None:
        """Give the lock back; doing it twice is harmless."""
        if self._handle is not None:
            os.close(self._handle)
            self._handle = None
