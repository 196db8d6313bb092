"""When the limits of each container pass next, kept up to date as facts come in.

A tick then looks only at what can be overdue: with thousands of containers in the cold, looking at every one each
second, and at each scan, would keep the screen from answering.
"""

from collections.abc import Iterable
from datetime import datetime

from station.care.due import container_end
from station.care.floor import Floor
from station.care.ledger import Subject
from station.care.state import Container


class DueList:
    """The next end of every container that runs towards one."""

    def __init__(self) -> None:
        """Nothing runs."""
        self._ends: dict[str, datetime] = {}

    def learn(self, floor: Floor, changed: Iterable[Subject]) -> None:
        """Look again at the containers among the subjects that changed."""
        for kind, name in changed:
            if kind == "container":
                self._look(floor, name)

    def overdue(self, floor: Floor) -> tuple[Container, ...]:
        """The containers with a limit that has passed and has no alarm yet."""
        now = floor.moment.ages
        return tuple(floor.ledger.containers[name] for name, end in self._ends.items() if now > end)

    def _look(self, floor: Floor, name: str) -> None:
        container = floor.container(name)
        end = container_end(floor, container) if container is not None and container.ended is None else None
        if end is None:
            self._ends.pop(name, None)
        else:
            self._ends[name] = end
