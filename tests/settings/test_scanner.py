"""The table [scanner] of site.toml: left out, right, and wrong in each way with a sentence."""

import pytest

from station.services.scanner import ScannerSetting, SerialSetting, Terminator
from station.settings import load
from tests.settings.folders import DEMO, PLANT_T, Folder

KEYBOARD = 'source = "keyboard"\nterminator = "any"'
SERIAL = 'source = "serial"\nterminator = "CR LF"\nport = "/dev/ttyACM0"\nbaud = 9600'


def with_scanner(folder: Folder, *lines: str) -> Folder:
    path = folder.path / "site.toml"
    path.write_text(path.read_text(encoding="utf-8") + "\n[scanner]\n" + "\n".join(lines) + "\n", encoding="utf-8")
    return folder


def test_a_site_that_says_nothing_has_a_scanner_that_types() -> None:
    assert load(PLANT_T).scanner == ScannerSetting()


def test_the_demo_shows_the_table_and_means_the_same() -> None:
    assert "[scanner]\n" in (DEMO / "site.toml").read_text(encoding="utf-8")
    assert load(DEMO).scanner == ScannerSetting()


def test_a_serial_scanner_by_its_port(plant_t: Folder) -> None:
    expected = ScannerSetting(Terminator.CR_LF, serial=SerialSetting(9600, port="/dev/ttyACM0"))
    assert load(with_scanner(plant_t, SERIAL).path).scanner == expected


def test_br_16_a_serial_scanner_by_its_usb_ids(plant_t: Folder) -> None:
    lines = ('source = "serial"', 'terminator = "Tab"', 'usb_vendor = "0f00"', 'usb_serial = "S-0042"', "baud = 115200")
    expected = SerialSetting(115_200, None, 0x0F00, "S-0042")
    assert load(with_scanner(plant_t, *lines).path).scanner == ScannerSetting(Terminator.TAB, serial=expected)


def test_a_typing_scanner_with_all_it_may_say(plant_t: Folder) -> None:
    lines = ('source = "keyboard"', 'terminator = "none"', 'prefix = "~"', 'suffix = "#"', 'key_gap = "80 ms"')
    expected = ScannerSetting(Terminator.NONE, "~", "#", 80)
    assert load(with_scanner(plant_t, *lines).path).scanner == expected


@pytest.mark.parametrize(
    ("lines", "key", "reason", "nearest"),
    [
        ('terminator = "any"', "source", "it is missing", None),
        ('source = "keyboard"', "terminator", "it is missing", None),
        ('source = "serail"\nterminator = "CR"', "source", "there is no such choice", "serial"),
        ('source = "keyboard"\nterminator = "CRLF"', "terminator", "there is no such choice", "CR LF"),
        (KEYBOARD + "\nbaud = 9600", "baud", "has no serial line", None),
        (KEYBOARD + '\nport = "COM3"', "port", "has no serial line", None),
        (KEYBOARD + '\nkey_gap = "2 s"', "key_gap", "this is no pause of a scanner", None),
        (KEYBOARD + '\nkey_gap = "4 ms"', "key_gap", "this is no pause of a scanner", None),
        (KEYBOARD + "\nkey_gap = 35", "key_gap", "a bare figure is not understood here", None),
        (KEYBOARD + '\nprefix = ""', "prefix", "it is empty", None),
        (KEYBOARD + '\nprefx = "~"', "prefx", "no setting has this name", "prefix"),
        (SERIAL.replace("9600", "9601"), "baud", "serial lines have no such speed", "9600"),
        (SERIAL.replace("9600", "0"), "baud", "outside 1200 to 115200", None),
        (SERIAL.replace("\nbaud = 9600", ""), "baud", "it is missing", None),
        (SERIAL.replace('port = "/dev/ttyACM0"\n', ""), "port", "it is missing", None),
        (SERIAL + '\nusb_vendor = "0F00"', "port", "found by its usb_vendor already", None),
        (SERIAL + '\nusb_serial = "S-0042"', "usb_serial", "there is no usb_vendor", None),
        (SERIAL + '\nkey_gap = "35 ms"', "key_gap", "a serial scanner has no keys", None),
        (SERIAL.replace('port = "/dev/ttyACM0"', 'usb_vendor = "F00"'), "usb_vendor", "no USB vendor number", None),
    ],
)
def test_a_wrong_value_is_one_fault_with_its_place(
    plant_t: Folder, lines: str, key: str, reason: str, nearest: str | None
) -> None:
    fault = with_scanner(plant_t, lines).only_fault()
    assert (fault.file, fault.key) == ("site.toml", f"scanner.{key}")
    assert reason in fault.reason
    assert fault.nearest == nearest
    assert fault.sentence.endswith(".")


def test_a_scanner_that_is_no_table_and_one_that_is_misspelt(plant_t: Folder) -> None:
    path = plant_t.path / "site.toml"
    before = path.read_text(encoding="utf-8")
    path.write_text('scanner = "serial"\n' + before, encoding="utf-8")
    assert plant_t.only_fault().reason == "this is no table"
    path.write_text(before + "\n[scaner]\n" + KEYBOARD + "\n", encoding="utf-8")
    assert plant_t.only_fault().nearest == "scanner"
