"""What the makers of forms need of whoever shows forms over a screen."""

from collections.abc import Callable
from typing import Protocol

from station.ui.dialogs.paper_dialog import PaperDialog


class Forms(Protocol):
    """Whoever shows forms over a screen and tells the station what they say."""

    def open(self, kind: str, rest: str) -> None:
        """Open the form of an act."""
        ...

    def lay(self, dialog: PaperDialog) -> None:
        """Lay a form over the screen, or over the one that asks for it."""
        ...

    def tell(self, act: Callable[[], object]) -> bool:
        """Do an act of the form that is open; a refusal is said in it. Whether it was done."""
        ...

    def people(self) -> dict[str, str]:
        """Names by badge."""
        ...
