"""Facts about more than one thing: alarms, what is taken back, specifications, people, lots, the room, figures."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import ClassVar

from station.care.specification import Paste, Specification
from station.care.words import Boards, Disposition, HoldReason, Limit


@dataclass(frozen=True, slots=True)
class AlarmRaised:
    """A limit passed at `since`. The identity is derived, so several stations raise one alarm."""

    NAME: ClassVar[str] = "alarm-raised"
    alarm: str
    subject: str
    limit: Limit
    since: datetime
    in_use: bool


@dataclass(frozen=True, slots=True)
class AlarmAcknowledged:
    """Somebody has seen it; sound stops, nothing is mended."""

    NAME: ClassVar[str] = "alarm-acknowledged"
    alarm: str


@dataclass(frozen=True, slots=True)
class AlarmShelved:
    """A shift lead keeps an alarm quiet until an instant; it ends by itself then, and nothing is mended."""

    NAME: ClassVar[str] = "alarm-shelved"
    alarm: str
    until: datetime
    reason: str


@dataclass(frozen=True, slots=True)
class AlarmUnshelved:
    """A shift lead ended the shelving before its time."""

    NAME: ClassVar[str] = "alarm-unshelved"
    alarm: str


@dataclass(frozen=True, slots=True)
class AlarmCleared:
    """A shift lead said what became of the paste."""

    NAME: ClassVar[str] = "alarm-cleared"
    alarm: str
    disposition: Disposition
    boards: Boards | None
    document: str
    reason: str


@dataclass(frozen=True, slots=True)
class Undone:
    """An earlier fact, named by its key, is taken back."""

    NAME: ClassVar[str] = "undone"
    fact: str
    reason: str


@dataclass(frozen=True, slots=True)
class SpecificationSet:
    """A specification version with its whole content and the digest of that content.

    Told by nobody it comes out of the settings; told by an engineer it was approved, and `draft` names the fact of
    the draft. `paste` is the paste itself, where the site did not know it before or the settings say what it is;
    `corrects` names the facts whose paste it sets right. `replaces` names the facts it takes
    the place of, as far as this station had heard of them; None in those written before it was kept, which took the
    place of every lower version.
    """

    NAME: ClassVar[str] = "specification-set"
    specification: Specification
    digest: str
    draft: str = ""
    paste: Paste | None = None
    replaces: tuple[str, ...] | None = None
    corrects: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SpecificationDrafted:
    """An engineer wrote a new version; nothing goes by it before it is approved.

    `paste` is the paste itself, where the site does not know it yet; `replaces` names the draft it takes the place of,
    `source` the file it came from, "" where it was typed.
    """

    NAME: ClassVar[str] = "specification-drafted"
    specification: Specification
    digest: str
    explanation: str
    paste: Paste | None = None
    replaces: str = ""
    source: str = ""


@dataclass(frozen=True, slots=True)
class DraftWithdrawn:
    """An engineer took back a draft, named by its fact; it can't be approved any more."""

    NAME: ClassVar[str] = "draft-withdrawn"
    draft: str
    reason: str


@dataclass(frozen=True, slots=True)
class PasteListSet:
    """The pastes a product is built with, or one `order` of it; none where it has no list (any more).

    Told by nobody it comes out of the settings of that station. `replaces` names the facts it takes the place of, as
    far as this station had heard of them.
    """

    NAME: ClassVar[str] = "paste-list-set"
    product: str
    title: str
    pastes: tuple[str, ...]
    order: str = ""
    note: str = ""
    replaces: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class LotHeld:
    """All paste of one lot was put on hold: what is here, what is still to be delivered, and what lies in beads."""

    NAME: ClassVar[str] = "lot-held"
    lot: str
    note: str
    reason: HoldReason = HoldReason.LOT


@dataclass(frozen=True, slots=True)
class LotReleased:
    """One hold of a lot, named by its fact, was released; `document` names the proof, where one is needed."""

    NAME: ClassVar[str] = "lot-released"
    lot: str
    hold: str
    note: str
    document: str = ""


@dataclass(frozen=True, slots=True)
class LotRecertified:
    """The supplier gave a lot another expiry; two people of the site say so, with the document."""

    NAME: ClassVar[str] = "lot-recertified"
    lot: str
    expires: date
    shelf_end: datetime
    document: str
    second: str


@dataclass(frozen=True, slots=True)
class RoomRead:
    """Somebody read room temperature (degrees Celsius) and relative humidity (percent), or a file said so.

    `repeated` marks figures that are the same to the digit as the reading before."""

    NAME: ClassVar[str] = "room-read"
    temperature_c: float
    humidity: float
    repeated: bool = False
    source: str = ""


@dataclass(frozen=True, slots=True)
class NumbersReserved:
    """Container numbers were printed on a sheet to write on while a station is down; no other container gets them."""

    NAME: ClassVar[str] = "numbers-reserved"
    paste: str
    numbers: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FiguresAccepted:
    """A process engineer accepted warm-up figures for a container kind. `runs` are the digests of the files."""

    NAME: ClassVar[str] = "figures-accepted"
    kind: str
    time_constant: timedelta
    dead_time: timedelta
    estimate: bool
    runs: tuple[str, ...]
    note: str


@dataclass(frozen=True, slots=True)
class ScannerSetUp:
    """The set-up card was scanned at this station: its PC writes `written[i]` where the scanner means `meant[i]`.

    Characters of the card that are in neither can not be told on that PC. Both empty: the layout does not matter.
    """

    NAME: ClassVar[str] = "scanner-set-up"
    meant: str
    written: str


@dataclass(frozen=True, slots=True)
class ReactionSet:
    """A process engineer says what to do at alarms of a limit, while the paste is at a line or away from one.

    An empty `text` goes back to what the settings say."""

    NAME: ClassVar[str] = "reaction-set"
    limit: Limit
    at_line: bool
    text: str
