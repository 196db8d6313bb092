"""What fell due: limits that passed and have no alarm yet, with the true instant, and what falls due next.

Each look compares stored ends with the present instant and keeps no count of looks, so a PC that slept or was off
finds all of it at its next one.
"""

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime

from station.care import facts as f
from station.care.floor import Floor
from station.care.fold_move import TOO_LONG
from station.care.limits import moves, running_limits, until_away
from station.care.moments import MINUTE
from station.care.state import Bead, Container, Mount, PositionState
from station.care.words import HoldReason, Limit

Watched = tuple[Limit, datetime, str]

HELD_WHEN_PASSED = {
    Limit.TO_COLD: HoldReason.LATE_TO_COLD,
    Limit.THAW: HoldReason.THAWED_LONG,
    Limit.MOVE: HoldReason.LATE_TO_COLD,
}


def due_facts(floor: Floor, containers: Iterable[Container] | None = None) -> tuple[f.Body, ...]:
    """Alarms to raise now (and the hold that lateness brings), the longest overdue first.

    `containers` are those that may be overdue, where the caller kept count; otherwise every one is looked at.
    """
    suspects = floor.alive() if containers is None else containers
    held = (*_held_in_beads(floor), *_held_mounted(floor))
    found = [*_containers_due(floor, suspects), *_beads_due(floor), *held, *_off_their_list(floor)]
    found.sort(key=lambda raised: (raised.since, raised.alarm))
    known = floor.ledger.containers
    late = (raised for raised in found if raised.limit in HELD_WHEN_PASSED and raised.subject in known)
    return (*found, *(f.Held(raised.subject, HELD_WHEN_PASSED[raised.limit], _noted(raised)) for raised in late))


def _noted(raised: f.AlarmRaised) -> str:
    return TOO_LONG if raised.limit is Limit.MOVE else ""


def next_due(floor: Floor) -> datetime | None:
    """The last usable minute of whatever not yet raised falls due first; None when nothing runs."""
    alarms = floor.ledger.alarms
    ends = [end for container in floor.alive() if (end := container_end(floor, container)) is not None]
    ends += [
        floor.bead_end(bead)[1] for place, bead in floor.beads() if bead_alarm(floor, place.id, bead) not in alarms
    ]
    return min(ends, default=None)


def container_end(floor: Floor, container: Container) -> datetime | None:
    """The last usable minute of the limit of one container that passes first and has no alarm yet."""
    alarms = floor.ledger.alarms
    return min((end for _, end, alarm in _watched(container) if alarm not in alarms), default=None)


def container_alarm(container: Container, limit: Limit) -> str:
    """The identity of a container's alarm, the same on every station that notices it."""
    anchor = {
        Limit.ROOM: container.taken_out_key,
        Limit.OPEN: container.opened_key,
        Limit.CONDITIONING: container.taken_out_key,
        Limit.THAW: container.thaw_key,
        Limit.MOVE: container.move_key,
    }.get(limit, container.received_key)
    extended = {Limit.OPEN: container.open_extension, Limit.ROOM: container.room_extension}.get(limit)
    suffix = f"+{extended // MINUTE}" if extended else ""
    if limit is Limit.SHELF and container.recertified_end is not None:
        suffix = f"={container.recertified_end:%Y-%m-%d}"
    # moved by a person, a limit may pass anew
    marks = "".join(f"/{key}" for what, key in (*container.moved, *container.moved_outside) if what is limit)
    return f"{limit.value}/{container.id}/{anchor}{suffix}{marks}"


def bead_alarm(floor: Floor, position: str, bead: Bead) -> str:
    """The identity of the alarm of one bead: by the limit that ends it, and by whoever moved that limit of what lies
    in it, since it may then pass anew. Moving a limit that does not end it makes no second alarm."""
    limit, _ = floor.bead_end(bead)
    moved = {mark for found in floor.contents(bead) for what, mark in moves(found) if what is limit}
    marks = f"/{','.join(sorted(moved))}" if moved else ""
    return f"bead/{position}/{bead.key}/{limit.value}{marks}"


def held_mount_alarm(mount: Mount, hold: str) -> str:
    """The identity of the alarm that what is mounted in a dispenser was put on hold."""
    return f"held/{mount.container}/{mount.key}/{hold}"


def held_alarm(position: str, bead: Bead, hold: str) -> str:
    """The identity of the alarm that paste put on hold lies in a bead."""
    return f"held/{position}/{bead.key}/{hold}"


def off_list_alarm(subject: str, key: str, told: Sequence[str]) -> str:
    """The identity of the alarm that a bead, or what is mounted, went off the list, by the decisions that hold."""
    return f"list/{subject}/{key}/{','.join(sorted(told))}"


def _watched(container: Container) -> Iterator[Watched]:
    """The limits of a container that raise an alarm when they pass."""
    for limit, end in (*until_away(container), *running_limits(container)):
        yield limit, end, container_alarm(container, limit)


def _containers_due(floor: Floor, containers: Iterable[Container]) -> Iterator[f.AlarmRaised]:
    now, alarms = floor.moment.ages, floor.ledger.alarms
    for container in containers:
        for limit, end, alarm in _watched(container):
            if now > end and alarm not in alarms:
                in_use = bool(floor.positions_with(container.id))
                yield f.AlarmRaised(alarm, container.id, limit, end, in_use)


def _beads_due(floor: Floor) -> Iterator[f.AlarmRaised]:
    for place, bead in floor.beads():
        limit, end = floor.bead_end(bead)
        alarm = bead_alarm(floor, place.id, bead)
        if floor.moment.ages > end and alarm not in floor.ledger.alarms:
            yield f.AlarmRaised(alarm, place.id, limit, end, True)


def _held_in_beads(floor: Floor) -> Iterator[f.AlarmRaised]:
    for place, bead in floor.beads():
        for hold in {hold.key: hold for _, hold in floor.holds_in(bead)}.values():
            alarm = held_alarm(place.id, bead, hold.key)
            if alarm not in floor.ledger.alarms:
                yield f.AlarmRaised(alarm, place.id, Limit.HOLD, hold.since, True)


def _off_their_list(floor: Floor) -> Iterator[f.AlarmRaised]:
    """Paste that went off the list while it lies at a line; one alarm for each bead or mount until it is cleared.

    A work order that does not fit what lies there is no alarm: its answer says so."""
    for place in floor.ledger.positions.values():
        bead, mount = place.bead, place.mounted
        if bead is not None and (bead.paste in place.pastes or place.work_order in bead.work_orders):
            yield from _off_its_list(floor, place, bead.paste, place.id, bead.key, bead.started_at)
        if mount is not None and mount.paste in place.pastes:
            yield from _off_its_list(floor, place, mount.paste, mount.container, mount.key, mount.since)


def _off_its_list(
    floor: Floor, place: PositionState, paste: str, subject: str, key: str, since: datetime
) -> Iterator[f.AlarmRaised]:
    # settings count from when they were read; those of the station that put it there may be others
    loaded = floor.ledger.order_of(key)
    told = [entry for entry in floor.lists_of(place) if entry.by_hand or entry.place > loaded]
    if not told or floor.fits_job(place, paste):
        return
    alarm = off_list_alarm(subject, key, [entry.fact.key for entry in told])
    if alarm not in floor.ledger.alarms and not _rings(floor, off_list_alarm(subject, key, ())):
        yield f.AlarmRaised(alarm, subject, Limit.OFF_LIST, max(since, *(entry.fact.at for entry in told)), True)


def _rings(floor: Floor, beginning: str) -> bool:
    return any(name.startswith(beginning) and one.cleared_at is None for name, one in floor.ledger.alarms.items())


def _held_mounted(floor: Floor) -> Iterator[f.AlarmRaised]:
    for place in floor.ledger.positions.values():
        mount = place.mounted
        container = floor.container(mount.container) if mount is not None else None
        if mount is None or container is None:
            continue
        for hold in container.all_holds:
            alarm = held_mount_alarm(mount, hold.key)
            if alarm not in floor.ledger.alarms:
                yield f.AlarmRaised(alarm, container.id, Limit.HOLD, hold.since, True)
