"""MOVE: a container leaves its store for another one, and a clock of its own runs until it is put away again.

Said at the door of its store or at the shift desk, after a container or before one or several. A scan at that door has
taken the container out by then; MOVE takes that back, and its limit counts from it. The minutes on the way are time
out of the cold. Wherever it is put away, the way ends; if nobody does so in time, it is on hold and an alarm says so.
"""

from datetime import datetime, timedelta

from station.care import facts as f
from station.care.answers import about, at_text, plain
from station.care.context import Context
from station.care.floor import Floor
from station.care.moments import NOTHING, minute_down
from station.care.moving import recorded, seen_outside
from station.care.saying import span_up
from station.care.specification import Store
from station.care.state import Container
from station.care.undo import just_done
from station.care.verdict import Armed, Decision, Verdict
from station.care.words import Card, Limit, Place, Storage, Word

WHERE = (Place.FRIDGE, Place.DESK)
MOST_SECONDS = 10


def move_next(floor: Floor, context: Context) -> Decision | None:
    """The MOVE card with nothing scanned before it: what is scanned next goes. None where it can't be said."""
    if context.here.kind not in WHERE:
        return None
    why = "Each container scanned now is on its way to another store, until it is scanned at the door there."
    todo = f"Scan the first one within {MOST_SECONDS} s, and each next one within {MOST_SECONDS} s of the one before."
    return Decision(plain(Word.WAIT, "move-next", "MOVE: SCAN WHAT GOES", why, todo), armed=_armed(floor, None))


def goes_now(floor: Floor, context: Context, container: Container) -> bool:
    """Whether this scan of a container means that it leaves, because MOVE was scanned before it."""
    armed = context.armed_at(floor.now)
    said = armed is not None and armed.moves
    return said and context.here.kind in WHERE and container.ended is None


def move(floor: Floor, context: Context, container: Container) -> Decision:
    """It leaves the store it lies in, or was just taken out of, for another store of its kind."""
    if container.on_its_way:
        return _already(floor, container)
    taken = _just_taken_out(floor, context, container)
    store = floor.plant.stores.get(_lies_in(container, taken))
    if store is None or not _may_say(context, store, container):
        return _not_said(floor, container)
    if container.sighted_warm_at is not None:
        return seen_outside(floor, store, container, container.sighted_warm_at)
    if store.storage is Storage.ROOM:
        todo = "Carry it over, scan it at the other shelf, then MOVED HERE."
        return _free(
            floor, container, f"{container.paste} is kept at room temperature: no clock runs on its way.", todo
        )
    if not _others(floor, store):
        if taken is not None:
            return _stays_out(floor, container, store, taken)
        return _free(floor, container, f"There is no other store like {store.title} here.", "Leave it where it is.")
    return _begun(floor, container, store, taken)


def _armed(floor: Floor, container: str | None) -> Armed:
    return Armed(at=floor.now, container=container, moves=True)


def _just_taken_out(floor: Floor, context: Context, container: Container) -> f.Fact | None:
    """The take-out by the scan before MOVE, at this very door."""
    act = just_done(floor, container.id)
    if act is None or not isinstance(act.body, f.TakenOut | f.ThawBegun):
        return None
    return act if act.body.store == context.here.store else None


def _lies_in(container: Container, taken: f.Fact | None) -> str:
    body = taken.body if taken is not None else None
    return body.store if isinstance(body, f.TakenOut | f.ThawBegun) else container.store or ""


def _may_say(context: Context, store: Store, container: Container) -> bool:
    here = context.here
    at_its_door = here.kind is Place.FRIDGE and here.store == store.id
    return container.opened_at is None and (at_its_door or here.kind is Place.DESK)


def has_others(floor: Floor, name: str | None) -> bool:
    """Whether there is another cold store that what lies in this one may go to."""
    store = floor.plant.stores.get(name or "")
    return store is not None and store.storage is not Storage.ROOM and bool(_others(floor, store))


def _others(floor: Floor, store: Store) -> list[str]:
    stores = floor.plant.stores.values()
    return [other.title for other in stores if other.storage is store.storage and other.id != store.id]


def _begun(floor: Floor, container: Container, store: Store, taken: f.Fact | None) -> Decision:
    allowed = _allowed(floor, container)
    by = minute_down(_left_at(floor, taken) + allowed)
    begun = f.MoveBegun(container.id, store.id, floor.now, by, allowed, container.put_away_at)
    taken_back = (f.Undone(taken.key, "it goes to another store"),) if taken is not None else ()
    label = "Tear its new label off. " if taken is not None and isinstance(taken.body, f.TakenOut) else ""
    verdict = Verdict(
        word=Word.DONE,
        code="move-begun",
        headline=f"PUT AWAY BY {at_text(floor, by)}",
        why=f"{container.spoken} left {store.title}. The way, {span_up(allowed)} at most, is time out of the cold.",
        todo=f"{label}Put it in {' or '.join(_others(floor, store))} and scan it at that door. "
        "More to move: scan the next one now. If it was a mistake: put it back and scan UNDO.",
        container=container.id,
        times=(("put away by", by),),
        governing=Limit.MOVE.value,
        note="It stays on hold." if container.held else "",
        asks=(Card.UNDO,),
    )
    return Decision(verdict, (*taken_back, begun), armed=_armed(floor, container.id))


def _left_at(floor: Floor, taken: f.Fact | None) -> datetime:
    """When it left; what was out before MOVE was said counts by the take-out that is taken back."""
    if taken is None:
        return floor.now
    return taken.body.thaw_from if isinstance(taken.body, f.TakenOut) else taken.at


def _allowed(floor: Floor, container: Container) -> timedelta:
    """The site's time for such a way, but no more than the paste may take to the cold, or has left in the room."""
    specification = floor.specification(container.paste)
    left = max(NOTHING, specification.room_life - container.warm_spent)
    return min(floor.rules.move_within, specification.to_cold, left)


def _already(floor: Floor, container: Container) -> Decision:
    by = container.move_by or floor.now
    late = floor.moment.ages > by
    is_to_be, todo = "is to be", "Scan it at the door of the store it goes into."
    if late:
        is_to_be, todo = "had to be", "Put it away now, then call the shift lead."
    verdict = about(
        floor,
        container,
        Word.STOP if late else Word.DONE,
        "moved-long" if late else "move-already",
        "TOO LONG ON ITS WAY" if late else "ALREADY ON ITS WAY",
        f"{container.spoken} {is_to_be} put away by {at_text(floor, by)}. Nothing was recorded twice.",
        todo,
        asks=(Card.UNDO,) if just_done(floor, container.id) is not None else (),
    )
    return Decision(verdict, armed=_armed(floor, container.id))


def _not_said(floor: Floor, container: Container) -> Decision:
    why = f"{container.spoken} is {recorded(floor, container)}."
    todo = (
        "MOVE is said at the door of the store it lies in, or at the shift desk, of closed paste. Nothing was recorded."
    )
    return _free(floor, container, why, todo)


def _stays_out(floor: Floor, container: Container, store: Store, taken: f.Fact) -> Decision:
    """Nowhere to go on a clock of its own, but the scan before MOVE took it out: left in the store, it would be cold
    paste that the record calls ready."""
    why = f"There is no other store like {store.title} here, and the take-out stands."
    label, out = "", "let it thaw"
    if isinstance(taken.body, f.TakenOut):
        label, out = ", tear its new label off", "leave it out to warm"
    todo = f"Put it back{label} and scan UNDO; or {out}."
    verdict = about(floor, container, Word.WAIT, "move-not", "NOT MOVED", why, todo, asks=(Card.UNDO,))
    return Decision(verdict, armed=_armed(floor, container.id))


def _free(floor: Floor, container: Container, why: str, todo: str) -> Decision:
    """Nothing to record; the next container may be scanned all the same."""
    return Decision(about(floor, container, Word.WAIT, "move-not", "NOT MOVED", why, todo), armed=_armed(floor, None))
