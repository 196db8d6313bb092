"""The serial scanner: one port, opened again by itself whenever it is lost.

Measured with Qt 6.11 on Linux over a pseudo-terminal: Qt sets the line raw by itself, so control characters pass;
when the far end goes, Qt reports a ResourceError at once and then wakes for ever (one core busy) unless the port is
closed; a port that is gone fails to open within a few milliseconds. Opening a paired wireless port on some PCs may
take seconds, for which the window stands still.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from PySide6.QtCore import QIODevice, QObject, Qt, QTimer, Signal
from PySide6.QtSerialPort import QSerialPort, QSerialPortInfo

from station.services.scanner import SerialSetting, Terminator

from .serial_stream import SerialOutputs, SerialStream, framing_for
from .stream import Incomplete, Scan

RETRY_MS = 1000
CONNECTED = "listening"
_Fault = QSerialPort.SerialPortError
_LOST = frozenset({_Fault.ResourceError, _Fault.ReadError, _Fault.PermissionError, _Fault.UnknownError})


@dataclass(frozen=True, slots=True)
class SeenPort:
    """A serial port of this PC, with what its USB device says of itself."""

    location: str
    usb_vendor: int | None = None
    usb_serial: str = ""


def seen_ports() -> tuple[SeenPort, ...]:
    """Every serial port there is now."""
    return tuple(
        SeenPort(
            info.systemLocation(),
            info.vendorIdentifier() if info.hasVendorIdentifier() else None,
            info.serialNumber(),
        )
        for info in QSerialPortInfo.availablePorts()
    )


def in_words(ports: Iterable[SeenPort]) -> str:
    """The ports as people set them up."""
    return ", ".join(map(_port_in_words, ports)) or "none"


def _port_in_words(seen: SeenPort) -> str:
    if seen.usb_vendor is None:
        return seen.location
    serial = f', usb_serial = "{seen.usb_serial}"' if seen.usb_serial else ""
    return f'{seen.location} (usb_vendor = "{seen.usb_vendor:04X}"{serial})'


class PortNotFound(Exception):
    """There is no port, or no single one, as set up; the text says how to mend it."""


def place_of_port(setting: SerialSetting, ports: Callable[[], Iterable[SeenPort]] = seen_ports) -> str:
    """The port to open: its name as set up, or wherever the USB device is now. PortNotFound otherwise."""
    if setting.port is not None:
        return setting.port
    wanted = [seen.location for seen in ports() if _is_it(seen, setting)]
    if not wanted:
        raise PortNotFound("not connected. Plug its cable in.")
    if len(wanted) > 1:
        raise PortNotFound(f"not connected: {', '.join(wanted)} all fit. Set usb_serial in site.toml.")
    return wanted[0]


def _is_it(seen: SeenPort, setting: SerialSetting) -> bool:
    return seen.usb_vendor == setting.usb_vendor and setting.usb_serial in (None, seen.usb_serial)


def _opened(port: QSerialPort, setting: SerialSetting, location: str) -> bool:
    """Open for reading; 8 data bits, no parity, one stop bit, no flow control are Qt's defaults."""
    port.setPortName(location)
    port.setBaudRate(setting.baud)
    return port.open(QIODevice.OpenModeFlag.ReadOnly)


def _why_not(port: QSerialPort, location: str) -> str:
    if port.error() == _Fault.DeviceNotFoundError:
        return "not connected. Plug its cable in."
    if port.error() == _Fault.PermissionError:
        return f"not connected: {location} is in use by another program, or this user may not open it."
    return f"not connected: {location} does not open ({port.errorString()})."


def trouble_with(setting: SerialSetting) -> str:
    """Why the scanner can't be opened now, as a sentence; empty if it can. Nothing is read from it."""
    try:
        location = place_of_port(setting)
    except PortNotFound as missing:
        return str(missing)
    port = QSerialPort()
    if not _opened(port, setting, location):
        return _why_not(port, location)
    port.close()
    return ""


class SerialScanner(QObject):
    """Hears a serial scanner from `start` to `stop`; tells whole scans as the keyboard wedge does.

    Signals arrive on the next turn of the event loop, so a slot may open a dialog.
    scanned: a HeardScan, whole. incomplete: the text of a code that was cut, to be shown and never acted on.
    health_changed: whether it is connected, and how it is or how to mend it; once after `start`, then at changes.
    """

    scanned = Signal(object)
    incomplete = Signal(str)
    health_changed = Signal(bool, str)
    _ready = Signal(object)

    def __init__(
        self,
        setting: SerialSetting,
        terminator: Terminator,
        parent: QObject | None = None,
        *,
        ports: Callable[[], Iterable[SeenPort]] = seen_ports,
        retry_ms: int = RETRY_MS,
    ) -> None:
        """Nothing is opened yet. `ports` lists what is plugged in; `retry_ms` is the pause between attempts."""
        super().__init__(parent)
        self._setting, self._ports = setting, ports
        self._stream = SerialStream(framing_for(terminator))
        self._health: tuple[bool, str] | None = None
        self._silence_seen = False
        self._port = QSerialPort(self)
        self._port.readyRead.connect(self._on_data)
        # Queued: the port must not be closed from inside its own report.
        self._port.errorOccurred.connect(self._on_error, Qt.ConnectionType.QueuedConnection)
        self._retry = self._timer(self._connect)
        self._retry.setInterval(retry_ms)
        self._silence = self._timer(self._on_silence)
        self._ready.connect(self._tell, Qt.ConnectionType.QueuedConnection)

    @property
    def is_connected(self) -> bool:
        """True while the port is open."""
        return self._port.isOpen()

    def start(self) -> None:
        """Open the port now, or as soon as it is there."""
        self._connect()

    def stop(self) -> None:
        """Close the port for good."""
        self._retry.stop()
        self._silence.stop()
        self._port.close()

    def _timer(self, then: Callable[[], None]) -> QTimer:
        timer = QTimer(self)
        timer.setSingleShot(True)
        timer.timeout.connect(then)
        return timer

    def _connect(self) -> None:
        try:
            location = place_of_port(self._setting, self._ports)
        except PortNotFound as missing:
            self._not_connected(str(missing))
            return
        if not _opened(self._port, self._setting, location):
            self._not_connected(_why_not(self._port, location))
            return
        # Some scanners on USB send nothing before they are told that the PC is ready; other lines have no such wire.
        self._port.setDataTerminalReady(True)
        # What was scanned while nobody listened is not acted on now.
        self._port.clear(QSerialPort.Direction.Input)
        self._say_health(True, CONNECTED)

    def _not_connected(self, why: str) -> None:
        self._say_health(False, why)
        self._retry.start()

    def _say_health(self, ok: bool, text: str) -> None:
        if self._health != (ok, text):
            self._health = (ok, text)
            self.health_changed.emit(ok, text)

    def _on_error(self, error: QSerialPort.SerialPortError) -> None:
        """The far end is gone. Errors of a port that does not open are told by the attempt itself."""
        if error not in _LOST or not self._port.isOpen():
            return
        self._carry_out(self._stream.feed(bytes(self._port.readAll().data())))
        self._port.close()
        self._carry_out(self._stream.cut_off())
        self._not_connected("not connected. Plug its cable in.")

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
            self._ready.emit(output)

    def _tell(self, output: Scan | Incomplete) -> None:
        if isinstance(output, Scan):
            self.scanned.emit(output.heard)
        else:
            self.incomplete.emit(output.text)
