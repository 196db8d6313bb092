"""What a print service is asked and told, whichever it is: the one promise of the queues of Linux and of Windows."""

from dataclasses import dataclass, field
from typing import Protocol

from station.labels.faults import LabelFault


class UnknownFate(LabelFault):
    """Nobody can say whether the label was taken. It may still come out."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """A label drawn at `dpi` dots per inch, both as PDF and as PNG: services differ in what they take."""

    title: str
    dpi: int
    pdf: bytes = field(repr=False)
    png: bytes = field(repr=False)


@dataclass(frozen=True, slots=True)
class JobLook:
    """A job as the print service sees it. Not `waiting` says that it left, never that there is a label.

    `dropped` where the service gave it up or somebody cancelled it; `words` are the service's own, "" for none.
    """

    waiting: bool
    dropped: bool = False
    words: str = ""


class Spooler(Protocol):
    """A queue of a print service. Every call may take as long as its time limit, so none is made by a window."""

    @property
    def name(self) -> str:
        """The queue."""
        ...

    def trouble(self) -> LabelFault | None:
        """Why the queue would not print now, None where it says nothing against it."""
        ...

    def hand_over(self, label: Drawn) -> str:
        """Give a label to the queue; returns the job's id. LabelFault where it was not taken, or UnknownFate."""
        ...

    def look(self, job: str, title: str) -> JobLook:
        """How the job of the label with this title stands. LabelFault where the service does not answer."""
        ...

    def find(self, title: str) -> str | None:
        """The job that waits with a label of this title, None where none is seen. LabelFault as for `look`."""
        ...

    def cancel(self, job: str) -> bool:
        """Take the job back; False where the service did not say that it did."""
        ...

    def warnings(self) -> tuple[str, ...]:
        """What in the queue's settings does not go with the label, a sentence each. LabelFault as for `look`."""
        ...

    def close(self) -> None:
        """Give up the call that is under way, and make no other."""
        ...
