"""The plant and its ledger looked at together at one moment: what the rules ask about, in one place."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from station.care import limits
from station.care.clock_story import Doubt
from station.care.cold_proof import last_before
from station.care.fold_lot import lot_name
from station.care.ledger import Ledger
from station.care.limits import Moment, Running
from station.care.list_story import ToldList, heads
from station.care.moments import NOTHING
from station.care.specification import Kind, Paste, Plant, Rules, Specification
from station.care.state import Bead, Container, Hold, Portion, PositionState, RoomAir, Standing
from station.care.strangers import told_of
from station.care.words import Holder, Limit, Role, Stage, Storage

# before anything there is to warm
NEVER = datetime(2000, 1, 1, tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Floor:
    """Everything a decision may look at. `now` is the wall clock; `moment` is now as limits need it.

    `plant` is that of the settings when it is given, and holds what was decided at the desk from then on.
    """

    plant: Plant
    ledger: Ledger
    now: datetime
    zone: ZoneInfo

    def __post_init__(self) -> None:
        """Pastes and paste lists of the desk come in here, so that no rule has to ask for them."""
        object.__setattr__(self, "plant", self.ledger.rulebook.into(self.plant))

    @property
    def rules(self) -> Rules:
        """The site's handling choices."""
        return self.plant.rules

    @property
    def moment(self) -> Moment:
        """Now for ageing and now for warming, each on its safe side while the clock is in doubt."""
        clock = self.ledger.clock
        latest = self.ledger.latest_at or self.now
        ages = max(self.now, latest)
        if clock.trusted_until is None:
            return Moment(ages=ages, warms=self.now)
        return Moment(ages=ages + clock.set_back, warms=min(self.now, clock.trusted_until))

    def moment_of(self, container: Container) -> Moment:
        """Now for one container: its times may come from the clocks of other stations, slow, fast or in doubt."""
        moment, others = self.moment, self.ledger.other_clocks(self._dated_by(container))
        doubted = [NEVER if other.moved else other.trust.trusted_until for other in others]
        warms = min((until for until in doubted if until is not None), default=moment.warms)
        slow = max((other.slow for other in others), default=NOTHING)
        fast = max((other.fast for other in others), default=NOTHING)
        return Moment(ages=moment.ages + fast, warms=min(moment.warms, warms) - slow)

    def clocks_disagree(self, container: Container) -> bool:
        """Whether a station that dated it has a clock too far from this one's."""
        return any(other.beyond for other in self.ledger.other_clocks(self._dated_by(container)))

    def _dated_by(self, container: Container) -> Iterator[str]:
        """The facts its times were dated by; what was filled here goes by those of its sources too."""
        yield from container.dated_by
        for name in container.sources:
            source = self.container(name)
            if source is not None:
                yield from self._dated_by(source)

    def cold_until(self, container: Container, *, counted: bool = True) -> datetime:
        """Until when it is proved to have been cold, else its arrival; without `counted` by being put away alone.

        By this clock as it goes now and the worst its own may have been. What lies ahead of now proves nothing."""
        proofs = [proof for proof in container.proofs if counted or not proof.counted]
        proof = last_before(proofs, container.outside, self._at_the_earliest)
        if proof is not None and proof.at <= self.now:
            return proof.at
        return min(self.now, self._at_the_earliest(container.received_key, container.arrived_at))

    def _at_the_earliest(self, key: str, at: datetime) -> datetime:
        return at + self._doubt_of(key).earlier

    def _doubt_of(self, key: str) -> Doubt:
        return self.ledger.clocks.unsettled(self.ledger.order_of(key))

    def seen_outside(self, container: Container) -> datetime | None:
        """When it was first seen outside, at the latest that may have been: it was out by then. None if it was not."""
        return min((seen.at + self._doubt_of(seen.key).later for seen in container.outside), default=None)

    @property
    def room(self) -> RoomAir:
        """The room as last read, or as the site assumes it."""
        assumed = RoomAir(self.rules.assumed_room_c, self.rules.assumed_humidity, None)
        return self.ledger.room or assumed

    def container(self, container_id: str) -> Container | None:
        """A container known here."""
        return self.ledger.containers.get(container_id)

    def position(self, position_id: str) -> PositionState:
        """A stencil position; empty and not set up until facts say otherwise."""
        return self.ledger.positions.get(position_id) or PositionState(id=position_id)

    def paste(self, container: Container) -> Paste:
        """The paste in a container."""
        return self.plant.pastes[container.paste]

    def kind(self, container: Container) -> Kind:
        """What the paste is packed in."""
        return self.kind_called(container.kind)

    def kind_called(self, kind_id: str) -> Kind:
        """A container kind with the warm-up figures in force: accepted ones before those of the settings."""
        kind, accepted = self.plant.kinds[kind_id], self.ledger.figures.get(kind_id)
        if accepted is None:
            return kind
        return replace(
            kind,
            time_constant=accepted.time_constant,
            dead_time=accepted.dead_time,
            estimate=accepted.estimate,
        )

    def specification(self, paste_id: str) -> Specification:
        """The handling limits in force for a paste."""
        return self.ledger.specifications[paste_id]

    def minimum_for(self, paste_id: str, kind: str) -> timedelta | None:
        """The supplier's minimum for a paste in a kind: by the version in force, or the longest of any, where that one
        dropped a kind that is still in stock; None where no version ever had one."""
        now = self.specification(paste_id).minimum_for(kind)
        if now is not None:
            return now
        every = (entry.minimum_for(kind) for (name, _), entry in self.ledger.versions.items() if name == paste_id)
        return max((minimum for minimum in every if minimum is not None), default=None)

    def approved_pastes(self, product: str, order: str) -> tuple[str, ...] | None:
        """The pastes approved for an order of a product: its own list, else the product's; none where the product has
        none. An order never changes the metal of its product. None where nobody set up such a product here."""
        lists, known = self.ledger.rulebook.lists, self.plant.products.get(product)
        own = lists.get((product, order)) if order else None
        if known is None and (product, "") in lists:
            return ()
        if own is None:
            return known.pastes if known is not None else None
        metals = self.metals(known.pastes) if known is not None else {True, False}
        return tuple(paste for paste in own.pastes if self.metals((paste,)) & metals)

    def metals(self, pastes: Iterable[str]) -> set[bool]:
        """Which metals pastes have, as far as they are set up here: True for leaded."""
        return {self.plant.pastes[paste].alloy.leaded for paste in pastes if paste in self.plant.pastes}

    def job_pastes(self, position: PositionState) -> tuple[str, ...]:
        """The pastes a position was set up with that are still approved for its job.

        What was added to the list since waits until the work order is scanned again.
        """
        approved = self.approved_pastes(position.product or "", position.work_order or "")
        return tuple(paste for paste in position.pastes if approved is None or paste in approved)

    def lists_of(self, position: PositionState) -> tuple[ToldList, ...]:
        """What holds of the lists of a position's order and of its product, as it was told."""
        product, orders = position.product or "", dict.fromkeys(("", position.work_order or ""))
        return tuple(told for order in orders for told in heads(self.ledger.rulebook.list_story(product, order)))

    def fits_job(self, position: PositionState, paste: str) -> bool:
        """Whether a paste is approved for what a position builds; any is where no work order was set up."""
        return not position.pastes or paste in self.job_pastes(position)

    def is_set_up(self, container: Container) -> bool:
        """Whether its paste and kind are set up here; what only another station's settings have no rule can judge."""
        known = container.paste in self.plant.pastes and container.kind in self.plant.kinds
        return known and container.paste in self.ledger.specifications

    def storage(self, container: Container) -> Storage:
        """The storage class of a container's paste; of one that is not set up here cold, where nothing gets ready by
        lying on a shelf."""
        paste = self.plant.pastes.get(container.paste)
        return paste.storage if paste is not None else Storage.COLD

    def stage(self, container: Container) -> Stage:
        """Where a container is in its life now."""
        return limits.stage(container, self.storage(container), self.moment_of(container))

    def standing(self, container: Container) -> Standing:
        """Stage and running limits of a container now."""
        return limits.standing(container, self.storage(container), self.moment_of(container))

    def alive(self) -> Iterator[Container]:
        """Every container whose life has not ended."""
        return (found for found in self.ledger.containers.values() if found.ended is None)

    def contents(self, bead: Bead) -> tuple[Container, ...]:
        """The containers whose paste is in a bead, as they stand now."""
        found = (self.container(portion.container) for portion in bead.portions)
        return tuple(container for container in found if container is not None)

    def holds_in(self, bead: Bead) -> tuple[tuple[str, Hold], ...]:
        """Every hold on paste in a bead, with its container; of one with no record here, its lot's and what was told
        here of it."""
        found: list[tuple[str, Hold]] = []
        for portion in bead.portions:
            container = self.container(portion.container)
            holds = container.all_holds if container is not None else self._strange_holds(bead, portion)
            found.extend((portion.container, hold) for hold in holds)
        return tuple(found)

    def _strange_holds(self, bead: Bead, portion: Portion) -> tuple[Hold, ...]:
        lot = self.ledger.lots.get(lot_name(bead.paste, portion.lot))
        return (*told_of(self.ledger, portion.container).holds, *(lot.holds if lot is not None else ()))

    def bead_limits(self, bead: Bead) -> tuple[Running, ...]:
        """The limits of a bead, the governing one first. Open life that counted when it was loaded goes on counting."""
        brought = any(limit is Limit.OPEN for portion in bead.portions for limit, _ in portion.limits)
        counts = brought or self.specification(bead.paste).stencil_time_counts_as_open
        strangers = (portion for portion in bead.portions if self.container(portion.container) is None)
        now = self.moment.ages
        contents = (limits.sooner(found, self.moment_of(found).ages - now) for found in self.contents(bead))
        return limits.bead_limits(bead, contents, counts, strangers)

    def bead_end(self, bead: Bead) -> Running:
        """What ends a bead, and its last usable minute."""
        return self.bead_limits(bead)[0]

    def time_left(self, until: datetime) -> timedelta:
        """How long until `until`; negative when past."""
        return until - self.moment.ages

    def recently(self, instant: datetime, length: timedelta) -> bool:
        """Whether `instant` lies at most `length` back; an instant ahead of a clock set back does not."""
        return NOTHING <= self.moment.ages - instant <= length

    def beads(self) -> Iterator[tuple[PositionState, Bead]]:
        """Every bead that lies on a stencil now."""
        return ((place, place.bead) for place in self.ledger.positions.values() if place.bead is not None)

    def positions_with(self, container_id: str) -> tuple[str, ...]:
        """Positions whose bead holds paste of a container, or where it is mounted."""
        in_beads = (
            place.id
            for place, bead in self.beads()
            if any(portion.container == container_id for portion in bead.portions)
        )
        return (*in_beads, *self.mounted_at(container_id))

    def fed_by(self, container_id: str) -> tuple[str, ...]:
        """Positions a container is feeding."""
        fed = (place.id for place, bead in self.beads() if bead.feeding == container_id)
        return (*fed, *self.mounted_at(container_id))

    def mounted_at(self, container_id: str) -> tuple[str, ...]:
        """Dispensers a container is mounted in."""
        return tuple(
            place.id
            for place in self.ledger.positions.values()
            if place.mounted is not None and place.mounted.container == container_id
        )

    def holder(self, position_id: str) -> Holder:
        """What holds the paste at a position."""
        return self.plant.positions[position_id].holder

    def bead_life(self, paste: str, position_id: str | None) -> timedelta | None:
        """How long paste may lie at a position, or on any stencil; None in an enclosed head it may not go into."""
        specification = self.specification(paste)
        in_head = position_id is not None and self.holder(position_id) is Holder.HEAD
        return specification.enclosed_life if in_head else specification.stencil_life

    def pauses(self, bead: Bead) -> tuple[timedelta, timedelta]:
        """After how long a pause a bead wants kneading, and replacing: by the version it began under and every one
        since, the shorter of them. A newer version tightens at once and never loosens what lies there already."""
        versions = self.ledger.in_force_from(bead.paste, bead.key)
        return min(entry.pause_knead for entry in versions), min(entry.pause_replace for entry in versions)

    def least_c(self, container: Container) -> float:
        """How warm its paste must be to be opened (degrees Celsius): the most that a version asks which was in force
        since its take-out, for a newer version makes nothing usable that is under way."""
        if container.taken_out_key is None:
            return self.specification(container.paste).floor_c
        return max(entry.floor_c for entry in self.ledger.in_force_from(container.paste, container.taken_out_key))

    def person_has(self, person_id: str | None, role: Role) -> bool:
        """Whether somebody may decide what `role` may."""
        person = self.ledger.people.get(person_id) if person_id else None
        return person is not None and not person.left and role in person.roles
