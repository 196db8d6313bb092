"""Facts: what happened, written once and never changed.

A body says what happened; the envelope says where in the world's order it stands, when, on which station and
by whom. Bodies hold every figure the decision used (the computed instants among them), so replaying them never
reads today's settings. `NAME` is what is stored; classes may be renamed, names may not.
"""

from dataclasses import dataclass
from datetime import datetime

from station.care.facts.clocks import ClockCompared, ClockConfirmed, ClockStepped, StationStarted, StationStopped
from station.care.facts.containers import (
    BinChanged,
    Decanted,
    Ended,
    Held,
    Inspected,
    LabelAsked,
    LabelConfirmed,
    LabelFailed,
    LabelSent,
    LabelsPaired,
    LabelsSwapped,
    LabelUnknown,
    LimitExtended,
    Mixed,
    MoveBegun,
    Opened,
    PutAway,
    ReceiptCorrected,
    Received,
    Released,
    ReturnRefused,
    ScanRefused,
    Sighted,
    SpecificationApplied,
    TakenOut,
    ThawBegun,
    Transferred,
    UsedPasteKept,
)
from station.care.facts.counts import CountBegun, Counted, CountEnded, DifferenceSettled, StockImported
from station.care.facts.delivery import Delivered, DeliveryCorrected
from station.care.facts.people import BadgesPrinted, PersonSet, PinProved, PinRefused
from station.care.facts.plant import (
    AlarmAcknowledged,
    AlarmCleared,
    AlarmRaised,
    AlarmShelved,
    AlarmUnshelved,
    DraftWithdrawn,
    FiguresAccepted,
    LotHeld,
    LotRecertified,
    LotReleased,
    NumbersReserved,
    PasteListSet,
    ReactionSet,
    RoomRead,
    ScannerSetUp,
    SpecificationDrafted,
    SpecificationSet,
    Undone,
)
from station.care.facts.positions import (
    BeadLifeApplied,
    CarriedOver,
    Cleaned,
    Dismounted,
    Loaded,
    Mounted,
    Paused,
    PositionSetUp,
    Removed,
    Resumed,
    SameBead,
)
from station.care.facts.readings import (
    ExcursionConfirmed,
    ExcursionFound,
    ExcursionSeen,
    ReadingsImported,
    ReadingsWithdrawn,
    StoreRead,
    WarmCharged,
)
from station.care.facts.records import Attached, RecordAsked

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


Body = (
    Received
    | Delivered
    | DeliveryCorrected
    | PutAway
    | TakenOut
    | LabelAsked
    | LabelSent
    | LabelFailed
    | LabelUnknown
    | LabelConfirmed
    | LabelsPaired
    | LabelsSwapped
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
    | AlarmShelved
    | AlarmUnshelved
    | Undone
    | SpecificationSet
    | SpecificationDrafted
    | DraftWithdrawn
    | PasteListSet
    | PersonSet
    | PinRefused
    | PinProved
    | BadgesPrinted
    | RoomRead
    | ScannerSetUp
    | SpecificationApplied
    | BeadLifeApplied
    | FiguresAccepted
    | NumbersReserved
    | ReactionSet
    | ThawBegun
    | Transferred
    | MoveBegun
    | BinChanged
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
    | Attached
    | RecordAsked
    | CountBegun
    | Counted
    | CountEnded
    | DifferenceSettled
    | StockImported
    | ReadingsImported
    | ReadingsWithdrawn
    | StoreRead
    | ExcursionFound
    | ExcursionConfirmed
    | ExcursionSeen
    | WarmCharged
)

__all__ = [
    "SCHEMA",
    "AlarmAcknowledged",
    "AlarmCleared",
    "AlarmRaised",
    "AlarmShelved",
    "AlarmUnshelved",
    "Attached",
    "BadgesPrinted",
    "BeadLifeApplied",
    "BinChanged",
    "Body",
    "CarriedOver",
    "Cleaned",
    "ClockCompared",
    "ClockConfirmed",
    "ClockStepped",
    "CountBegun",
    "CountEnded",
    "Counted",
    "Decanted",
    "Delivered",
    "DeliveryCorrected",
    "DifferenceSettled",
    "Dismounted",
    "DraftWithdrawn",
    "Ended",
    "ExcursionConfirmed",
    "ExcursionFound",
    "ExcursionSeen",
    "Fact",
    "FiguresAccepted",
    "Held",
    "Inspected",
    "LabelAsked",
    "LabelConfirmed",
    "LabelFailed",
    "LabelSent",
    "LabelUnknown",
    "LabelsPaired",
    "LabelsSwapped",
    "LimitExtended",
    "Loaded",
    "LotHeld",
    "LotRecertified",
    "LotReleased",
    "Mixed",
    "Mounted",
    "MoveBegun",
    "NumbersReserved",
    "Opened",
    "PasteListSet",
    "Paused",
    "PersonSet",
    "PinProved",
    "PinRefused",
    "PositionSetUp",
    "PutAway",
    "ReactionSet",
    "ReadingsImported",
    "ReadingsWithdrawn",
    "ReceiptCorrected",
    "Received",
    "RecordAsked",
    "Released",
    "Removed",
    "Resumed",
    "ReturnRefused",
    "RoomRead",
    "SameBead",
    "ScanRefused",
    "ScannerSetUp",
    "Segment",
    "Sighted",
    "SpecificationApplied",
    "SpecificationDrafted",
    "SpecificationSet",
    "StationStarted",
    "StationStopped",
    "StockImported",
    "StoreRead",
    "TakenOut",
    "ThawBegun",
    "Transferred",
    "Undone",
    "UsedPasteKept",
    "WarmCharged",
]
