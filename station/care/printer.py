"""What a container scan means at a printer or a dispenser: container = what is there = job, the opening check, USE.

USE is given in one place and only there, when there is no reason against it: by starting or joining a bead, or by
mounting a cartridge or syringe in a dispenser.
"""

from dataclasses import replace
from datetime import datetime, timedelta

from station.care import facts as f
from station.care.answers import about, at_text, refusal
from station.care.context import Context
from station.care.dispenser import mount
from station.care.floor import Floor
from station.care.limits import Running, running_limits
from station.care.moments import minute_down
from station.care.reason import Reason
from station.care.reasons import against
from station.care.room_air import room_note
from station.care.saying import span, spot
from station.care.seen_again import seen_again
from station.care.state import Container, PositionState
from station.care.verdict import Armed, Decision
from station.care.words import Card, Holder, Limit, Shape, Word

CHECK_OPEN_FOR = timedelta(minutes=15)
CHECK = {
    Shape.JAR: "Dry crust? Heavy separation? Gloves on. Stir slowly once, with a plastic spatula, until smooth.",
    Shape.CARTRIDGE: "Does it flow evenly, without bubbles or clear flux at the tip?",
    Shape.SYRINGE: "Does it flow evenly, without bubbles or clear flux at the tip?",
}


def at_printer(floor: Floor, context: Context, container: Container) -> Decision:
    """Decide a container scan at a printer with one or more stencil positions."""
    position = position_for(floor, context, container)
    if position is None:
        return which_position(floor, context, container)
    return at_position(floor, context, container, position)


def position_for(floor: Floor, context: Context, container: Container) -> PositionState | None:
    """Which position of this place is meant: the only one, the armed one, or the one this container feeds."""
    positions = context.here.positions
    if len(positions) == 1:
        return floor.position(positions[0])
    armed = context.armed_at(floor.now)
    if armed is not None and armed.position in positions:
        return floor.position(armed.position or "")
    fed = [name for name in floor.fed_by(container.id) if name in positions]
    return floor.position(fed[0]) if len(fed) == 1 else None


def which_position(floor: Floor, context: Context, container: Container) -> Decision:
    """Ask which stencil position a container is for, unless nothing could come of it anyway."""
    reasons = against(floor, container, None)
    if reasons:
        return refused(floor, context, container, None, reasons[0])
    said = " or ".join(spot(name) for name in context.here.positions)
    return Decision(
        about(
            floor,
            container,
            Word.WAIT,
            "which-position",
            f"{said.upper()}?",
            f"This {context.here.kind.value} has more than one position: {said}.",
            "Scan the tag of the position it is for.",
        ),
        armed=Armed(at=floor.now, container=container.id),
    )


def at_position(floor: Floor, context: Context, container: Container, position: PositionState) -> Decision:
    """Decide a container at one position."""
    reasons = against(floor, container, position)
    if reasons:
        return refused(floor, context, container, position, reasons[0])
    if container.opened_at is None:
        return _unanswered(floor, container, position) or _open_it(floor, container, position)
    if container.inspected_good is None:
        return _ask_check(floor, container, position, (f.Sighted(container.id, position.id, warm=True),))
    return use(floor, context, container, position)


def refused(
    floor: Floor, context: Context, container: Container, position: PositionState | None, reason: Reason
) -> Decision:
    """STOP or WAIT for a reason, with what a refused scan proves: seen outside the cold, or again after its end."""
    where = position.id if position is not None else context.here.id
    bodies: list[f.Body] = []
    if reason.code == "not-taken-out":
        bodies.append(f.Sighted(container.id, where, warm=True))
    if reason.code == "ended":
        bodies.extend(seen_again(floor, container))
    bodies.append(f.ScanRefused(container.id, where, reason.code, ""))
    verdict = refusal(floor, container, reason, position.id if position is not None else None)
    if position is not None and reason.word is Word.STOP and _lies_in(container, position):
        there = f"Stop printing: its paste is in the bead on {spot(position.id)}."
        verdict = replace(verdict, todo=f"{there} Scrape it off, then call the shift lead.")
    name = position.id if position is not None else None
    # told to take another one off first, a person who says EMPTY means that one
    last = position.mounted.container if position is not None and position.mounted is not None else None
    other = last if reason.code == "mounted-other" else None
    armed = Armed(at=floor.now, container=container.id, position=name, last=other)
    return Decision(verdict, tuple(bodies), armed=armed)


def _lies_in(container: Container, position: PositionState) -> bool:
    bead = position.bead
    return bead is not None and any(portion.container == container.id for portion in bead.portions)


def _unanswered(floor: Floor, container: Container, position: PositionState) -> Decision | None:
    """Another container was opened here a while ago and nobody has said how it looks: that comes first."""
    waiting = [
        other
        for other in floor.alive()
        if other.id != container.id
        and other.inspection_place == position.id
        and other.inspected_good is None
        and other.opened_at is not None
        and not other.held
        and floor.recently(other.opened_at, CHECK_OPEN_FOR)
    ]
    if not waiting:
        return None
    name = waiting[0].spoken
    verdict = about(
        floor,
        container,
        Word.WAIT,
        "check-first",
        f"FIRST {name}",
        f"{name} was opened at {spot(position.id)} and its opening check is still open.",
        f"Scan {name}, then LOOKS GOOD or LOOKS BAD. Leave {container.spoken} closed until then.",
        position=position.id,
    )
    return Decision(verdict, (f.ScanRefused(container.id, position.id, "check-first", waiting[0].id),))


def _open_it(floor: Floor, container: Container, position: PositionState) -> Decision:
    specification = floor.specification(container.paste)
    opened = f.Opened(
        container.id,
        position.id,
        early=False,
        open_end=minute_down(floor.now + specification.open_life),
    )
    return _ask_check(floor, container, position, (opened,))


def _ask_check(floor: Floor, container: Container, position: PositionState, bodies: tuple[f.Body, ...]) -> Decision:
    verdict = about(
        floor,
        container,
        Word.DONE,
        "opening-check",
        "OPEN AND LOOK",
        _why_open(floor, container),
        f"{CHECK[floor.kind(container).shape]} Then scan LOOKS GOOD or LOOKS BAD.",
        position=position.id,
        note=_would_shorten_note(floor, container, position),
        asks=(Card.LOOKS_GOOD, Card.LOOKS_BAD),
    )
    return Decision(verdict, bodies, armed=Armed(at=floor.now, container=container.id, position=position.id))


def _why_open(floor: Floor, container: Container) -> str:
    if container.opened_at is None:
        return f"{container.spoken} is ready. Its open life runs from now."
    return f"{container.spoken} has been open since {at_text(floor, container.opened_at)}. Its clocks go on."


def use(floor: Floor, context: Context, container: Container, position: PositionState) -> Decision:
    """Start or join the bead with an open container, or mount it, or say what speaks against it. The only way to
    USE."""
    reasons = against(floor, container, position)
    if reasons:
        return refused(floor, context, container, position, reasons[0])
    if floor.holder(position.id) is Holder.DISPENSER:
        return mount(floor, container, position)
    shortened = _shortened(floor, container, position)
    armed = context.armed_at(floor.now)
    insists = armed is not None and armed.confirms == _shorten(container, position)
    if shortened is not None and not insists:
        return _ask_shorter(floor, container, position, shortened)
    return _use(floor, container, position)


def _ask_shorter(floor: Floor, container: Container, position: PositionState, shortened: Running) -> Decision:
    limit, end = shortened
    verdict = about(
        floor,
        container,
        Word.WAIT,
        "would-shorten",
        f"BEAD WOULD END {at_text(floor, end)}",
        f"The {limit.value} of {container.spoken} ends before the bead on {spot(position.id)} does.",
        "Use a fresher one, or scan it again within 10 s to use it all the same.",
        position=position.id,
    )
    return Decision(
        verdict,
        (f.ScanRefused(container.id, position.id, "would-shorten", ""),),
        armed=insisting(floor, container, position),
    )


def _shorten(container: Container, position: PositionState) -> str:
    return f"shorten {container.id} {position.id}"


def insisting(floor: Floor, container: Container, position: PositionState) -> Armed:
    """Ready to be told once more that a container goes on although it makes the bead end sooner."""
    confirms = _shorten(container, position)
    return Armed(at=floor.now, container=container.id, position=position.id, confirms=confirms)


def _brings(floor: Floor, container: Container) -> tuple[Running, ...]:
    counts = floor.specification(container.paste).stencil_time_counts_as_open
    return tuple(entry for entry in running_limits(container) if counts or entry[0] is not Limit.OPEN)


def _shortened(floor: Floor, container: Container, position: PositionState) -> Running | None:
    """The limit by which a top-up would end the bead sooner; None where it would not."""
    bead = position.bead
    if bead is None or any(portion.container == container.id for portion in bead.portions):
        return None
    # a bead of used paste alone would end by the stencil life that is left in it; that of fresh paste is no news
    own_end = (Limit.STENCIL, _own_end(floor, container, position))
    own: tuple[Running, ...] = (own_end,) if container.stencil_spent else ()
    brings = min((*_brings(floor, container), *own), key=lambda entry: entry[1], default=None)
    if brings is None or brings[1] >= floor.bead_end(bead)[1]:
        return None
    return brings


def _own_end(floor: Floor, container: Container, position: PositionState) -> datetime:
    """When a bead of this container alone, started now, would end: used paste has spent a part of it already."""
    life = floor.bead_life(container.paste, position.id) or timedelta(0)
    return minute_down(floor.now + life - container.stencil_spent)


def _bead_clock(floor: Floor, container: Container, position: PositionState) -> datetime:
    """The end of the bead's own life with this container in it; a top-up only ever brings it forward."""
    own, bead = _own_end(floor, container, position), position.bead
    if bead is None:
        return own
    return min(bead.stencil_end, own) if container.stencil_spent else bead.stencil_end


def _would_shorten_note(floor: Floor, container: Container, position: PositionState) -> str:
    shortened = _shortened(floor, container, position)
    return f"The bead would then end {at_text(floor, shortened[1])}." if shortened else ""


def _use(floor: Floor, container: Container, position: PositionState) -> Decision:
    bead = position.bead
    stencil_end = _bead_clock(floor, container, position)
    brings = _brings(floor, container)
    restart = bead is None and _soon_after_removal(floor, position)
    last = _fed_before(floor, container, position)
    loaded = f.Loaded(
        container=container.id,
        position=position.id,
        paste=container.paste,
        lot=container.lot,
        work_order=position.work_order,
        starts=bead is None,
        stencil_end=stencil_end,
        limits=brings,
        restart=restart,
        spent=container.stencil_spent,
        life=floor.bead_life(container.paste, position.id),
    )
    own = ((Limit.STENCIL, stencil_end), *brings)
    ends = own if bead is None else (*floor.bead_limits(bead), *own)
    limit, end = min(ends, key=lambda entry: entry[1])
    verdict = about(
        floor,
        container,
        Word.USE,
        "use",
        _use_headline(floor, end),
        _use_why(floor, container, position, bead is None),
        "Take what you need. Inner lid down, lid on.",
        position=position.id,
        note=f"{_bead_note(floor, limit, end)}{_same_bead_question(floor, position)}{_is_empty(last)}"
        f"{_room(floor, container)}",
        asks=(
            *((Card.SAME_BEAD, Card.NEW_BEAD) if _silent_long(floor, position) else ()),
            *((Card.EMPTY,) if last is not None else ()),
        ),
    )
    last_id = last.id if last is not None else None
    armed = Armed(at=floor.now, container=container.id, position=position.id, last=last_id)
    return Decision(verdict, (loaded,), armed=armed)


def _use_headline(floor: Floor, end: datetime) -> str:
    left = floor.time_left(end)
    if left < floor.rules.short_left:
        return f"ONLY {span(max(timedelta(0), left))} LEFT"
    return f"BEAD ENDS {at_text(floor, end)}"


def _use_why(floor: Floor, container: Container, position: PositionState, starts: bool) -> str:
    discard_by = floor.standing(container).discard_by
    left = f" {span(floor.time_left(discard_by))} left in it." if discard_by is not None else ""
    does = f"A new bead starts on {spot(position.id)}." if starts else f"It tops up the bead on {spot(position.id)}."
    return f"{container.spoken} is right for {spot(position.id)}.{left} {does}"


def _bead_note(floor: Floor, limit: Limit, end: datetime) -> str:
    left = span(max(timedelta(0), floor.time_left(end)))
    return f"{left} left, its bead ends {at_text(floor, end)} ({limit.value})."


def _fed_before(floor: Floor, container: Container, position: PositionState) -> Container | None:
    """The container that fed the bead until now, while nobody has said what became of it.

    Only asked when a fresh one is used for the first time: an EMPTY said of that one would make no sense, while of
    a container that was on a line before it may well be meant.
    """
    told = floor.ledger.history("container", container.id)
    if any(isinstance(fact.body, f.Loaded) and not floor.ledger.is_undone(fact.key) for fact in told):
        return None
    bead = position.bead
    before = floor.container(bead.feeding) if bead is not None and bead.feeding else None
    return before if before is not None and before.id != container.id and before.ended is None else None


def _is_empty(last: Container | None) -> str:
    return f" Is {last.spoken} empty? Then scan EMPTY now." if last is not None else ""


def _room(floor: Floor, container: Container) -> str:
    said = room_note(floor, container.paste)
    return f" {said}" if said else ""


def _soon_after_removal(floor: Floor, position: PositionState) -> bool:
    if not position.gone:
        return False
    return floor.recently(position.gone[-1].removed_at, floor.rules.restart_mark)


def _silent_long(floor: Floor, position: PositionState) -> bool:
    bead = position.bead
    return bead is not None and not floor.recently(bead.last_life, floor.rules.sign_of_life)


def _same_bead_question(floor: Floor, position: PositionState) -> str:
    bead = position.bead
    if bead is None or not _silent_long(floor, position):
        return ""
    since = at_text(floor, bead.last_life)
    return f" Nothing heard here since {since}: if the bead was replaced meanwhile, scan NEW BEAD."
