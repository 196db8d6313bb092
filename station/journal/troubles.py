"""Turns errors of SQLite and the operating system into troubles: a stable code, a sentence with the next step."""

import errno
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from station.services.ports import JournalEnvironment


@dataclass(frozen=True, slots=True)
class _Meaning:
    code: str
    sentence: str


_FULL = _Meaning(
    "journal-full",
    "The disk is full, so nothing can be saved at {path}. Free some space on it, then do the last step again.",
)
_READ_ONLY = _Meaning(
    "journal-read-only",
    "The journal at {path} is write-protected. Give this account the right to write there, then start again.",
)
_NO_ACCESS = _Meaning(
    "journal-no-access",
    "The journal at {path} cannot be opened. Check that the folder exists and this account may use it, "
    "then start again.",
)
_DISK = _Meaning(
    "journal-disk",
    "The disk with the journal at {path} does not answer as it should. "
    "Do the last step again; if it fails again, call maintenance and restore the latest backup on a good disk.",
)
_DAMAGED = _Meaning(
    "journal-damaged",
    "The journal at {path} is damaged. Restore the latest backup; labels in the field can still be read.",
)
_LOCKED = _Meaning(
    "journal-locked",
    "Another program holds the journal at {path}. Close it (a database viewer, a backup program), "
    "then do the last step again.",
)

_BY_SQLITE_CODE = {
    sqlite3.SQLITE_FULL: _FULL,  # no room on the disk, or the page limit is reached
    sqlite3.SQLITE_READONLY: _READ_ONLY,  # file, folder or volume is write-protected
    sqlite3.SQLITE_PERM: _READ_ONLY,  # access mode of the file cannot be had
    sqlite3.SQLITE_CANTOPEN: _NO_ACCESS,  # file or its -wal / -shm cannot be opened or made
    sqlite3.SQLITE_AUTH: _NO_ACCESS,  # opening was denied
    sqlite3.SQLITE_IOERR: _DISK,  # reading, writing or syncing failed below SQLite
    sqlite3.SQLITE_NOLFS: _DISK,  # the disk's format cannot hold a file this large
    sqlite3.SQLITE_PROTOCOL: _DISK,  # locks on the -shm file do not work on this disk
    sqlite3.SQLITE_NOMEM: _DISK,  # no memory, or the -shm file could not be mapped
    sqlite3.SQLITE_INTERRUPT: _DISK,  # the call was stopped before its end
    sqlite3.SQLITE_CORRUPT: _DAMAGED,  # pages do not fit together
    sqlite3.SQLITE_NOTADB: _DAMAGED,  # the head of the file is not SQLite's
    sqlite3.SQLITE_BUSY: _LOCKED,  # another connection holds the lock longer than we wait
    sqlite3.SQLITE_LOCKED: _LOCKED,  # another statement of ours holds it
}

_BY_ERRNO = {
    errno.ENOSPC: _FULL,
    errno.EDQUOT: _FULL,  # this account's share of the disk is used up
    errno.EROFS: _READ_ONLY,
    errno.EACCES: _NO_ACCESS,
    errno.EPERM: _NO_ACCESS,
    errno.ENOENT: _NO_ACCESS,
    errno.ENOTDIR: _NO_ACCESS,
    errno.EEXIST: _NO_ACCESS,  # a file stands where the folder should be
}


def damaged(path: Path, detail: str) -> JournalEnvironment:
    """The trouble for a file whose content is not whole."""
    return _trouble(_DAMAGED, path, detail)


def from_sqlite(error: sqlite3.Error, path: Path) -> JournalEnvironment | None:
    """What an SQLite error means for people; None when it is a fault of this program and must stay one."""
    code = getattr(error, "sqlite_errorcode", None)
    if code is None:  # raised by the Python module, not by the engine: wrong use
        return None
    meaning = _BY_SQLITE_CODE.get(code & 0xFF)  # the low byte is the primary code, the rest says where
    return None if meaning is None else _trouble(meaning, path, f"{error.sqlite_errorname}: {error}")


def from_os(error: OSError, path: Path) -> JournalEnvironment:
    """What an error of the operating system means for people."""
    return _trouble(_BY_ERRNO.get(error.errno or 0, _DISK), path, f"{type(error).__name__}: {error}")


@contextmanager
def told(path: Path) -> Iterator[None]:
    """Raise errors of the block as troubles about the journal at `path`; faults of this program pass unchanged."""
    try:
        yield
    except sqlite3.Error as error:
        trouble = from_sqlite(error, path)
        if trouble is None:
            raise
        raise trouble from error
    except OSError as error:
        raise from_os(error, path) from error


def _trouble(meaning: _Meaning, path: Path, detail: str) -> JournalEnvironment:
    return JournalEnvironment(meaning.code, meaning.sentence.format(path=path), detail)
