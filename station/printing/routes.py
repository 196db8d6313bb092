"""Several places for labels: a jar's roll in one printer, the flags for syringes in another."""

from collections.abc import Sequence

from station.labels.content import LabelContent
from station.labels.target import PrintNews, PrintTarget, SlowTarget
from station.services.site import LabelRule


class LabelRoutes:
    """The usual target, and others that rules name; the first rule that fits counts."""

    def __init__(self, usual: PrintTarget, others: Sequence[tuple[LabelRule, PrintTarget]]) -> None:
        """Each is closed with this one."""
        self._usual, self._others = usual, tuple(others)
        self._all = tuple(dict.fromkeys((usual, *(target for _, target in others))))
        self._slow = tuple(target for target in self._all if isinstance(target, SlowTarget))

    @property
    def name(self) -> str:
        """All of them, by the names people know."""
        return ", ".join(dict.fromkeys(target.name for target in self._all))

    def target_of(self, kind: str, place: str) -> PrintTarget:
        """Where the labels of this container kind go, when they are asked for at this place."""
        fitting = (target for rule, target in self._others if rule.is_for(kind, place))
        return next(fitting, self._usual)

    def send(self, content: LabelContent) -> str:
        """To the usual target, for whoever knows neither kind nor place."""
        return self._usual.send(content)

    def look_for(self, container: str, number: int, job: str) -> str:
        """Ask all queues: only the one that has the job has anything to tell."""
        tickets = [target.look_for(container, number, job) for target in self._slow]
        return tickets[-1] if tickets else ""

    def news(self) -> tuple[PrintNews, ...]:
        """What became known since it was asked last; never waits."""
        return tuple(piece for target in self._slow for piece in target.news())

    def last_news(self, within_s: float) -> tuple[PrintNews, ...]:
        """Wait at most so many seconds for each label in line, at the end of the program."""
        return tuple(piece for target in self._slow for piece in target.last_news(within_s))

    def trouble(self) -> str:
        """What stands against printing at this moment, a sentence for each printer."""
        return " ".join(dict.fromkeys(filter(None, (target.trouble() for target in self._slow))))

    def close(self) -> None:
        """Let go of everything."""
        for target in self._slow:
            target.close()
