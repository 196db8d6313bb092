"""The thread that speaks to a print service, so that no window waits for it.

It waits for programs with a time limit, never for the service itself. Each label is handed over once. What became of
it is told as news: sent, failed, or unknown; nothing is ever sent again without somebody asking.
"""

import logging
import queue
import threading
from collections import deque
from dataclasses import dataclass, replace
from typing import TypeVar

from station.labels.faults import LabelFault
from station.labels.target import Fate, PrintNews
from station.printing.spooler import Drawn, Spooler, UnknownFate

T = TypeVar("T")
LOG = logging.getLogger(__name__)
FAULT = "A fault in the program while the label was handed over. Tell the process engineer."
MAY_COME = "If it still comes out, use it, unless a newer one was printed."


@dataclass(frozen=True, slots=True)
class Patience:
    """How often to look, in seconds: at jobs that wait, and at the queue when none does; and when to give a job up.

    A job is taken back once it was looked at `most_looks` times and still waited; its delay is said from `slow_looks`.
    """

    look_every_s: float = 2.0
    idle_every_s: float = 30.0
    slow_looks: int = 3
    most_looks: int = 30

    def giving_up_after(self, seconds: float) -> "Patience":
        """The same, taking a job back after about this long."""
        return replace(self, most_looks=max(1, round(seconds / self.look_every_s)))


@dataclass(slots=True)
class _Waiting:
    """A job that the service has and no printer took yet."""

    ticket: str
    job: str
    looks: int = 0


@dataclass(frozen=True, slots=True)
class Earlier:
    """A label that an earlier run handed over as `job`, or perhaps handed over, where `job` is ""."""

    ticket: str
    job: str


class PrintWorker:
    """Hands labels to `spooler`, one after another, and watches what becomes of them."""

    def __init__(self, spooler: Spooler, patience: Patience) -> None:
        """Starts the thread, which looks at the queue at once. `news` is what it tells."""
        self.news: queue.SimpleQueue[PrintNews] = queue.SimpleQueue()
        self._spooler, self._patience = spooler, patience
        self._line: queue.SimpleQueue[Drawn | Earlier | None] = queue.SimpleQueue()
        self._waiting: deque[_Waiting] = deque()
        self._given_up: list[str] = []
        self._trouble = ""
        self._warnings: tuple[str, ...] | None = None
        self._closed = threading.Event()
        self._thread = threading.Thread(target=self._work, name=f"printing on {spooler.name}", daemon=True)
        self._thread.start()

    def put(self, label: Drawn) -> None:
        """Put a label in line. Its title is the ticket of its news."""
        self._line.put(label)

    def look_for(self, label: Earlier) -> None:
        """Have a label of an earlier run looked at, as if it had been handed over in this one."""
        self._line.put(label)

    def trouble(self) -> str:
        """What stands against printing at this moment, in a sentence; "" where nothing is known."""
        return self._trouble or " ".join(self._warnings or ())

    def close(self) -> None:
        """End the thread and whatever it runs."""
        self._closed.set()
        self._spooler.close()
        self._line.put(None)
        self._thread.join()

    # ------------------------------------------------------------------ in the thread

    def _work(self) -> None:
        label: Drawn | Earlier | None = None
        while not self._closed.is_set():
            try:
                if label is None:
                    self._look()
                elif isinstance(label, Earlier):
                    self._take_up(label)
                else:
                    self._hand_over(label)
            except Exception:  # one label lost must not silence all that come after it
                LOG.exception("printing")
                if isinstance(label, Drawn):
                    self._tell(label.title, Fate.UNKNOWN, f"{FAULT} {MAY_COME}", first=True)
            label = self._next()

    def _next(self) -> Drawn | Earlier | None:
        """The next label in line; None when it is time to look around."""
        busy = self._waiting or self._trouble
        pause = self._patience.look_every_s if busy else self._patience.idle_every_s
        try:
            return self._line.get(timeout=pause)
        except queue.Empty:
            return None

    def _look(self) -> None:
        if not self._waiting:
            self._look_at_queue()
        for waiting in tuple(self._waiting):
            self._look_at(waiting)

    def _look_at_queue(self) -> LabelFault | None:
        found = self._spooler.trouble()
        self._trouble = found.sentence if found is not None else ""
        while found is None and self._given_up:
            self._spooler.cancel(self._given_up.pop())
        if found is None and self._warnings is None:
            try:
                self._warnings = self._spooler.warnings()
            except LabelFault as fault:
                self._trouble = fault.sentence
        return found

    def _hand_over(self, label: Drawn) -> None:
        found = self._look_at_queue()
        if found is not None:
            # what stood in line behind it met the same trouble, and must not come out later as a surprise
            self._fail(label, found)
            for other in drained(self._line):
                if isinstance(other, Earlier):
                    self._take_up(other)
                elif other is not None:
                    self._fail(other, found)
            return
        try:
            job = self._spooler.hand_over(label)
        except UnknownFate as unknown:
            self._tell(label.title, Fate.UNKNOWN, f"{unknown.sentence} {MAY_COME}", first=True)
        except LabelFault as fault:
            self._fail(label, fault)
        else:
            self._waiting.append(_Waiting(label.title, job))
            self._tell(label.title, Fate.SENT, f"printer {self._spooler.name}, job {job}", first=True, job=job)

    def _take_up(self, label: Earlier) -> None:
        """Watch the job of an earlier run; where none is on record, one that waits under the label's title."""
        if label.job:
            self._waiting.append(_Waiting(label.ticket, label.job))
            return
        try:
            job = self._spooler.find(label.ticket)
        except LabelFault as fault:  # whoever asked has been told that nobody knows
            self._trouble = fault.sentence
            return
        if job is not None:
            self._waiting.append(_Waiting(label.ticket, job))
            found = f"printer {self._spooler.name}, job {job}, found there at the next start"
            self._tell(label.ticket, Fate.SENT, found, first=False, job=job)

    def _look_at(self, waiting: _Waiting) -> None:
        waiting.looks += 1
        try:
            seen = self._spooler.look(waiting.job, waiting.ticket)
        except LabelFault as fault:
            self._trouble = fault.sentence
            if waiting.looks >= self._patience.most_looks:
                self._end(waiting, Fate.UNKNOWN, f"{fault.sentence} {MAY_COME}")
            return
        if seen.dropped:
            why = f"The print service gave the label up{_quoted(seen.words)}. Look at the printer."
            self._end(waiting, Fate.FAILED, why)
        elif not seen.waiting:
            self._waiting.remove(waiting)
            self._look_at_queue()
        else:
            self._still_waits(waiting, seen.words)

    def _still_waits(self, waiting: _Waiting, words: str) -> None:
        trouble = self._spooler.trouble()
        slow = waiting.looks >= self._patience.slow_looks
        delayed = f"The printer of queue {self._spooler.name} does not take the label{_quoted(words)}. "
        told = trouble.sentence if trouble is not None else f"{delayed}Look at its power switch and its cable."
        self._trouble = told if trouble is not None or slow else ""
        if waiting.looks < self._patience.most_looks:
            return
        if self._spooler.cancel(waiting.job):
            self._end(waiting, Fate.FAILED, f"{told} The label waited too long and was taken back. {MAY_COME}")
        else:
            self._end(waiting, Fate.UNKNOWN, f"{told} The label waited too long, and can't be taken back. {MAY_COME}")

    def _end(self, waiting: _Waiting, fate: Fate, sentence: str) -> None:
        self._waiting.remove(waiting)
        if fate is Fate.UNKNOWN:  # the service is asked once more when it answers again
            self._given_up.append(waiting.job)
        self._tell(waiting.ticket, fate, sentence, first=False)

    def _fail(self, label: Drawn, fault: LabelFault) -> None:
        self._tell(label.title, Fate.FAILED, fault.sentence, first=True)

    def _tell(self, ticket: str, fate: Fate, sentence: str, *, first: bool, job: str = "") -> None:
        if not self._closed.is_set():
            self.news.put(PrintNews(ticket, fate, sentence, first, job))


def _quoted(words: str) -> str:
    return f' ("{words}")' if words else ""


def drained(line: "queue.SimpleQueue[T]") -> "list[T]":
    """Everything that is in it now; never waits."""
    found = []
    while True:
        try:
            found.append(line.get_nowait())
        except queue.Empty:
            return found
