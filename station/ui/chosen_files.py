"""Files a person chose as proof, read to be kept."""

from pathlib import Path

from station.services.attaching import Enclosed
from station.services.outcome import Refusal

MOST_BYTES = 32 * 1024 * 1024
"""The most of one file that is kept as proof; a logger's file of a year is far below it."""


def enclosed(path: Path) -> Enclosed:
    """A file a person chose, to be kept as proof. Raises Refusal where it can't be read."""
    try:
        if path.stat().st_size > MOST_BYTES:
            raise Refusal("file-large", f"{path.name} is over 32 MB. Choose the file itself, not an archive.")
        return Enclosed(path.name, path.read_bytes())
    except OSError as trouble:
        raise Refusal("file-unread", f"{path.name} can't be read ({trouble.strerror}). Choose it again.") from trouble
