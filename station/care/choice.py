"""Which container to use or take instead: open ones first, then ready ones, then the oldest in the cold."""

from datetime import UTC, datetime

from station.care.floor import Floor
from station.care.reasons import against
from station.care.state import Container
from station.care.words import Stage

FAR = datetime.max.replace(tzinfo=UTC)


def usable_instead(floor: Floor, container: Container, position_id: str | None) -> Container | None:
    """The best other container of the same paste that may be used right now (at a position, where given).

    What already feeds the position comes first, then open ones, then what must be used soonest.
    """
    place = floor.position(position_id) if position_id else None
    feeding = place.bead.feeding if place is not None and place.bead is not None else None
    others = (
        other
        for other in floor.alive()
        if other.id != container.id
        and other.paste == container.paste
        and floor.stage(other) in (Stage.READY, Stage.OPEN)
        and not against(floor, other, place)
    )
    return min(others, key=lambda other: (other.id != feeding, *_urgency(floor, other)), default=None)


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
    expires = container.shelf_end or FAR
    older = (
        other
        for other in floor.alive()
        if other.id != container.id
        and (other.paste, other.kind) == (container.paste, container.kind)
        and floor.stage(other) is Stage.COLD
        and not other.held
        and (other.shelf_end or FAR) < expires
        and (other.shelf_end or FAR) >= floor.moment.ages
    )
    return min(older, key=lambda other: (other.shelf_end or FAR, other.id), default=None)


def take_next(floor: Floor, store: str, most: int) -> tuple[Container, ...]:
    """The containers to take out of a store next: one line per paste and kind, first expired first."""
    cold = sorted(
        (
            other
            for other in floor.alive()
            if other.store == store
            and floor.stage(other) is Stage.COLD
            and not other.held
            and (other.shelf_end or FAR) >= floor.moment.ages
        ),
        key=lambda other: (other.shelf_end or FAR, other.id),
    )
    firsts: dict[tuple[str, str], Container] = {}
    for other in cold:
        firsts.setdefault((other.paste, other.kind), other)
    return tuple(firsts.values())[:most]
