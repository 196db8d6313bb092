"""The line of a serial scanner: one port, opened again by itself whenever it is lost. Lives in a thread of its own.

Measured with Qt 6.11 on Linux over a pseudo-terminal: Qt sets the line raw by itself, so control characters pass;
when the far end goes, Qt reports a ResourceError at once and then wakes for ever (one core busy) unless the port is
closed; a port that is gone fails to open within a few milliseconds. While a port opens, Python goes on elsewhere.
"""

from collections.abc import Callable, Iterable

from PySide6.QtCore import QObject, Qt, QTimer, Signal
from PySide6.QtSerialPort import QSerialPort

from station.services.scanner import SerialSetting

from .serial_port import UNPLUGGED, PortNotFound, SeenPort, opened, place_of_port, why_not
from .serial_stream import Framing, SerialOutputs, SerialStream
from .stream import Scan

CONNECTED = "listening"
_Fault = QSerialPort.SerialPortError
_LOST = frozenset({_Fault.ResourceError, _Fault.ReadError, _Fault.PermissionError, _Fault.UnknownError})
Open = Callable[[QSerialPort, SerialSetting, str], bool]


class SerialLine(QObject):
    """Bytes of one scanner, from `begin` to `end`, cut into scans.

    scanned, incomplete: as `SerialScanner` tells them. trying: a port is about to be opened. answered: whether the
    port is open now, and how it is or how to mend it; after every attempt, and when it is lost.
    """

    scanned = Signal(object)
    incomplete = Signal(str)
    trying = Signal(str)
    answered = Signal(bool, str)
    ended = Signal()

    def __init__(
        self,
        setting: SerialSetting,
        framing: Framing,
        ports: Callable[[], Iterable[SeenPort]],
        retry_ms: int,
        open_port: Open = opened,
    ) -> None:
        """Nothing is opened yet. Made in the thread it is to live in."""
        super().__init__()
        self._setting, self._ports, self._open = setting, ports, open_port
        self._stream = SerialStream(framing)
        self._silence_seen = False
        self._port = QSerialPort(self)
        self._port.readyRead.connect(self._on_data)
        # Queued: the port must not be closed from inside its own report.
        self._port.errorOccurred.connect(self._on_error, Qt.ConnectionType.QueuedConnection)
        self._retry = self._timer(self.begin)
        self._retry.setInterval(retry_ms)
        self._silence = self._timer(self._on_silence)

    def begin(self) -> None:
        """Open the port now, or as soon as it is there."""
        try:
            location = place_of_port(self._setting, self._ports)
        except PortNotFound as missing:
            self._not_connected(str(missing))
            return
        self.trying.emit(location)
        if not self._open(self._port, self._setting, location):
            self._not_connected(why_not(self._port, location))
            return
        # Some scanners on USB send nothing before they are told that the PC is ready; other lines have no such wire.
        self._port.setDataTerminalReady(True)
        # What was scanned while nobody listened is not acted on now.
        self._port.clear(QSerialPort.Direction.Input)
        self.answered.emit(True, CONNECTED)

    def end(self) -> None:
        """Close the port for good."""
        self._retry.stop()
        self._silence.stop()
        self._port.close()
        self.ended.emit()

    def _timer(self, then: Callable[[], None]) -> QTimer:
        timer = QTimer(self)
        timer.setSingleShot(True)
        timer.timeout.connect(then)
        return timer

    def _not_connected(self, why: str) -> None:
        self.answered.emit(False, why)
        self._retry.start()

    def _on_error(self, error: QSerialPort.SerialPortError) -> None:
        """The far end is gone. Errors of a port that does not open are told by the attempt itself."""
        if error not in _LOST or not self._port.isOpen():
            return
        self._carry_out(self._stream.feed(bytes(self._port.readAll().data())))
        self._port.close()
        self._carry_out(self._stream.cut_off())
        self._not_connected(UNPLUGGED)

    def _on_data(self) -> None:
        self._carry_out(self._stream.feed(bytes(self._port.readAll().data())))

    def _on_silence(self) -> None:
        """Believe in silence only when seen twice: after a busy spell, bytes may wait behind the timer."""
        if not self._silence_seen:
            self._silence_seen = True
            self._silence.start(0)
            return
        self._carry_out(self._stream.silence())

    def _carry_out(self, outputs: SerialOutputs) -> None:
        """Tell what came of it, and wait for the silence that settles what is open."""
        self._silence_seen = False
        waiting_ms = self._stream.waiting_ms
        if waiting_ms is None:
            self._silence.stop()
        else:
            self._silence.start(waiting_ms)
        for output in outputs:
            if isinstance(output, Scan):
                self.scanned.emit(output.heard)
            else:
                self.incomplete.emit(output.text)
