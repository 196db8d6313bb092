"""A take-out told afterwards: nobody scanned at the door, and a shift lead says when it must have been.

What is known is an interval. Conditioning runs from its latest instant, every life from its earliest. Of what came in
while no station ran, nobody recorded that it was ever cold either: its lives run from its arrival.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime

from station.care import facts as f
from station.care.answers import at_text
from station.care.floor import Floor
from station.care.moments import NOTHING, minute_down, minute_up
from station.care.refused import Refused
from station.care.room_then import airs_since, waited_since
from station.care.saying import day_time
from station.care.specification import Store
from station.care.state import Container
from station.care.verdict import Decision, PrintLabel, Verdict
from station.care.waste import discard_it
from station.care.words import HoldReason, Role, Storage, Word

NOT_COLD = "It is not recorded as lying in cold storage, so there is no take-out to enter. Scan it to see its story."


class LateRefused(Refused):
    """The take-out can't be entered as told; the sentence says what to mend."""


@dataclass(frozen=True, slots=True)
class Late:
    """What a shift lead says: taken out at some time between two instants (aware UTC), and how it is known.

    `store_failed` where it is said of a whole store that was not cold any more."""

    container: str
    earliest: datetime
    latest: datetime
    reason: str
    store_failed: bool = False


def taken_out_late(floor: Floor, told: Late, person: str | None) -> Decision:
    """The fact of a take-out told afterwards, its label, and the answer. Raises LateRefused."""
    container = floor.container(told.container)
    if not floor.person_has(person, Role.LEAD):
        raise LateRefused("Only a shift lead enters a take-out afterwards. Badge in with your PIN.")
    if container is None or not may_be_told(floor, container):
        raise LateRefused(NOT_COLD)
    _check(floor, container, told)
    lay_in = container.store or container.move_store
    if lay_in is None:
        fact, held = _unseen(floor, container, told)
    else:
        told = _since_its_move(container, told)
        store = _store(floor, lay_in)
        fact = _fact(floor, container, store.id, store.low_c, told)
        held = tuple(_not_thawed(floor, container, store, told))
    # without a time when it is ready there is nothing to print
    label = (PrintLabel(container.id),) if fact.earliest_use is not None else ()
    return Decision(_verdict(floor, container, fact, held), (fact, *held), effects=label)


def _store(floor: Floor, name: str) -> Store:
    store = floor.plant.stores.get(name)
    if store is None:
        raise LateRefused(f"{name} is in no setting of this station. Enter it at a station that has that store.")
    return store


def may_be_told(floor: Floor, container: Container) -> bool:
    """Whether a take-out of it could have been missed: it lies in the cold, or came in and was never put away."""
    if container.ended is not None or floor.storage(container) is Storage.ROOM:
        return False
    return container.store is not None or container.on_its_way or _is_unseen(floor, container)


def _since_its_move(container: Container, told: Late) -> Late:
    """What was on its way between stores has been out of the cold since then at the latest."""
    since = container.move_from
    return told if since is None else replace(told, earliest=min(told.earliest, since))


def _is_unseen(floor: Floor, container: Container) -> bool:
    """Received, and nothing on record since; of frozen paste nobody could say how it thawed."""
    kept_cold = floor.paste(container).storage is Storage.COLD
    return kept_cold and container.put_away_at is None and not (container.has_been_out or container.sources)


def _unseen(floor: Floor, container: Container, told: Late) -> tuple[f.TakenOut, tuple[f.Held, ...]]:
    """Warm since it arrived for all anybody can prove, and as cold at the latest time as any store would make it."""
    coldest_c = min(store.low_c for store in floor.plant.stores.values() if store.storage is Storage.COLD)
    fact = _fact(floor, container, "", coldest_c, replace(told, earliest=floor.cold_until(container)))
    by = container.to_cold_by
    held_already = any(hold.reason is HoldReason.LATE_TO_COLD for hold in container.holds)
    if by is None or told.latest <= by or held_already:
        return fact, ()
    return fact, (f.Held(container.id, HoldReason.LATE_TO_COLD, "nobody recorded that it was put away"),)


def _check(floor: Floor, container: Container, told: Late) -> None:
    # a count proves where it lay, not that its store was cold: it says nothing where the store itself failed
    cold_until = floor.cold_until(container, counted=not told.store_failed)
    if told.earliest > told.latest:
        raise LateRefused("The earliest time lies after the latest. Give the earlier one first.")
    if told.earliest < cold_until:
        known = day_time(cold_until, floor.now, floor.zone)
        counted = cold_until == container.counted_at
        came = "was counted" if counted else "was put away" if container.put_away_at is not None else "arrived"
        raise LateRefused(f"It {came} {known}, so it can't have been taken out before. Check the earliest time.")
    if told.latest > floor.now:
        raise LateRefused("The latest time lies in the future. Give a time up to now.")
    seen = floor.seen_outside(container)
    if seen is not None and told.latest > seen:
        known = day_time(seen, floor.now, floor.zone)
        raise LateRefused(f"It was seen outside {known}, so it was out by then. Check the latest time.")
    if not told.reason.strip():
        raise LateRefused("Say in a few words how the time is known; it stands in the record.")


def _not_thawed(floor: Floor, container: Container, store: Store, told: Late) -> Iterator[f.Held]:
    """Frozen paste that may have gone to the room without its whole thaw, or stayed in it too long: a person judges."""
    if floor.specification(container.paste).thaw is None or floor.paste(container).storage is not Storage.FROZEN:
        return
    thawed, until = container.thaw_not_before, container.thaw_not_after
    if store.storage is Storage.FROZEN or thawed is None or told.earliest < thawed:
        yield f.Held(container.id, HoldReason.EVALUATION, "may have gone to the room before it was thawed")
    elif until is not None and told.latest > until and not _judged(container):
        yield f.Held(container.id, HoldReason.THAWED_LONG, f"until {day_time(told.latest, floor.now, floor.zone)}")


def _judged(container: Container) -> bool:
    return any(hold.reason is HoldReason.THAWED_LONG for hold in container.holds)


def _fact(floor: Floor, container: Container, store: str, cold_c: float, told: Late) -> f.TakenOut:
    specification = floor.specification(container.paste)
    begun = waited_since(floor, container.paste, container.kind, cold_c, told.latest)
    since, wait = begun if begun is not None else (told.latest, None)
    then = airs_since(floor, told.latest)[0]
    life = specification.room_life - container.warm_spent
    return f.TakenOut(
        container=container.id,
        store=store,
        thaw_from=minute_down(told.earliest),
        thaw_to=told.latest,
        earliest_use=minute_up(since + wait.longest) if wait is not None else None,
        room_end=minute_down(told.earliest + life),
        supplier_minimum=floor.minimum_for(container.paste, container.kind) or NOTHING,
        warm_up=wait.warm_up if wait is not None else None,
        dew_wait=wait.dew_point if wait is not None else None,
        room_c=then.temperature_c,
        humidity=then.humidity,
        cold_c=cold_c,
        specification=f"{specification.paste} version {specification.version}",
        zone=floor.zone.key,
        told_late=told.reason.strip(),
        room_life=specification.room_life,
        spent=container.warm_spent,
    )


def _verdict(floor: Floor, container: Container, fact: f.TakenOut, held: tuple[f.Held, ...]) -> Verdict:
    ready = fact.earliest_use
    times = (("thaw start", fact.thaw_from), *((("earliest use", ready),) if ready else ()))
    ends = {"room life": fact.room_end, "shelf life": container.shelf_end}
    governing, discard_by = min(
        ((name, end) for name, end in ends.items() if end is not None), key=lambda entry: entry[1]
    )
    over = floor.moment.ages > discard_by
    headline = f"NOT BEFORE {at_text(floor, ready)}" if ready else "ROOM UNSUITABLE"
    on_hold = " It is on hold." if container.held or held else ""
    return Verdict(
        word=Word.DONE,
        code="taken-out-late",
        headline=f"{governing.upper()} IS OVER" if over else headline,
        why=f"{container.spoken} counts as out since {at_text(floor, fact.thaw_from)} at the earliest and "
        f"{at_text(floor, fact.thaw_to)} at the latest.{on_hold}",
        todo=discard_it(floor, container.paste) if over else _todo(held=bool(on_hold), ready=ready is not None),
        container=container.id,
        times=(*times, ("discard by", discard_by)),
        governing=governing,
    )


def _todo(*, held: bool, ready: bool) -> str:
    if held:
        return "Set it aside until a shift lead has released it."
    if not ready:
        return "Leave it closed; nobody can say when it is ready."
    return "Stick the new label on the body, not over the maker's label."
