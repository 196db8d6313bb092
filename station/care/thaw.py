"""Frozen paste on its way through a refrigerator: whether it thaws, whether it has, and how long it may stay there.

A container that thaws counts as cold. The time between freezer and refrigerator counts as time out of the cold, that
in the refrigerator does not: it has a longest of its own. At the door nothing is rounded in the paste's favour, so a
thaw whose least and most are the same may leave no minute; then a shift lead decides.
"""

from datetime import UTC, datetime

from station.care.floor import Floor
from station.care.state import Container

FAR = datetime.max.replace(tzinfo=UTC)


def is_thawing(container: Container) -> bool:
    """Whether it has left the freezer and not yet gone to the room; still so once it may."""
    return container.thaw_key is not None and not container.has_been_out and container.ended is None


def has_thawed(floor: Floor, container: Container) -> bool:
    """Whether its least time in the refrigerator is over; while the clock is in doubt nothing newly is."""
    until = container.thaw_not_before
    return until is not None and floor.moment_of(container).warms >= until


def may_leave(floor: Floor, container: Container) -> bool:
    """Whether a cold container could be taken to the room now, as far as thawing goes."""
    return not is_thawing(container) or (container.store is not None and has_thawed(floor, container))


def leave_by(container: Container) -> datetime:
    """The last minute at which a cold container may leave for the room."""
    return min(container.thaw_not_after or FAR, container.shelf_end or FAR)
