"""The whole program with a serial scanner: its state stands in the bottom line, and its scans are answered."""

import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from station.bootstrap import DEMO_KEYS, NoPrinter, build_station, listen_to_serial
from station.clock import SystemClock
from station.labels.plaincodes import badge_text
from station.services.memory import MemoryJournal
from station.services.scanner import ScannerSetting, SerialSetting, Terminator
from station.settings import load
from station.ui.app import Running, application
from station.ui.view_models import HealthMark

from .terminals import FarEnd

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="Windows has no pseudo-terminals")
DEMO = Path(__file__).parents[2] / "demo_config"


@pytest.fixture
def far_end(tmp_path: Path) -> Iterator[FarEnd]:
    made = FarEnd(tmp_path / "tty-scanner")
    yield made
    made.pull_out()


@pytest.fixture
def running(qapp: QApplication, qtbot: QtBot, far_end: FarEnd) -> Iterator[Running]:
    """The demo's first minute at the refrigerator, with a serial scanner that puts ~ in front of its codes."""
    serial = SerialSetting(9600, port=str(far_end.name))
    site = replace(load(DEMO), scanner=ScannerSetting(Terminator.CR, prefix="~", serial=serial))
    station = build_station(site, MemoryJournal(), SystemClock(), DEMO_KEYS, NoPrinter())
    made = Running(application(), station, station.start("test"))
    qtbot.addWidget(made.window)
    listen_to_serial(made, site.scanner)
    yield made
    qapp.removeEventFilter(made.wedge)
    made.sound.stop()
    assert made.scanner is not None
    made.scanner.stop()


def scanner_mark(running: Running) -> HealthMark:
    (mark,) = [mark for mark in running.window.view.bottom.health if mark.name == "Scanner"]
    return mark


def headline(running: Running) -> str:
    verdict = running.work.screen().verdict
    return "" if verdict is None else verdict.headline


def test_br_16_the_bottom_line_says_whether_the_scanner_is_connected_and_scans_are_answered(
    qtbot: QtBot, running: Running, far_end: FarEnd
) -> None:
    missing = HealthMark("Scanner", False, "not connected. Plug its cable in.")
    qtbot.waitUntil(lambda: scanner_mark(running) == missing)
    far_end.plug_in()
    qtbot.waitUntil(lambda: scanner_mark(running).ok, timeout=3000)
    far_end.send(f"~]Q1{badge_text('P12')}\r".encode())
    qtbot.waitUntil(lambda: headline(running) == "ROBIN ALDER")
    far_end.send(b"~HALF A CO")
    qtbot.waitUntil(lambda: headline(running) == "INCOMPLETE SCAN")
    far_end.pull_out()
    qtbot.waitUntil(lambda: not scanner_mark(running).ok, timeout=3000)
