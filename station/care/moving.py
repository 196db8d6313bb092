"""MOVED HERE and TAKEN OUT: a container was carried out of the store it is recorded in, and its door saw no scan.

Where nobody scanned at that door, the site's rule says how long such a way may have taken; nothing is taken to have
been shorter. Both are said at the door of another store of the same kind, of a container nobody has opened.
"""

from dataclasses import replace
from datetime import datetime

from station.care import facts as f
from station.care.answers import about, at_text, plain, refusal
from station.care.context import Context
from station.care.floor import Floor
from station.care.fridge import cards_elsewhere, free_bin, no_free_bin, out_now, room_not_fit
from station.care.moments import NOTHING
from station.care.reasons import against
from station.care.saying import day_time, span_up
from station.care.specification import Store
from station.care.state import Container
from station.care.takeout import taken_out, wait_for
from station.care.verdict import Armed, Decision
from station.care.words import Card, Storage, Word

FULL = "Put it back where it was, or make room and scan it again."


def moved_here(floor: Floor, context: Context, container: Container) -> Decision:
    """It lies in this store now, and was out of the cold on the way for as long as the site's rule says."""
    store = floor.plant.stores.get(context.here.store or "")
    if store is not None and container.store not in (None, store.id) and container.sighted_warm_at is not None:
        return seen_outside(floor, store, container, container.sighted_warm_at)
    if store is None or not _may_say(floor, store, container, Card.MOVED_HERE):
        return _not_said(floor, container, Card.MOVED_HERE)
    bin_ = free_bin(floor, store, container)
    if bin_ is None:
        return no_free_bin(floor, store, container, FULL)
    counted = NOTHING if store.storage is Storage.ROOM else floor.rules.transfer_minutes
    tip = " tip down" if floor.kind(container).tip_down else ""
    spent = "" if store.storage is Storage.ROOM else f" {span_up(counted)} count as time out of the cold."
    verdict = about(
        floor,
        container,
        Word.DONE,
        "moved-here",
        f"BIN {bin_.id}",
        f"{container.spoken} is recorded in {store.title} now.{spent}{' It stays on hold.' if container.held else ''}",
        f"Put it in bin {bin_.id}{tip}. Do not cover the maker's label.",
    )
    fact = f.Transferred(
        container.id, container.store or "", store.id, bin_.id, _left_at_the_earliest(floor, container), counted
    )
    return Decision(verdict, (fact,), armed=Armed(at=floor.now, container=container.id))


def taken_out_here(floor: Floor, context: Context, container: Container) -> Decision:
    """It is out to warm, out of the cold since it may have left the store it is recorded in."""
    store = floor.plant.stores.get(context.here.store or "")
    if store is None or not _may_say(floor, store, container, Card.TAKEN_OUT):
        return _not_said(floor, container, Card.TAKEN_OUT)
    blocking = [reason for reason in against(floor, container, None) if reason.code != "not-taken-out"]
    if blocking:
        refused = f.ScanRefused(container.id, store.id, blocking[0].code, "")
        return Decision(refusal(floor, container, blocking[0], None), (refused,))
    # as cold as the colder of the two can have made it
    recorded = floor.plant.stores[container.store or store.id]
    door = replace(store, low_c=min(store.low_c, recorded.low_c))
    wait = wait_for(floor, container.paste, container.kind, door.low_c)
    if wait is None:
        return room_not_fit(floor, store, container)
    fact = taken_out(floor, container, door, wait, _left_at_the_earliest(floor, container))
    decision = out_now(floor, container, fact, wait, Armed(at=floor.now, container=container.id))
    since = f"It counts as out of {recorded.title} since {at_text(floor, fact.thaw_from)}."
    return replace(decision, verdict=replace(decision.verdict, note=f"{since} {decision.verdict.note}".strip()))


def _left_at_the_earliest(floor: Floor, container: Container) -> datetime:
    """When it can have left its store: the site's time for such a way ago, but not before it was proved cold."""
    return min(floor.now, max(floor.cold_until(container), floor.now - floor.rules.transfer_minutes))


def _may_say(floor: Floor, store: Store, container: Container, card: Card) -> bool:
    elsewhere = container.store not in (None, store.id)
    return elsewhere and card in cards_elsewhere(floor, store, container)


def seen_outside(floor: Floor, store: Store, container: Container, at: datetime) -> Decision:
    """The answer where its time out of the cold can't be counted any more: a shift lead enters its take-out."""
    verdict = about(
        floor,
        container,
        Word.STOP,
        "moved-warm",
        "SEEN OUTSIDE BEFORE",
        f"{container.spoken} was seen outside {day_time(at, floor.now, floor.zone)}: "
        "nobody knows how long it has been warm.",
        "Set it aside and call the shift lead, who enters its take-out.",
    )
    return Decision(verdict, (f.ScanRefused(container.id, store.id, "moved-warm", ""),))


def _not_said(floor: Floor, container: Container, card: Card) -> Decision:
    """The card does not suit: it is for the door of another store than the one on record, and one of its kind."""
    name = card.value.replace("-", " ")
    why = f"{container.spoken} is {recorded(floor, container)}."
    todo = f"{name} is said at the door of another store of the same kind, of closed paste. Nothing was recorded."
    return Decision(plain(Word.WAIT, "card-alone", name, why, todo))


def recorded(floor: Floor, container: Container) -> str:
    """Where the record has a container, said after `is`."""
    store = floor.plant.stores.get(container.store or container.move_store or "")
    if store is None:
        return "not recorded in a store of this plant"
    return f"on its way from {store.title}: put it away first" if container.on_its_way else f"recorded in {store.title}"
