"""One card, badge or tag from the desk: it lies in the folder or goes to the printer, and a badge wants a lead."""

from collections.abc import Iterator
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from station.bootstrap import target_for
from station.care.answers import plain
from station.care.facts import BadgesPrinted, PersonSet
from station.care.verdict import Decision
from station.care.words import Role, Word
from station.labels.plaincodes import TagKind, tag_text
from station.scanning.heard import HeardScan
from station.services.station import Proof
from station.ui.dialogs.lead_dialog import LeadDialog
from station.ui.dialogs.sheet import MoreDialog, ReadDialog
from station.ui.window import StationWindow
from tests.services.slow_printer import SlowPrinter
from tests.ui.plants import Plant, mid_shift


@pytest.fixture
def plant(tmp_path: Path) -> Plant:
    made = mid_shift()
    made.station.target = target_for(made.station.site, tmp_path, queues=False)
    return made


@pytest.fixture
def desk(plant: Plant, qtbot: QtBot) -> Iterator[StationWindow]:
    shown = StationWindow(plant.work, None)
    qtbot.addWidget(shown)
    shown.resize(1024, 768)
    shown.show()
    shown.hear(HeardScan(tag_text(TagKind.PLACE, "DESK"), ""))
    yield shown
    shown.close()


def form(window: StationWindow) -> MoreDialog:
    return next(dialog for dialog in window.findChildren(MoreDialog) if dialog.isVisible())


def touch(window: StationWindow, label: str) -> None:
    next(found for found in form(window).buttons if found.action_model.label == label).click()


def ask_for(window: StationWindow, *labels: str) -> None:
    window.act("more:")
    for label in ("Cards and tags", "One card, badge or tag", *labels):
        touch(window, label)


def said(window: StationWindow) -> str:
    (dialog,) = [dialog for dialog in window.findChildren(ReadDialog) if dialog.isVisible()]
    return " ".join(part.text() for part in dialog.findChildren(QLabel))


def read(file: Path) -> str:
    with Image.open(file) as image:
        (found,) = zxingcpp.read_barcodes(image.convert("L"))
    return found.text


def test_one_card_lies_in_the_folder_and_reads_as_itself(desk: StationWindow, tmp_path: Path) -> None:
    ask_for(desk, "Command card", "HOLD")
    (file,) = (tmp_path / "labels").glob("card-*.png")
    assert str(file) in said(desk)
    assert read(file).startswith("D1HOLD")


def test_a_printer_takes_it_and_the_form_says_what_is_known(desk: StationWindow, plant: Plant) -> None:
    printer = SlowPrinter()
    plant.station.target = printer
    ask_for(desk, "Bin tag", "BIN A1")
    assert printer.cards == ["BIN A1"]
    assert "went to printer labels. It is printed when it comes out." in said(desk)


def test_what_hinders_it_is_said_in_the_form(desk: StationWindow, tmp_path: Path) -> None:
    (tmp_path / "labels").write_text("in the way", encoding="utf-8")
    ask_for(desk, "Command card", "HOLD")
    assert "cannot be written" in form(desk).sentence.text()


def badge_asked_for(window: StationWindow, name: str, pin: str) -> LeadDialog:
    ask_for(window, "Badge", name)
    (dialog,) = [dialog for dialog in window.findChildren(LeadDialog) if dialog.isVisible()]
    dialog.badge.fill("P20")
    dialog.pin.fill(pin)
    dialog.hand_in.click()
    return dialog


def badges_told(plant: Plant) -> list[object]:
    return [fact.body for fact in plant.station.ledger.facts() if isinstance(fact.body, BadgesPrinted)]


def test_a_badge_is_printed_for_a_lead_with_the_pin_and_stands_in_the_record(
    desk: StationWindow, plant: Plant, tmp_path: Path
) -> None:
    badge_asked_for(desk, "Robin Alder", "2020")
    (file,) = (tmp_path / "labels").glob("badge-*.png")
    assert read(file).startswith("P1P12")
    assert badges_told(plant) == [BadgesPrinted(("P12",))]
    assert str(file) in said(desk)


def test_without_the_pin_no_badge_is_printed(desk: StationWindow, plant: Plant, tmp_path: Path) -> None:
    assert badge_asked_for(desk, "Robin Alder", "2021").sentence.text()
    assert not list((tmp_path / "labels").glob("badge-*"))
    assert badges_told(plant) == []


def test_who_left_is_not_among_the_badges(desk: StationWindow, plant: Plant) -> None:
    gone = PersonSet("P12", "Robin Alder", (Role.OPERATOR,), None, left=True)
    told = plain(Word.DONE, "person-left", "TAKEN OFF", "", "")
    plant.station.decided(Proof("P20", "2020"), Role.LEAD, lambda _floor, _by: Decision(told, (gone,)))
    ask_for(desk, "Badge")
    assert "Robin Alder" not in [button.action_model.label for button in form(desk).buttons]
