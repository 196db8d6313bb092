"""What a container scan means at the door of a cold store: put away, take out, thaw, or never back."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from station.care import facts as f
from station.care.answers import about, at_text, refusal, whereabouts
from station.care.choice import better_take_out
from station.care.cold_cycles import cycles_left, return_refused
from station.care.conditioning import Wait
from station.care.context import Context
from station.care.desk import look
from station.care.filled import packed
from station.care.floor import Floor
from station.care.moments import NOTHING, minute_up, minute_up_span
from station.care.reasons import against
from station.care.saying import day_time, span, span_up
from station.care.seen_again import seen_again
from station.care.specification import BestChoice, Bin, Pairing, Store
from station.care.state import Container
from station.care.takeout import taken_out, wait_for
from station.care.thaw import is_thawing
from station.care.thaw_door import at_freezer, begin_thaw
from station.care.undo import may_take_back
from station.care.verdict import Armed, Decision, PrintLabel, Verdict
from station.care.words import Alloy, Card, HoldReason, Stage, Storage, Word

SECOND = timedelta(seconds=1)


def at_fridge(floor: Floor, context: Context, container: Container) -> Decision:
    """Decide a container scan at the door of one cold store."""
    store = floor.plant.stores[context.here.store or ""]
    stage = floor.stage(container)
    armed = Armed(at=floor.now, container=container.id)
    if stage is Stage.ENDED:
        return _stop(floor, context, container)
    if stage is Stage.OPEN and floor.storage(container) is Storage.ROOM:
        return look(floor, container)  # open paste of this class stays at the line; nothing of it runs by the shelf
    if stage is Stage.RECEIVED or (floor.storage(container) is Storage.ROOM and container.store is None):
        return _put_away(floor, store, container, armed, returning=False)
    if is_thawing(container) and store.storage is Storage.FROZEN:
        return at_freezer(floor, store, container, armed)
    if (is_thawing(container) or container.on_its_way) and container.store is None:
        return _put_away(floor, store, container, armed, returning=False)
    if container.store is not None:
        return _from_store(floor, context, store, container, armed)
    return _was_out(floor, store, container, armed)


def _stop(floor: Floor, context: Context, container: Container) -> Decision:
    reason = against(floor, container, None)[0]
    refused = f.ScanRefused(container.id, context.here.id, reason.code, "")
    return Decision(refusal(floor, container, reason, None), (*seen_again(floor, container), refused))


def _put_away(floor: Floor, store: Store, container: Container, armed: Armed, *, returning: bool) -> Decision:
    paste = floor.paste(container)
    # frozen paste that has left the freezer belongs in a refrigerator until it goes to the room
    kept = Storage.COLD if container.thaw_key is not None else paste.storage
    if kept is not store.storage:
        thaws = " while it thaws" if kept is not paste.storage else ""
        return Decision(
            about(
                floor,
                container,
                Word.STOP,
                "wrong-store",
                "NOT IN HERE",
                f"{paste.id} is kept {_kept(kept)}{thaws}; {store.title} is for {store.storage.value} storage.",
                f"Take {container.spoken} to its own store.",
            ),
            (f.ScanRefused(container.id, store.id, "wrong-store", ""),),
        )
    bin_ = free_bin(floor, store, container)
    if bin_ is None:
        return no_free_bin(floor, store, container, "Make room or use another store; its time to cold storage runs on.")
    label = "Tear its time label off. " if returning and container.print_number else ""
    tip = " tip down" if floor.kind(container).tip_down else ""
    counted, way = _on_the_way(floor, container), container.move_key
    return Decision(
        about(
            floor,
            container,
            Word.DONE,
            "returned" if returning else "put-away",
            f"BIN {bin_.id}",
            f"{container.spoken} is put away in {store.title}. {_put_away_note(floor, container, returning)}",
            f"{label}Put it in bin {bin_.id}{tip}. Do not cover the maker's label.",
        ),
        (f.PutAway(container.id, store.id, bin_.id, returning, counted=counted, way=way),),
        armed=armed,
    )


def no_free_bin(floor: Floor, store: Store, container: Container, todo: str) -> Decision:
    """The answer where a store has no room for such paste."""
    alloy = floor.paste(container).alloy
    why = f"No bin of {store.title} is free for {alloy.shout}{_noun(alloy)}."
    verdict = about(floor, container, Word.STOP, "store-full", "NO FREE BIN", why, todo)
    return Decision(verdict, (f.ScanRefused(container.id, store.id, "store-full", ""),))


def _put_away_note(floor: Floor, container: Container, returning: bool) -> str:
    if container.held:
        return "It stays on hold."
    spent = f"Time out of cold so far {_spent(floor, container)}."
    if returning:
        more = cycles_left(floor, container) - 1
        left = f"Cold cycles left after this one: {more}" if more else "Once out again it may not come back"
        return f"{spent} {left}."
    if container.thaw_not_before is not None:
        return f"{spent} It thaws until {at_text(floor, container.thaw_not_before)}."
    return spent


def _noun(alloy: Alloy) -> str:
    return "" if alloy is Alloy.NONE else " paste"


def _kept(storage: Storage) -> str:
    return {Storage.ROOM: "at room temperature", Storage.FROZEN: "frozen", Storage.COLD: "cold"}[storage]


def _on_the_way(floor: Floor, container: Container) -> timedelta | None:
    """How long its move has lasted, by the clock that errs to the paste's disadvantage; None where there is none."""
    since = container.move_from
    return minute_up_span(max(NOTHING, floor.moment_of(container).ages - since)) if since is not None else None


def _spent(floor: Floor, container: Container) -> str:
    since = container.out_from or container.thaw_from or container.move_from or container.arrived_at
    return span_up(container.warm_spent + max(NOTHING, floor.moment.ages - since))


def free_bin(floor: Floor, store: Store, container: Container) -> Bin | None:
    """The first bin with room: the hold bin for held ones, leaded and lead-free apart."""
    leaded = floor.paste(container).alloy.leaded
    fill: dict[str, int] = {}
    for other in floor.alive():
        if other.store == store.id and other.bin is not None:
            fill[other.bin] = fill.get(other.bin, 0) + 1
    suits = (bin_ for bin_ in store.bins if bin_suits(bin_, container.held, leaded))
    return next((bin_ for bin_ in suits if fill.get(bin_.id, 0) < bin_.capacity), None)


def bin_suits(bin_: Bin, held: bool, leaded: bool) -> bool:
    """Whether a bin takes such paste: the hold bin what is on hold and nothing else, leaded and lead-free apart."""
    if held or bin_.hold:
        return held and bin_.hold
    return bin_.leaded == leaded


def _from_store(floor: Floor, context: Context, store: Store, container: Container, armed: Armed) -> Decision:
    if container.store != store.id:
        return _elsewhere(floor, store, container, armed)
    put_away_at = container.put_away_at
    if put_away_at is not None and floor.recently(put_away_at, floor.rules.settle_after_put_away):
        return Decision(
            about(
                floor,
                container,
                Word.DONE,
                "already-away",
                f"ALREADY AWAY, BIN {container.bin}",
                f"{container.spoken} was put away {at_text(floor, put_away_at)}. Nothing was recorded.",
                _leave_in(floor, container, put_away_at),
                asks=(Card.UNDO,) if may_take_back(floor, container.id) else (),
            ),
            armed=armed,
        )
    if floor.storage(container) is Storage.ROOM:
        return _issue_room(floor, container, armed)
    blocking = [reason for reason in against(floor, container, None) if reason.code != "not-taken-out"]
    if blocking:
        refused = f.ScanRefused(container.id, store.id, blocking[0].code, "")
        return Decision(refusal(floor, container, blocking[0], None), (refused,))
    return _take_out(floor, context, store, container, armed)


def _leave_in(floor: Floor, container: Container, put_away_at: datetime) -> str:
    later = minute_up(put_away_at + floor.rules.settle_after_put_away + SECOND)
    stays = container.held or is_thawing(container)
    until = "" if stays else f"; it can be taken out from {at_text(floor, later)} on"
    mistake = may_take_back(floor, container.id)
    return f"Leave it in{until}.{' If putting it away was a mistake, scan UNDO.' if mistake else ''}"


def _elsewhere(floor: Floor, store: Store, container: Container, armed: Armed) -> Decision:
    """Recorded in another store: what may have become of it is a card away, where the record allows it."""
    cards = cards_elsewhere(floor, store, container)
    said = " ".join(CARRIED[card] for card in cards)
    verdict = about(
        floor,
        container,
        Word.WAIT if cards else Word.STOP,
        "other-store",
        "RECORDED ELSEWHERE",
        f"{container.spoken} is recorded in {_title(floor, container)}, bin {container.bin}.",
        f"{said} Otherwise take it back." if cards else "Take it out at that door, or call the shift lead.",
        asks=cards,
    )
    return Decision(verdict, (f.ScanRefused(container.id, store.id, "other-store", ""),), armed=armed)


CARRIED = {
    Card.MOVED_HERE: "To keep it in here: scan MOVED HERE.",
    Card.TAKEN_OUT: "To use it: scan TAKEN OUT.",
}


def cards_elsewhere(floor: Floor, store: Store, container: Container) -> tuple[Card, ...]:
    """What may be said at the door of `store` of a closed container that is recorded in another one of its kind."""
    recorded = floor.plant.stores.get(container.store or "")
    if recorded is None or recorded.storage is not store.storage or container.opened_at is not None:
        return ()
    moved = (Card.MOVED_HERE,) if container.sighted_warm_at is None else ()
    return (*moved, Card.TAKEN_OUT) if store.storage is Storage.COLD else moved


def _title(floor: Floor, container: Container) -> str:
    store = floor.plant.stores.get(container.store or "")
    return store.title if store is not None else container.store or ""


def _issue_room(floor: Floor, container: Container, armed: Armed) -> Decision:
    return Decision(
        about(
            floor,
            container,
            Word.DONE,
            "room-shelf",
            f"SHELF {container.bin}",
            f"{container.paste} is kept at room temperature and needs no warming.",
            "Take it to the printer and scan it there.",
        ),
        (f.Sighted(container.id, container.store or "", warm=False),),
        armed=armed,
    )


def _take_out(floor: Floor, context: Context, store: Store, container: Container, armed: Armed) -> Decision:
    confirmed = context.armed_at(floor.now)
    insists = confirmed is not None and confirmed.confirms == f"take-out {container.id}"
    policy = floor.rules.best_choice
    better = None if policy is BestChoice.OFF else better_take_out(floor, container)
    if better is not None and not (insists and policy is BestChoice.WARN):
        return _better(floor, store, container, better, armed, policy)
    thaw = floor.specification(container.paste).thaw
    if store.storage is Storage.FROZEN and thaw is not None:
        return begin_thaw(floor, store, container, thaw, armed)
    wait = wait_for(floor, container.paste, container.kind, store.low_c)
    if wait is None:
        return room_not_fit(floor, store, container)
    return out_now(floor, container, taken_out(floor, container, store, wait), wait, armed)


def out_now(floor: Floor, container: Container, fact: f.TakenOut, wait: Wait, armed: Armed) -> Decision:
    """It is out of the cold by this fact; held where it was seen outside before."""
    held: tuple[f.Body, ...] = ()
    if container.sighted_warm_at is not None:
        seen = f"seen {day_time(container.sighted_warm_at, floor.now, floor.zone)}"
        held = (f.Held(container.id, HoldReason.SEEN_WARM, seen),)
    return Decision(
        _taken_out_verdict(floor, container, fact, wait),
        (fact, *held),
        effects=(PrintLabel(container.id),),
        armed=armed,
    )


def _taken_out_verdict(floor: Floor, container: Container, fact: f.TakenOut, wait: Wait) -> Verdict:
    kind = floor.kind(container)
    parts = (
        f"supplier {span_up(wait.supplier_minimum)}",
        f"warm-up {span_up(wait.warm_up)}",
        f"dew point {span_up(wait.dew_point)}",
    )
    ends = {"room life": fact.room_end, "shelf life": container.shelf_end}
    governing, discard_by = min(
        ((name, end) for name, end in ends.items() if end is not None), key=lambda entry: entry[1]
    )
    stand = "Stand it tip down" if kind.tip_down else "Stand it upright"
    earliest = minute_up(fact.thaw_to + wait.longest)
    return Verdict(
        word=Word.DONE,
        code="taken-out",
        headline=f"NOT BEFORE {at_text(floor, earliest)}",
        why=f"{container.spoken} is taken out. Longest of: {', '.join(parts)}.",
        todo="Wipe it dry, stick the label on the body, not over the maker's label. "
        f"{stand}, a hand's width apart, away from heat.",
        container=container.id,
        times=(("thaw start", fact.thaw_from), ("earliest use", earliest), ("discard by", discard_by)),
        governing=governing,
        note=" ".join((*_seen_note(container), *_short_note(floor, container, fact), *_pair_note(floor))),
        asks=(Card.UNDO,),
    )


def _seen_note(container: Container) -> Iterator[str]:
    if container.sighted_warm_at is not None:
        yield "It goes on hold, because it was seen outside before: call the shift lead."


def _short_note(floor: Floor, container: Container, fact: f.TakenOut) -> Iterator[str]:
    shelf = container.shelf_end
    if shelf is not None and shelf < fact.room_end:
        yield f"Shelf life ends first, {day_time(shelf, floor.now, floor.zone)}: use it soon."


def _pair_note(floor: Floor) -> Iterator[str]:
    if floor.rules.label_pairing is not Pairing.OFF:
        yield "Once it is on, scan identity label and new label, one after the other."


def _better(
    floor: Floor, store: Store, container: Container, better: Container, armed: Armed, policy: BestChoice
) -> Decision:
    stage = floor.stage(better)
    discard_by = floor.standing(better).discard_by
    left = f", {span(floor.time_left(discard_by))} left" if discard_by is not None else ""
    where = f"in bin {better.bin}" if stage is Stage.COLD else f"{stage.value}{_seen(floor, better)}"
    warn = policy is BestChoice.WARN
    todo = f"Use {better.spoken} first."
    if warn:
        todo += f" To take {container.spoken} all the same, scan it again within 10 s."
    verdict = about(
        floor,
        container,
        Word.WAIT if warn else Word.STOP,
        "better-choice",
        f"{better.spoken} FIRST",
        f"{better.spoken} is {where}{left}.",
        todo,
        instead=better.id,
    )
    confirms = f"take-out {container.id}" if warn else None
    ready = Armed(at=armed.at, container=armed.container, confirms=confirms)
    return Decision(verdict, (f.ScanRefused(container.id, store.id, "better-choice", better.id),), armed=ready)


def _seen(floor: Floor, container: Container) -> str:
    """` at line 3`, or `, out of Refrigerator` where nobody has seen it since it was taken out."""
    where = whereabouts(floor, container)
    return f", {where}" if container.last_seen_where in floor.plant.stores else f" at {where}"


def room_not_fit(floor: Floor, store: Store, container: Container) -> Decision:
    """The answer to a take-out where the paste would never be ready in this room."""
    if floor.minimum_for(container.paste, container.kind) is None:
        return _no_minimum(floor, store, container)
    room = floor.room
    floor_c = floor.specification(container.paste).floor_c
    cold = room.temperature_c < floor_c
    verdict = about(
        floor,
        container,
        Word.WAIT,
        "room-too-cold" if cold else "room-too-humid",
        "ROOM TOO COLD" if cold else "ROOM TOO HUMID",
        f"The room is {room.temperature_c:g} C; this paste must reach {floor_c:g} C."
        if cold
        else f"At {room.temperature_c:g} C and {room.humidity:g} % it would never be dry enough to open.",
        "Leave it in the cold and call the shift lead. Never heat paste.",
    )
    return Decision(verdict, (f.ScanRefused(container.id, store.id, verdict.code, ""),))


def _no_minimum(floor: Floor, store: Store, container: Container) -> Decision:
    why = f"No version of the limits of {container.paste} says how long {packed(floor, container)} has to warm."
    todo = "Leave it in the cold and ask the process engineer."
    verdict = about(floor, container, Word.STOP, "no-time", "NO WARMING TIME", why, todo)
    return Decision(verdict, (f.ScanRefused(container.id, store.id, verdict.code, ""),))


def _was_out(floor: Floor, store: Store, container: Container, armed: Armed) -> Decision:
    out_at = container.out_to
    closed = container.opened_at is None
    if out_at is not None and closed and floor.recently(out_at, floor.rules.undo_within):
        return Decision(
            about(
                floor,
                container,
                Word.DONE,
                "already-out",
                f"ALREADY OUT SINCE {at_text(floor, out_at)}",
                f"{container.spoken} was taken out a moment ago. Nothing was recorded twice.",
                "Leave it out to warm. If it was a mistake: tear the label off and scan UNDO.",
                asks=(Card.UNDO,),
            ),
            armed=armed,
        )
    return return_refused(floor, store, container) or _put_away(floor, store, container, armed, returning=True)
