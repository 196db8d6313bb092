"""The table [scanner] of site.toml. A site without it has scanners that type like a keyboard, set up as they come."""

import re

from station.services.scanner import ScannerSetting, ScannerSource, SerialSetting, Terminator
from station.settings import fields
from station.settings.fields import Field
from station.settings.quantities import Unfit
from station.settings.table import Table

BAUDS = (1200, 2400, 4800, 9600, 19_200, 38_400, 57_600, 115_200)
_VENDOR = re.compile(r"[0-9A-Fa-f]{4}")
_GAP = re.compile(r"([0-9]{1,3}) ?ms")
_GAP_LEAST, _GAP_MOST = 5, 120
_SERIAL_KEYS = ("port", "usb_vendor", "usb_serial", "baud")


def read_scanner(root: Table) -> ScannerSetting:
    """This station's scanner; faults are noted in the tables."""
    if root.read_optional("scanner", _ANYTHING) is None:
        return ScannerSetting()
    table = root.table("scanner")
    source = table.read("source", fields.choice(ScannerSource))
    is_serial = source is ScannerSource.SERIAL
    setting = ScannerSetting(
        terminator=table.read("terminator", fields.choice(Terminator)),
        prefix=table.read_optional("prefix", fields.text(8)) or "",
        suffix=table.read_optional("suffix", fields.text(8)) or "",
        key_gap_ms=table.read_optional("key_gap", _gap()),
        serial=_serial(table) if is_serial else None,
    )
    if table.ok("source"):
        _refuse_the_other(table, is_serial=is_serial)
        table.close()
    return setting


def _refuse_the_other(table: Table, *, is_serial: bool) -> None:
    """What has no meaning for this kind of scanner."""
    if is_serial:
        table.refuse("key_gap", "a serial scanner has no keys")
        return
    for key in _SERIAL_KEYS:
        table.refuse(key, "a scanner that types like a keyboard has no serial line")


def _serial(table: Table) -> SerialSetting:
    baud = table.read("baud", _baud())
    if "usb_vendor" not in table:
        table.refuse("usb_serial", "it says which device of a usb_vendor is meant, and there is no usb_vendor")
        return SerialSetting(baud, port=table.read("port", _port()))
    table.refuse("port", "the scanner is found by its usb_vendor already")
    vendor = table.read("usb_vendor", _vendor())
    return SerialSetting(baud, None, vendor, table.read_optional("usb_serial", fields.text(60)))


_ANYTHING: Field[object] = Field("a table", lambda value: value, None)


def _port() -> Field[str]:
    by_text = fields.text(120)
    form = 'the port, such as "COM3" or "/dev/ttyACM0"; or usb_vendor instead, such as "0F00"'
    return Field(form, by_text.parse, "")


def _vendor() -> Field[int]:
    form = 'the USB vendor number as station doctor shows it: four hexadecimal digits, such as "0F00"'
    by_text = fields.text(60)

    def parse(value: object) -> int:
        said = by_text.parse(value)
        if _VENDOR.fullmatch(said) is None:
            raise Unfit("this is no USB vendor number", f"Write {form}")
        return int(said, 16)

    return Field(form, parse, 0)


def _baud() -> Field[int]:
    form = "the speed the scanner is set to, in bits per second without quotes, such as 9600"
    within = fields.whole(BAUDS[0], BAUDS[-1])

    def parse(value: object) -> int:
        said = within.parse(value)
        if said not in BAUDS:
            close = min(BAUDS, key=lambda other: abs(other - said))
            raise Unfit("serial lines have no such speed", f"Write one of {fields.listed(BAUDS)}", str(close))
        return said

    return Field(form, parse, BAUDS[0])


def _gap() -> Field[int]:
    form = f'the longest pause between two keys of the scanner, "{_GAP_LEAST} ms" to "{_GAP_MOST} ms"'
    by_text = fields.text(60)

    def parse(value: object) -> int:
        found = _GAP.fullmatch(by_text.parse(value))
        if found is None or not _GAP_LEAST <= int(found[1]) <= _GAP_MOST:
            raise Unfit("this is no pause of a scanner", f"Write {form}")
        return int(found[1])

    return Field(form, parse, _GAP_LEAST)
