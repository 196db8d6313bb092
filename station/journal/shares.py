"""Refuses network shares: SQLite's write-ahead log needs memory that all users of the file share on one machine.

Source: sqlite.org, "Write-Ahead Logging", disadvantages: "WAL does not work over a network filesystem".
"""

import os
import re
import sys
from pathlib import Path

from station.services.ports import JournalRefusal

MOUNTS = Path("/proc/mounts")
# Names of network file systems as Linux lists them; fuse kinds carry the helper's name behind the dot.
_NETWORK_KINDS = re.compile(
    r"nfs\d?|cifs|smb\w*|ncpfs|afs|ceph|glusterfs|lustre|davfs\d?|fuse\.(sshfs|rclone|\w*davfs\w*|glusterfs|s3fs)"
)
_REMOTE_DRIVE = 4  # DRIVE_REMOTE of GetDriveTypeW


def refuse_share(path: Path, mounts: Path = MOUNTS) -> None:
    """Raise JournalRefusal `journal-network-share` if `path` (which need not exist) lies on a network share."""
    reason = _share_reason(path, mounts)
    if reason:
        raise JournalRefusal(
            "journal-network-share",
            f"The data folder {path} lies on a network share ({reason}), where the journal would be damaged. "
            "Choose a folder on a disk of this PC; a share is fine for backups.",
        )


def _share_reason(path: Path, mounts: Path) -> str | None:
    if os.fspath(path).startswith(("\\\\", "//")):
        return "its name is a server's"
    if sys.platform == "win32":  # pragma: no cover
        return "a mapped drive" if _is_mapped(path) else None
    return _network_mount(path, mounts)


def _network_mount(path: Path, mounts: Path) -> str | None:
    try:
        lines = mounts.read_text(encoding="utf-8", errors="surrogateescape").splitlines()
    except OSError:  # no such list on this system: nothing to go by
        return None
    kind = _kind_at(path.resolve(), lines)
    return f"mounted as {kind}" if _NETWORK_KINDS.fullmatch(kind) else None


def _kind_at(path: Path, lines: list[str]) -> str:
    """The file system kind of the innermost mount above `path`; of two on one point the later covers the first."""
    found, depth = "", 0
    for line in lines:
        _, point, kind, *_ = line.split(" ")
        mount = Path(_unescaped(point))
        if path.is_relative_to(mount) and len(mount.parts) >= depth:
            found, depth = kind, len(mount.parts)
    return found


def _unescaped(point: str) -> str:
    """The list writes blanks and the like as a backslash with three octal digits (getmntent(3))."""
    return re.sub(r"\\([0-7]{3})", lambda match: chr(int(match[1], 8)), point)


def _is_mapped(path: Path) -> bool:  # pragma: no cover
    if sys.platform != "win32":
        return False
    import ctypes  # noqa: PLC0415  (only there)

    return bool(ctypes.windll.kernel32.GetDriveTypeW(path.absolute().anchor) == _REMOTE_DRIVE)
