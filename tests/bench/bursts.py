"""A program that listens for a scanner while its window is kept busy with labels, and a thread beside it with reports.
Run as a module on an X display.

The argument names the file where it writes, once the mark key has come, what it heard, what it found incomplete, how
many reports were built meanwhile, and for each burst the longest pause between two of its keys, at its head and in
the whole, by the server's own stamps.
"""

import json
import sys
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise
from pathlib import Path
from threading import Event, Thread

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QWindow
from PySide6.QtWidgets import QPushButton

from station.labels.builtin import builtin_templates
from station.labels.raster import render
from station.reports.asked import Asked, Made
from station.reports.building import build
from station.scanning.stream import WedgeTiming
from station.scanning.wedge import WedgeFilter
from station.ui.app import application
from tests.labels.samples import content

from .crowd import START, crowded_station

LABELS_A_TURN = 8  # a few tenths of a second without a look at the keyboard
SETTLED_MS = 1000
HEAD = WedgeTiming().shortest_run


class Pauses(QObject):
    """The longest pauses within each burst, in milliseconds; a server that is starved breaks bursts itself."""

    marked = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.longest_ms: list[tuple[int, int]] = []
        self._stamps_ms: list[int] = []

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802  as Qt calls it
        """Look at each key as it comes."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress and isinstance(watched, QWindow):
            self._look(event)
        return False

    def _look(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_ScrollLock:
            self.marked.emit()
            return
        if event.key() == Qt.Key.Key_Shift:
            return  # the pause before a character counts, wherever Shift comes in it
        self._stamps_ms.append(event.timestamp())
        if event.key() == Qt.Key.Key_Return:
            pauses = [after - before for before, after in pairwise(self._stamps_ms)]
            self.longest_ms.append((max(pauses[:HEAD], default=0), max(pauses, default=0)))
            self._stamps_ms = []


class Reports(Thread):
    """Builds one report after another, as the shift desk does: in a thread of its own, on a copy of the ledger."""

    def __init__(self) -> None:
        super().__init__(name="reports", daemon=True)
        self.built = 0
        self.over = Event()
        station, _ = crowded_station(500)
        floor = station.floor()
        self._asked = Asked(
            replace(floor, ledger=floor.ledger.copied()),
            Made("P20", floor.now, "bench", station.head()),
            START - timedelta(days=1),
            floor.now + timedelta(days=1),
        )

    def run(self) -> None:
        """Until it is over."""
        while not self.over.is_set():
            for name in ("stock", "waste", "response"):
                build(name, self._asked)
                self.built += 1


def main(target: Path) -> int:
    """Listen and work until the mark."""
    reports = Reports()
    app = application()
    wedge, pauses = WedgeFilter(WedgeTiming(), app), Pauses()
    app.installEventFilter(wedge)
    app.installEventFilter(pauses)
    scans: list[str] = []
    incomplete: list[str] = []
    wedge.scanned.connect(lambda heard: scans.append(heard.by_place))
    wedge.incomplete.connect(incomplete.append)
    pauses.marked.connect(lambda: QTimer.singleShot(SETTLED_MS, app.quit))
    button = QPushButton("Discard")
    button.show()
    template, told = builtin_templates()["60x40"], content()
    work = QTimer()
    work.timeout.connect(lambda: [render(template, told, 600) for _ in range(LABELS_A_TURN)])
    work.start(0)
    reports.start()
    sys.stdout.write(f"{int(button.winId())}\n")
    sys.stdout.flush()
    code = app.exec()
    reports.over.set()
    found: dict[str, object] = {"scans": scans, "incomplete": incomplete, "longest_ms": pauses.longest_ms}
    found["reports"] = reports.built
    target.write_text(json.dumps(found), encoding="utf-8")
    return code


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
