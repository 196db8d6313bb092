"""What command cards do. Container or tag first, then the card; a card alone shows what to scan first."""

from dataclasses import replace

from station.care import facts as f
from station.care.answers import plain
from station.care.by_label import stand_in
from station.care.cards_container import OF_CONTAINER, alone
from station.care.cards_position import OF_POSITION
from station.care.context import Context
from station.care.dispenser import dismount, nothing_mounted
from station.care.floor import Floor
from station.care.move_away import move_next
from station.care.printer import CHECK_OPEN_FOR
from station.care.undo import undo
from station.care.verdict import Armed, Decision, Silence
from station.care.words import Card, Word


def card_scan(floor: Floor, context: Context, card: Card) -> Decision:
    """Decide a command card at this place."""
    if card is Card.LOOK:
        verdict = plain(Word.DONE, "look", "LOOK ONLY", "Nothing will be changed.", "Scan what you want to see.")
        return Decision(verdict, armed=Armed(at=floor.now, look=True))
    if card is Card.SILENCE:
        verdict = plain(Word.DONE, "silenced", "SILENCED", "The alarms stay open.", "A shift lead clears them.")
        return Decision(verdict, effects=(Silence(),))
    if card in OF_POSITION:
        return _for_position(floor, context, card)
    if card is Card.DISMOUNT:
        return _dismount(floor, context)
    return _for_container(floor, context, card)


def _for_position(floor: Floor, context: Context, card: Card) -> Decision:
    armed = context.armed_at(floor.now)
    name = _armed_position(context, armed)
    if name is None and card is Card.RESUME:
        name = _paused_here(floor, context)
    if name is None:
        return alone(card, "Scan the tag of the position (or the container on it) first, then the card.")
    return OF_POSITION[card](floor, context, floor.position(name))


def _dismount(floor: Floor, context: Context) -> Decision:
    """Take off what is mounted at the position that was scanned; else the container that was, wherever it is."""
    armed = context.armed_at(floor.now)
    name = _armed_position(context, armed)
    if name is not None:
        return dismount(floor, floor.position(name))
    if armed is None or armed.container is None:
        return alone(Card.DISMOUNT, "Scan the container or the tag of the position first, then the card.")
    mounted = floor.mounted_at(armed.container)
    if not mounted:
        return nothing_mounted(f"{armed.container.replace('-', ' ')} is mounted nowhere.", None)
    return dismount(floor, floor.position(mounted[0]))


def _paused_here(floor: Floor, context: Context) -> str | None:
    """The one position of this place whose bead is paused: PAUSE asked for RESUME there."""
    paused = [place.id for place, bead in floor.beads() if place.id in context.here.positions and bead.paused_at]
    return paused[0] if len(paused) == 1 else None


def _armed_position(context: Context, armed: Armed | None) -> str | None:
    return armed.position if armed is not None and armed.position in context.here.positions else None


def _for_container(floor: Floor, context: Context, card: Card) -> Decision:
    armed = context.armed_at(floor.now)
    name = armed.container if armed is not None else None
    if card is Card.UNDO:
        position = _armed_position(context, armed) if name is None else None
        return undo(floor, context, name, position)
    if name is None and card in (Card.LOOKS_GOOD, Card.LOOKS_BAD):
        name = _waiting_check(floor, context)
    if card is Card.EMPTY and armed is not None and armed.last is not None:
        name = armed.last
    if card is Card.MOVE and name is None:
        return move_next(floor, context) or alone(card, "Scan the container at its store or at the shift desk first.")
    container = floor.container(name) if name is not None else None
    if container is None and name is not None and armed is not None and armed.label is not None:
        container = stand_in(floor, name, armed.label) if card in BY_LABEL else None
    if container is None:
        return alone(card, "Scan the container first, then the card.")
    decision = OF_CONTAINER[card](floor, context, container)
    return _withdrawn(armed, card, decision)


# what may be said of a container that is known by its label alone: that its life is over, or that it must not be used
BY_LABEL = (Card.EMPTY, Card.DISCARD, Card.HOLD)
# said of paste that goes somewhere else: the scan before it put it on a bead only to name it. Not EMPTY: what is
# empty was emptied onto that bead
ELSEWHERE = (Card.DISCARD, Card.DECANT, Card.MIXED, Card.HOLD)


def _withdrawn(armed: Armed | None, card: Card, decision: Decision) -> Decision:
    """The decision, taking back a load that only named the container for this card."""
    if armed is None or card not in ELSEWHERE or decision.verdict.word is not Word.DONE:
        return decision
    taken_back = (f.Undone(key, f"only named for {card.value}") for key in armed.withdraws)
    return replace(decision, bodies=(*taken_back, *decision.bodies))


def _waiting_check(floor: Floor, context: Context) -> str | None:
    """The one container whose opening check was asked for here and is not answered yet."""
    waiting = [
        found.id
        for found in floor.alive()
        if found.opened_at is not None
        and found.inspected_good is None
        and found.last_seen_at is not None
        and found.inspection_place in context.here.positions
        and floor.recently(found.last_seen_at, CHECK_OPEN_FOR)
    ]
    return waiting[0] if len(waiting) == 1 else None
