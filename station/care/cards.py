"""What command cards do. Container or tag first, then the card; a card alone shows what to scan first."""

from collections.abc import Callable
from datetime import timedelta

from station.care import facts as f
from station.care.answers import about, at_text, plain
from station.care.context import Context
from station.care.due import container_alarm
from station.care.floor import Floor
from station.care.moments import minute_down
from station.care.printer import use
from station.care.saying import span_up, spot
from station.care.state import Bead, Container, PositionState
from station.care.undo import undo
from station.care.verdict import Armed, Decision, PrintLabel, Silence
from station.care.words import Card, Ending, HoldReason, Limit, Role, Stage, Word

CHECK_OPEN_FOR = timedelta(minutes=15)


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
    return _for_container(floor, context, card)


def _for_position(floor: Floor, context: Context, card: Card) -> Decision:
    armed = context.armed_at(floor.now)
    name = _armed_position(floor, context, armed)
    if name is None:
        return _alone(card, "Scan the tag of the position (or the container on it) first, then the card.")
    return OF_POSITION[card](floor, context, floor.position(name))


def _armed_position(floor: Floor, context: Context, armed: Armed | None) -> str | None:
    if armed is None:
        return None
    if armed.position in context.here.positions:
        return armed.position
    fed = [name for name in floor.fed_by(armed.container or "") if name in context.here.positions]
    return fed[0] if len(fed) == 1 else None


def _for_container(floor: Floor, context: Context, card: Card) -> Decision:
    armed = context.armed_at(floor.now)
    name = armed.container if armed is not None else None
    if card is Card.UNDO:
        position = _armed_position(floor, context, armed) if name is None else None
        return undo(floor, context, name, position)
    if name is None and card in (Card.LOOKS_GOOD, Card.LOOKS_BAD):
        name = _waiting_check(floor, context)
    container = floor.container(name) if name is not None else None
    if container is None:
        return _alone(card, "Scan the container first, then the card.")
    return OF_CONTAINER[card](floor, context, container)


def _waiting_check(floor: Floor, context: Context) -> str | None:
    """The one container whose opening check was asked for here and is not answered yet."""
    waiting = [
        found.id
        for found in floor.alive()
        if found.opened_at is not None
        and found.inspected_good is None
        and found.inspection_place in context.here.positions
        and floor.now - found.opened_at <= CHECK_OPEN_FOR
    ]
    return waiting[0] if len(waiting) == 1 else None


def _alone(card: Card, todo: str) -> Decision:
    name = card.value.replace("-", " ")
    return Decision(plain(Word.WAIT, "card-alone", name, f"{name} needs to know what it is for.", todo))


def _no_bead(position: PositionState) -> Decision:
    verdict = plain(
        Word.STOP,
        "no-bead",
        "NO BEAD HERE",
        f"Nothing is recorded on {spot(position.id)}.",
        "Scan the container that is feeding it first.",
        position.id,
    )
    return Decision(verdict)


def _remove(floor: Floor, _context: Context, position: PositionState) -> Decision:
    if position.bead is None:
        return _no_bead(position)
    verdict = plain(
        Word.DONE,
        "removed",
        "BEAD REMOVED",
        f"The bead of {at_text(floor, position.bead.started_at)} is off {spot(position.id)}.",
        "Used paste never goes back into a fresh jar. Clean before another paste goes on.",
        position.id,
    )
    armed = Armed(at=floor.now, position=position.id)
    return Decision(verdict, (f.Removed(position.id, position.bead.key, replaced_earlier=False),), armed=armed)


def _new_bead(floor: Floor, _context: Context, position: PositionState) -> Decision:
    bead = position.bead
    if bead is None:
        return _no_bead(position)
    verdict = plain(
        Word.DONE,
        "replaced",
        "OLD BEAD CLOSED",
        f"The bead of {at_text(floor, bead.started_at)} is recorded as removed.",
        "Scan the container again: its new bead counts from that scan.",
        position.id,
    )
    return Decision(verdict, (f.Removed(position.id, bead.key, replaced_earlier=True),))


def _same_bead(floor: Floor, _context: Context, position: PositionState) -> Decision:
    bead = position.bead
    if bead is None:
        return _no_bead(position)
    _, end = floor.bead_end(bead)
    verdict = plain(
        Word.DONE,
        "same-bead",
        f"BEAD ENDS {at_text(floor, end)}",
        "The same bead; its clock went on all the time.",
        "Go on, if it still rolls.",
        position.id,
    )
    return Decision(verdict, (f.SameBead(position.id, bead.key),))


def _carry_over(floor: Floor, _context: Context, position: PositionState) -> Decision:
    bead = position.bead
    if bead is None:
        return _no_bead(position)
    if position.pastes and bead.paste not in position.pastes:
        verdict = plain(
            Word.STOP,
            "wrong-paste",
            f"{bead.paste} ON A {position.pastes[0]} JOB",
            f"{position.work_order} is not built with {bead.paste}.",
            "Scrape the bead off, clean, and record REMOVE and CLEANED.",
            position.id,
        )
        return Decision(verdict, (f.ScanRefused(None, position.id, "wrong-paste", ""),))
    limit, end = floor.bead_end(bead)
    if floor.moment.ages > end or bead.replace:
        return _bead_over(position, limit)
    verdict = plain(
        Word.DONE,
        "carried-over",
        f"BEAD ENDS {at_text(floor, end)}",
        f"The bead goes on for {position.work_order or 'the new stencil'}; its clock did not stop.",
        "Go on printing.",
        position.id,
    )
    return Decision(verdict, (f.CarriedOver(position.id, bead.key, position.work_order),))


def _bead_over(position: PositionState, limit: Limit) -> Decision:
    verdict = plain(
        Word.STOP,
        "bead-past",
        "THE BEAD IS OVER",
        f"The bead on {spot(position.id)} may not be carried over ({limit.value}, or a pause too long).",
        "Scrape it off, clean the stencil, then scan the tag and the REMOVE card.",
        position.id,
    )
    return Decision(verdict, (f.ScanRefused(None, position.id, "bead-past", ""),))


def _cleaned(_floor: Floor, _context: Context, position: PositionState) -> Decision:
    if position.bead is not None:
        verdict = plain(
            Word.STOP,
            "bead-on",
            "BEAD STILL ON",
            f"A {position.bead.paste} bead is still on {spot(position.id)}.",
            "Remove it first, then clean.",
            position.id,
        )
        return Decision(verdict)
    verdict = plain(
        Word.DONE,
        "cleaned",
        "CLEANED",
        f"Stencil, blades and tools of {spot(position.id)} are recorded as clean.",
        "Keep wipes of leaded paste apart. Any paste the job allows may go on.",
        position.id,
    )
    return Decision(verdict, (f.Cleaned(position.id),))


def _pause(floor: Floor, _context: Context, position: PositionState) -> Decision:
    bead = position.bead
    if bead is None:
        return _no_bead(position)
    specification = floor.specification(bead.paste)
    verdict = plain(
        Word.DONE,
        "paused",
        "PAUSED",
        "The bead's clock goes on.",
        f"Within {span_up(specification.pause_knead)} go on as you are; within "
        f"{span_up(specification.pause_replace)} wipe and knead; after that replace the bead.",
        position.id,
    )
    return Decision(verdict, (f.Paused(position.id, bead.key),))


def _resume(floor: Floor, _context: Context, position: PositionState) -> Decision:
    bead = position.bead
    if bead is None:
        return _no_bead(position)
    if bead.paused_at is None:
        verdict = plain(
            Word.DONE, "not-paused", "NOT PAUSED", "No pause was recorded here.", "Go on.", position.id
        )
        return Decision(verdict)
    return _resumed(floor, position, bead, floor.moment.ages - bead.paused_at)


def _resumed(floor: Floor, position: PositionState, bead: Bead, length: timedelta) -> Decision:
    specification = floor.specification(bead.paste)
    must_replace = length > specification.pause_replace
    knead = not must_replace and length > specification.pause_knead
    fact = f.Resumed(position.id, bead.key, knead=knead, replace=must_replace)
    said = f"The pause took {span_up(length)}; the bead ends {at_text(floor, floor.bead_end(bead)[1])} as before."
    if must_replace:
        todo = "Scrape it off, clean the stencil, then scan the tag and the REMOVE card."
        verdict = plain(Word.STOP, "bead-replace", "REPLACE THE BEAD", said, todo, position.id)
    elif knead:
        todo = "Wipe the stencil and knead the bead with some strokes before the next board."
        verdict = plain(Word.DONE, "knead", "WIPE AND KNEAD", said, todo, position.id)
    else:
        verdict = plain(Word.DONE, "resumed", "GO ON", said, "Go on printing.", position.id)
    return Decision(verdict, (fact,))


def _looks_good(floor: Floor, context: Context, container: Container) -> Decision:
    early = _opened_early(floor, container)
    if early is not None:
        return early
    if container.opened_at is None or container.inspected_good is not None:
        return _alone(Card.LOOKS_GOOD, "No opening check is waiting. Scan the container.")
    position = _check_position(floor, context, container)
    if position is None:
        return _alone(Card.LOOKS_GOOD, "Scan the container at its printer first.")
    inspected = f.Inspected(container.id, position.id, good=True)
    insists = Armed(at=floor.now, confirms=f"shorten {container.id} {spot(position.id)}")
    used = use(floor, Context(context.here, context.person, insists), container, position)
    return Decision(used.verdict, (inspected, *used.bodies), used.effects, used.armed)


def _check_position(floor: Floor, context: Context, container: Container) -> PositionState | None:
    here = context.here.positions
    place = container.inspection_place
    return floor.position(place) if place is not None and place in here else None


def _looks_bad(floor: Floor, context: Context, container: Container) -> Decision:
    early = _opened_early(floor, container)
    if early is not None:
        return early
    if container.opened_at is None:
        return _alone(Card.LOOKS_BAD, "It is not open. Scan the container at its printer first.")
    verdict = about(
        floor,
        container,
        Word.STOP,
        "looks-bad",
        "ON HOLD",
        f"{container.spoken} looked bad when opened.",
        "Close it, set it aside and call the shift lead. Use another one.",
    )
    where = container.inspection_place or context.here.id
    held = f.Held(container.id, HoldReason.LOOKED_BAD, "")
    return Decision(verdict, (f.Inspected(container.id, where, good=False), held))


def _opened_early(floor: Floor, container: Container) -> Decision | None:
    """Answering the opening check of paste that still warms says it was opened cold: held, with an alarm."""
    if floor.stage(container) is not Stage.CONDITIONING:
        return None
    specification = floor.specification(container.paste)
    opened = f.Opened(container.id, "", early=True, open_end=minute_down(floor.now + specification.open_life))
    verdict = about(
        floor,
        container,
        Word.STOP,
        "opened-early",
        "OPENED TOO EARLY",
        f"{container.spoken} was still cold. Water from the air may be in it now.",
        "Close it, set it aside and call the shift lead.",
    )
    alarm_id = container_alarm(container, Limit.CONDITIONING)
    alarm = f.AlarmRaised(alarm_id, container.id, Limit.CONDITIONING, minute_down(floor.now), False)
    return Decision(verdict, (opened, f.Held(container.id, HoldReason.OPENED_EARLY, ""), alarm))


def _end(ending: Ending) -> Callable[[Floor, Context, Container], Decision]:
    def decide(floor: Floor, context: Context, container: Container) -> Decision:
        if container.ended is not None:
            verdict = about(
                floor,
                container,
                Word.STOP,
                "ended",
                f"ALREADY {container.ended.value.upper()}",
                f"{container.spoken} was recorded as {container.ended.value}.",
                "Nothing was changed.",
            )
            return Decision(verdict)
        empty = ending is Ending.USED_UP
        verdict = about(
            floor,
            container,
            Word.DONE,
            "emptied" if empty else "discarded",
            "EMPTY" if empty else "DISCARDED",
            f"{container.spoken} is {ending.value}.",
            "Its bead goes on. Put the container to the paste waste."
            if empty
            else "Put it to the paste waste by the local rules; leaded waste apart.",
            asks=(Card.UNDO,) if empty else (),
        )
        ended = f.Ended(container.id, ending, "", context.here.id, None)
        # a scan that put it on a bead only to name it for this card is taken back
        armed = context.armed_at(floor.now)
        taken_back = () if empty or armed is None else tuple(f.Undone(key, "discarded") for key in armed.withdraws)
        return Decision(verdict, (*taken_back, ended), armed=Armed(at=floor.now, container=container.id))

    return decide


def _hold(floor: Floor, context: Context, container: Container) -> Decision:
    if not floor.person_has(context.person, Role.LEAD):
        verdict = plain(
            Word.STOP, "needs-lead", "SHIFT LEAD ONLY", "Only a shift lead puts paste on hold.", "Badge in first."
        )
        return Decision(verdict)
    verdict = about(
        floor,
        container,
        Word.DONE,
        "held-now",
        "ON HOLD",
        f"{container.spoken} is on hold from now.",
        "Mark it and keep it apart.",
    )
    return Decision(verdict, (f.Held(container.id, HoldReason.PERSON, ""),))


def _reprint(floor: Floor, _context: Context, container: Container) -> Decision:
    if not container.has_been_out or container.ended is not None:
        return _alone(Card.REPRINT, "Only a container that is out has a time label.")
    verdict = about(
        floor,
        container,
        Word.DONE,
        "reprint",
        f"LABEL {container.print_number + 1}",
        f"A new label for {container.spoken} is printing; the clocks are unchanged.",
        "Tear the old label off.",
    )
    return Decision(verdict, effects=(PrintLabel(container.id),))


OF_POSITION: dict[Card, Callable[[Floor, Context, PositionState], Decision]] = {
    Card.REMOVE: _remove,
    Card.NEW_BEAD: _new_bead,
    Card.SAME_BEAD: _same_bead,
    Card.CARRY_OVER: _carry_over,
    Card.CLEANED: _cleaned,
    Card.PAUSE: _pause,
    Card.RESUME: _resume,
}
OF_CONTAINER: dict[Card, Callable[[Floor, Context, Container], Decision]] = {
    Card.LOOKS_GOOD: _looks_good,
    Card.LOOKS_BAD: _looks_bad,
    Card.EMPTY: _end(Ending.USED_UP),
    Card.DISCARD: _end(Ending.DISCARDED),
    Card.HOLD: _hold,
    Card.REPRINT: _reprint,
}
