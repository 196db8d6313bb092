"""Long work beside the window that says how far it is, and ends when nobody wants it any more."""

from collections.abc import Callable
from threading import Event

from PySide6.QtCore import QObject, Signal

from station.care.pace import Pace
from station.ui.warm_up.errand import Errand

BREATH_SECONDS = 0.001  # between two stretches of work: the window's thread has its turn then


class Stopped(Exception):
    """Whoever had it begun has left."""


class PacedErrand(Errand):
    """An errand whose `work` is given a pace to tell; `paced` says in words how far it is.

    After `stop` it ends at the next word of its work, and `told` hands over None.
    """

    paced = Signal(str)

    def __init__(self, work: Callable[[Pace], object], parent: QObject | None = None) -> None:
        """Nothing is done before `start`."""
        super().__init__(lambda: self._done(work), parent)
        self._stop = Event()

    def stop(self) -> None:
        """Nobody wants it any more."""
        self._stop.set()

    def _done(self, work: Callable[[Pace], object]) -> object:
        try:
            return work(self._pace)
        except Stopped:
            return None

    def _pace(self, what: str, done: int, whole: int) -> None:
        if self._stop.wait(BREATH_SECONDS):
            raise Stopped
        self.paced.emit(f"{what[:1].upper()}{what[1:]}: {100 * done // max(1, whole)} %")
