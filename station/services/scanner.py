"""How this station's scanner is set up: typing like a keyboard, or on a serial line."""

from dataclasses import dataclass
from enum import StrEnum


class ScannerSource(StrEnum):
    """How a scanner reaches the PC."""

    KEYBOARD = "keyboard"
    SERIAL = "serial"


class Terminator(StrEnum):
    """What the scanner sends after each code. `ANY` takes each of CR, LF and Tab for an end; `NONE` is silence."""

    ANY = "any"
    CR = "CR"
    LF = "LF"
    CR_LF = "CR LF"
    TAB = "Tab"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class SerialSetting:
    """A serial line, by its port, or by its USB vendor (and serial number) wherever that is plugged in.

    port: `COM3` or `/dev/ttyACM0`, None if the USB ids find it. usb_vendor: 0 to 65535. baud: bits per second.
    """

    baud: int
    port: str | None = None
    usb_vendor: int | None = None
    usb_serial: str | None = None


@dataclass(frozen=True, slots=True)
class ScannerSetting:
    """This station's scanner. `serial` is None for one that types like a keyboard.

    prefix, suffix: characters the scanner adds to every code, taken off before it is read. key_gap_ms: the longest
    pause between two keys of a typing scanner; None for the usual one.
    """

    terminator: Terminator = Terminator.ANY
    prefix: str = ""
    suffix: str = ""
    key_gap_ms: int | None = None
    serial: SerialSetting | None = None
