"""Minutes a container lay in a store that was too warm, taken off its time out of the cold: each minute once.

What was charged is kept as a union of times, so that imports in any order, overlapping or repeated, come to the same.
"""

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime, timedelta

from station.care import facts as f
from station.care.moments import NOTHING, minute_up_span
from station.care.state import Container

Times = tuple[tuple[datetime, datetime], ...]


def charged(container: Container, body: f.WarmCharged) -> Container:
    """With these minutes charged. Its room end, where it runs already, moves earlier by whole minutes, rounded up."""
    times = union((*container.charged, (body.start, body.end)))
    before, after = length(container.charged), length(times)
    earlier = minute_up_span(after) - minute_up_span(before)
    end = container.room_end
    return replace(
        container,
        charged=times,
        warm_spent=container.warm_spent + (after - before),
        room_end=None if end is None else end - earlier,
    )


def union(times: Iterable[tuple[datetime, datetime]]) -> Times:
    """The times in order, those that touch made one."""
    joined: list[tuple[datetime, datetime]] = []
    for start, end in sorted(times):
        if joined and start <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(end, joined[-1][1]))
        else:
            joined.append((start, end))
    return tuple(joined)


def length(times: Times) -> timedelta:
    """How long times that stand apart are together."""
    return sum((end - start for start, end in times), NOTHING)


def covers(times: Times, start: datetime, end: datetime) -> bool:
    """Whether one of the times holds all of this one."""
    return any(first <= start and end <= last for first, last in times)
