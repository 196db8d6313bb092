"""Which container to use or take instead: open ones first, then ready ones, then the oldest in the cold."""

from collections.abc import Iterator
from datetime import datetime

from station.care.floor import Floor
from station.care.reasons import against
from station.care.state import Container, PositionState
from station.care.thaw import FAR, is_thawing, leave_by, may_leave
from station.care.words import Limit, Stage, Storage


def usable_instead(floor: Floor, container: Container, position_id: str | None) -> Container | None:
    """The best other container of the same paste that may be used right now (at a position, where given).

    What already feeds the position comes first, then open ones, then what must be used soonest. Used paste comes
    last, and only at a position: nobody is sent across the plant for it, or kept from a fresh container by it. Nor
    by what is mounted in a dispenser, which is at work where it is.
    """
    place = floor.position(position_id) if position_id else None
    feeding = _feeding(place)
    shelved = floor.storage(container) is Storage.ROOM
    others = (
        other
        for other in floor.alive()
        # what lies in the cold and never was out can't be ready: said first, as most of a large store is that
        if (shelved or other.out_from is not None or other.opened_at is not None)
        and other.paste == container.paste
        and other.id != container.id
        and floor.stage(other) in (Stage.READY, Stage.OPEN)
        and (place is not None or not (_is_used(other) or floor.mounted_at(other.id)))
        and not against(floor, other, place)
    )
    return min(others, key=lambda other: (other.id != feeding, _is_used(other), *_urgency(floor, other)), default=None)


def _feeding(place: PositionState | None) -> str | None:
    if place is None:
        return None
    if place.mounted is not None:
        return place.mounted.container
    return place.bead.feeding if place.bead is not None else None


def _is_used(container: Container) -> bool:
    return container.content_limit is Limit.USED_PASTE


def _urgency(floor: Floor, container: Container) -> tuple[bool, datetime, str]:
    standing = floor.standing(container)
    return (standing.stage is not Stage.OPEN, standing.discard_by or FAR, container.id)


def better_take_out(floor: Floor, container: Container) -> Container | None:
    """A container of the same paste that should be used before `container` leaves the cold.

    First what is ready or open anywhere, then older cold ones of the same kind (first expired, first out).
    """
    out = usable_instead(floor, container, None)
    if out is not None:
        return out
    sooner = (
        other
        for other in _in_the_cold(floor)
        if other.id != container.id
        and (other.paste, other.kind) == (container.paste, container.kind)
        and _goes_before(other, container)
    )
    return min(sooner, key=lambda other: (not is_thawing(other), leave_by(other), other.id), default=None)


def _goes_before(other: Container, container: Container) -> bool:
    """What has thawed goes before anything still in the freezer, and otherwise what must go sooner."""
    if is_thawing(other) is is_thawing(container):
        return leave_by(other) < leave_by(container)
    return is_thawing(other)


def _in_the_cold(floor: Floor) -> Iterator[Container]:
    """What lies in the cold and could be taken out now."""
    return (
        other
        for other in floor.alive()
        if floor.stage(other) is Stage.COLD
        and floor.is_set_up(other)
        and not other.held
        and other.sighted_warm_at is None
        and not other.on_its_way
        and may_leave(floor, other)
        and leave_by(other) >= floor.moment_of(other).ages
    )


def take_next(floor: Floor, store: str, most: int) -> tuple[Container, ...]:
    """The containers to take out of a store next: one line per paste and kind, first expired first."""
    cold = sorted(
        (other for other in _in_the_cold(floor) if other.store == store),
        key=lambda other: (leave_by(other), other.id),
    )
    firsts: dict[tuple[str, str], Container] = {}
    for other in cold:
        firsts.setdefault((other.paste, other.kind), other)
    return tuple(firsts.values())[:most]
