"""Keeping a removed bead in a container of its own, by the KEEP USED card after its REMOVE.

Only where the specification gives used paste a life, only while the right time after a removal lasts, and never of
a bead that was past its end, on hold, dried, or taken off nobody knows when. Its life runs from the removal. How
long the bead lay stays spent, whatever its paste had spent before included, in an enclosed head too: loaded again,
it only has the rest of a stencil life. A jar that fed the bead is not touched by it: used paste never goes back.
"""

from datetime import datetime, timedelta

from station.care import facts as f
from station.care.answers import at_text, plain
from station.care.context import Context
from station.care.filled import INTO_CLEAN, filled, lot_of, spoken
from station.care.floor import Floor
from station.care.limits import passed, running_limits
from station.care.moments import NOTHING, minute_down
from station.care.reasons import against_bead
from station.care.saying import span_up, spot
from station.care.state import Bead, Container, Gone, PositionState
from station.care.verdict import Armed, Decision, PrintLabel
from station.care.waste import apart
from station.care.words import Limit, Word

APART = "Keep it apart, marked, and call the shift lead."
Said = tuple[str, str, str, str]
"""Code, headline, why, and what to do."""


def keep_used(floor: Floor, context: Context, position: PositionState) -> Decision:
    """Keep the bead that was just taken off this position, if it may be kept."""
    gone = position.gone[-1] if position.gone else None
    if gone is None or not floor.recently(gone.removed_at, floor.rules.right_action):
        why = f"No bead came off {spot(position.id)} a moment ago."
        return _stop(position, ("nothing-to-keep", "NO BEAD TO KEEP", why, "Scan the tag and REMOVE first."))
    life = floor.specification(gone.bead.paste).used_paste_life
    if life is None:
        why = f"The specification of {gone.bead.paste} does not allow used paste to be kept."
        return _stop(position, ("used-not-allowed", "THROW IT AWAY", why, _away(floor, gone)))
    sources = floor.contents(gone.bead)
    refusal = _kept_before(floor, gone) or _unfit(floor, position, gone, sources)
    if refusal is not None:
        return _stop(position, refusal)
    return _kept(floor, context, position, gone, minute_down(gone.removed_at + life), sources)


def _away(floor: Floor, gone: Gone) -> str:
    return f"Put it in the paste waste by the local rules{apart(floor, gone.bead.paste)}."


def _stop(position: PositionState, said: Said) -> Decision:
    code, headline, why, todo = said
    verdict = plain(Word.STOP, code, headline, why, todo, position.id)
    return Decision(verdict, (f.ScanRefused(None, position.id, code, ""),))


def kept_from(floor: Floor, bead: str) -> Container | None:
    """The container a removed bead was kept in."""
    return next((found for found in floor.ledger.containers.values() if found.kept_bead == bead), None)


def _kept_before(floor: Floor, gone: Gone) -> Said | None:
    before = kept_from(floor, gone.bead.key)
    if before is None:
        return None
    why = f"That bead is kept in {before.spoken}."
    return "kept-before", "KEPT ALREADY", why, f"It lies in {before.spoken} with its label; nothing more to do."


def _unfit(floor: Floor, position: PositionState, gone: Gone, sources: tuple[Container, ...]) -> Said | None:
    """Why this bead is no paste to keep; judged now, a little later than it came off."""
    removed = floor.ledger.fact(gone.removed_key)
    if removed is not None and isinstance(removed.body, f.Removed) and removed.body.replaced_earlier:
        why = "It came off before that was recorded, so how long it lay is not known."
        return "off-unknown", "THROW IT AWAY", why, _away(floor, gone)
    if len(sources) < len(gone.bead.portions):
        why = "Paste of a container with no record here was in it."
        return "source-unknown", "THROW IT AWAY", why, _away(floor, gone)
    over = [end for source in sources for end in passed(running_limits(source), floor.moment_of(source))]
    if over:
        return "bead-past", "THROW IT AWAY", f"The {over[0][0].value} of its paste is over.", _away(floor, gone)
    reasons = [reason for reason in against_bead(floor, position, gone.bead) if reason.code != "paused"]
    if not reasons:
        return None
    # paste on hold is judged by a person; whatever else is against a bead, its paste is spent
    todo = APART if reasons[0].code == "held" else _away(floor, gone)
    return reasons[0].code, reasons[0].headline, reasons[0].why, todo


def _spent(floor: Floor, position: PositionState, bead: Bead) -> timedelta:
    """The stencil time its paste has spent until now, by its beginning or by what is left, whichever is more."""
    life = floor.bead_life(bead.paste, position.id) or NOTHING
    now = floor.moment.ages
    return max(NOTHING, now - bead.started_at, life - (bead.stencil_end - now))


def _kept(
    floor: Floor,
    context: Context,
    position: PositionState,
    gone: Gone,
    end: datetime,
    sources: tuple[Container, ...],
) -> Decision:
    bead, name = gone.bead, context.next_number
    spent = _spent(floor, position, bead)
    kept = f.UsedPasteKept(
        container=name,
        sources=tuple(source.id for source in sources),
        paste=bead.paste,
        kind=sources[-1].kind,
        lot=lot_of(sources),
        bead=bead.key,
        stencil_spent=spent,
        used_end=end,
        where=position.id,
    )
    verdict = filled(
        floor,
        "used-paste-kept",
        name,
        bead.paste,
        (*(running for source in sources for running in running_limits(source)), (Limit.USED_PASTE, end)),
        f"The bead of {at_text(floor, bead.started_at)} is kept; "
        f"{span_up(spent)} of its stencil life is already spent.",
        f"{INTO_CLEAN} Never back into {_jars(sources)}.",
    )
    return Decision(verdict, (kept,), (PrintLabel(name),), Armed(at=floor.now, container=name))


def _jars(sources: tuple[Container, ...]) -> str:
    return " or ".join(spoken(source.id) for source in sources)
