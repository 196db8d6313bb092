"""Labels between the asking and the answer: which were asked for, and what their target says became of each."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from station.care import facts as f
from station.care.facts import Body, Fact
from station.labels.target import Fate, PrintNews, PrintTarget, SlowTarget

# a ticket is kept this long for what may still be heard of it; a queue never holds so many labels
MOST_TICKETS = 1000
# at the end of the program, for each label still in line
LAST_WITHIN_S = 3.0
CUT_OFF = "The program ended before anybody knew whether the label left. If it came out, use it."

# no queue keeps a label longer than a long weekend; older jobs are of no use to anybody
LOOKED_FOR = timedelta(days=4)
MOST_LOOKED_FOR = 50

Print = tuple[str, int]


class Printouts:
    """One station's labels under way. A print is named by its container and number; 0 is the identity label."""

    def __init__(self, station: int) -> None:
        """Nothing asked for yet."""
        self._station = station
        self._asked: dict[Print, None] = {}
        self._jobs: dict[Print, tuple[str, datetime]] = {}
        self._tickets: dict[str, Print] = {}
        self._unsaid: list[Body] = []

    def heard(self, fact: Fact) -> None:
        """A fact of the journal: of this station's, what was asked and what was answered."""
        if fact.station != self._station:
            return
        match fact.body:
            case f.LabelAsked(container, number):
                self._asked[container, number] = None
            case f.LabelSent(container, number, job=job):
                self._asked.pop((container, number), None)
                self._keep(container, number, job, fact.at)
            case (
                f.LabelFailed(container, number)
                | f.LabelUnknown(container, number)
                | f.LabelConfirmed(container, number)
            ):
                self._asked.pop((container, number), None)
                self._jobs.pop((container, number), None)
            case _:
                return

    def left_open(self) -> Iterator[Body]:
        """What an earlier run of the program asked for and never had an answer to: unknown, and not sent again."""
        for container, number in tuple(self._asked):
            yield f.LabelUnknown(container, number, CUT_OFF)

    def look_again(self, target: PrintTarget, now: datetime) -> None:
        """At the start: have the labels of the run before looked for that nobody answered for or has scanned yet.

        Whatever is found out comes as news; what is not found stays as it is on record.
        """
        if not isinstance(target, SlowTarget):
            return
        sent = [(name, job) for name, (job, at) in self._jobs.items() if abs(now - at) <= LOOKED_FOR]
        open_ = [*sent, *((name, "") for name in self._asked)][-MOST_LOOKED_FOR:]
        for (container, number), job in open_:
            self.on_its_way(target.look_for(container, number, job), container, number)

    def on_its_way(self, ticket: str, container: str, number: int) -> None:
        """A label was put in line; its news will carry this ticket."""
        self._tickets[ticket] = (container, number)
        if len(self._tickets) > MOST_TICKETS:
            self._tickets.pop(next(iter(self._tickets)))

    def news(self, target: PrintTarget) -> tuple[Body, ...]:
        """What is known now and not yet on disk; `said` once it is."""
        if isinstance(target, SlowTarget):
            self._unsaid.extend(self._bodies(target.news()))
        return tuple(self._unsaid)

    def wait(self, target: PrintTarget) -> None:
        """At the end of the program: give labels still in line a short while, for the next `news`."""
        if isinstance(target, SlowTarget):
            self._unsaid.extend(self._bodies(target.last_news(LAST_WITHIN_S)))

    def said(self) -> None:
        """All of that is on disk."""
        self._unsaid.clear()

    def _keep(self, container: str, number: int, job: str, at: datetime) -> None:
        """The newest jobs, so that years of labels nobody scanned do not pile up."""
        self._jobs.pop((container, number), None)
        if job:
            self._jobs[container, number] = (job, at)
        if len(self._jobs) > MOST_LOOKED_FOR:
            self._jobs.pop(next(iter(self._jobs)))

    def _bodies(self, told: tuple[PrintNews, ...]) -> Iterator[Body]:
        known = [(self._tickets[piece.ticket], piece) for piece in told if piece.ticket in self._tickets]
        for (container, number), piece in known:
            match piece.fate:
                case Fate.SENT:
                    yield f.LabelSent(container, number, piece.sentence, piece.job)
                case Fate.FAILED:
                    yield f.LabelFailed(container, number, piece.sentence)
                case Fate.UNKNOWN:
                    yield f.LabelUnknown(container, number, piece.sentence)
