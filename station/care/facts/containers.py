"""Facts about one container: from the dock through the cold, the room and its opening to its end."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import ClassVar

from station.care.words import Ending, HoldReason, Limit


@dataclass(frozen=True, slots=True)
class Received:
    """A container arrived at the dock and was scanned in. `shelf_end` is its last usable minute, if dated.

    `delivery` names the delivery it came with; "" for one received by itself. `maker_serial` is the serial number on
    the maker's label, "" where there is none; `maker_said` is what else stood on it, known or not, as it was shown."""

    NAME: ClassVar[str] = "received"
    container: str
    paste: str
    kind: str
    lot: str
    expires: date | None
    shelf_end: datetime | None
    arrived_at: datetime
    temperature_c: float | None
    temperature_answer: str
    leaking: bool
    to_cold_by: datetime | None
    delivery: str = ""
    maker_serial: str = ""
    maker_said: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PutAway:
    """It went into a bin of a store. `returning` marks a return its specification allows. `cold_since`: stock that
    was there before the station counts as cold since then, as whoever took it in says; None for what was scanned in.
    `counted` is the time out of the cold since its move began, `way` the fact by which that began; None where no move
    ended by it."""

    NAME: ClassVar[str] = "put-away"
    container: str
    store: str
    bin: str
    returning: bool
    cold_since: datetime | None = None
    counted: timedelta | None = None
    way: str | None = None


@dataclass(frozen=True, slots=True)
class MoveBegun:
    """It left a store for another one, or for the same one again, and must be put away by `by` at the latest.

    `out_since` is the instant it left (aware UTC), `lain_since` when it was put away before, as this station knew;
    `allowed` is how long the way may take."""

    NAME: ClassVar[str] = "move-begun"
    container: str
    store: str
    out_since: datetime
    by: datetime
    allowed: timedelta
    lain_since: datetime | None


@dataclass(frozen=True, slots=True)
class Transferred:
    """It went from one store into a bin of another and was out of the cold for `counted` on the way; `out_since` is
    the earliest instant it can have left the first (aware UTC). `reason` is a shift lead's word."""

    NAME: ClassVar[str] = "transferred"
    container: str
    from_store: str
    store: str
    bin: str
    out_since: datetime
    counted: timedelta
    reason: str = ""


@dataclass(frozen=True, slots=True)
class BinChanged:
    """It lies in another bin of the same store than the record had; no time of it changes."""

    NAME: ClassVar[str] = "bin-changed"
    container: str
    store: str
    bin: str
    before: str


@dataclass(frozen=True, slots=True)
class ThawBegun:
    """Frozen paste left the freezer for the refrigerator, where it thaws between two instants."""

    NAME: ClassVar[str] = "thaw-begun"
    container: str
    store: str
    not_before: datetime
    not_after: datetime
    specification: str


@dataclass(frozen=True, slots=True)
class TakenOut:
    """It left cold storage: thaw-start. With an uncertain start, conditioning runs from the latest instant
    and every life from the earliest. `earliest_use` is None while the room forbids any use. `told_late` is why
    a shift lead entered it afterwards. `room_life` is the whole life that `room_end` was made with, `spent` what of
    it was gone before; None in facts that did not say so yet."""

    NAME: ClassVar[str] = "taken-out"
    container: str
    store: str
    thaw_from: datetime
    thaw_to: datetime
    earliest_use: datetime | None
    room_end: datetime
    supplier_minimum: timedelta
    warm_up: timedelta | None
    dew_wait: timedelta | None
    room_c: float
    humidity: float
    cold_c: float
    specification: str
    zone: str
    told_late: str = ""
    room_life: timedelta | None = None
    spent: timedelta | None = None


@dataclass(frozen=True, slots=True)
class LabelAsked:
    """A label was asked for, with the text of its code and, since that is kept, the last minute it names."""

    NAME: ClassVar[str] = "label-asked"
    container: str
    print_number: int
    code: str
    discard_by: datetime | None = None


@dataclass(frozen=True, slots=True)
class LabelSent:
    """The label left for the printer; nobody has seen it yet.

    `job` is what the print service calls it, "" where it has no name there.
    """

    NAME: ClassVar[str] = "label-sent"
    container: str
    print_number: int
    target: str
    job: str = ""


@dataclass(frozen=True, slots=True)
class LabelFailed:
    """The label did not leave, or was taken back before it came out; the clocks run all the same."""

    NAME: ClassVar[str] = "label-failed"
    container: str
    print_number: int
    reason: str


@dataclass(frozen=True, slots=True)
class LabelUnknown:
    """Nobody can say whether the label came out; it is not sent again unless somebody asks."""

    NAME: ClassVar[str] = "label-unknown"
    container: str
    print_number: int
    reason: str


@dataclass(frozen=True, slots=True)
class LabelConfirmed:
    """The label was scanned for the first time, so it exists and can be read."""

    NAME: ClassVar[str] = "label-confirmed"
    container: str
    print_number: int


@dataclass(frozen=True, slots=True)
class LabelsPaired:
    """Identity label and time label were scanned one after the other and name the same container."""

    NAME: ClassVar[str] = "labels-paired"
    container: str
    print_number: int


@dataclass(frozen=True, slots=True)
class LabelsSwapped:
    """One of its labels was found together with one of `other`: nobody knows which times are whose."""

    NAME: ClassVar[str] = "labels-swapped"
    container: str
    other: str


@dataclass(frozen=True, slots=True)
class Sighted:
    """Proof that a container was somewhere, changing nothing else. `warm` when it was outside cold storage."""

    NAME: ClassVar[str] = "sighted"
    container: str
    where: str
    warm: bool


@dataclass(frozen=True, slots=True)
class ScanRefused:
    """A scan answered STOP or WAIT; free of charge, kept for the record."""

    NAME: ClassVar[str] = "scan-refused"
    container: str | None
    where: str
    code: str
    text: str


@dataclass(frozen=True, slots=True)
class ReturnRefused:
    """Somebody tried to put paste back that had been out; refused."""

    NAME: ClassVar[str] = "return-refused"
    container: str
    store: str


@dataclass(frozen=True, slots=True)
class Opened:
    """The first scan that told a person to open it: open life starts here."""

    NAME: ClassVar[str] = "opened"
    container: str
    where: str
    early: bool
    open_end: datetime


@dataclass(frozen=True, slots=True)
class Inspected:
    """The opening check was answered."""

    NAME: ClassVar[str] = "inspected"
    container: str
    where: str
    good: bool


@dataclass(frozen=True, slots=True)
class Mixed:
    """A closed container was run in a mixing machine."""

    NAME: ClassVar[str] = "mixed"
    container: str
    where: str


@dataclass(frozen=True, slots=True)
class Decanted:
    """Paste of one or more containers went into a new one. The clocks of its sources go on in it."""

    NAME: ClassVar[str] = "decanted"
    container: str
    sources: tuple[str, ...]
    paste: str
    kind: str
    lot: str
    decanted_end: datetime
    where: str = ""


@dataclass(frozen=True, slots=True)
class UsedPasteKept:
    """A removed bead was kept in a labelled container of its own. Its stencil time stays spent."""

    NAME: ClassVar[str] = "used-paste-kept"
    container: str
    sources: tuple[str, ...]
    paste: str
    kind: str
    lot: str
    bead: str
    stencil_spent: timedelta
    used_end: datetime
    where: str = ""


@dataclass(frozen=True, slots=True)
class Ended:
    """The container's life ended: used up, discarded or not found."""

    NAME: ClassVar[str] = "ended"
    container: str
    ending: Ending
    reason: str
    where: str
    grams: float | None


@dataclass(frozen=True, slots=True)
class Held:
    """A container was put on hold for one reason; `excursion` names what its store went through, if that was it."""

    NAME: ClassVar[str] = "held"
    container: str
    reason: HoldReason
    note: str
    excursion: str = ""


@dataclass(frozen=True, slots=True)
class Released:
    """One hold, named by its fact, was released."""

    NAME: ClassVar[str] = "released"
    container: str
    hold: str
    note: str


@dataclass(frozen=True, slots=True)
class LimitExtended:
    """One named limit of a container was moved inside its specification's `allowance` for all of its extensions
    together; None in facts that did not say so yet."""

    NAME: ClassVar[str] = "limit-extended"
    container: str
    limit: Limit
    by: timedelta
    concession: str
    allowance: timedelta | None = None


@dataclass(frozen=True, slots=True)
class SpecificationApplied:
    """A version of a specification was put in force for one container: its lives, None where it has none of these.

    Whatever runs is moved by the difference to the life it was made with, so that an earlier start another station
    tells of stays one. A tighter one is written by the program at once and only tightens; keeping or loosening is a
    shift lead's, with a `reason`."""

    NAME: ClassVar[str] = "specification-applied"
    container: str
    specification: str
    minimum: timedelta | None
    room_life: timedelta
    open_life: timedelta
    to_cold: timedelta
    content_end: datetime | None
    thaw_not_before: datetime | None
    thaw_not_after: datetime | None
    reason: str


@dataclass(frozen=True, slots=True)
class ReceiptCorrected:
    """What was said of a container at receipt, as it should have been said. `fact` names the receipt."""

    NAME: ClassVar[str] = "receipt-corrected"
    container: str
    fact: str
    received: Received
    reason: str
