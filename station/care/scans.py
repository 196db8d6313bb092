"""A scan after it was read: what kind of code, and what it says."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from station.care.makers_label import MakersLabel
from station.care.words import Card, Place


@dataclass(frozen=True, slots=True)
class SeenLabel:
    """What a time label says of itself; the record decides, the label only confirms."""

    print_number: int
    thaw_start: datetime
    earliest_use: datetime
    discard_by: datetime
    open_life: timedelta
    paste_number: int
    leaded: bool
    used_paste: bool = False


@dataclass(frozen=True, slots=True)
class ContainerScan:
    """A container's identity or time label."""

    container: str
    label: SeenLabel | None = None


@dataclass(frozen=True, slots=True)
class CardScan:
    """A command card."""

    card: Card


@dataclass(frozen=True, slots=True)
class BadgeScan:
    """A person's badge."""

    person: str


@dataclass(frozen=True, slots=True)
class TagScan:
    """The tag of a stencil position."""

    position: str


@dataclass(frozen=True, slots=True)
class BinScan:
    """The tag of a bin."""

    bin: str


@dataclass(frozen=True, slots=True)
class StoreScan:
    """The tag of a store."""

    store: str


@dataclass(frozen=True, slots=True)
class PlaceScan:
    """A place card."""

    place: str


@dataclass(frozen=True, slots=True)
class WorkOrderScan:
    """A work order as the plant's travellers carry it."""

    order: str
    product: str


@dataclass(frozen=True, slots=True)
class MakersLabelScan:
    """The label a maker put on the paste."""

    label: MakersLabel


@dataclass(frozen=True, slots=True)
class UnreadScan:
    """Nothing this station knows. `sentence` says why, `mend` how to go on."""

    text: str
    sentence: str
    mend: str


Scan = (
    ContainerScan
    | CardScan
    | BadgeScan
    | TagScan
    | BinScan
    | StoreScan
    | PlaceScan
    | WorkOrderScan
    | MakersLabelScan
    | UnreadScan
)


@dataclass(frozen=True, slots=True)
class Here:
    """The place a scan happened at. `store` at a fridge door, `positions` at a printer.

    With a `label_printer` the first opening there prints a label that says when it was.
    """

    id: str
    kind: Place
    title: str
    store: str | None
    positions: tuple[str, ...]
    label_printer: bool = False
