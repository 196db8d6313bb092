"""What a label is sent to. A printer, a folder and a test's list all keep this one promise."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Protocol, runtime_checkable

from station.labels.content import LabelContent


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


class Fate(StrEnum):
    """What is known of a label that was handed over. Only its first scan proves that it exists."""

    SENT = "sent"
    FAILED = "failed"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class PrintNews:
    """What became of the label of one ticket. `sentence` says where it went, or what hinders it and how to mend that.

    `first` is the answer to its hand-over; later news of the same ticket is not.
    """

    ticket: str
    fate: Fate
    sentence: str
    first: bool = True


@runtime_checkable
class SlowTarget(PrintTarget, Protocol):
    """A target that answers later, so that nobody waits: `send` returns a ticket, and `news` tells its fate."""

    def news(self) -> tuple[PrintNews, ...]:
        """What became known since it was asked last; never waits."""
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
