"""Paste judged from its label alone, by a station that has no record of the container.

A true label says when the paste may first be used and when at the latest it must go. Whether it was opened since
nobody here knows, so its open life is taken to run from earliest-use on. What it can't know (a hold, an earlier
opening, an end) the verdict says by a look of its own; the site decides who may rely on it.
"""

from dataclasses import replace
from datetime import timedelta

from station.care import facts as f
from station.care.after_restore import was_lost
from station.care.answers import about, at_text
from station.care.context import Context
from station.care.desk import look
from station.care.floor import Floor
from station.care.limits import running_limits
from station.care.moments import NOTHING
from station.care.people import BADGE_COUNTS_FOR, badge_shown
from station.care.printer import at_position, position_for, which_position
from station.care.saying import span
from station.care.scans import SeenLabel
from station.care.specification import ByLabel
from station.care.state import Container, PositionState
from station.care.strangers import told_of
from station.care.verdict import Armed, Decision, Verdict
from station.care.words import Holder, Role, Word

ALL_OF_IT = timedelta(days=365)
ONLY_THE_LABEL = "This station has no record of it and can only go by its label; a shift lead decides that."
LOST = "This station goes on from a backup that does not have it: it may have been held or discarded here."
WITHIN = f"within {span(BADGE_COUNTS_FOR)}"


def stand_in(floor: Floor, container: str, label: SeenLabel) -> Container | None:
    """The container as its label describes it, for the rules to judge; None for a paste this site does not know.

    Never put in the record: the limits are the label's, opening is assumed at earliest-use. A hold or an end that was
    told here of it counts.
    """
    paste = floor.plant.paste_numbered(label.paste_number)
    if paste is None or paste.alloy.leaded is not label.leaded:
        return None
    told = told_of(floor.ledger, container)
    return Container(
        id=container,
        paste=paste.id,
        kind="",
        lot="",
        expires=None,
        labelled_end=None,
        arrived_at=label.thaw_start,
        received_key="",
        to_cold_by=None,
        put_away_at=label.thaw_start,
        out_from=label.thaw_start,
        out_to=label.thaw_start,
        earliest_use=label.earliest_use,
        room_end=label.discard_by,
        opened_at=label.earliest_use,
        # a shorter life by a version this station knows holds at once, whatever was printed before it
        open_end=label.earliest_use + min(label.open_life, floor.specification(paste.id).open_life),
        inspected_good=True,
        print_number=label.print_number,
        print_confirmed=label.print_number,
        # how long used paste has lain its label has no room for, so all of its stencil life counts as spent
        stencil_spent=ALL_OF_IT if label.used_paste else NOTHING,
        holds=told.holds,
        ended=told.ended,
        ended_at=told.ended_at,
    )


def by_label(floor: Floor, context: Context, name: str, label: SeenLabel, position_id: str | None = None) -> Decision:
    """Decide a container this station has no record of, at a printer, from its label."""
    container = stand_in(floor, name, label)
    if container is None:
        return _paste_unknown(context, name, label)
    found = floor.position(position_id) if position_id else position_for(floor, context, container)
    if found is None:
        asked = which_position(floor, context, container)
        armed = replace(asked.armed, label=label) if asked.armed is not None else None
        return _marked(floor, replace(asked, armed=armed), container)
    may_not = _may_not(floor, context, found, label)
    decision = at_position(floor, context, container, found)
    asks_for_use = decision.verdict.word is Word.USE or decision.verdict.code == "would-shorten"
    if asks_for_use and may_not is not None:
        return _refused(floor, label, container, found, may_not)
    armed = replace(decision.armed, label=label) if decision.armed is not None else None
    return _marked(floor, replace(decision, armed=armed), container)


def look_by_label(floor: Floor, context: Context, name: str, label: SeenLabel) -> Decision:
    """What the label alone says of a container, for somebody who only looks: nothing is recorded, never USE."""
    container = stand_in(floor, name, label)
    if container is None:
        return _paste_unknown(context, name, label)
    verdict = replace(look(floor, container).verdict, by_label=True)
    if verdict.word is Word.DONE:
        why = f"Its label is true; {_no_record(container)}{_until(floor, container)}"
        verdict = replace(verdict, headline="KNOWN BY ITS LABEL", why=why)
    return Decision(verdict)


def _may_not(
    floor: Floor, context: Context, position: PositionState, label: SeenLabel
) -> tuple[str, str, str, str] | None:
    """Why this place does not go by a label (code, headline, why, what to do); None where it does."""
    policy = floor.rules.by_label
    if policy is ByLabel.REFUSE or floor.holder(position.id) is Holder.DISPENSER:
        why = "Only paste on record here may be used."
        return "by-label-refused", "NOT BY ITS LABEL", why, "Use another one, or ask the shift lead."
    lost = was_lost(floor, label.thaw_start)
    if (lost or policy is ByLabel.LEAD) and not badge_shown(floor, context, Role.LEAD):
        why = LOST if lost else ONLY_THE_LABEL
        return "by-label-lead", "SHIFT LEAD FIRST", why, f"A shift lead scans the badge here, then {WITHIN} the label."
    return None


def _refused(
    floor: Floor, label: SeenLabel, container: Container, position: PositionState, said: tuple[str, str, str, str]
) -> Decision:
    code, headline, why, todo = said
    verdict = about(floor, container, Word.STOP, code, headline, why, todo, position=position.id)
    refused = f.ScanRefused(container.id, position.id, code, "")
    armed = Armed(at=floor.now, container=container.id, label=label)
    return Decision(replace(verdict, by_label=True), (refused,), armed=armed)


def _marked(floor: Floor, decision: Decision, container: Container) -> Decision:
    """The same decision, saying everywhere that it was made from a label."""
    bodies = tuple(replace(body, by_label=True) if isinstance(body, f.Loaded) else body for body in decision.bodies)
    verdict = replace(decision.verdict, by_label=True)
    if verdict.word is Word.USE:
        verdict = _said_by_label(floor, verdict, container)
    return replace(decision, verdict=verdict, bodies=bodies)


def _said_by_label(floor: Floor, verdict: Verdict, container: Container) -> Verdict:
    return replace(
        verdict,
        why=f"Judged by its label: {_no_record(container)}{_until(floor, container)}",
        todo=f"Look at it first: crust, separation, an OPENED note on it? {verdict.todo}",
    )


def _no_record(container: Container) -> str:
    return f"this station has no record of {container.spoken}, {container.paste}."


def _until(floor: Floor, container: Container) -> str:
    """The same end as in the times beside it, and what sets it."""
    limit, end = running_limits(container)[0]
    return f" It may be used until {at_text(floor, end)} at the latest ({limit.value})."


def _paste_unknown(context: Context, name: str, label: SeenLabel) -> Decision:
    verdict = Verdict(
        word=Word.STOP,
        code="by-label-paste",
        headline="PASTE NOT KNOWN HERE",
        why=f"The label of {name.replace('-', ' ')} names paste number {label.paste_number}, which is not set up here.",
        todo="Do not use it. Ask the shift lead.",
        container=name,
        by_label=True,
    )
    return Decision(verdict, (f.ScanRefused(name, context.here.id, "by-label-paste", ""),))
