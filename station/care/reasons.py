"""Every reason against using a container at a position: the one place that can withhold USE.

USE is said only when this list is empty. Reasons come worst first, so the first is the one to show. A new rule
against using paste belongs here and nowhere else.
"""

from collections.abc import Iterator
from datetime import datetime

from station.care.floor import Floor
from station.care.holders import TOOLS, against_holder, stencil_spent
from station.care.holding import hold_text
from station.care.limits import passed
from station.care.readiness import not_ready
from station.care.reason import Reason
from station.care.saying import a, clock_time, day_time, loud_a, opening, spot, when
from station.care.since_restore import not_known_of
from station.care.state import Bead, Container, PositionState
from station.care.waste import discard_it
from station.care.words import Alloy, Ending, Limit, Word


def against(floor: Floor, container: Container, position: PositionState | None) -> tuple[Reason, ...]:
    """Every reason against using `container`, at `position` where one is given; empty means it may be used."""
    found = list(_of_container(floor, container))
    if container.ended is None:
        found.extend(stencil_spent(floor, container, position))
    if position is not None:
        found.extend(_of_position(floor, container, position))
    return tuple(sorted(found, key=_rank))


SEVERITY = (
    "ended",
    "draft",
    "held",
    "source-unknown",
    "labels-swapped",
    "thawed-long",
    "moved-long",
    "not-taken-out",
    "shelf-life",
    "room-life",
    "open-life",
    "decanted-life",
    "used-paste-life",
    "stencil-life",
    "wrong-alloy",
    "wrong-paste",
    "not-in-head",
    "not-for-dispenser",
    "no-work-order",
    "mounted-elsewhere",
    "mounted-other",
    "bead-past",
    "bead-replace",
    "bead-other-paste",
    "needs-cleaning",
    "paused",
    "thawing",
    "conditioning",
    "no-time",
    "clock-doubt",
    "clocks-disagree",
    "room-too-cold",
    "room-too-humid",
)


def _rank(reason: Reason) -> int:
    return SEVERITY.index(reason.code)


def _of_container(floor: Floor, container: Container) -> Iterator[Reason]:
    name = container.spoken
    if container.ended is not None:
        yield _ended(floor, container)
        return
    unknown_metal = floor.ledger.rulebook.metal_disputed(container.paste)
    if unknown_metal or (not floor.rules.demo and floor.specification(container.paste).approved_by is None):
        yield Reason(
            "draft",
            Word.STOP,
            "SPECIFICATION NOT APPROVED",
            _draft_sentence(floor, container.paste),
            "Ask the process engineer to approve the specification.",
        )
    if container.held:
        said = ", ".join(hold_text(floor, hold) for hold in container.all_holds)
        yield Reason(
            "held", Word.STOP, "ON HOLD", f"{name} is on hold: {said}.", "Set it aside and call the shift lead."
        )
    yield from _labels_swapped(floor, container)
    if floor.clocks_disagree(container):
        yield Reason(
            "clocks-disagree",
            Word.WAIT,
            "CLOCKS DISAGREE",
            f"The station that took {container.spoken} out has another time than this one.",
            "Ask a shift lead to check the time of both stations.",
        )
    yield from _passed(floor, container)
    if container.move_by is not None and floor.moment_of(container).ages > container.move_by:
        yield _moved_long(floor, container, container.move_by)
    yield from not_ready(floor, container)


def _draft_sentence(floor: Floor, paste: str) -> str:
    if floor.ledger.rulebook.metal_disputed(paste):
        return f"{paste} was told twice, with another number, metal or way of storage each."
    return f"The limits of {paste} are still a draft."


def _labels_swapped(floor: Floor, container: Container) -> Iterator[Reason]:
    """Its times may be another jar's, and so may those of what its paste was filled into."""
    if container.swapped_with is not None:
        yield Reason(
            "labels-swapped",
            Word.STOP,
            "LABELS SWAPPED",
            f"{container.spoken} and {container.swapped_with.replace('-', ' ')} were found with each other's labels.",
            "Put each time label on the one with its number, then scan both labels of each, one after the other.",
        )
    for source in (floor.container(name) for name in container.sources):
        if source is not None:
            yield from _labels_swapped(floor, source)


def _ended(floor: Floor, container: Container) -> Reason:
    ending = container.ended or Ending.DISCARDED
    at = day_time(container.ended_at, floor.now, floor.zone) if container.ended_at else "before"
    return Reason(
        "ended",
        Word.STOP,
        f"ALREADY {ending.value.upper()}",
        f"{container.spoken} was recorded as {ending.value} on {at}.",
        "Do not use it. Keep it apart and call the shift lead.",
    )


LIMIT_CODE = {
    Limit.SHELF: "shelf-life",
    Limit.ROOM: "room-life",
    Limit.OPEN: "open-life",
    Limit.DECANTED: "decanted-life",
    Limit.USED_PASTE: "used-paste-life",
    Limit.STENCIL: "stencil-life",
    Limit.THAW: "thawed-long",
}


def _passed(floor: Floor, container: Container) -> Iterator[Reason]:
    for limit, end in passed(floor.standing(container).limits, floor.moment_of(container)):
        if limit is Limit.THAW:
            yield _thawed_long(floor, container, end)
            continue
        yield Reason(
            LIMIT_CODE[limit],
            Word.STOP,
            f"{limit.value.upper()} IS OVER",
            f"{container.spoken} could be used until {day_time(end, floor.now, floor.zone)} ({limit.value}).",
            discard_it(floor, container.paste),
        )


def _thawed_long(floor: Floor, container: Container, end: datetime) -> Reason:
    return Reason(
        LIMIT_CODE[Limit.THAW],
        Word.STOP,
        "THAWED TOO LONG",
        f"{container.spoken} had to leave the refrigerator by {day_time(end, floor.now, floor.zone)}.",
        "Leave it there, put it apart and call the shift lead.",
    )


def _moved_long(floor: Floor, container: Container, end: datetime) -> Reason:
    return Reason(
        "moved-long",
        Word.STOP,
        "TOO LONG ON ITS WAY",
        f"{container.spoken} had to be put away by {day_time(end, floor.now, floor.zone)}.",
        "Put it away now: scan it at the door of a store. Then call the shift lead.",
    )


def _of_position(floor: Floor, container: Container, position: PositionState) -> Iterator[Reason]:
    yield from not_known_of(floor, position)
    yield from _wrong_for_job(floor, container, position)
    yield from against_holder(floor, container, position)
    bead = position.bead
    if bead is None:
        yield from _soiled(floor, container, position)
        return
    yield from against_bead(floor, position, bead)
    if bead.paste != container.paste:
        alloys = _clash(floor, container.paste, bead.paste, "BEAD")
        yield Reason(
            "bead-other-paste",
            Word.STOP,
            alloys or f"{container.paste} ON {loud_a(bead.paste)} BEAD",
            f"{opening(a(bead.paste))} bead is still on {spot(position.id)}.",
            "Remove the bead, clean stencil, blades and tools, and record it.",
        )


def _wrong_for_job(floor: Floor, container: Container, position: PositionState) -> Iterator[Reason]:
    if not position.pastes:
        if floor.rules.work_order_required:
            yield Reason(
                "no-work-order",
                Word.STOP,
                "NO WORK ORDER",
                f"{opening(spot(position.id))} is not set up for a work order.",
                "Scan the tag of the position, then the work order.",
            )
        return
    if floor.fits_job(position, container.paste):
        return
    if container.paste in position.pastes:
        yield not_approved_any_more(position, container.paste, f"Take {container.spoken} away from")
        return
    job = position.pastes[0]
    alloys = _clash(floor, container.paste, job, "JOB")
    builds = f"{spot(position.id)} builds {position.work_order} with {' or '.join(position.pastes)}."
    mine, theirs = (_shout(floor, paste) for paste in (container.paste, job))
    yield Reason(
        "wrong-alloy" if alloys else "wrong-paste",
        Word.STOP,
        alloys or f"{container.paste} ON {loud_a(job)} JOB",
        f"{mine} on a {theirs} job: {builds}" if theirs and mine != theirs else opening(builds),
        f"Take {container.spoken} away from {spot(position.id)}.",
    )


def not_approved_any_more(position: PositionState, paste: str, take_away: str) -> Reason:
    """The process engineer took a paste off the list after the position was set up with it."""
    return Reason(
        "wrong-paste",
        Word.STOP,
        f"{paste} IS OFF THE LIST",
        f"{paste} is not approved for {position.work_order} ({position.product}) any more.",
        f"{take_away} {spot(position.id)}. Ask the process engineer, or scan the work order again.",
    )


def _clash(floor: Floor, paste: str, other: str, noun: str) -> str:
    """The two alloy families in words, or nothing where they are the same, or one is not set up here."""
    mine, theirs = floor.plant.pastes.get(paste), floor.plant.pastes.get(other)
    if mine is None or theirs is None or mine.alloy is theirs.alloy:
        return ""
    return f"{_family(mine.alloy)} ON {loud_a(_family(theirs.alloy))} {noun}"


def _shout(floor: Floor, paste: str) -> str:
    known = floor.plant.pastes.get(paste)
    return known.alloy.shout if known is not None else ""


def _family(alloy: Alloy) -> str:
    return "FLUX OR ADHESIVE" if alloy is Alloy.NONE else alloy.value


def _soiled(floor: Floor, container: Container, position: PositionState) -> Iterator[Reason]:
    before = position.soiled_by
    if before is None or before == container.paste:
        return
    yield Reason(
        "needs-cleaning",
        Word.STOP,
        "CLEAN FIRST",
        f"The last paste on {spot(position.id)} was {before} "
        f"({_shout(floor, before) or 'not set up here'}); no cleaning is on record.",
        f"Clean {TOOLS[floor.holder(position.id)]}, then scan the tag and the CLEANED card.",
    )


def against_printing_on(floor: Floor, position: PositionState, bead: Bead) -> tuple[Reason, ...]:
    """Every reason against going on with a bead for the job its position is set up for now, the worst first."""
    off = () if floor.fits_job(position, bead.paste) else (_not_for_this_job(position, bead),)
    unknown = (*not_known_of(floor, position), *_metal_unknown(floor, position, bead))
    return tuple(sorted((*off, *unknown, *against_bead(floor, position, bead)), key=_rank))


def _metal_unknown(floor: Floor, position: PositionState, bead: Bead) -> Iterator[Reason]:
    if floor.ledger.rulebook.metal_disputed(bead.paste):
        yield Reason(
            "draft",
            Word.STOP,
            "METAL NOT CERTAIN",
            _draft_sentence(floor, bead.paste),
            f"Stop printing on {spot(position.id)}. Ask the process engineer which of them it is.",
        )


def against_staying(floor: Floor, position: PositionState, mounted: Container) -> tuple[Reason, ...]:
    """Every reason against leaving it mounted for the job its position is set up for now, the worst first."""
    off = () if floor.fits_job(position, mounted.paste) else _wrong_for_job(floor, mounted, position)
    return tuple(sorted((*off, *against(floor, mounted, None)), key=_rank))


def _not_for_this_job(position: PositionState, bead: Bead) -> Reason:
    if bead.paste in position.pastes:
        return not_approved_any_more(position, bead.paste, "Scrape the bead off")
    return Reason(
        "wrong-paste",
        Word.STOP,
        f"{bead.paste} ON {loud_a(position.pastes[0])} JOB",
        f"{position.work_order} is not built with {bead.paste}.",
        "Scrape the bead off, clean, and record REMOVE and CLEANED.",
    )


def against_bead(floor: Floor, position: PositionState, bead: Bead) -> Iterator[Reason]:
    """Every reason against a bead, whatever container feeds it and whatever is built with it."""
    limit, end = floor.bead_end(bead)
    if floor.moment.ages > end:
        yield Reason(
            "bead-past",
            Word.STOP,
            "THE BEAD IS OVER",
            f"The bead on {spot(position.id)} ended {when(end, floor.now, floor.zone)} ({limit.value}).",
            "Scrape it off, clean the stencil, then scan the tag and the REMOVE card.",
        )
    held = floor.holds_in(bead)
    if held:
        name, hold = held[0]
        yield Reason(
            "held",
            Word.STOP,
            "HELD PASTE IN THE BEAD",
            f"Paste of {name.replace('-', ' ')} on {spot(position.id)} is on hold: {hold_text(floor, hold)}.",
            "Stop printing, scrape the bead off, and call the shift lead.",
        )
    for content in floor.contents(bead):
        yield from _labels_swapped(floor, content)
    if bead.replace:
        yield _replace(floor, position, bead)
    elif bead.paused_at is not None:
        yield from _paused(floor, position, bead, bead.paused_at)


def _replace(floor: Floor, position: PositionState, bead: Bead) -> Reason:
    return Reason(
        "bead-replace",
        Word.STOP,
        "REPLACE THE BEAD",
        f"Printing on {spot(position.id)} paused too long; the bead of {clock_time(bead.started_at, floor.zone)} "
        "may have dried.",
        "Scrape it off, then scan the tag and the REMOVE card.",
    )


def _paused(floor: Floor, position: PositionState, bead: Bead, since: datetime) -> Iterator[Reason]:
    if floor.moment.ages - since > floor.pauses(bead)[1]:
        yield _replace(floor, position, bead)
    else:
        yield Reason(
            "paused",
            Word.WAIT,
            "PAUSED",
            f"{opening(spot(position.id))} has been paused since {when(since, floor.now, floor.zone)}.",
            "Scan the tag and the RESUME card first; it says whether the bead needs kneading.",
        )
