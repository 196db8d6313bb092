"""Whole stores: everything in one moves to another, or counts as taken out since an instant.

A shift lead says so when a refrigerator has failed or the power was cut. Every container gets a fact of its own, all
of them in one append. What is out of the cold for longer than its lead knows is never guessed shorter: minutes are
rounded up, and a container that was proved cold later than the given instant counts from that proof.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime

from station.care import facts as f
from station.care.answers import at_text, plain
from station.care.floor import Floor
from station.care.fridge import bin_suits
from station.care.late import Late, taken_out_late
from station.care.moments import NOTHING, minute_up_span
from station.care.refused import Refused
from station.care.saying import day_time
from station.care.specification import Bin, Store
from station.care.state import Container
from station.care.verdict import Decision, Effect
from station.care.words import HoldReason, Role, Storage, Word

MOST_NAMED = 6


class StoreRefused(Refused):
    """The act on a whole store can't be recorded as told; the sentence says what to mend."""


@dataclass(frozen=True, slots=True)
class WholeStore:
    """What a shift lead says of a store: since when it held no cold (aware UTC), and why. `to` is the store its
    containers are moved to; empty where they count as taken out."""

    store: str
    since: datetime
    reason: str
    to: str = ""


@dataclass(frozen=True, slots=True)
class Fit:
    """Where a container would go; `bin` is None where no bin of the other store takes it."""

    container: Container
    bin: Bin | None


def inside(floor: Floor, store: str) -> tuple[Container, ...]:
    """What is recorded in a store, by bin and number."""
    found = (one for one in floor.alive() if one.store == store)
    return tuple(sorted(found, key=lambda one: (one.bin or "", one.id)))


def moving_plan(floor: Floor, store: str, to: str) -> tuple[Fit, ...]:
    """The bin of the other store for each container of a store, none filled beyond its capacity."""
    other = floor.plant.stores[to]
    fill: dict[str, int] = {}
    for one in inside(floor, to):
        fill[one.bin or ""] = fill.get(one.bin or "", 0) + 1
    return tuple(_fit(floor, other, one, fill) for one in inside(floor, store))


def _fit(floor: Floor, store: Store, container: Container, fill: dict[str, int]) -> Fit:
    leaded = floor.paste(container).alloy.leaded
    suits = (bin_ for bin_ in store.bins if bin_suits(bin_, container.held, leaded))
    found = next((bin_ for bin_ in suits if fill.get(bin_.id, 0) < bin_.capacity), None)
    if found is not None:
        fill[found.id] = fill.get(found.id, 0) + 1
    return Fit(container, found)


def move_all(floor: Floor, told: WholeStore, person: str | None) -> Decision:
    """Everything in a store went to another one, out of the cold since the given instant. Raises StoreRefused."""
    containers = _checked(floor, told, person)
    store, other = floor.plant.stores[told.store], floor.plant.stores.get(told.to)
    if other is None or other.id == store.id:
        raise StoreRefused("Say which other store it all goes to.")
    if other.storage is not store.storage:
        raise StoreRefused(f"{other.title} is for {other.storage.value} storage, {store.title} for another kind.")
    doubted = [one.spoken for one in containers if one.sighted_warm_at is not None]
    if doubted:
        raise StoreRefused(f"{_named(doubted)} was seen outside. Enter its take-out first, then move the rest.")
    plan = moving_plan(floor, told.store, told.to)
    homeless = [fit.container.spoken for fit in plan if fit.bin is None]
    if homeless:
        raise StoreRefused(f"{other.title} has no free bin for {_named(homeless)}. Make room there; nothing was moved.")
    bodies = tuple(_moves(floor, told, plan))
    verdict = plain(
        Word.DONE,
        "all-moved",
        f"{_many(len(bodies))} TO {other.title.upper()}",
        f"All of {store.title} is now recorded in {other.title}, out of the cold since {at_text(floor, told.since)}.",
        "Put each into the bin the stock list names, leaded (Pb) apart, and scan none of them again.",
    )
    return Decision(verdict, bodies)


def _moves(floor: Floor, told: WholeStore, plan: tuple[Fit, ...]) -> Iterator[f.Transferred]:
    reason = told.reason.strip()
    for container, bin_ in [(fit.container.id, fit.bin.id) for fit in plan if fit.bin is not None]:
        since = _out_since(floor, floor.ledger.containers[container], told.since)
        counted = NOTHING if _at_room(floor, told.store) else minute_up_span(floor.moment.ages - since)
        yield f.Transferred(container, told.store, told.to, bin_, since, counted, reason)


def _at_room(floor: Floor, store: str) -> bool:
    return floor.plant.stores[store].storage is Storage.ROOM


def out_since(floor: Floor, told: WholeStore, person: str | None) -> Decision:
    """Everything in a store has been taken out since the given instant: warming counts from now at the latest, every
    life from then at the earliest, and each container gets its label. Raises StoreRefused."""
    containers = _checked(floor, told, person)
    store = floor.plant.stores[told.store]
    if store.storage is Storage.ROOM:
        raise StoreRefused(f"{store.title} is no cold storage, so nothing was taken out of the cold.")
    bodies: list[f.Body] = []
    effects: list[Effect] = []
    for container in containers:
        decision = _one_out(floor, container, told, person)
        bodies.extend(decision.bodies)
        effects.extend(decision.effects)
    verdict = plain(
        Word.DONE,
        "all-out",
        f"{_many(len(containers))} OUT",
        f"All of {store.title} counts as out since {at_text(floor, told.since)} at the earliest.",
        f"Their labels print now ({len(effects)}). Stick each on the container with its number, and leave all out.",
    )
    return Decision(verdict, tuple(bodies), tuple(effects))


def _one_out(floor: Floor, container: Container, told: WholeStore, person: str | None) -> Decision:
    """One that was seen outside was out by then at the latest, and at the earliest since it was last proved cold. What
    is said of its store is no word on that, so it goes on hold."""
    seen = floor.seen_outside(container)
    if seen is None:
        late = Late(container.id, _out_since(floor, container, told.since), floor.now, told.reason, store_failed=True)
        return taken_out_late(floor, late, person)
    latest = min(floor.now, seen)
    earliest = min(latest, floor.cold_until(container, counted=False))
    decision = taken_out_late(floor, Late(container.id, earliest, latest, told.reason, store_failed=True), person)
    held = f.Held(container.id, HoldReason.SEEN_WARM, f"seen {day_time(latest, floor.now, floor.zone)}")
    return replace(decision, bodies=(*decision.bodies, held))


def _out_since(floor: Floor, container: Container, since: datetime) -> datetime:
    """The given instant, but not before it was put away: a count proves where it lay, not that its store was cold."""
    return max(since, floor.cold_until(container, counted=False))


def _checked(floor: Floor, told: WholeStore, person: str | None) -> tuple[Container, ...]:
    if not floor.person_has(person, Role.LEAD):
        raise StoreRefused("Only a shift lead says this of a whole store. Badge in with your PIN.")
    if told.store not in floor.plant.stores:
        raise StoreRefused(f"There is no store {told.store} in this plant. Choose one of the list.")
    if told.since > floor.now:
        raise StoreRefused("That time lies in the future. Give a time up to now.")
    if not told.reason.strip():
        raise StoreRefused("Say in a few words what happened; it stands in the record of every container.")
    found = inside(floor, told.store)
    if not found:
        raise StoreRefused(
            f"Nothing is recorded in {floor.plant.stores[told.store].title}, so there is nothing to say."
        )
    return found


def _many(count: int) -> str:
    return "1 CONTAINER" if count == 1 else f"{count} CONTAINERS"


def _named(names: list[str]) -> str:
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    return f"{', '.join(names[:MOST_NAMED])}{more}"
