"""The serial scanner over a pseudo-terminal: read in pieces, pulled out, put back, found under another name."""

import os
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from time import process_time

import pytest
from PySide6.QtCore import QObject, QTimer
from PySide6.QtSerialPort import QSerialPort
from pytestqt.qtbot import QtBot

from station.scanning import serial_scanner
from station.scanning.heard import HeardScan
from station.scanning.serial_port import (
    UNPLUGGED,
    PortNotFound,
    SeenPort,
    in_words,
    opened,
    place_of_port,
    seen_ports,
    trouble_with,
)
from station.scanning.serial_scanner import OPENING, SerialScanner
from station.services.scanner import SerialSetting, Terminator

from .terminals import FarEnd

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="Windows has no pseudo-terminals")

ROOT = Path(__file__).parents[2]
CODE, OTHER = "V1C7K2M90ZXQ4T8B", "C1*K7-311*9Q"
VENDOR, SERIAL = 0x0F00, "S-0042"
RETRY_MS = 20


class Told:
    """Everything a scanner tells, in order: texts of scans, texts of incomplete ones, health."""

    def __init__(self, scanner: SerialScanner) -> None:
        self.scans: list[str] = []
        self.incomplete: list[str] = []
        self.health: list[tuple[bool, str]] = []
        scanner.scanned.connect(self._scanned)
        scanner.incomplete.connect(self.incomplete.append)
        scanner.health_changed.connect(lambda ok, text: self.health.append((ok, text)))

    def _scanned(self, heard: HeardScan) -> None:
        assert heard.by_place is None, "a serial scanner knows no keys"
        self.scans.append(heard.text)


@pytest.fixture
def far_end(tmp_path: Path) -> Iterator[FarEnd]:
    made = FarEnd(tmp_path / "tty-scanner")
    yield made
    made.pull_out()


@pytest.fixture
def attempts() -> list[str]:
    """Where the port was looked for, one entry each time."""
    return []


@pytest.fixture
def scanner(qtbot: QtBot, far_end: FarEnd, attempts: list[str]) -> Iterator[SerialScanner]:
    """A scanner found by its USB ids under whatever name the far end has now."""

    def ports() -> tuple[SeenPort, ...]:
        attempts.append(str(far_end.name))
        other = SeenPort("/dev/null", 0x0BAD, SERIAL)
        return (other, SeenPort(str(far_end.name), VENDOR, SERIAL)) if far_end.name.is_symlink() else (other,)

    setting = SerialSetting(9600, usb_vendor=VENDOR, usb_serial=SERIAL)
    made = SerialScanner(setting, Terminator.ANY, ports=ports, retry_ms=RETRY_MS)
    yield made
    made.stop()
    made.deleteLater()


@pytest.fixture
def told(scanner: SerialScanner) -> Told:
    return Told(scanner)


def connected(qtbot: QtBot, scanner: SerialScanner) -> None:
    """Start it and wait until it listens."""
    scanner.start()
    qtbot.waitUntil(lambda: scanner.is_connected)


def each(parent: QObject, interval_ms: int, acts: list[Callable[[], None]]) -> None:
    """Do one thing after another, so far apart."""
    timer = QTimer(parent)
    timer.setInterval(interval_ms)

    def act() -> None:
        acts.pop(0)()
        if not acts:
            timer.stop()

    timer.timeout.connect(act)
    timer.start()


def byte_by_byte(far_end: FarEnd, text: bytes) -> list[Callable[[], None]]:
    return [lambda one=text[place : place + 1]: far_end.send(one) for place in range(len(text))]  # type: ignore[misc]


def test_br_15_a_code_that_comes_byte_by_byte_at_30_ms_is_one_code(
    qtbot: QtBot, far_end: FarEnd, scanner: SerialScanner, told: Told
) -> None:
    far_end.plug_in()
    connected(qtbot, scanner)
    each(scanner, 30, byte_by_byte(far_end, CODE.encode() + b"\r"))
    qtbot.waitUntil(lambda: bool(told.scans))
    assert (told.scans, told.incomplete) == ([CODE], [])


def test_br_15_two_codes_in_one_write_both_arrive(
    qtbot: QtBot, far_end: FarEnd, scanner: SerialScanner, told: Told
) -> None:
    far_end.plug_in()
    connected(qtbot, scanner)
    far_end.send(f"{CODE}\r\n{OTHER}\r\n".encode())
    qtbot.waitUntil(lambda: len(told.scans) == 2)
    assert (told.scans, told.incomplete) == ([CODE, OTHER], [])


def test_br_15_a_code_cut_in_the_middle_is_told_and_its_tail_a_second_later_does_not_act(
    qtbot: QtBot, far_end: FarEnd, scanner: SerialScanner, told: Told
) -> None:
    far_end.plug_in()
    connected(qtbot, scanner)
    far_end.send(CODE[:7].encode())
    each(scanner, 1000, [lambda: far_end.send(CODE[7:].encode() + b"\r")])
    qtbot.waitUntil(lambda: told.incomplete == [CODE[:7]])
    qtbot.waitUntil(lambda: len(told.incomplete) == 2)
    assert told.scans == []
    far_end.send(f"{OTHER}\r".encode())
    qtbot.waitUntil(lambda: told.scans == [OTHER])


def test_br_13_control_characters_pass_the_line(
    qtbot: QtBot, far_end: FarEnd, scanner: SerialScanner, told: Told
) -> None:
    """Also those a terminal keeps for itself: ETX would interrupt, EOT end, DC1 and DC3 stop and go on."""
    far_end.plug_in()
    connected(qtbot, scanner)
    far_end.send(b"[)>\x1e06\x1d1P\x11\x03\x13X\x1e\x04\r")
    qtbot.waitUntil(lambda: told.scans == ["[)>\x1e06\x1d1P\x11\x03\x13X\x1e\x04"])


def test_br_16_a_pulled_cable_is_told_and_the_scanner_comes_back_by_itself(
    qtbot: QtBot, far_end: FarEnd, scanner: SerialScanner, told: Told, attempts: list[str]
) -> None:
    far_end.plug_in()
    connected(qtbot, scanner)
    assert told.health == [(False, OPENING), (True, "listening")]
    far_end.send(CODE[:5].encode())
    qtbot.waitUntil(lambda: told.incomplete == [CODE[:5]])
    far_end.pull_out()
    qtbot.waitUntil(lambda: len(told.health) == 3, timeout=2000)
    assert told.health[-1] == (False, UNPLUGGED)
    assert not scanner.is_connected
    tried = len(attempts)
    qtbot.waitUntil(lambda: len(attempts) > tried + 3)
    assert len(told.health) == 3, "the same trouble is told once"
    far_end.plug_in()
    qtbot.waitUntil(lambda: scanner.is_connected)
    far_end.send(f"\r{OTHER}\r".encode())
    qtbot.waitUntil(lambda: told.scans == [OTHER])
    assert told.health[-1] == (True, "listening")


def test_br_16_the_scanner_is_found_again_under_a_new_name(
    qtbot: QtBot, far_end: FarEnd, scanner: SerialScanner, told: Told
) -> None:
    far_end.plug_in()
    connected(qtbot, scanner)
    far_end.pull_out()
    qtbot.waitUntil(lambda: not scanner.is_connected)
    far_end.plug_in(far_end.name.with_name("tty-another"))
    qtbot.waitUntil(lambda: scanner.is_connected)
    far_end.send(f"{OTHER}\r".encode())
    qtbot.waitUntil(lambda: told.scans == [OTHER])


def test_br_16_while_the_far_end_is_gone_nothing_is_busy(
    qtbot: QtBot, far_end: FarEnd, scanner: SerialScanner, told: Told, attempts: list[str]
) -> None:
    """A port left open after its far end went would take the whole of this wait."""
    far_end.plug_in()
    connected(qtbot, scanner)
    far_end.pull_out()
    qtbot.waitUntil(lambda: not scanner.is_connected)
    tried, began = len(attempts), process_time()
    qtbot.waitUntil(lambda: len(attempts) >= tried + 40)
    assert process_time() - began < 40 * RETRY_MS / 1000 / 2


def test_br_16_by_name_a_port_that_is_not_there_yet_is_opened_once_it_is(qtbot: QtBot, far_end: FarEnd) -> None:
    scanner = SerialScanner(SerialSetting(115200, port=str(far_end.name)), Terminator.CR, retry_ms=RETRY_MS)
    told = Told(scanner)
    scanner.start()
    qtbot.waitUntil(lambda: told.health == [(False, OPENING), (False, UNPLUGGED)])
    far_end.plug_in()
    qtbot.waitUntil(lambda: scanner.is_connected)
    far_end.send(f"{CODE}\r".encode())
    qtbot.waitUntil(lambda: told.scans == [CODE])
    scanner.stop()
    assert not scanner.is_connected


def test_what_was_scanned_while_nobody_listened_is_not_acted_on(
    qtbot: QtBot, far_end: FarEnd, scanner: SerialScanner, told: Told
) -> None:
    far_end.plug_in()
    keeper = os.open(far_end.name, os.O_RDWR | os.O_NOCTTY)  # without a reader's side the line forgets by itself
    try:
        far_end.send(f"{CODE}\r".encode())
        connected(qtbot, scanner)
        far_end.send(f"{OTHER}\r".encode())
        qtbot.waitUntil(lambda: bool(told.scans))
        assert told.scans == [OTHER]
    finally:
        os.close(keeper)


def test_a_slot_may_wait_for_the_next_scan(qtbot: QtBot, far_end: FarEnd, scanner: SerialScanner, told: Told) -> None:
    """As a dialog does, that is opened by one scan and waits for a badge."""
    far_end.plug_in()
    connected(qtbot, scanner)
    seen: list[int] = []

    def wait_for_another(_: HeardScan) -> None:
        if not seen:
            seen.append(0)
            far_end.send(f"{OTHER}\r".encode())
            qtbot.waitUntil(lambda: OTHER in told.scans)
            seen.append(len(told.scans))

    scanner.scanned.connect(wait_for_another)
    far_end.send(f"{CODE}\r".encode())
    qtbot.waitUntil(lambda: seen == [0, 2])


class SlowDoor:
    """A port that takes its time to open: until `gate` is set."""

    def __init__(self) -> None:
        self.gate = threading.Event()
        self.opening_in: list[str] = []

    def __call__(self, port: QSerialPort, setting: SerialSetting, location: str) -> bool:
        self.opening_in.append(threading.current_thread().name)
        self.gate.wait(20)
        return opened(port, setting, location)


@pytest.fixture
def door() -> Iterator[SlowDoor]:
    made = SlowDoor()
    yield made
    made.gate.set()


def slow_scanner(far_end: FarEnd, door: SlowDoor) -> SerialScanner:
    setting = SerialSetting(9600, port=str(far_end.name))
    return SerialScanner(setting, Terminator.CR, retry_ms=RETRY_MS, open_within_ms=50, open_port=door)


def test_br_16_a_port_that_takes_long_to_open_holds_nobody_up_and_is_heard_once_it_is_open(
    qtbot: QtBot, far_end: FarEnd, door: SlowDoor
) -> None:
    """The window's own timers go on, the delay is said, and nothing has to be started again."""
    far_end.plug_in()
    scanner = slow_scanner(far_end, door)
    told, turns = Told(scanner), QTimer()
    turned: list[int] = []
    turns.timeout.connect(lambda: turned.append(0))
    turns.start(5)
    scanner.start()
    qtbot.waitUntil(lambda: len(told.health) == 2)
    slow = f"not connected: {far_end.name} does not answer while it is opened. Unplug it and plug it in again."
    assert told.health == [(False, OPENING), (False, slow)]
    assert len(turned) > 3
    assert door.opening_in == ["serial scanner"]
    door.gate.set()
    qtbot.waitUntil(lambda: scanner.is_connected)
    far_end.send(f"{CODE}\r".encode())
    qtbot.waitUntil(lambda: told.scans == [CODE])
    scanner.stop()


def test_br_16_the_program_ends_while_a_port_is_still_being_opened(
    qtbot: QtBot, far_end: FarEnd, door: SlowDoor, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(serial_scanner, "END_WITHIN_S", 0.05)
    far_end.plug_in()
    scanner = slow_scanner(far_end, door)
    told = Told(scanner)
    scanner.start()
    qtbot.waitUntil(lambda: len(told.health) == 2)
    scanner.stop()
    assert not scanner.is_connected
    door.gate.set()
    scanner._thread.join(20)
    assert not scanner._thread.is_alive()
    assert len(told.health) == 2, "who has stopped listening is told nothing more"


def test_two_devices_that_fit_are_not_guessed_between() -> None:
    twins = (SeenPort("/dev/ttyACM0", VENDOR, "A"), SeenPort("/dev/ttyACM1", VENDOR, "B"))
    with pytest.raises(PortNotFound, match=r"/dev/ttyACM0, /dev/ttyACM1 all fit. Set usb_serial in site.toml."):
        place_of_port(SerialSetting(9600, usb_vendor=VENDOR), lambda: twins)
    assert place_of_port(SerialSetting(9600, usb_vendor=VENDOR, usb_serial="B"), lambda: twins) == "/dev/ttyACM1"
    with pytest.raises(PortNotFound, match="Plug its cable in"):
        place_of_port(SerialSetting(9600, usb_vendor=VENDOR, usb_serial="C"), lambda: twins)


def test_trouble_is_told_without_a_window(qtbot: QtBot, far_end: FarEnd, tmp_path: Path) -> None:
    setting = SerialSetting(9600, port=str(far_end.name))
    assert trouble_with(setting) == "not connected. Plug its cable in."
    far_end.plug_in()
    assert trouble_with(setting) == ""
    holder = SerialScanner(setting, Terminator.ANY)
    connected(qtbot, holder)
    assert "in use by another program" in trouble_with(setting)
    holder.stop()
    (tmp_path / "notes").write_text("no port")
    assert "does not open" in trouble_with(SerialSetting(9600, port=str(tmp_path / "notes")))
    assert "Plug its cable in" in trouble_with(SerialSetting(9600, usb_vendor=VENDOR, usb_serial="none such"))


def test_the_ports_of_this_pc_can_be_listed() -> None:
    assert all(seen.location for seen in seen_ports())


def test_a_station_with_a_typing_scanner_never_loads_the_serial_part() -> None:
    code = "import sys, station.ui.app, station.bootstrap; print('PySide6.QtSerialPort' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=ROOT, check=True)
    assert done.stdout.strip() == "False"


def test_ports_are_listed_as_they_are_set_up() -> None:
    ports = (SeenPort("/dev/ttyS0"), SeenPort("/dev/ttyACM0", 0xF00, "S-1"), SeenPort("COM3", 0xF00))
    listed = '/dev/ttyS0, /dev/ttyACM0 (usb_vendor = "0F00", usb_serial = "S-1"), COM3 (usb_vendor = "0F00")'
    assert in_words(ports) == listed
    assert in_words(()) == "none"
