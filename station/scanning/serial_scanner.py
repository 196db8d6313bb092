"""A serial scanner as a window has it: told of in the window's thread, opened and read in another.

A port that takes long to open, or never does, keeps nobody waiting: it is said, and tried on by itself.
"""

import threading
from collections.abc import Callable, Iterable

from PySide6.QtCore import QEventLoop, QObject, Qt, QTimer, Signal

from station.services.scanner import SerialSetting, Terminator

from .serial_line import Open, SerialLine
from .serial_port import SeenPort, opened, seen_ports
from .serial_stream import framing_for

RETRY_MS = 1000
OPEN_WITHIN_MS = 3000
END_WITHIN_S = 1.0
OPENING = "not connected yet. Its port is being opened."
_QUEUED = Qt.ConnectionType.QueuedConnection


class SerialScanner(QObject):
    """Hears a serial scanner from `start` to `stop`; tells whole scans as the keyboard wedge does.

    Signals arrive on a later turn of the event loop, so a slot may open a dialog.
    scanned: a HeardScan, whole. incomplete: the text of a code that was cut, to be shown and never acted on.
    health_changed: whether it is connected, and how it is or how to mend it; once at `start`, then at changes.
    """

    scanned = Signal(object)
    incomplete = Signal(str)
    health_changed = Signal(bool, str)
    _ending = Signal()

    def __init__(
        self,
        setting: SerialSetting,
        terminator: Terminator,
        parent: QObject | None = None,
        *,
        ports: Callable[[], Iterable[SeenPort]] = seen_ports,
        retry_ms: int = RETRY_MS,
        open_within_ms: int = OPEN_WITHIN_MS,
        open_port: Open = opened,
    ) -> None:
        """Nothing is opened yet. `ports` lists what is plugged in; `retry_ms` is the pause between attempts.

        A port that is not open after `open_within_ms` is said not to answer; `open_port` opens it.
        """
        super().__init__(parent)
        self._health: tuple[bool, str] | None = None
        self._location = ""
        self._patience = QTimer(self)
        self._patience.setSingleShot(True)
        self._patience.setInterval(open_within_ms)
        self._patience.timeout.connect(self._no_answer)
        framing = framing_for(terminator)
        self._stopped = threading.Event()

        def line() -> SerialLine:
            return SerialLine(setting, framing, ports, retry_ms, open_port)

        # Daemon: a port that never opens must not keep the program from ending.
        self._thread = threading.Thread(target=self._listen, args=(line,), name="serial scanner", daemon=True)

    @property
    def is_connected(self) -> bool:
        """True while the port is open, as far as was told."""
        return self._health is not None and self._health[0]

    def start(self) -> None:
        """Open the port now, or as soon as it is there."""
        self._say_health(False, OPENING)
        self._thread.start()

    def stop(self) -> None:
        """Close the port for good. A port that is still being opened is left behind."""
        self._patience.stop()
        self._stopped.set()
        self._ending.emit()
        if self._thread.is_alive():
            self._thread.join(END_WITHIN_S)
        self._health = None

    def _listen(self, make: Callable[[], SerialLine]) -> None:
        """The other thread: what is made here is also let go of here."""
        loop, line = QEventLoop(), make()
        line.scanned.connect(self.scanned, _QUEUED)
        line.incomplete.connect(self.incomplete, _QUEUED)
        line.trying.connect(self._trying, _QUEUED)
        line.answered.connect(self._answered, _QUEUED)
        line.ended.connect(loop.quit)
        self._ending.connect(line.end, _QUEUED)
        QTimer.singleShot(0, line, line.begin)
        if not self._stopped.is_set():
            loop.exec()

    def _trying(self, location: str) -> None:
        self._location = location
        if not self._stopped.is_set():
            self._patience.start()

    def _answered(self, ok: bool, text: str) -> None:
        self._patience.stop()
        self._say_health(ok, text)

    def _no_answer(self) -> None:
        self._say_health(
            False,
            f"not connected: {self._location} does not answer while it is opened. Unplug it and plug it in again.",
        )

    def _say_health(self, ok: bool, text: str) -> None:
        if not self._stopped.is_set() and self._health != (ok, text):
            self._health = (ok, text)
            self.health_changed.emit(ok, text)
