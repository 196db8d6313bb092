"""Work that would hold up the window, done beside it: one piece at a time, its answer told on the window's thread."""

import logging
from collections.abc import Callable

from PySide6.QtCore import QObject, QThread, Signal

LOG = logging.getLogger(__name__)


class Errand(QThread):
    """Does `work` once when started; `told` hands its answer over, None where it failed in a way nobody foresaw.

    `work` must touch no widget.
    """

    told = Signal(object)

    def __init__(self, work: Callable[[], object], parent: QObject | None = None) -> None:
        """Nothing is done before `start`."""
        super().__init__(parent)
        self._work = work

    def run(self) -> None:
        """Do it; Qt calls this on the other thread."""
        answer: object = None
        try:
            answer = self._work()
        except Exception:
            LOG.exception("an errand failed")
        self.told.emit(answer)
