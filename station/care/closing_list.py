"""What to do before a line closes: what will have passed before anybody is back, what is held, what is unpaired.

`opens` is when work starts again and `closes` when it stops (aware UTC). A row's `since` is the instant it passes.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from station.care.day_list import DayRow, hold_rows, pairing_rows, restored_rows
from station.care.floor import Floor
from station.care.limits import until_away
from station.care.saying import opening, spot
from station.care.state import Bead, Container
from station.care.stock import where
from station.care.words import Limit

Running = tuple[Limit, datetime]


@dataclass(frozen=True, slots=True)
class Passing:
    """Something that will not last until work starts again. `at` is its last usable minute (aware UTC)."""

    subject: str
    what: str
    limit: Limit
    at: datetime
    todo: str


@dataclass(frozen=True, slots=True)
class Closing:
    """The closing list. `at_lines` are beads and what is mounted, `containers` lie elsewhere; what passes first first.

    What has passed already is an alarm, and stands in the day list.
    """

    at_lines: tuple[Passing, ...]
    containers: tuple[Passing, ...]
    held: tuple[DayRow, ...]
    unpaired: tuple[DayRow, ...]

    @property
    def nothing(self) -> bool:
        """Whether the line may be left as it is."""
        return not (self.at_lines or self.containers or self.held or self.unpaired)


def closing_list(floor: Floor, until: datetime, closes: datetime | None = None) -> Closing:
    """What to see to before work stops (at `closes`, by default now) so that nothing passes before `until`."""
    stops = floor.now if closes is None else closes
    at_lines = (*_beads(floor, until, stops), *_mounted(floor, until))
    return Closing(
        at_lines=tuple(sorted(at_lines, key=_first)),
        containers=tuple(sorted(_containers(floor, until), key=_first)),
        held=(*hold_rows(floor), *restored_rows(floor)),
        unpaired=(*pairing_rows(floor, swapped=True), *pairing_rows(floor, swapped=False)),
    )


def _first(passing: Passing) -> tuple[datetime, str]:
    return passing.at, passing.subject


def _beads(floor: Floor, until: datetime, stops: datetime) -> Iterator[Passing]:
    for place, bead in floor.beads():
        limit, end = min((floor.bead_end(bead), _paused_too_long(floor, bead, stops)), key=lambda one: one[1])
        if end < until:
            todo = "Use it up or scrape it off before you leave, and record REMOVE."
            yield Passing(place.id, f"Bead on {spot(place.id)}", limit, end, todo)


def _paused_too_long(floor: Floor, bead: Bead, stops: datetime) -> Running:
    """A bead that nobody works on is replaced after a pause, which begins when work stops at the latest."""
    paused = stops if bead.paused_at is None else min(stops, bead.paused_at)
    return Limit.PAUSE, paused + floor.pauses(bead)[1]


def _mounted(floor: Floor, until: datetime) -> Iterator[Passing]:
    for place in floor.ledger.positions.values():
        container = floor.container(place.mounted.container) if place.mounted is not None else None
        passing = _passes(floor, container, until) if container is not None else None
        if container is not None and passing is not None:
            todo = "Take it off before you leave, and record DISMOUNT."
            yield Passing(container.id, f"{container.spoken} on {spot(place.id)}", *passing, todo)


def _containers(floor: Floor, until: datetime) -> Iterator[Passing]:
    for container in floor.alive():
        passing = _passes(floor, container, until)
        if passing is None or floor.mounted_at(container.id):
            continue
        limit, end = passing
        yield Passing(container.id, f"{container.spoken} {container.paste}", limit, end, _todo(floor, container, limit))


def _passes(floor: Floor, container: Container, until: datetime) -> Running | None:
    """The limit of a container that passes first, where it passes between now and `until`."""
    now = floor.moment_of(container).ages
    running = [*floor.standing(container).limits, *until_away(container)]
    if any(end < now for _, end in running):
        return None
    soon = [(limit, end) for limit, end in running if end < until]
    return min(soon, key=lambda one: one[1], default=None)


def _todo(floor: Floor, container: Container, limit: Limit) -> str:
    lies = f"{opening(where(floor, container))}."
    if limit is Limit.TO_COLD:
        return f"Put it into cold storage. {lies}"
    if limit is Limit.MOVE:
        return f"Put it away in a store. {lies}"
    if limit is Limit.THAW:
        return f"Take it out of the refrigerator before. {lies}"
    return f"Use it before, or discard it (DISCARD). {lies}"
