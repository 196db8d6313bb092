"""Cards said of a container: the opening check, empty, discarded, held, a new label."""

from collections.abc import Callable
from dataclasses import replace

from station.care import facts as f
from station.care.answers import about, at_text, plain
from station.care.context import Context
from station.care.decanting import decanted
from station.care.due import container_alarm
from station.care.floor import Floor
from station.care.label_behind import behind
from station.care.mixing import mixed
from station.care.moments import minute_down
from station.care.move_away import move
from station.care.moving import moved_here, taken_out_here
from station.care.people import BADGE_COUNTS_FOR, badge_shown
from station.care.printer import insisting, use
from station.care.room_air import against_opening
from station.care.saying import span, spot
from station.care.state import Container, PositionState
from station.care.verdict import Armed, Decision, PrintIdentity, PrintLabel
from station.care.words import Card, Ending, HoldReason, Limit, Place, Role, Stage, Word


def alone(card: Card, todo: str, why: str = "") -> Decision:
    """A card without what it is for: say what to scan first. `why` where something was scanned, and does not suit."""
    name = card.value.replace("-", " ")
    return Decision(plain(Word.WAIT, "card-alone", name, why or f"{name} needs to know what it is for.", todo))


def _looks_good(floor: Floor, context: Context, container: Container) -> Decision:
    early = _opened_early(floor, context, container)
    if early is not None:
        return early
    if container.opened_at is None or container.inspected_good is not None:
        why = f"No opening check of {container.spoken} is waiting for an answer."
        return alone(Card.LOOKS_GOOD, "Scan it where it is to be used.", why)
    position = _check_position(floor, context, container)
    if position is None:
        why = f"The opening check of {container.spoken} is recorded at the line."
        return alone(Card.LOOKS_GOOD, "Scan it there, then LOOKS GOOD.", why)
    inspected = f.Inspected(container.id, position.id, good=True)
    said_it_would_shorten = insisting(floor, container, position)
    used = use(floor, replace(context, armed=said_it_would_shorten, before=None), container, position)
    decision = Decision(used.verdict, (inspected, *used.bodies), used.effects, used.armed)
    return _with_opened_label(decision, container) if context.here.label_printer else decision


def _with_opened_label(decision: Decision, container: Container) -> Decision:
    """A new time label says when it was opened and its new end; the one before it is replaced."""
    verdict = decision.verdict
    note = f"{verdict.note} Stick the OPENED label over its time label.".strip()
    effects = (*decision.effects, PrintLabel(container.id))
    return replace(decision, verdict=replace(verdict, note=note), effects=effects)


def _check_position(floor: Floor, context: Context, container: Container) -> PositionState | None:
    """Where the opening check was asked for: what the scan before armed, else where the record says."""
    armed = context.armed_at(floor.now)
    places = (armed.position if armed is not None else None, container.inspection_place)
    name = next((place for place in places if place in context.here.positions), None)
    return floor.position(name) if name is not None else None


def _looks_bad(floor: Floor, context: Context, container: Container) -> Decision:
    early = _opened_early(floor, context, container)
    if early is not None:
        return early
    if container.opened_at is None:
        return alone(Card.LOOKS_BAD, "Scan it where it is to be used.", f"{container.spoken} is not open.")
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


def _opened_early(floor: Floor, context: Context, container: Container) -> Decision | None:
    """Answering the opening check of paste that still warms says it was opened cold: held, with an alarm.

    Not at the door of a cold store, where nothing is opened: there it is the wrong card.
    """
    if context.here.kind is Place.FRIDGE:
        return None
    why = _why_too_early(floor, container)
    if why is None:
        return None
    specification = floor.specification(container.paste)
    opened = f.Opened(container.id, "", early=True, open_end=minute_down(floor.now + specification.open_life))
    verdict = about(
        floor,
        container,
        Word.STOP,
        "opened-early",
        "OPENED TOO EARLY",
        f"{why} Water from the air may be in it now.",
        "Close it, set it aside and call the shift lead.",
    )
    alarm_id = container_alarm(container, Limit.CONDITIONING)
    alarm = f.AlarmRaised(alarm_id, container.id, Limit.CONDITIONING, minute_down(floor.now), False)
    return Decision(verdict, (opened, f.Held(container.id, HoldReason.OPENED_EARLY, ""), alarm))


def _why_too_early(floor: Floor, container: Container) -> str | None:
    """What an opening now disregards; None where it may be opened, or is open."""
    if floor.stage(container) is Stage.CONDITIONING:
        return f"{container.spoken} may still have been cold."
    if container.has_been_out and next(against_opening(floor, container), None) is not None:
        return f"{container.spoken} was opened in a room that is not fit for it."
    return None


NEVER_OPENED = "No opening is on record: call the shift lead, who can add where it was used."


def _empty(floor: Floor, context: Context, container: Container) -> Decision:
    mounted, fed = floor.mounted_at(container.id), floor.positions_with(container.id)
    goes = f" and off {spot(mounted[0])}." if mounted else "; its bead goes on." if fed else "."
    verdict = about(
        floor,
        container,
        Word.DONE,
        "emptied",
        "EMPTY",
        f"{container.spoken} is used up{goes}",
        "Put the container in the paste waste by the local rules; leaded (Pb) waste apart.",
        note="" if container.opened_at is not None else NEVER_OPENED,
        asks=(Card.UNDO,),
    )
    ended = f.Ended(container.id, Ending.USED_UP, "", context.here.id, None)
    return Decision(verdict, (ended,), armed=Armed(at=floor.now, container=container.id))


def _discard(floor: Floor, context: Context, container: Container) -> Decision:
    verdict = about(
        floor,
        container,
        Word.DONE,
        "discarded",
        "DISCARDED",
        f"{container.spoken} is discarded.",
        "Put it in the paste waste by the local rules; keep leaded (Pb) waste apart.",
    )
    ended = f.Ended(container.id, Ending.DISCARDED, "", context.here.id, None)
    return Decision(verdict, (ended,), armed=Armed(at=floor.now, container=container.id))


def _unless_ended(
    decide: Callable[[Floor, Context, Container], Decision],
) -> Callable[[Floor, Context, Container], Decision]:
    """An end is told once; a second one changes nothing."""

    def decided(floor: Floor, context: Context, container: Container) -> Decision:
        if container.ended is None:
            return decide(floor, context, container)
        ending = container.ended.value
        headline, why = f"ALREADY {ending.upper()}", f"{container.spoken} was recorded as {ending}."
        todo = "Nothing was changed. Call the shift lead if that is wrong."
        return Decision(about(floor, container, Word.STOP, "ended", headline, why, todo))

    return decided


def _hold(floor: Floor, context: Context, container: Container) -> Decision:
    if not badge_shown(floor, context, Role.LEAD):
        verdict = plain(
            Word.STOP,
            "needs-lead",
            "SHIFT LEAD ONLY",
            "Only a shift lead puts paste on hold.",
            f"Scan your badge, then within {span(BADGE_COUNTS_FOR)} the container and the card.",
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
    if container.ended is not None:
        why = f"{container.spoken} is ended, so it needs no label."
        return alone(Card.REPRINT, "Nothing was printed.", why)
    if not (container.has_been_out or container.sources):
        return _identity_again(floor, container)
    if container.has_been_out and container.earliest_use is None:
        why = f"Nobody can say when {container.spoken} is ready, so it has no time label."
        return alone(Card.REPRINT, "Call the shift lead.", why)
    old, it = ("Tear the old label off. ", "this one") if container.print_number else ("", "it")
    verdict = about(
        floor,
        container,
        Word.DONE,
        "reprint",
        f"LABEL {container.print_number + 1}",
        f"A new label for {container.spoken} is printing; {_what_it_changes(floor, container)}.",
        f"{old}Stick {it} on the body, not over the maker's label.",
    )
    return Decision(verdict, effects=(PrintLabel(container.id),))


def _what_it_changes(floor: Floor, container: Container) -> str:
    found, ends = behind(floor, container), floor.standing(container).discard_by
    if found is None or ends is None:
        return "the clocks are unchanged"
    return f"its discard-by is {at_text(floor, ends)}, not {at_text(floor, found[0])} as on the old one"


def _identity_again(floor: Floor, container: Container) -> Decision:
    """It has no time label before it is out: its identity label is meant."""
    verdict = about(
        floor,
        container,
        Word.DONE,
        "reprint-identity",
        "IDENTITY LABEL",
        f"The identity label of {container.spoken} is printing once more; a time label comes when it is taken out.",
        "Stick it on the body, not over the maker's label. Tear a damaged one off.",
    )
    return Decision(verdict, effects=(PrintIdentity(container.id),))


OF_CONTAINER: dict[Card, Callable[[Floor, Context, Container], Decision]] = {
    Card.LOOKS_GOOD: _looks_good,
    Card.LOOKS_BAD: _looks_bad,
    Card.EMPTY: _unless_ended(_empty),
    Card.DISCARD: _unless_ended(_discard),
    Card.HOLD: _hold,
    Card.MIXED: _unless_ended(mixed),
    Card.DECANT: decanted,
    Card.REPRINT: _reprint,
    Card.MOVED_HERE: _unless_ended(moved_here),
    Card.TAKEN_OUT: _unless_ended(taken_out_here),
    Card.MOVE: _unless_ended(move),
}
