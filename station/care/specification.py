"""What a site decides beforehand: pastes, container kinds, handling specifications, stores and positions.

These are plain data. The supplier's data sheet is their source; a specification says which edition and page.
Specifications are also facts: their whole content goes into the journal, so a decision can be repeated later
with the figures it was made with.
"""

from dataclasses import dataclass, field
from datetime import timedelta
from enum import StrEnum

from station.care.cold_readings_rules import Instrument, StoreCare
from station.care.delivery_rules import DeliveryRules
from station.care.reaction_rules import Reaction
from station.care.words import Alloy, Holder, Limit, Shape, Storage


@dataclass(frozen=True, slots=True)
class Kind:
    """A container kind: shape and net mass, with its accepted warm-up figures.

    `time_constant` and `dead_time` describe warming in still room air as first order with dead time; they are
    accepted figures (measured, or an estimate marked so), never computed at start-up.
    """

    id: str
    shape: Shape
    net_mass_g: float
    boxed: bool
    time_constant: timedelta
    dead_time: timedelta
    estimate: bool
    tip_down: bool
    title: str


@dataclass(frozen=True, slots=True)
class Near:
    """When a running limit counts as near: a share of its whole length, held between two bounds."""

    share: float
    at_least: timedelta
    at_most: timedelta

    def before_end(self, length: timedelta) -> timedelta:
        """How long before its end a limit of this `length` becomes near."""
        return max(self.at_least, min(self.at_most, length * self.share))


@dataclass(frozen=True, slots=True)
class Conditioning:
    """The supplier's minimum conditioning time of one container kind."""

    kind: str
    minimum: timedelta


@dataclass(frozen=True, slots=True)
class Thaw:
    """The step of frozen paste through a refrigerator: at least and at most how long, before the room."""

    at_least: timedelta
    at_most: timedelta


@dataclass(frozen=True, slots=True)
class Band:
    """A range with both ends inside it; the field that holds it says the unit."""

    low: float
    high: float

    def holds(self, value: float) -> bool:
        """Whether `value` lies in the range."""
        return self.low <= value <= self.high


_MINUTE = timedelta(minutes=1)
AVERAGE_MONTH = timedelta(days=30)
# limits without a near rule of their own are near as the one that is most like them
NEAR_LIKE = {Limit.DECANTED: Limit.OPEN, Limit.USED_PASTE: Limit.OPEN, Limit.THAW: Limit.ROOM}


@dataclass(frozen=True, slots=True)
class FigureSource:
    """Where one figure of a specification stands, if elsewhere than the rest, and why it is what it is.

    `key` is the figure's name as in pastes.toml, such as `open_life` or `conditioning.JAR-500`.
    """

    key: str
    data_sheet: str
    page: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Specification:
    """The handling limits of one paste, version by version. A draft gives USE nowhere but in a demo.

    None stands for "not allowed": `return_within` (the most time out of the cold before another cold cycle),
    `decanted_life`, `used_paste_life` and `enclosed_life` (in an enclosed head); for `thaw` it means that frozen
    paste goes straight to the room. `mixings` counts runs in a mixing machine.
    """

    paste: str
    version: int
    approved_by: str | None
    data_sheet: str
    page: str
    to_cold: timedelta
    arrival_warn_above_c: float
    arrival_hold_above_c: float
    arrival_hold_below_c: float
    shelf_months: int | None
    conditioning: tuple[Conditioning, ...]
    floor_c: float
    room_life: timedelta
    open_life: timedelta
    stencil_life: timedelta
    pause_knead: timedelta
    pause_replace: timedelta
    cold_cycles: int
    open_extension: timedelta
    room_extension: timedelta
    stencil_time_counts_as_open: bool
    return_within: timedelta | None
    thaw: Thaw | None
    printing_room_c: Band
    printing_humidity: Band
    mixings: int
    decanted_life: timedelta | None
    used_paste_life: timedelta | None
    enclosed_life: timedelta | None
    near: tuple[tuple[Limit, Near], ...]
    sources: tuple[FigureSource, ...] = ()

    def __str__(self) -> str:
        """How facts and people call a version: `SN-4 version 3`."""
        return f"{self.paste} version {self.version}"

    def source_of(self, key: str) -> FigureSource:
        """Where a figure stands: in its own place of a data sheet, or in that of the whole specification."""
        own = (source for source in self.sources if source.key == key)
        return next(own, FigureSource(key, self.data_sheet, self.page))

    def minimum_for(self, kind: str) -> timedelta | None:
        """The supplier's minimum for a kind, or None when this paste is not bought in that kind."""
        return next((entry.minimum for entry in self.conditioning if entry.kind == kind), None)

    def near_for(self, limit: Limit) -> Near:
        """The near rule of a limit; every limit that runs has one, settings see to that.

        A limit shorter than the site's prompt for it is near from its half, to the minute: a prompt that was always on
        says nothing, and no limit is ever refused for being too tight.
        """
        near, length = dict(self.near)[NEAR_LIKE.get(limit, limit)], self._length_of(limit)
        if not length or near.before_end(length) <= length:
            return near
        half = length / 2 // _MINUTE * _MINUTE
        return Near(near.share, half, half)

    def _length_of(self, limit: Limit) -> timedelta | None:
        lengths = {
            Limit.TO_COLD: self.to_cold,
            Limit.ROOM: self.room_life,
            Limit.OPEN: self.open_life,
            Limit.STENCIL: self.stencil_life,
            Limit.PAUSE: self.pause_knead,
            Limit.SHELF: (self.shelf_months or 0) * AVERAGE_MONTH,
            Limit.DECANTED: self.decanted_life,
            Limit.USED_PASTE: self.used_paste_life,
        }
        return lengths.get(limit)


@dataclass(frozen=True, slots=True)
class MakerCode:
    """A number on makers' labels that stands for a paste in one kind of container."""

    code: str
    kind: str


@dataclass(frozen=True, slots=True)
class Paste:
    """One product as bought.

    With `incoming_test` every new lot is on hold until a document releases it; less than `least_shelf_months` of
    shelf life at the dock is a warning, None for any. Of fewer than
    `minimum_stock` closed, usable containers the stock list says so; 0 for no such wish. `maker_codes` are the
    numbers makers' labels give it; `price_per_kg` is in the site's currency, None where it does not say."""

    id: str
    number: int
    title: str
    part_number: str
    alloy: Alloy
    flux_class: str
    powder_type: str
    storage: Storage
    incoming_test: bool = False
    least_shelf_months: int | None = None
    minimum_stock: int = 0
    price_per_kg: int | None = None
    maker_codes: tuple[MakerCode, ...] = ()


@dataclass(frozen=True, slots=True)
class Bin:
    """A numbered place inside a store. `leaded` keeps leaded and lead-free apart."""

    id: str
    capacity: int
    leaded: bool
    hold: bool


@dataclass(frozen=True, slots=True)
class Store:
    """A refrigerator, freezer or shelf with its bins and its own temperature limits (degrees Celsius)."""

    id: str
    title: str
    storage: Storage
    low_c: float
    high_c: float
    bins: tuple[Bin, ...]
    care: StoreCare = field(default_factory=StoreCare)


@dataclass(frozen=True, slots=True)
class Position:
    """Where paste is used: a stencil position (a dual-lane printer has two), an enclosed head or a dispenser."""

    id: str
    line: str
    holder: Holder = Holder.STENCIL


@dataclass(frozen=True, slots=True)
class Product:
    """What a work order builds and the pastes an engineer approved for it."""

    id: str
    title: str
    pastes: tuple[str, ...]


class BestChoice(StrEnum):
    """What a take-out does when a better container is at hand."""

    WARN = "warn"
    BLOCK = "block"
    OFF = "off"


class ByLabel(StrEnum):
    """What a printer does with a true label of a container it has no record of."""

    ALLOW = "allow"
    LEAD = "shift lead"
    REFUSE = "refuse"


class Pairing(StrEnum):
    """Whether identity label and time label are scanned one after the other once both are on a container."""

    REMIND = "remind"
    OFF = "off"


@dataclass(frozen=True, slots=True)
class Rules:
    """The site's own handling choices that are not a paste's limits.

    With `two_person` the engineer who approves a specification is another one than the engineer who wrote it.
    """

    demo: bool
    best_choice: BestChoice
    by_label: ByLabel
    label_pairing: Pairing
    work_order_required: bool
    settle_after_put_away: timedelta
    undo_within: timedelta
    bounce: timedelta
    sign_of_life: timedelta
    restart_mark: timedelta
    right_action: timedelta
    short_left: timedelta
    assumed_room_c: float
    assumed_humidity: float
    delivery: DeliveryRules = field(default_factory=DeliveryRules)
    transfer_minutes: timedelta = timedelta(minutes=15)
    move_within: timedelta = timedelta(minutes=60)
    badge_required: bool = False
    reactions: tuple[Reaction, ...] = ()
    two_person: bool = False
    order_pattern: str = ""
    order_example: str = ""


@dataclass(frozen=True, slots=True)
class Plant:
    """Everything a site has set up, by id. It is what the rules may look up and never changes while running."""

    pastes: dict[str, Paste]
    kinds: dict[str, Kind]
    stores: dict[str, Store]
    positions: dict[str, Position]
    products: dict[str, Product]
    rules: Rules
    instruments: dict[str, Instrument] = field(default_factory=dict)

    def paste_numbered(self, number: int) -> Paste | None:
        """The paste whose site-wide number a label code carries; none where two pastes were given the same."""
        found = [paste for paste in self.pastes.values() if paste.number == number]
        return found[0] if len(found) == 1 else None
