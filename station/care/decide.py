"""The one decision function: a scan, where and by whom it was made, and the plant as it stands now.

It is total: every scan at every place gets an answer, and the answer says what to do next. Nothing is written
or printed here; the decision only names the facts and the effects.
"""

from dataclasses import replace
from datetime import timedelta

from station.care import facts as f
from station.care.answers import at_text, plain
from station.care.arriving import arrived
from station.care.bin_tags import bin_scan, store_scan
from station.care.by_label import by_label, look_by_label, stand_in
from station.care.cards import card_scan
from station.care.context import Context
from station.care.counting import count_scan
from station.care.desk import at_desk, look
from station.care.floor import Floor
from station.care.fridge import at_fridge
from station.care.label_behind import behind_note
from station.care.makers_scan import makers_label_scan
from station.care.moments import minute_down
from station.care.move_away import goes_now, move
from station.care.pairing import compared, reminder
from station.care.people import training_note
from station.care.printer import at_position, at_printer
from station.care.reasons import against
from station.care.saying import a, day_time, opening, spot
from station.care.scans import (
    BadgeScan,
    BinScan,
    CardScan,
    ContainerScan,
    MakersLabelScan,
    PlaceScan,
    Scan,
    SeenLabel,
    StoreScan,
    TagScan,
    UnreadScan,
    WorkOrderScan,
)
from station.care.state import Container, Somebody
from station.care.verdict import Armed, Decision, PrintLabel, SignIn, SwitchPlace, Verdict
from station.care.words import Card, Holder, Place, Word
from station.care.work_orders import work_order_scan


def decide(floor: Floor, context: Context, scan: Scan) -> Decision:
    """What a scan comes to."""
    again = _just_scanned(floor, context, scan)
    if again is not None:
        return again
    counted = count_scan(floor, context, scan)
    if counted is not None:
        return counted
    match scan:
        case ContainerScan():
            return _container(floor, context, scan)
        case CardScan():
            return card_scan(floor, context, scan.card)
        case BadgeScan():
            return _badge(floor, context, scan)
        case TagScan():
            return _tag(floor, context, scan)
        case PlaceScan():
            return _place(scan)
        case BinScan():
            return bin_scan(floor, context, scan)
        case StoreScan():
            return store_scan(floor, context, scan)
        case WorkOrderScan():
            return work_order_scan(floor, context, scan)
        case MakersLabelScan():
            return makers_label_scan(floor, context, scan)
        case _:
            return _unread(context, scan)


def _just_scanned(floor: Floor, context: Context, scan: Scan) -> Decision | None:
    """A nervous trigger or a doubled line end: say the same again, record nothing."""
    before = context.before
    if before is None or before.scan != scan or not _twice_is_more(scan):
        return None
    asked_again = context.armed is not None and context.armed.confirms is not None
    bounce = min(TRIGGER, floor.rules.bounce) if asked_again else floor.rules.bounce
    if not timedelta(0) <= floor.now - before.at <= bounce:
        return None
    if isinstance(scan, ContainerScan) and not _still_right(floor, before.verdict, scan):
        return None  # time went on between the two: leave to use or open paste is not repeated unasked
    note = f"{JUST_SCANNED} {before.verdict.note.removeprefix(JUST_SCANNED).strip()}".strip()
    return Decision(replace(before.verdict, note=note), armed=context.armed)


def _twice_is_more(scan: Scan) -> bool:
    """Whether a scan made twice would say something else than made once."""
    counted = (Card.MIXED, Card.DECANT, Card.KEEP_USED)
    return isinstance(scan, ContainerScan) or (isinstance(scan, CardScan) and scan.card in counted)


# Where the answer was "scan it again", a person does so within a second or two; a trigger's bounce is far shorter.
TRIGGER = timedelta(seconds=1)
WAITS_FOR_A_MINUTE = ("conditioning", "thawing")
JUST_SCANNED = "Just scanned: nothing was recorded twice."


def _still_right(floor: Floor, verdict: Verdict, scan: ContainerScan) -> bool:
    """Whether an answer may be said again. Leave to use needs nothing against it and its bead still lying there,
    leave to open needs nothing against it, and a wait ends on its minute; other answers may stand a while."""
    use = verdict.word is Word.USE
    if not use and verdict.code not in ("opening-check", *WAITS_FOR_A_MINUTE):
        return True
    container, position = floor.container(scan.container), verdict.position
    if container is None and scan.label is not None:
        container = stand_in(floor, scan.container, scan.label)
    if container is None:
        return False
    if use and position not in floor.positions_with(container.id):
        return False
    speaks_against = against(floor, container, floor.position(position) if position is not None else None)
    if verdict.code in WAITS_FOR_A_MINUTE:
        return any(reason.code == verdict.code for reason in speaks_against)
    return not speaks_against


def _container(floor: Floor, context: Context, scan: ContainerScan) -> Decision:
    container = floor.container(scan.container)
    armed = context.armed_at(floor.now)
    looks = armed is not None and armed.look
    if container is None and scan.label is not None and looks:
        return look_by_label(floor, context, scan.container, scan.label)
    if container is None and scan.label is not None and context.here.kind is Place.PRINTER:
        return by_label(floor, context, scan.container, scan.label)
    if container is None:
        verdict = plain(
            Word.STOP,
            "unknown",
            "NOT KNOWN HERE",
            f"{scan.container.replace('-', ' ')} is not in the record of this station.",
            "Do not use it. Receive it first, or ask the shift lead.",
        )
        refused = f.ScanRefused(None, context.here.id, "unknown", scan.container)
        armed = Armed(at=floor.now, container=scan.container, label=scan.label) if scan.label is not None else None
        return Decision(replace(verdict, container=scan.container), (refused,), armed=armed)
    if not floor.is_set_up(container):
        return _not_set_up(context, container)
    if looks:
        return look(floor, container)
    label = scan.label
    if label is not None and label.print_number > container.print_number:
        newest = f"its newest is {container.print_number}" if container.print_number else "it has none here"
        said = f"Label {label.print_number} of {container.spoken} is not in this record; {newest}."
        return _record_behind(context, container, said)
    if label is not None and _out_before(container, label):
        thawed = day_time(label.thaw_start, floor.now, floor.zone)
        said = f"The label of {container.spoken} says that it was out {thawed}; in this record it went out later."
        return _record_behind(context, container, said)
    decision = _by_place(floor, context, container)
    if decision.armed is None:  # whatever it was answered, a card may follow
        decision = replace(decision, armed=Armed(at=floor.now, container=container.id))
    if label is not None:
        decision = _of_label(container, label, decision)
    decision = _label_behind(floor, container, label, decision)
    return compared(floor, context, scan, reminder(floor, scan, container, decision))


def _of_label(container: Container, label: SeenLabel, decision: Decision) -> Decision:
    """The decision, with what the time label that was scanned proves, or that another one has replaced it."""
    if label.print_number < container.newest_label:
        note = f"This label is an old one; label {container.newest_label} replaced it. Tear it off."
        return replace(decision, verdict=_with_note(decision, note))
    if container.print_confirmed < label.print_number:
        confirmed = f.LabelConfirmed(container.id, label.print_number)
        return replace(decision, bodies=(confirmed, *decision.bodies))
    return decision


def _label_behind(floor: Floor, container: Container, label: SeenLabel | None, decision: Decision) -> Decision:
    """The decision, with a word on a label that promises more than the record; not where a new one is on its way."""
    if any(isinstance(effect, PrintLabel) for effect in decision.effects):
        return decision
    newest = label if label is not None and label.print_number >= container.newest_label else None
    note = behind_note(floor, container, newest)
    return replace(decision, verdict=_with_note(decision, note)) if note else decision


def _with_note(decision: Decision, note: str) -> Verdict:
    verdict = decision.verdict
    return replace(verdict, note=f"{verdict.note} {note}".strip())


def _not_set_up(context: Context, container: Container) -> Decision:
    """Of a paste or kind that only another station's settings have: no rule here can judge it."""
    said = f"{container.spoken} is {container.paste} in {container.kind}, which is not set up here."
    todo = "Do not use it. Ask the shift lead."
    verdict = plain(Word.STOP, "by-label-paste", "PASTE NOT KNOWN HERE", said, todo)
    refused = f.ScanRefused(container.id, context.here.id, "by-label-paste", "")
    return Decision(replace(verdict, container=container.id), (refused,))


def _out_before(container: Container, label: SeenLabel) -> bool:
    """Whether its newest label, which is true, tells of a take-out before the one on record: that one was lost, or is
    not yet heard of, and this record printed the same number again."""
    newest = label.print_number == container.print_number and not container.sources
    return newest and container.out_from is not None and label.thaw_start < minute_down(container.out_from)


def _record_behind(context: Context, container: Container, said: str) -> Decision:
    """A true label this record knows nothing of: something happened to the container that is not on record."""
    todo = "Do not use it. Set it aside and call the shift lead."
    verdict = plain(Word.STOP, "label-newer", "RECORD IS BEHIND", said, todo)
    refused = f.ScanRefused(container.id, context.here.id, "label-newer", "")
    return Decision(replace(verdict, container=container.id), (refused,))


def _by_place(floor: Floor, context: Context, container: Container) -> Decision:
    if goes_now(floor, context, container):
        return move(floor, context, container)
    match context.here.kind:
        case Place.FRIDGE:
            return at_fridge(floor, context, container)
        case Place.PRINTER | Place.DISPENSER:
            return at_printer(floor, context, container)
        case _:
            return at_desk(floor, container)


def _badge(floor: Floor, context: Context, scan: BadgeScan) -> Decision:
    person = floor.ledger.people.get(scan.person)
    if person is None or person.left:
        headline, why, todo = _not_here(scan.person, person)
        return Decision(plain(Word.STOP, "badge-unknown", headline, why, todo))
    roles = " and ".join(role.value for role in person.roles)
    verdict = plain(Word.DONE, "signed-in", person.name.upper(), f"{person.name} works here now ({roles}).", "Go on.")
    verdict = replace(verdict, note=training_note(floor, person))
    return Decision(arrived(floor, context.here.positions, verdict), effects=(SignIn(person.id),))


def _not_here(badge: str, person: Somebody | None) -> tuple[str, str, str]:
    """What to say of a badge of nobody here: headline, why, what to do."""
    if person is None:
        return "BADGE NOT KNOWN", f"Nobody with the badge {badge} works here.", "Ask the shift lead to add you."
    why = f"{person.name}, whose badge {badge} was, does not work here any more."
    return "NOT HERE ANY MORE", why, "Give this badge to the shift lead, who can add you again."


def _tag(floor: Floor, context: Context, scan: TagScan) -> Decision:
    if scan.position not in floor.plant.positions:
        verdict = plain(
            Word.STOP,
            "tag-unknown",
            "TAG NOT KNOWN",
            f"There is no position {scan.position} in this plant.",
            "Use a tag printed by this station.",
        )
        return Decision(verdict)
    if scan.position not in context.here.positions:
        verdict = plain(
            Word.STOP,
            "tag-elsewhere",
            "NOT AT THIS PLACE",
            f"{opening(spot(scan.position))} does not belong to {context.here.title}.",
            "Scan it at its own line.",
            scan.position,
        )
        return Decision(verdict)
    armed = context.armed_at(floor.now)
    container = floor.container(armed.container) if armed is not None and armed.container else None
    if container is None and armed is not None and armed.container is not None and armed.label is not None:
        return by_label(floor, context, armed.container, armed.label, scan.position)
    if container is not None and armed is not None and armed.position is None and armed.confirms is None:
        return at_position(floor, context, container, floor.position(scan.position))
    return Decision(_position_verdict(floor, scan.position), armed=Armed(at=floor.now, position=scan.position))


def _position_verdict(floor: Floor, name: str) -> Verdict:
    position = floor.position(name)
    job = position.work_order or "no work order"
    mounted = position.mounted
    if mounted is not None:
        why = f"{mounted.container.replace('-', ' ')} ({mounted.paste}) is mounted, {job}."
    elif floor.holder(name) is Holder.DISPENSER:
        why = f"Nothing is mounted, {job}."
    elif position.bead is None:
        why = f"No bead, {job}."
    else:
        limit, end = floor.bead_end(position.bead)
        over = "ended" if floor.moment.ages > end else "ends"
        why = f"{opening(a(position.bead.paste))} bead, {job}; it {over} {at_text(floor, end)} ({limit.value})."
    verdict = plain(Word.DONE, "position", spot(name).upper(), why, "Now the container or a card.", name)
    return arrived(floor, (name,), verdict)


def _place(scan: PlaceScan) -> Decision:
    verdict = plain(Word.DONE, "place", scan.place.upper(), f"This station now works as {scan.place}.", "Go on.")
    return Decision(verdict, effects=(SwitchPlace(scan.place),))


def _unread(context: Context, scan: UnreadScan) -> Decision:
    verdict = plain(Word.STOP, "unread", "NOT READ", scan.sentence, scan.mend)
    return Decision(verdict, (f.ScanRefused(None, context.here.id, "unread", scan.text[:80]),))
