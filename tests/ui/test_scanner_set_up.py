"""The set-up card at the window: one scan, and this PC's own keyboard is understood from then on."""

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from station.care.facts import ScannerSetUp
from station.labels.containercode import container_numbers, pack_container
from station.labels.plaincodes import set_up_text
from station.scanning.heard import HeardScan
from station.ui.window import StationWindow
from tests.ui.plants import Plant, mid_shift

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"
STRANGE = str.maketrans(LETTERS, LETTERS[7:] + LETTERS[:7])  # a layout of no country


@pytest.fixture
def plant() -> Plant:
    return mid_shift()


@pytest.fixture
def window(plant: Plant, qtbot: QtBot) -> Iterator[StationWindow]:
    shown = StationWindow(plant.work, None)
    qtbot.addWidget(shown)
    shown.show()
    yield shown
    shown.close()


def scan(window: StationWindow, text: str) -> str:
    """What stands on the panel after a scan of which only the garbled text is known."""
    window.hear(HeardScan(text.translate(STRANGE), None))
    verdict = window.work.screen().verdict
    assert verdict is not None
    return verdict.headline


def test_one_scan_of_the_card_and_labels_are_read_br_01(window: StationWindow, plant: Plant) -> None:
    name = next(iter(plant.station.ledger.containers))
    label = pack_container(*container_numbers(name), plant.station.keys)
    assert scan(window, label) == "NOT READ"
    assert scan(window, set_up_text()) == "SCANNER SET UP"
    assert scan(window, label) != "NOT READ"


def test_the_set_up_is_one_fact_and_no_refused_scan(window: StationWindow, plant: Plant) -> None:
    before = len(tuple(plant.station.ledger.scanners))
    scan(window, set_up_text())
    assert before == 0
    assert plant.station.scanner_layout == ScannerSetUp(LETTERS + "$%*+-./:", (LETTERS + "$%*+-./:").translate(STRANGE))


def test_what_can_not_be_learned_is_said_and_not_recorded(window: StationWindow, plant: Plant) -> None:
    assert scan(window, set_up_text().replace("$", "4")) == "SCANNER NOT SET UP"
    assert plant.station.scanner_layout is None


def test_a_scan_that_was_put_right_says_so_once_br_01_br_02(window: StationWindow, plant: Plant) -> None:
    label = pack_container(*container_numbers(next(iter(plant.station.ledger.containers))), plant.station.keys)
    banners = []
    for text in (label.lower(), label.lower()):
        window.hear(HeardScan(text, None))
        banner = window.work.screen().banner
        banners.append(banner.text if banner is not None else "")
    assert "Caps Lock" in banners[0]
    assert "Caps Lock" not in banners[1]
