"""What a label is sent to. A printer, a folder and a test's list all keep this one promise."""

from typing import Protocol

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
