"""From the last key of a scan to the painted answer, on a real display: a bare window first, then the station's.

Run as a module on an X display; writes one JSON object with the milliseconds of each scan. Both windows are timed the
same way: from the moment the program sees the Enter key until its window has been painted and handed to the server.
"""

import json
import subprocess
import sys
from collections.abc import Callable, Iterator
from datetime import timedelta
from os import environ
from time import perf_counter

from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QWindow
from PySide6.QtWidgets import QApplication, QLabel, QWidget

from station.bootstrap import DEMO_KEYS
from station.labels.containercode import container_numbers, pack_container
from station.ui.app import Running, application
from station.ui.view_models import HealthMark
from tests.scanning.display.keyboard import Keyboard
from tests.scanning.display.server import ENTER, key_names

from .crowd import crowded_station

SCANS = 100
BETWEEN_MS = 150
WIDTH, HEIGHT = 1024, 768


class Round(QObject):
    """Scans one text after the other into a window, and times each until the window is painted."""

    def __init__(self, app: QApplication, texts: list[str], before: Callable[[], None]) -> None:
        super().__init__()
        self.milliseconds: list[float] = []
        self._app, self._texts, self._before = app, iter(texts), before
        self._keyboard = Keyboard(environ["DISPLAY"])
        self._began: float | None = None
        self._answered = False

    def run(self, window: QWidget) -> list[float]:
        """Everything, one scan at a time; milliseconds of each."""
        window.setGeometry(0, 0, WIDTH, HEIGHT)
        window.show()
        focus = ("xdotool", "windowfocus", "--sync", str(int(window.winId())))
        subprocess.run(focus, check=True, capture_output=True, timeout=30)
        self._app.installEventFilter(self)
        QTimer.singleShot(BETWEEN_MS, self._next)
        self._app.exec()
        self._app.removeEventFilter(self)
        self._keyboard.close()
        window.hide()
        return self.milliseconds

    def answered(self) -> None:
        """The program has made up its answer; the next painting shows it."""
        self._answered = True

    def _next(self) -> None:
        text = next(self._texts, None)
        if text is None:
            self._app.quit()
            return
        self._before()
        self._began, self._answered = None, False
        self._keyboard.press([*key_names(text), ENTER], 1)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802  as Qt calls it
        """See the Enter key come and the painting that follows the answer."""
        if isinstance(event, QKeyEvent) and isinstance(watched, QWindow) and event.key() == Qt.Key.Key_Return:
            if event.type() == QEvent.Type.KeyPress and self._began is None:
                self._began = perf_counter()
        elif event.type() == QEvent.Type.Paint and self._answered:
            self._answered = False
            QTimer.singleShot(0, self._painted)  # comes after all parts are painted and flushed
        return False

    def _painted(self) -> None:
        if self._began is not None:
            self.milliseconds.append((perf_counter() - self._began) * 1000)
            self._began = None
        QTimer.singleShot(BETWEEN_MS, self._next)


class Bare(QLabel):
    """The least a window can do: a large text that changes with every Enter."""

    def __init__(self) -> None:
        super().__init__("0")
        self.told: Callable[[], None] = lambda: None

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802  Qt's name
        """Another text for every Enter."""
        if event.key() == Qt.Key.Key_Return:
            self.setText(str(int(self.text()) + 1))
            self.told()


def bare(app: QApplication) -> list[float]:
    """Milliseconds of a bare window."""
    window = Bare()
    window.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    measured = Round(app, ["V1"] * SCANS, lambda: None)
    window.told = measured.answered
    return measured.run(window)


def crowded(app: QApplication) -> list[float]:
    """Milliseconds of the station with its live containers, each scan of another one, at the printer."""
    station, clock = crowded_station()
    station.place = "LINE1"
    running = Running(app, station, station.tick())
    running.work.health = {"scanner": HealthMark("Scanner", True, "listening")}
    measured = Round(app, list(_codes()), lambda: clock.go_on(timedelta(seconds=1)))
    running.wedge.scanned.connect(measured.answered)  # after the window's own slot
    found = measured.run(running.window)
    running.sound.stop()
    return found


def _codes() -> Iterator[str]:
    return (pack_container(*container_numbers(f"K1-{number:03d}"), DEMO_KEYS) for number in range(500, 500 + SCANS))


def main() -> int:
    """Both, in one run."""
    app = application()
    app.setQuitOnLastWindowClosed(False)
    sys.stdout.write(json.dumps({"bare": bare(app), "crowded": crowded(app)}) + "\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
