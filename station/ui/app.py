"""The Qt application: one QApplication with our fonts and the scanner's ear, around one window."""

import logging
import os
import sys
from collections.abc import Callable
from dataclasses import replace
from types import TracebackType
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from station.labels.resources import resource_path
from station.scanning.heard import HeardScan
from station.scanning.set_up import wedge_timing, without_additions
from station.scanning.wedge import WedgeFilter
from station.services.outcome import Outcome
from station.services.station import Station
from station.ui.code_sheet import CodeSection, CodeSheet
from station.ui.desk_work import DeskWork
from station.ui.sound import SoundDesk
from station.ui.theme import load_fonts
from station.ui.view_models import HealthMark
from station.ui.window import StationWindow

if TYPE_CHECKING:
    from station.scanning.serial_scanner import SerialScanner

LOG = logging.getLogger(__name__)
SHEET_WIDTH = 480


def application(*, offscreen: bool = False) -> QApplication:
    """The one QApplication, with the fonts that come with the program. Must exist before any label or window."""
    if offscreen:
        os.environ["QT_QPA_PLATFORM"] = "offscreen"
    found = QApplication.instance()
    app = found if isinstance(found, QApplication) else QApplication(sys.argv[:1])
    app.setApplicationName("thawmark")
    load_fonts(resource_path("fonts"))
    return app


class Running:
    """A window with everything that makes it live: the scanner's ear, sound, the sheet of codes to click."""

    def __init__(
        self, app: QApplication, station: Station, started: Outcome, sections: tuple[CodeSection, ...] = ()
    ) -> None:
        """Build all of it around a station that was `started`; `show` lets time run."""
        self.app = app
        self.work = DeskWork(station)
        self.work.started(started)
        self.work.health = {
            "scanner": HealthMark("Scanner", True, "listening"),
            "label": HealthMark("Labels", True, station.target.name),
            "disk": HealthMark("Record", True, "saved"),
        }
        self.sound = SoundDesk(resource_path("sounds"))
        self.window = StationWindow(self.work, self.sound)
        self.scanner: SerialScanner | None = None
        self.wedge = WedgeFilter(wedge_timing(station.site.scanner), app)
        app.installEventFilter(self.wedge)
        self.wedge.scanned.connect(self._heard)
        self.wedge.incomplete.connect(self.window.hear_incomplete)
        self.sheet = CodeSheet(sections) if sections else None
        if self.sheet is not None:
            self.sheet.picked.connect(self.window.hear_text)

    def listen_to(self, scanner: "SerialScanner") -> None:
        """Hear a serial scanner too, and show whether it is connected. One that types is heard all the same."""
        self.scanner = scanner
        # a line has no layout: what it says is taken as it stands
        scanner.scanned.connect(lambda heard: self._heard(replace(heard, by_place=heard.text)))
        scanner.incomplete.connect(self.window.hear_incomplete)
        scanner.health_changed.connect(self._scanner_health)
        scanner.start()

    def _heard(self, heard: HeardScan) -> None:
        """Every scan comes through here, whatever scanner it is from."""
        self.window.hear(without_additions(heard, self.work.station.site.scanner))

    def _scanner_health(self, ok: bool, text: str) -> None:
        LOG.info("scanner: %s", text)
        self.work.health["scanner"] = HealthMark("Scanner", ok, text)
        self.window.refresh()

    def show(self) -> None:
        """Show the window, large; the sheet of codes stands to its right and never over it where there is room."""
        free = self.app.primaryScreen().availableGeometry()
        beside = min(SHEET_WIDTH, free.width() // 3) if self.sheet is not None else 0
        self.window.setGeometry(free.left(), free.top(), free.width() - beside, free.height())
        self.window.show()
        if self.sheet is not None:
            self.sheet.setGeometry(free.right() + 1 - beside, free.top(), beside, free.height())
            self.sheet.show()
        self.window.activateWindow()
        self.window.start()

    def told_of_fault(self, kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        """What nobody caught, in a form or a painted part: logged and shown, as Qt goes on as if nothing had been."""
        LOG.critical("fault that nobody caught", exc_info=(kind, error, trace))
        self.window.show_fault()

    def run(self, before_end: Callable[[], None] | None = None) -> int:
        """Run until the window is closed. The exit code of Qt."""
        self.window.closed.connect(self.app.quit)
        hook_before, sys.excepthook = sys.excepthook, self.told_of_fault
        try:
            code = self.app.exec()
        finally:
            sys.excepthook = hook_before
        self.sound.stop()
        if self.scanner is not None:
            self.scanner.stop()
        if before_end is not None:
            before_end()
        return code


def quit_after(app: QApplication, milliseconds: int) -> None:
    """Close the program by itself after a while: for trying it without hands."""
    QTimer.singleShot(milliseconds, app.closeAllWindows)
