"""Where a container or a bead stands at an instant: stage, running limits, what governs, what is near.

Usable when earliest-use <= now <= discard-by: both ends belong to it, one second later is too late.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from station.care.moments import MINUTE
from station.care.specification import Specification
from station.care.state import Bead, Container, Portion, Standing
from station.care.words import Limit, Stage, Storage

Running = tuple[Limit, datetime]


@dataclass(frozen=True, slots=True)
class Moment:
    """Now, as the rules need it.

    `ages` is the instant limits are judged at, never earlier than anything already recorded, so a passed limit
    is not revived by a clock set back. `warms` is the instant readiness is judged at, held still while the
    clock is in doubt, so a clock set forward makes nothing ready.
    """

    ages: datetime
    warms: datetime


def stage(container: Container, storage: Storage, moment: Moment) -> Stage:
    """Where the container is in its life."""
    if container.ended is not None:
        return Stage.ENDED
    if container.opened_at is not None:
        return Stage.OPEN
    if storage is Storage.ROOM:
        return Stage.RECEIVED if container.put_away_at is None else Stage.READY
    if container.has_been_out:
        earliest = container.earliest_use
        ready = earliest is not None and moment.warms >= earliest
        return Stage.READY if ready else Stage.CONDITIONING
    # what is on its way between two stores, or thaws, counts as cold there too
    cold = container.store or container.thaw_key or container.move_key
    return Stage.COLD if cold is not None else Stage.RECEIVED


def running_limits(container: Container) -> tuple[Running, ...]:
    """The limits that run now, each with its last usable minute, the governing one first.

    On a tie the limit that started last is named, since that is the one a person can still do something about.
    """
    found: list[Running] = list(container.inherited)
    if container.content_limit is not None and container.content_end is not None:
        found.append((container.content_limit, container.content_end))
    if container.open_end is not None:
        found.append((Limit.OPEN, container.open_end + container.open_extension))
    if container.room_end is not None:
        found.append((Limit.ROOM, container.room_end + container.room_extension))
    if container.thaw_not_after is not None and not container.has_been_out:
        found.append((Limit.THAW, container.thaw_not_after))
    if container.shelf_end is not None:
        found.append((Limit.SHELF, container.shelf_end))
    return tuple(sorted(found, key=lambda entry: entry[1]))


def until_away(container: Container) -> tuple[Running, ...]:
    """The limits by which it must be put away, from the dock or from another store: they end no use, but hold it."""
    if container.move_by is not None:
        return ((Limit.MOVE, container.move_by),)
    at_the_dock = container.put_away_at is None and not container.has_been_out
    return ((Limit.TO_COLD, container.to_cold_by),) if container.to_cold_by is not None and at_the_dock else ()


def earliest_of_each(running: Iterable[Running]) -> tuple[Running, ...]:
    """Each limit once: where several sources bring it, the first to pass ends them all."""
    found: dict[Limit, datetime] = {}
    for limit, end in running:
        found[limit] = min(end, found.get(limit, end))
    return tuple(found.items())


def moves(container: Container) -> tuple[tuple[Limit, str], ...]:
    """How persons moved its limits, and those of what its paste came out of: a limit that was moved may pass anew."""
    extended = ((Limit.OPEN, container.open_extension), (Limit.ROOM, container.room_extension))
    until = container.recertified_end
    return (
        *container.moved,
        *container.moved_outside,
        *((limit, f"{container.id}+{by // MINUTE}") for limit, by in extended if by),
        *(((Limit.SHELF, f"{container.id}={until:%Y-%m-%d}"),) if until is not None else ()),
    )


def standing(container: Container, storage: Storage, moment: Moment) -> Standing:
    """Stage and limits of a container at a moment."""
    return Standing(stage(container, storage, moment), running_limits(container))


def bead_limits(
    bead: Bead,
    contents: Iterable[Container],
    stencil_time_counts_as_open: bool = True,
    strangers: Iterable[Portion] = (),
) -> tuple[Running, ...]:
    """The limits of a bead, the governing one first: its own stencil life and those of every container in it.

    `contents` are the containers as they stand now, ended ones too: an emptied jar's paste still lies in the bead.
    `strangers` are portions of containers this station has no record of, which keep the limits of their labels.
    """
    running = [entry for container in contents for entry in running_limits(container)]
    running += [entry for portion in strangers for entry in portion.limits]
    counted = (entry for entry in running if stencil_time_counts_as_open or entry[0] is not Limit.OPEN)
    found: list[Running] = [(Limit.STENCIL, bead.stencil_end), *counted]
    return tuple(sorted(found, key=lambda entry: entry[1]))


def sooner(container: Container, by: timedelta) -> Container:
    """The container with every end taken back, for a clock that dated it too late."""

    def back(end: datetime | None) -> datetime | None:
        return end - by if end is not None else None

    return replace(
        container,
        room_end=back(container.room_end),
        open_end=back(container.open_end),
        content_end=back(container.content_end),
        inherited=tuple((limit, end - by) for limit, end in container.inherited),
    )


def passed(limits: Iterable[Running], moment: Moment) -> tuple[Running, ...]:
    """The limits that are over: `now` is after their last usable minute."""
    return tuple(entry for entry in limits if moment.ages > entry[1])


def starts_of(container: Container) -> dict[Limit, datetime | None]:
    """When each limit of a container began to run."""
    return {
        Limit.OPEN: container.opened_at,
        Limit.ROOM: container.out_from,
        Limit.SHELF: container.arrived_at,
        Limit.DECANTED: container.arrived_at,
        Limit.USED_PASTE: container.arrived_at,
        Limit.THAW: container.thaw_from or container.put_away_at,
    }


def near_from(limit: Limit, start: datetime | None, end: datetime, specification: Specification) -> datetime:
    """The instant from which a limit counts as near its end."""
    length = end - start if start is not None else timedelta(days=3650)
    return end - specification.near_for(limit).before_end(length)


def container_near_from(container: Container, specification: Specification) -> datetime | None:
    """When the governing limit of a container becomes near; None while nothing runs."""
    limits = running_limits(container)
    if not limits:
        return None
    limit, end = limits[0]
    return near_from(limit, starts_of(container).get(limit), end, specification)


def bead_near_from(bead: Bead, end: datetime, specification: Specification) -> datetime:
    """When a bead becomes near its `end`, whatever limit sets it; measured on the bead's own stretch."""
    return near_from(Limit.STENCIL, bead.started_at, end, specification)
