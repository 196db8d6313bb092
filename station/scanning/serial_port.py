"""The serial ports of this PC: which one the scanner's is, and whether it opens.

Opening a port may take seconds (a wireless one, a hub that wakes up) or never end, so no window does it itself.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from PySide6.QtCore import QIODevice
from PySide6.QtSerialPort import QSerialPort, QSerialPortInfo

from station.services.scanner import SerialSetting

UNPLUGGED = "not connected. Plug its cable in."
_Fault = QSerialPort.SerialPortError


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
        raise PortNotFound(UNPLUGGED)
    if len(wanted) > 1:
        raise PortNotFound(f"not connected: {', '.join(wanted)} all fit. Set usb_serial in site.toml.")
    return wanted[0]


def _is_it(seen: SeenPort, setting: SerialSetting) -> bool:
    return seen.usb_vendor == setting.usb_vendor and setting.usb_serial in (None, seen.usb_serial)


def opened(port: QSerialPort, setting: SerialSetting, location: str) -> bool:
    """Open for reading; 8 data bits, no parity, one stop bit, no flow control are Qt's defaults."""
    port.setPortName(location)
    port.setBaudRate(setting.baud)
    return port.open(QIODevice.OpenModeFlag.ReadOnly)


def why_not(port: QSerialPort, location: str) -> str:
    """Why a port did not open, as a sentence that says how to mend it."""
    if port.error() == _Fault.DeviceNotFoundError:
        return UNPLUGGED
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
    if not opened(port, setting, location):
        return why_not(port, location)
    port.close()
    return ""
