"""Facts: what happened, written once and never changed.

A body says what happened; the envelope says where in the world's order it stands, when, on which station and
by whom. Bodies hold every figure the decision used (the computed instants among them), so replaying them never
reads today's settings. `NAME` is what is stored; classes may be renamed, names may not.

The module is long because it is a catalogue: every fact there is, one after the other, and nothing else.
"""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import ClassVar

from station.care.specification import Specification
from station.care.words import Boards, Disposition, Ending, HoldReason, Limit, Role

SCHEMA = 2


@dataclass(frozen=True, slots=True)
class Segment:
    """One stretch of trustworthy clock: the boot of the PC and how many steps its clock has made since."""

    boot: str
    step: int


@dataclass(frozen=True, slots=True)
class Fact:
    """One fact. (tick, journal, seq) is its place in the order of all stations; no wall clock orders anything."""

    journal: int
    seq: int
    tick: int
    at: datetime
    station: int
    who: str | None
    segment: Segment
    body: "Body"

    @property
    def key(self) -> str:
        """The name other facts call this one by."""
        return f"{self.journal:016x}-{self.seq}"

    @property
    def order(self) -> tuple[int, int, int]:
        """Fold order."""
        return (self.tick, self.journal, self.seq)


@dataclass(frozen=True, slots=True)
class Received:
    """A container arrived at the dock and was scanned in. `shelf_end` is its last usable minute, if dated."""

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


@dataclass(frozen=True, slots=True)
class PutAway:
    """It went into a bin of a store. `returning` marks a return its specification allows."""

    NAME: ClassVar[str] = "put-away"
    container: str
    store: str
    bin: str
    returning: bool


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
    """A label was asked for, with the text of its code."""

    NAME: ClassVar[str] = "label-asked"
    container: str
    print_number: int
    code: str


@dataclass(frozen=True, slots=True)
class LabelSent:
    """The label left for the printer; nobody has seen it yet."""

    NAME: ClassVar[str] = "label-sent"
    container: str
    print_number: int
    target: str


@dataclass(frozen=True, slots=True)
class LabelFailed:
    """The label did not leave; the clocks run all the same."""

    NAME: ClassVar[str] = "label-failed"
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
class Loaded:
    """Paste of a container went on a position. When `starts`, this fact begins the bead and names it.

    `by_label`: judged from a label alone, by a station that had no record of the container. `spent` is the time
    its paste had lain on stencils before, if it is used paste; `life` the whole life `stencil_end` was made with."""

    NAME: ClassVar[str] = "loaded"
    container: str
    position: str
    paste: str
    lot: str
    work_order: str | None
    starts: bool
    stencil_end: datetime
    limits: tuple[tuple[Limit, datetime], ...]
    restart: bool
    by_label: bool = False
    spent: timedelta = timedelta(0)
    life: timedelta | None = None


@dataclass(frozen=True, slots=True)
class PositionSetUp:
    """A position was set up for a work order, with the pastes approved for it."""

    NAME: ClassVar[str] = "position-set-up"
    position: str
    work_order: str
    product: str
    pastes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CarriedOver:
    """The bead was kept for a new job or stencil; its clock goes on."""

    NAME: ClassVar[str] = "carried-over"
    position: str
    bead: str
    work_order: str | None


@dataclass(frozen=True, slots=True)
class Removed:
    """The bead was scraped off. `replaced_earlier` says the person only told us later."""

    NAME: ClassVar[str] = "removed"
    position: str
    bead: str
    replaced_earlier: bool


@dataclass(frozen=True, slots=True)
class Cleaned:
    """Stencil, blades and tools were cleaned."""

    NAME: ClassVar[str] = "cleaned"
    position: str


@dataclass(frozen=True, slots=True)
class Paused:
    """Printing paused with the bead on the stencil."""

    NAME: ClassVar[str] = "paused"
    position: str
    bead: str


@dataclass(frozen=True, slots=True)
class Resumed:
    """Printing went on. `replace` when the pause was so long that the bead may not be used."""

    NAME: ClassVar[str] = "resumed"
    position: str
    bead: str
    knead: bool
    replace: bool


@dataclass(frozen=True, slots=True)
class SameBead:
    """A person confirmed that the bead is still the same one."""

    NAME: ClassVar[str] = "same-bead"
    position: str
    bead: str


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
    """A container was put on hold for one reason."""

    NAME: ClassVar[str] = "held"
    container: str
    reason: HoldReason
    note: str


@dataclass(frozen=True, slots=True)
class Released:
    """One hold, named by its fact, was released."""

    NAME: ClassVar[str] = "released"
    container: str
    hold: str
    note: str


@dataclass(frozen=True, slots=True)
class LimitExtended:
    """One named limit of a container was moved inside its specification's allowance."""

    NAME: ClassVar[str] = "limit-extended"
    container: str
    limit: Limit
    by: timedelta
    concession: str


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
    """A specification version with its whole content and the digest of that content."""

    NAME: ClassVar[str] = "specification-set"
    specification: Specification
    digest: str


@dataclass(frozen=True, slots=True)
class PersonSet:
    """A person was added, changed or left. `pin` is an argon2id hash, never the PIN."""

    NAME: ClassVar[str] = "person-set"
    person: str
    name: str
    roles: tuple[Role, ...]
    pin: str | None
    left: bool


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
class BeadLifeApplied:
    """A tighter version was put in force for a bead: its own life, nothing where the version forbids its holder."""

    NAME: ClassVar[str] = "bead-life-applied"
    position: str
    bead: str
    specification: str
    life: timedelta


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
class ThawBegun:
    """Frozen paste left the freezer for the refrigerator, where it thaws between two instants."""

    NAME: ClassVar[str] = "thaw-begun"
    container: str
    store: str
    not_before: datetime
    not_after: datetime
    specification: str


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
class Mounted:
    """A cartridge or syringe was mounted in a dispenser; it feeds the position until it is dismounted."""

    NAME: ClassVar[str] = "mounted"
    container: str
    position: str
    paste: str
    work_order: str | None


@dataclass(frozen=True, slots=True)
class Dismounted:
    """It was taken off the dispenser. `mount` names the fact that mounted it."""

    NAME: ClassVar[str] = "dismounted"
    container: str
    position: str
    mount: str


@dataclass(frozen=True, slots=True)
class LotHeld:
    """A whole lot of a paste was put on hold: containers here, received later, and every bead that holds it."""

    NAME: ClassVar[str] = "lot-held"
    lot: str
    note: str


@dataclass(frozen=True, slots=True)
class LotReleased:
    """One hold of a lot, named by its fact, was released."""

    NAME: ClassVar[str] = "lot-released"
    lot: str
    hold: str
    note: str


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
class ReceiptCorrected:
    """What was said of a container at receipt, as it should have been said. `fact` names the receipt."""

    NAME: ClassVar[str] = "receipt-corrected"
    container: str
    fact: str
    received: Received
    reason: str


@dataclass(frozen=True, slots=True)
class ClockStepped:
    """The PC's clock moved against its monotonic clock. `trusted_until` is the last instant in no doubt."""

    NAME: ClassVar[str] = "clock-stepped"
    by: timedelta
    trusted_until: datetime
    suspended: bool


@dataclass(frozen=True, slots=True)
class ClockConfirmed:
    """A person confirmed that the PC shows the right time after steps that add up to `by`.

    What was started between `segment_from` and `trusted_until` was dated by the clock that moved, so its times
    are taken to the safe side: later readiness after a step forward, earlier ends after a step back.
    """

    NAME: ClassVar[str] = "clock-confirmed"
    by: timedelta
    trusted_until: datetime
    segment_from: datetime


@dataclass(frozen=True, slots=True)
class ClockCompared:
    """Two stations met and compared clocks: that of the journal `other` showed `by` more than this one's."""

    NAME: ClassVar[str] = "clock-compared"
    other: str
    by: timedelta


@dataclass(frozen=True, slots=True)
class StationStarted:
    """The program started. `clean` tells whether the run before ended by itself."""

    NAME: ClassVar[str] = "station-started"
    version: str
    clean: bool
    continues: str


@dataclass(frozen=True, slots=True)
class StationStopped:
    """The program ended by itself."""

    NAME: ClassVar[str] = "station-stopped"
    reason: str


Body = (
    Received
    | PutAway
    | TakenOut
    | LabelAsked
    | LabelSent
    | LabelFailed
    | LabelConfirmed
    | Sighted
    | ScanRefused
    | ReturnRefused
    | Opened
    | Inspected
    | Loaded
    | PositionSetUp
    | CarriedOver
    | Removed
    | Cleaned
    | Paused
    | Resumed
    | SameBead
    | Ended
    | Held
    | Released
    | LimitExtended
    | AlarmRaised
    | AlarmAcknowledged
    | AlarmCleared
    | Undone
    | SpecificationSet
    | PersonSet
    | RoomRead
    | SpecificationApplied
    | BeadLifeApplied
    | FiguresAccepted
    | ThawBegun
    | Mixed
    | Decanted
    | UsedPasteKept
    | Mounted
    | Dismounted
    | LotHeld
    | LotReleased
    | LotRecertified
    | ReceiptCorrected
    | ClockStepped
    | ClockConfirmed
    | ClockCompared
    | StationStarted
    | StationStopped
)
