"""Writes a PDF of sheets whole or not at all."""

import os
from pathlib import Path

from station.labels.faults import LabelFault


def write_whole(path: Path, data: bytes) -> Path:
    """Write `data` under `path` once all of it is on disk; LabelFault "folder" where that can't be done."""
    part = path.with_name(f".{path.name}.part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with part.open("wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)
    except OSError as trouble:
        raise LabelFault(
            "folder",
            f"The sheets were not written: {path} cannot be written ({trouble.strerror}). "
            "Choose another place, or close the file where it is open.",
        ) from trouble
    finally:
        _forget(part)
    return path


def _forget(part: Path) -> None:
    # Whatever stopped the writing is already on its way to the person; a leftover must not hide it.
    try:
        part.unlink(missing_ok=True)
    except OSError:
        return
