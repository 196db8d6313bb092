"""Facts about the record itself: files and notes added to what happened."""

from dataclasses import dataclass
from datetime import datetime
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


@dataclass(frozen=True, slots=True)
class RecordAsked:
    """Somebody had the record given out: `what` is "digest" or "export", of facts from `since` and before `until`
    (None for no such bound). `into` names the folder of an export. Written before anybody has it."""

    NAME: ClassVar[str] = "record-asked"
    what: str
    since: datetime | None
    until: datetime | None
    into: str
