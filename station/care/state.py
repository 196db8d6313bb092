"""What the facts add up to: containers, positions with their beads, alarms, people and the clock's standing."""

from dataclasses import dataclass, field
from datetime import date, datetime, timedelta

from station.care.cold_proof import Proof, Seen, Stretch, last_before
from station.care.words import Boards, Disposition, Ending, HoldReason, Limit, Role, Stage


@dataclass(frozen=True, slots=True)
class Hold:
    """One reason a container is on hold. `key` is the fact that made it, which a release must name."""

    key: str
    reason: HoldReason
    since: datetime
    note: str


@dataclass(frozen=True, slots=True)
class Container:
    """One physical jar, cartridge or syringe.

    `room_end`, `open_end` and `labelled_end` are last usable minutes without extensions; None where the limit
    does not run yet. `warm_spent` is closed time out of cold; since `out_from` it runs on. `content_end` is that
    of decanted or used paste, `stencil_spent` the time used paste has lain on stencils. `room_given` and
    `open_given` are the whole lives the ends were made with; `moved` names the facts by which a person moved a limit,
    `dated_by` those whose clock its times came from.
    `charged` are the times, apart and in order, that its store was too warm and that count as out of the cold.
    `proofs` are the times it was proved cold, in fold order, `stretches` the closed times out of the cold that are in
    `warm_spent`; `sighted_key` names the sighting of `sighted_warm_at`.
    `thaw_from` is since when it is on its way from the freezer to the refrigerator; None once it lies there. The same
    is `move_from` for a way between stores that began with `move_key`, out of `move_store`; it ends at `move_by`.

    What other things say of it is filled in by the ledger: `inherited` limits, `outside_holds` and `moved_outside`
    (what a person moved there) come from the containers its paste came out of (`sources`) and from its lot,
    `recertified_end` from its lot. `kept_bead` is the bead that used paste was.
    """

    id: str
    paste: str
    kind: str
    lot: str
    expires: date | None
    labelled_end: datetime | None
    arrived_at: datetime
    received_key: str
    to_cold_by: datetime | None
    temperature_c: float | None = None
    store: str | None = None
    bin: str | None = None
    put_away_at: datetime | None = None
    out_from: datetime | None = None
    out_to: datetime | None = None
    taken_out_key: str | None = None
    earliest_use: datetime | None = None
    room_end: datetime | None = None
    warm_spent: timedelta = timedelta(0)
    cold_cycles: int = 0
    opened_at: datetime | None = None
    opened_key: str | None = None
    open_end: datetime | None = None
    inspected_good: bool | None = None
    inspection_place: str | None = None
    holds: tuple[Hold, ...] = ()
    open_extension: timedelta = timedelta(0)
    room_extension: timedelta = timedelta(0)
    print_number: int = 0
    label_end: datetime | None = None
    print_sent: int = 0
    print_confirmed: int = 0
    print_paired: int = 0
    swapped_with: str | None = None
    ended: Ending | None = None
    ended_at: datetime | None = None
    sighted_warm_at: datetime | None = None
    last_seen_where: str = ""
    last_seen_at: datetime | None = None
    sources: tuple[str, ...] = ()
    content_limit: Limit | None = None
    content_end: datetime | None = None
    stencil_spent: timedelta = timedelta(0)
    mixings: int = 0
    room_given: timedelta = timedelta(0)
    open_given: timedelta = timedelta(0)
    maker_serial: str = ""
    moved: tuple[tuple[Limit, str], ...] = ()
    dated_by: tuple[str, ...] = ()
    thaw_not_before: datetime | None = None
    thaw_not_after: datetime | None = None
    thaw_key: str | None = None
    thaw_from: datetime | None = None
    kept_bead: str | None = None
    inherited: tuple[tuple[Limit, datetime], ...] = ()
    moved_outside: tuple[tuple[Limit, str], ...] = ()
    outside_holds: tuple[Hold, ...] = ()
    recertified_end: datetime | None = None
    proofs: tuple[Proof, ...] = ()
    stretches: tuple[Stretch, ...] = ()
    sighted_key: str | None = None
    charged: tuple[tuple[datetime, datetime], ...] = ()
    move_from: datetime | None = None
    move_by: datetime | None = None
    move_store: str | None = None
    move_key: str | None = None

    @property
    def on_its_way(self) -> bool:
        """Whether it has left a store for another one and was not put away, taken out or ended since."""
        return self.move_key is not None and self.ended is None

    @property
    def outside(self) -> tuple[Seen, ...]:
        """How it was seen outside the cold without a take-out on record before that: at a printer, or opened."""
        warm = ((self.sighted_key, self.sighted_warm_at), (self.opened_key, self.opened_at))
        return tuple(Seen(key, at) for key, at in warm if key is not None and at is not None)

    @property
    def last_cold_at(self) -> datetime | None:
        """When it was last proved cold: put away, or counted in its store since, and not seen outside before that.
        None before its first put-away."""
        proof = last_before(self.proofs, self.outside)
        return proof.at if proof is not None else None

    @property
    def counted_at(self) -> datetime | None:
        """When it was counted in its store, if that is the last proof that it was cold."""
        proof = last_before(self.proofs, self.outside)
        return proof.at if proof is not None and proof.counted else None

    @property
    def shelf_end(self) -> datetime | None:
        """The last usable minute of its shelf life: the maker's, or what the supplier re-certified its lot to."""
        return self.recertified_end or self.labelled_end

    @property
    def all_holds(self) -> tuple[Hold, ...]:
        """Every reason against it: its own, its lot's, and those of the containers its paste came out of."""
        return (*self.holds, *self.outside_holds)

    @property
    def held(self) -> bool:
        """Whether any reason still holds it."""
        return bool(self.all_holds)

    @property
    def has_been_out(self) -> bool:
        """Whether it has left cold storage and not lawfully gone back."""
        return self.out_from is not None

    @property
    def newest_label(self) -> int:
        """The number of the newest time label that can be on it; one that failed to print replaced nothing."""
        return max(self.print_sent, self.print_confirmed)

    @property
    def last_three(self) -> str:
        """The digits a person reads from two metres."""
        return self.id.rpartition("-")[2][-3:].rjust(3, "0")

    @property
    def spoken(self) -> str:
        """The station number as shown and said: `K7 311`."""
        return self.id.replace("-", " ")


@dataclass(frozen=True, slots=True)
class Portion:
    """Paste of one container in a bead. Its limits are read from the container as it stands.

    `limits` are those it was loaded with, which count only while the container itself is not known here.
    """

    container: str
    lot: str
    loaded_at: datetime
    limits: tuple[tuple[Limit, datetime], ...] = ()


@dataclass(frozen=True, slots=True)
class Bead:
    """Paste that lies at a position: always of one kind, ageing as a whole, from as many containers as fed it."""

    key: str
    paste: str
    started_at: datetime
    stencil_end: datetime
    portions: tuple[Portion, ...]
    feeding: str | None
    work_orders: tuple[str, ...]
    last_life: datetime
    restart: bool = False
    paused_at: datetime | None = None
    paused_key: str | None = None
    replace: bool = False
    given: timedelta = timedelta(0)


@dataclass(frozen=True, slots=True)
class Gone:
    """A bead that was removed, kept because its boards and its alarms are still asked about."""

    bead: Bead
    removed_at: datetime
    removed_key: str


@dataclass(frozen=True, slots=True)
class Mount:
    """A cartridge or syringe in a dispenser; `key` is the fact that mounted it."""

    key: str
    container: str
    paste: str
    since: datetime
    work_orders: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TakenOff:
    """A cartridge or syringe that was in a dispenser, kept because its boards and its alarms are still asked about."""

    mount: Mount
    at: datetime


@dataclass(frozen=True, slots=True)
class Lot:
    """The maker's batch of one paste: its holds, and the expiry the supplier re-certified it to."""

    id: str
    holds: tuple[Hold, ...] = ()
    recertified_end: datetime | None = None
    document: str = ""


@dataclass(frozen=True, slots=True)
class Figures:
    """Warm-up figures of a container kind as a process engineer accepted them."""

    time_constant: timedelta
    dead_time: timedelta
    estimate: bool


@dataclass(frozen=True, slots=True)
class PositionState:
    """What a stencil position is set up for and what lies on it."""

    id: str
    work_order: str | None = None
    product: str | None = None
    pastes: tuple[str, ...] = ()
    bead: Bead | None = None
    gone: tuple[Gone, ...] = ()
    cleaned_at: datetime | None = None
    soiled_by: str | None = None
    mounted: Mount | None = None
    taken_off: tuple[TakenOff, ...] = ()


@dataclass(frozen=True, slots=True)
class Alarm:
    """A limit that passed. Latched: acknowledging silences it, only a clearing ends it.

    `acknowledged_at` is when it was first seen, `silenced_at` when it was silenced last, `shelved_until`
    until when a shift lead last kept it quiet.
    """

    id: str
    subject: str
    limit: Limit
    since: datetime
    raised_at: datetime
    in_use: bool
    acknowledged_at: datetime | None = None
    acknowledged_by: str | None = None
    silenced_at: datetime | None = None
    shelved_until: datetime | None = None
    shelved_by: str | None = None
    shelved_why: str = ""
    cleared_at: datetime | None = None
    cleared_by: str | None = None
    disposition: Disposition | None = None
    boards: Boards | None = None
    document: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Somebody:
    """A person known to the station. `wrong_pins` were given since the last right one, the last of them at
    `wrong_at`; `training_until` is the last day of a training that ends."""

    id: str
    name: str
    roles: tuple[Role, ...]
    pin: str | None
    left: bool
    training_until: date | None = None
    wrong_pins: int = 0
    wrong_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class ClockTrust:
    """The clock's standing. While `trusted_until` is set, nothing newly becomes ready after that instant.

    `set_back` is the most by which an instant written since then may lie ahead of the clock as it goes now; ends
    are judged that much later, so that no step and no order of steps revives what has passed.
    """

    trusted_until: datetime | None = None
    stepped_by: timedelta = timedelta(0)
    set_back: timedelta = timedelta(0)
    segment_from: datetime | None = None


@dataclass(frozen=True, slots=True)
class RoomAir:
    """The last reading of the room."""

    temperature_c: float
    humidity: float
    read_at: datetime | None
    repeated: bool = False


@dataclass(frozen=True, slots=True)
class Standing:
    """What is true of a container at one instant; computed, never stored."""

    stage: Stage
    limits: tuple[tuple[Limit, datetime], ...] = field(default=())

    @property
    def governing(self) -> Limit | None:
        """The limit that sets discard-by right now."""
        return self.limits[0][0] if self.limits else None

    @property
    def discard_by(self) -> datetime | None:
        """The last minute the content may be used."""
        return self.limits[0][1] if self.limits else None
