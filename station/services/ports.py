"""What the services need from outside, as protocols: a clock and a journal, with what they give and raise."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol

from station.care.facts import Body, Fact, Segment


@dataclass(frozen=True, slots=True)
class ClockReading:
    """All clocks of the PC read together.

    `wall` is aware UTC; a person or a time server may set it. `monotonic` counts seconds the PC was awake, from
    an unnamed start, and cannot be set. `since_boot` counts seconds awake and asleep, None where the system has
    no such clock. Seconds compare only between readings of one `boot`.
    """

    wall: datetime
    monotonic: float
    boot: str
    since_boot: float | None = None


class Clock(Protocol):
    """The one way to learn the time."""

    def read(self) -> ClockReading:
        """Read all clocks together."""
        ...


@dataclass(frozen=True, slots=True)
class Draft:
    """A fact before it has a place in the order. `at` is aware; `who` is a person's id, None for the program."""

    body: Body
    at: datetime
    station: int
    who: str | None
    segment: Segment


class JournalTrouble(Exception):
    """The journal could not do it, and nothing of the call was stored.

    `code` is stable and may be tested and looked up; `sentence` is for the person at the screen and ends with
    what to do next; `detail` is for the log.
    """

    def __init__(self, code: str, sentence: str, detail: str = "") -> None:
        super().__init__(code, sentence, detail)
        self.code = code
        self.sentence = sentence
        self.detail = detail

    def __str__(self) -> str:
        """The sentence, as a person reads it."""
        return self.sentence


class JournalRefusal(JournalTrouble):
    """Something a person can mend: a newer file, a network share, a second copy of the program."""


class JournalEnvironment(JournalTrouble):
    """The disk or the file fails us: full, read-only, unreadable, damaged, locked."""


class JournalPort(Protocol):
    """The store of facts. Every method may raise `JournalTrouble`."""

    @property
    def number(self) -> int:
        """The random 64-bit number of the journal that is written."""
        ...

    def append(self, drafts: Sequence[Draft]) -> tuple[Fact, ...]:
        """Store all drafts or none; on return they are on disk and have their place in the order."""
        ...

    def facts(self) -> Iterator[Fact]:
        """Every fact stored when the call was made, in fold order."""
        ...

    def head(self) -> tuple[int, str]:
        """Number and chain hash (64 hex digits) of this journal's own last fact; 0 and zeros before the first."""
        ...


class Evidence(Protocol):
    """Files kept as proof: certificates, photos, logger files. Found by what is in them, so nobody can swap one.

    Every method may raise `JournalTrouble`.
    """

    def keep(self, content: bytes) -> str:
        """Store `content`; on return it is on disk. Gives its SHA-256 digest (64 hex digits)."""
        ...

    def fetch(self, digest: str) -> bytes:
        """What was kept under this digest, checked against it."""
        ...

    def digests(self) -> Iterator[str]:
        """Every digest kept here."""
        ...
