"""Cards said of a position: bead removed, kept, carried over, cleaned, paused, resumed.

A pause counts in an enclosed head as on a stencil: the head keeps air out, and the safe side is to trust it no
further than the specification's own life for it.
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

from station.care import facts as f
from station.care.answers import at_text, plain
from station.care.context import Context
from station.care.dispenser import still_mounted, tools_apart
from station.care.floor import Floor
from station.care.holders import TOOLS
from station.care.moments import NOTHING
from station.care.reason import Reason
from station.care.reasons import against_bead, against_printing_on
from station.care.saying import a, opening, span_up, spot
from station.care.state import Bead, PositionState
from station.care.used_paste import keep_used
from station.care.verdict import Armed, Decision, Verdict
from station.care.waste import leaded
from station.care.words import Card, Holder, Word


def _of_bead(
    decide: Callable[[Floor, PositionState, Bead], Decision],
) -> Callable[[Floor, Context, PositionState], Decision]:
    """A card that speaks of the bead on a position, and has nothing to say where none lies."""

    def decided(floor: Floor, _context: Context, position: PositionState) -> Decision:
        return decide(floor, position, position.bead) if position.bead is not None else _no_bead(floor, position)

    return decided


def _no_bead(floor: Floor, position: PositionState) -> Decision:
    why, todo = f"No bead is recorded on {spot(position.id)}.", "Scan the container that is feeding it first."
    if floor.holder(position.id) is Holder.DISPENSER:
        why = f"{opening(spot(position.id))} is a dispenser; no bead lies in it."
        todo = "Scan DISMOUNT when it is taken off, EMPTY when it is used up."
    return Decision(plain(Word.STOP, "no-bead", "NO BEAD HERE", why, todo, position.id))


def _stopped(position: PositionState, reason: Reason, *bodies: f.Body) -> Decision:
    """STOP for a reason against the bead; refused free of charge unless the card recorded something."""
    said = bodies or (f.ScanRefused(None, position.id, reason.code, ""),)
    verdict = plain(Word.STOP, reason.code, reason.headline, reason.why, reason.todo, position.id)
    return Decision(verdict, said, armed=None)


def _remove(floor: Floor, position: PositionState, bead: Bead) -> Decision:
    keep = _may_be_kept(floor, position, bead)
    verdict = plain(
        Word.DONE,
        "removed",
        "BEAD REMOVED",
        f"The bead of {at_text(floor, bead.started_at)} is off {spot(position.id)}.",
        f"{'Paste not kept' if keep else 'Scraped paste'} and wipes: to the paste waste by the local rules, never back "
        f"into a fresh jar. Clean before another paste.{tools_apart(floor, bead.paste)}",
        position.id,
    )
    if keep:
        verdict = replace(verdict, note="To keep it in a container of its own, scan KEEP USED now.")
    removed = f.Removed(position.id, bead.key, replaced_earlier=False)
    return Decision(verdict, (removed,), armed=Armed(at=floor.now, position=position.id))


def _may_be_kept(floor: Floor, position: PositionState, bead: Bead) -> bool:
    over = [reason for reason in against_bead(floor, position, bead) if reason.code != "paused"]
    return floor.specification(bead.paste).used_paste_life is not None and not over


def _new_bead(floor: Floor, position: PositionState, bead: Bead) -> Decision:
    verdict = plain(
        Word.DONE,
        "replaced",
        "OLD BEAD CLOSED",
        f"The bead of {at_text(floor, bead.started_at)} is recorded as removed.",
        "Scan the container again: its new bead counts from that scan.",
        position.id,
    )
    return Decision(verdict, (f.Removed(position.id, bead.key, replaced_earlier=True),))


def _same_bead(floor: Floor, position: PositionState, bead: Bead) -> Decision:
    reasons = against_printing_on(floor, position, bead)
    if reasons:
        return _stopped(position, reasons[0])
    verdict = plain(
        Word.DONE,
        "same-bead",
        f"BEAD ENDS {at_text(floor, floor.bead_end(bead)[1])}",
        "It is the same bead; its clock went on all the time.",
        "Go on, if it still rolls.",
        position.id,
    )
    return Decision(verdict, (f.SameBead(position.id, bead.key),))


def _carry_over(floor: Floor, position: PositionState, bead: Bead) -> Decision:
    reasons = against_printing_on(floor, position, bead)
    if reasons:
        return _stopped(position, reasons[0])
    verdict = plain(
        Word.DONE,
        "carried-over",
        f"BEAD ENDS {at_text(floor, floor.bead_end(bead)[1])}",
        f"The bead goes on for {position.work_order or 'the new stencil'}; its clock did not stop.",
        "Go on printing.",
        position.id,
    )
    return Decision(verdict, (f.CarriedOver(position.id, bead.key, position.work_order),))


def _cleaned(floor: Floor, _context: Context, position: PositionState) -> Decision:
    if position.bead is not None:
        verdict = plain(
            Word.STOP,
            "bead-on",
            "BEAD STILL ON",
            f"{opening(a(position.bead.paste))} bead is still on {spot(position.id)}.",
            "Record REMOVE first, then clean.",
            position.id,
        )
        return Decision(verdict)
    if position.mounted is not None:
        return still_mounted(position, position.mounted)
    verdict = plain(
        Word.DONE,
        "cleaned",
        "CLEANED",
        f"{opening(TOOLS[floor.holder(position.id)])} of {spot(position.id)} are recorded as clean.",
        f"{_wipes(floor, position)}Any paste the job allows may go on.",
        position.id,
    )
    return Decision(verdict, (f.Cleaned(position.id),))


def _wipes(floor: Floor, position: PositionState) -> str:
    """The caution that goes with cleaning off leaded paste."""
    by = position.soiled_by
    return "Keep the wipes apart: leaded (Pb). " if by is not None and leaded(floor, by) else ""


def _pause(floor: Floor, position: PositionState, bead: Bead) -> Decision:
    over = [reason for reason in against_bead(floor, position, bead) if reason.code != "paused"]
    if over:
        return _stopped(position, over[0])
    knead, must_replace = floor.pauses(bead)
    verdict = plain(
        Word.DONE,
        "paused",
        "PAUSED",
        f"Printing on {spot(position.id)} is paused; the bead's clock goes on.",
        f"To go on, scan the tag, then RESUME. Over {span_up(knead)} wipe and knead; "
        f"over {span_up(must_replace)} replace the bead.",
        position.id,
    )
    return Decision(verdict, (f.Paused(position.id, bead.key),))


def _resume(floor: Floor, position: PositionState, bead: Bead) -> Decision:
    if bead.paused_at is None:
        return _not_paused(floor, position, bead)
    length = floor.moment.ages - bead.paused_at
    knead_after, replace_after = floor.pauses(bead)
    # a pause that seems to end before it began was timed by a clock that was moved: nobody knows how long it was
    must_replace = length > replace_after or length < NOTHING
    knead = not must_replace and length > knead_after
    resumed = f.Resumed(position.id, bead.key, knead=knead, replace=must_replace)
    after = replace(bead, paused_at=None, paused_key=None, replace=bead.replace or must_replace)
    reasons = against_printing_on(floor, position, after)
    if reasons:
        return _stopped(position, reasons[0], resumed)
    return Decision(_went_on(floor, position, bead, length, knead=knead), (resumed,))


def _not_paused(floor: Floor, position: PositionState, bead: Bead) -> Decision:
    reasons = against_printing_on(floor, position, bead)
    if reasons:
        return _stopped(position, reasons[0])
    why = f"{opening(spot(position.id))} is not paused."
    return Decision(plain(Word.DONE, "not-paused", "NOT PAUSED", why, "Scan the container to print.", position.id))


def _went_on(floor: Floor, position: PositionState, bead: Bead, length: timedelta, *, knead: bool) -> Verdict:
    ends = at_text(floor, floor.bead_end(bead)[1])
    said = f"The pause took {span_up(length)}; the bead ends {ends} as before."
    if knead:
        strokes = "strokes" if floor.holder(position.id) is Holder.HEAD else "squeegee strokes"
        todo = f"Wipe the stencil and knead the bead with a few {strokes} before the next board."
        return plain(Word.DONE, "knead", "WIPE AND KNEAD", said, todo, position.id)
    return plain(Word.DONE, "resumed", "GO ON", said, "Go on printing.", position.id)


OF_POSITION: dict[Card, Callable[[Floor, Context, PositionState], Decision]] = {
    Card.REMOVE: _of_bead(_remove),
    Card.NEW_BEAD: _of_bead(_new_bead),
    Card.SAME_BEAD: _of_bead(_same_bead),
    Card.KEEP_USED: keep_used,
    Card.CARRY_OVER: _of_bead(_carry_over),
    Card.CLEANED: _cleaned,
    Card.PAUSE: _of_bead(_pause),
    Card.RESUME: _of_bead(_resume),
}
