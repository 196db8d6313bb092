"""Alarms as a table of states and events, with the terms of ANSI/ISA-18.2 and IEC 62682.

Two things are kept apart: whether the condition is still true, and what people have done about it. A passed
limit is latched: acknowledging silences it, going away does not end it, only a clearing by a shift lead does.
"""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import StrEnum

from station.care import facts as f
from station.care.extension import Extending, ExtensionRefused, allowance, extension
from station.care.floor import Floor
from station.care.limits import running_limits
from station.care.refused import Refused
from station.care.saying import opening, spot
from station.care.state import Alarm, Bead, Container, Gone, Mount
from station.care.words import Boards, Disposition, Ending, HoldReason, Limit, Priority, Role


class AlarmState(StrEnum):
    """States of a latching alarm (ISA-18.2 names)."""

    NORMAL = "normal"
    UNACKNOWLEDGED = "unacknowledged"
    ACKNOWLEDGED = "acknowledged"
    LATCHED_UNACKNOWLEDGED = "latched unacknowledged"
    LATCHED_ACKNOWLEDGED = "latched acknowledged"
    SHELVED = "shelved"


@dataclass(frozen=True, slots=True)
class Situation:
    """What the rules need to know of an alarm besides its facts."""

    active: bool
    quiet: bool
    priority: Priority
    shelved: bool = False


def state(alarm: Alarm, situation: Situation) -> AlarmState:
    """The alarm's state: (cleared, shelved, active, seen) looked up, nothing else."""
    if alarm.cleared_at is not None:
        return AlarmState.NORMAL
    if situation.shelved:
        return AlarmState.SHELVED
    seen = alarm.acknowledged_at is not None or situation.quiet
    return {
        (True, False): AlarmState.UNACKNOWLEDGED,
        (True, True): AlarmState.ACKNOWLEDGED,
        (False, False): AlarmState.LATCHED_UNACKNOWLEDGED,
        (False, True): AlarmState.LATCHED_ACKNOWLEDGED,
    }[(situation.active, seen)]


def situation(floor: Floor, alarm: Alarm) -> Situation:
    """Whether the condition still holds, whether it was dealt with in time, how urgent it is, whether it is shelved.

    High while a bead past its end, or held, lies on a stencil; medium for a limit passed away from one; low for all
    that can wait. Shelving ends at its time, and counts for nothing once the alarm is high or its condition gone.
    """
    found = _unshelved(floor, alarm)
    within = alarm.shelved_until is not None and floor.moment.ages < alarm.shelved_until
    return replace(found, shelved=within and found.active and found.priority is not Priority.HIGH)


def _unshelved(floor: Floor, alarm: Alarm) -> Situation:
    if alarm.subject in floor.plant.positions:
        bead, gone = bead_of(floor, alarm)
        on_time = gone is not None and gone.removed_at <= alarm.since + floor.rules.right_action
        active = bead is not None and _still_true(floor, alarm, bead)
        return Situation(active, on_time, Priority.HIGH if active else Priority.MEDIUM)
    container = floor.container(alarm.subject)
    active = container is not None and container.ended is None and _still_wrong(floor, alarm, container)
    in_use = active and bool(floor.positions_with(alarm.subject))
    medium = active or alarm.in_use
    off = boards_between(floor, alarm)
    on_time = off is not None and off[1] is not None and off[1] <= alarm.since + floor.rules.right_action
    return Situation(active, on_time, Priority.HIGH if in_use else Priority.MEDIUM if medium else Priority.LOW)


def _still_wrong(floor: Floor, alarm: Alarm, container: Container) -> bool:
    """A passed limit of a container stays so; a hold or a list only matters here while it stands and it is mounted."""
    if alarm.limit is Limit.OFF_LIST:
        places = (floor.position(name) for name in floor.mounted_at(container.id))
        return any(not floor.fits_job(place, container.paste) for place in places)
    if alarm.limit is not Limit.HOLD:
        return True
    stands = any(hold.key == alarm.id.split("/")[3] for hold in container.all_holds)
    return stands and bool(floor.mounted_at(container.id))


def _still_true(floor: Floor, alarm: Alarm, bead: Bead) -> bool:
    """Whether a bead that still lies there is still past its end, off its list, or holds paste on that very hold."""
    if alarm.limit is Limit.OFF_LIST:
        return not floor.fits_job(floor.position(alarm.subject), bead.paste)
    if alarm.limit is not Limit.HOLD:
        return floor.moment.ages > floor.bead_end(bead)[1]
    return any(hold.key == alarm.id.split("/")[3] for _, hold in floor.holds_in(bead))


def bead_of(floor: Floor, alarm: Alarm) -> tuple[Bead | None, Gone | None]:
    """The bead an alarm is about: still on its position, or gone from it."""
    key = alarm.id.split("/")[2]
    place = floor.position(alarm.subject)
    if place.bead is not None and place.bead.key == key:
        return place.bead, None
    return None, next((gone for gone in place.gone if gone.bead.key == key), None)


def is_open(alarm: Alarm) -> bool:
    """Whether the alarm still wants something of a shift lead."""
    return alarm.cleared_at is None


SOUNDS_AGAIN_AFTER = timedelta(minutes=10)


def sounding(floor: Floor, alarm: Alarm) -> bool:
    """Whether the alarm may sound: open, and nobody has seen it or dealt with it in time.

    Bad paste that still lies at a stencil sounds again ten minutes after it was silenced last, until it is off; what
    was shelved sounds again when that ends.
    """
    now = situation(floor, alarm)
    if state(alarm, now) in (AlarmState.UNACKNOWLEDGED, AlarmState.LATCHED_UNACKNOWLEDGED):
        return True
    again = sounds_again(alarm, now)
    return again is not None and floor.moment.ages >= again


def sounds_again(alarm: Alarm, situation: Situation) -> datetime | None:
    """From when on a silenced alarm sounds again; None for one that nobody silenced, or that stays silent."""
    if not situation.active or alarm.cleared_at is not None or alarm.silenced_at is None:
        return None
    if situation.priority is Priority.HIGH:
        return alarm.silenced_at + SOUNDS_AGAIN_AFTER
    until = alarm.shelved_until
    return until if until is not None and alarm.silenced_at < until else None


def at_work(floor: Floor, alarm: Alarm, situation: Situation) -> bool:
    """Whether its paste is still wrong and still in a machine: it has to come off before anything is said of it."""
    return situation.active and (alarm.subject in floor.plant.positions or bool(floor.mounted_at(alarm.subject)))


ORDER = {Priority.HIGH: 0, Priority.MEDIUM: 1, Priority.LOW: 2}


def open_alarms(floor: Floor) -> tuple[tuple[Alarm, Situation], ...]:
    """Every alarm not cleared, the most urgent and then the oldest first."""
    found = [(alarm, situation(floor, alarm)) for alarm in floor.ledger.alarms.values() if is_open(alarm)]
    return tuple(sorted(found, key=lambda pair: (ORDER[pair[1].priority], pair[0].since, pair[0].id)))


def acknowledge(floor: Floor, alarm_ids: tuple[str, ...]) -> tuple[f.Body, ...]:
    """The facts that somebody has seen these alarms; ones already seen stay with who saw them first.

    One that sounds again is silenced anew.
    """
    alarms = (floor.ledger.alarms.get(alarm_id) for alarm_id in alarm_ids)
    unseen = (alarm for alarm in alarms if alarm and (alarm.acknowledged_at is None or sounding(floor, alarm)))
    return tuple(f.AlarmAcknowledged(alarm.id) for alarm in unseen)


@dataclass(frozen=True, slots=True)
class Clearing:
    """What a shift lead says when clearing an alarm. `boards` is asked for beads only."""

    alarm: str
    disposition: Disposition
    reason: str
    boards: Boards | None = None
    document: str = ""
    grams: float | None = None


class ClearingRefused(Refused):
    """The alarm can't be cleared as told; the sentence says what is missing."""


def clear(floor: Floor, clearing: Clearing, person: str | None) -> tuple[f.Body, ...]:
    """The facts of clearing an alarm: what became of the paste, then the clearing itself.

    Raises ClearingRefused unless a shift lead says it, with a reason, and the paste is out of use by it.
    """
    alarm = floor.ledger.alarms.get(clearing.alarm)
    if alarm is None or not is_open(alarm):
        raise ClearingRefused("That alarm is not open any more.")
    if not floor.person_has(person, Role.LEAD):
        raise ClearingRefused("Only a shift lead clears an overdue alarm. Badge in with your PIN.")
    if not clearing.reason.strip():
        raise ClearingRefused("Say in a few words why; it stands in the record.")
    if alarm.subject in floor.plant.positions:
        _check_bead(floor, alarm, clearing)
        consequences: tuple[f.Body, ...] = ()
    else:
        consequences = _container_consequences(floor, alarm, clearing)
    cleared = f.AlarmCleared(clearing.alarm, clearing.disposition, clearing.boards, clearing.document, clearing.reason)
    return (*consequences, cleared)


BEAD_DISPOSITIONS = (Disposition.BEAD_OFF, Disposition.USED_IN_TIME)
# a bead that lies there lawfully again, because a hold was released or a limit extended, need not come off
MENDED_BEAD_DISPOSITIONS = (*BEAD_DISPOSITIONS, Disposition.CHECKED)
CONTAINER_DISPOSITIONS = (
    Disposition.DISCARDED,
    Disposition.USED_IN_TIME,
    Disposition.EVALUATION,
    Disposition.EXTENDED,
    Disposition.NOT_FOUND,
)


def dispositions(floor: Floor, alarm: Alarm) -> tuple[Disposition, ...]:
    """What may be said of an alarm's paste."""
    if alarm.subject in floor.plant.positions:
        bead, _ = bead_of(floor, alarm)
        mended = bead is not None and not _still_true(floor, alarm, bead)
        return MENDED_BEAD_DISPOSITIONS if mended else BEAD_DISPOSITIONS
    if alarm.limit in (*BEFORE_USE, *OF_ONE_MOUNT):
        return (Disposition.CHECKED, Disposition.DISCARDED, Disposition.EVALUATION, Disposition.NOT_FOUND)
    return CONTAINER_DISPOSITIONS


def _check_bead(floor: Floor, alarm: Alarm, clearing: Clearing) -> None:
    if clearing.disposition not in dispositions(floor, alarm):
        raise ClearingRefused(f"A bead can't be {clearing.disposition.value}. Say that it was scraped off.")
    bead, _ = bead_of(floor, alarm)
    if bead is not None and clearing.disposition is not Disposition.CHECKED:
        raise ClearingRefused(
            f"The bead is still on {spot(alarm.subject)}. Scrape it off and record REMOVE there, then clear this."
        )
    _check_boards(clearing)


def _check_boards(clearing: Clearing) -> None:
    if clearing.boards is None:
        raise ClearingRefused("Say what became of the boards printed between the limit and the removal.")
    if clearing.boards is Boards.ACCEPTED and not clearing.document.strip():
        raise ClearingRefused("Boards were accepted: name who accepted them and the document.")


def _container_consequences(floor: Floor, alarm: Alarm, clearing: Clearing) -> tuple[f.Body, ...]:
    container = floor.container(alarm.subject)
    if clearing.disposition not in dispositions(floor, alarm):
        raise ClearingRefused(f"{opening(alarm.limit.value)} can't be cleared as {clearing.disposition.value}.")
    _check_mounted(floor, alarm, clearing)
    if container is None or container.ended is not None:
        return ()
    where, why = container.last_seen_where, clearing.reason
    match clearing.disposition:
        case Disposition.DISCARDED:
            return (f.Ended(container.id, Ending.DISCARDED, why, where, clearing.grams),)
        case Disposition.USED_IN_TIME:
            return (f.Ended(container.id, Ending.USED_UP, why, where, clearing.grams),)
        case Disposition.NOT_FOUND:
            return (f.Ended(container.id, Ending.NOT_FOUND, why, where, None),)
        case Disposition.EVALUATION:
            return (f.Held(container.id, HoldReason.EVALUATION, why),)
        case Disposition.EXTENDED:
            return _extension(floor, container, alarm.limit, clearing)
        case _:
            return ()


def _check_mounted(floor: Floor, alarm: Alarm, clearing: Clearing) -> None:
    """What was in a dispenser when the limit passed made boards too, and must be out of use by this word."""
    if boards_between(floor, alarm) is None:
        return
    mounted = floor.mounted_at(alarm.subject)
    stays = clearing.disposition in (Disposition.CHECKED, Disposition.EVALUATION)
    if mounted and stays and situation(floor, alarm).active:
        raise ClearingRefused(
            f"It is still mounted on {spot(mounted[0])}. Take it off and record DISMOUNT there, then clear this."
        )
    _check_boards(clearing)


def _extension(floor: Floor, container: Container, limit: Limit, clearing: Clearing) -> tuple[f.Body, ...]:
    """The rest of the allowance, unless the limit was moved far enough before."""
    if dict(running_limits(container)).get(limit, floor.now) >= floor.moment.ages:
        return ()
    asked = Extending(container.id, limit, allowance(floor, container, limit), clearing.document)
    try:
        return (extension(floor, container, asked),)
    except ExtensionRefused as refused:
        raise ClearingRefused(str(refused)) from refused


def boards_between(floor: Floor, alarm: Alarm) -> tuple[datetime, datetime | None] | None:
    """Between which instants boards may have been made outside the limit; None where a container was not in use.

    In use by itself is a cartridge or syringe that was mounted; what feeds a bead makes boards by its bead.
    """
    if alarm.subject not in floor.plant.positions:
        return _dispensed_between(floor, alarm)
    _, gone = bead_of(floor, alarm)
    return alarm.since, gone.removed_at if gone else None


OF_ONE_MOUNT = (Limit.HOLD, Limit.OFF_LIST)
"""Limits whose alarm names the bead or the mount it is about."""
# limits that pass before a container may be in use at all
BEFORE_USE = (Limit.TO_COLD, Limit.CONDITIONING, Limit.THAW, Limit.MOVE, Limit.SEEN_AGAIN)


def _dispensed_between(floor: Floor, alarm: Alarm) -> tuple[datetime, datetime | None] | None:
    """From the limit until it was taken off, for what was mounted then; for a hold or a list, for its mount."""
    if alarm.limit in BEFORE_USE:
        return None
    for place in floor.ledger.positions.values():
        now = ((place.mounted, None),) if place.mounted is not None else ()
        for mount, off in (*((gone.mount, gone.at) for gone in place.taken_off), *now):
            if mount.container == alarm.subject and _passed_in(alarm, mount, off):
                return max(alarm.since, mount.since), off
    return None


def _passed_in(alarm: Alarm, mount: Mount, off: datetime | None) -> bool:
    if alarm.limit in OF_ONE_MOUNT:
        return mount.key == alarm.id.split("/")[2]
    return mount.since <= alarm.since and (off is None or alarm.since < off)
