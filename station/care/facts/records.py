"""Facts about the record itself: files and notes added to what happened."""

from dataclasses import dataclass
from typing import ClassVar


@dataclass(frozen=True, slots=True)
class Attached:
    """A file was kept as proof of something, or a note written on it.

    `about` is a subject as `kind:id` ("container:1-0007", "lot:SN-4 A15", "alarm:...", "fact:<key>"). `digest` is
    the SHA-256 of the file, empty for a note alone; `name` is what it was called, `size` in bytes.
    """

    NAME: ClassVar[str] = "attached"
    about: str
    what: str
    name: str
    digest: str
    size: int
    note: str
