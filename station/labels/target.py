"""What a label is sent to. A printer, a folder and a test's list all keep this one promise."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Protocol, runtime_checkable

from station.labels.content import LabelContent
from station.labels.sheet_codes import SheetCode


class PrintTarget(Protocol):
    """Somewhere a finished label can go, at one template and one resolution."""

    @property
    def name(self) -> str:
        """How people know it: `labels folder`, or the printer's name."""
        ...

    def send(self, content: LabelContent) -> str:
        """Render, check and hand over one label; returns where it went. Sent is all this says, never printed.

        LabelFault where the label does not fit or read back, or is not taken; nothing was sent then.
        """
        ...


@runtime_checkable
class CardPrinter(Protocol):
    """A target that also takes cards, badges and tags, each on a label of its own."""

    def send_card(self, code: SheetCode) -> str:
        """Render, check and hand over one; returns where it went. LabelFault as from `send`."""
        ...


@runtime_checkable
class Routes(Protocol):
    """Several targets, one of which takes the labels of a kind of container at a place."""

    def target_of(self, kind: str, place: str) -> PrintTarget:
        """Where the labels of this container kind go, when they are asked for at this place."""
        ...


def taker_of(target: PrintTarget, kind: str, place: str) -> PrintTarget:
    """The target itself, or the one of its several that is for these labels."""
    return target.target_of(kind, place) if isinstance(target, Routes) else target


class Fate(StrEnum):
    """What is known of a label that was handed over. Only its first scan proves that it exists."""

    SENT = "sent"
    FAILED = "failed"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class PrintNews:
    """What became of the label of one ticket. `sentence` says where it went, or what hinders it and how to mend that.

    `first` is the answer to its hand-over; later news of the same ticket is not. `job` is what the print service calls
    a label that was sent, by which an earlier run's labels are asked for.
    """

    ticket: str
    fate: Fate
    sentence: str
    first: bool = True
    job: str = ""


@runtime_checkable
class SlowTarget(PrintTarget, Protocol):
    """A target that answers later, so that nobody waits: `send` returns a ticket, and `news` tells its fate."""

    def news(self) -> tuple[PrintNews, ...]:
        """What became known since it was asked last; never waits."""
        ...

    def look_for(self, container: str, number: int, job: str) -> str:
        """Find out what became of a label that an earlier run handed over; returns the ticket of its news.

        Without `job` nobody knows whether it was handed over at all. Nothing is sent again, and no news is no answer.
        """
        ...

    def last_news(self, within_s: float) -> tuple[PrintNews, ...]:
        """Wait at most so many seconds for each label in line, at the end of the program."""
        ...

    def trouble(self) -> str:
        """What stands against printing at this moment, in a sentence; "" where nothing is known."""
        ...

    def close(self) -> None:
        """Let go of everything."""
        ...
