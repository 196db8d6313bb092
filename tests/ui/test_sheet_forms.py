"""Sheets from the shift desk: the file is where the form says, and numbers on paper come back at receiving."""

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from station.care.facts import BadgesPrinted
from station.care.state import Somebody
from station.labels.plaincodes import TagKind, badge_text, tag_text
from station.scanning.heard import HeardScan
from station.ui.dialogs.lead_dialog import LeadDialog
from station.ui.dialogs.receive_dialog import ReceiveDialog, ReceiveWord
from station.ui.dialogs.sheet import MoreDialog, ReadDialog
from station.ui.sheet_forms import BADGE_FIRST, FOLDER
from station.ui.window import StationWindow
from tests.ui.plants import Plant, mid_shift


class Documents:
    """Stands for the account's own folders."""

    StandardLocation = type("StandardLocation", (), {"DocumentsLocation": 1})
    at = Path()

    @classmethod
    def writableLocation(cls, _place: int) -> str:  # noqa: N802 - Qt's name
        """The folder of documents."""
        return str(cls.at)


@pytest.fixture
def plant() -> Plant:
    return mid_shift()


@pytest.fixture
def desk(plant: Plant, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[StationWindow]:
    monkeypatch.setattr(Documents, "at", tmp_path)
    monkeypatch.setattr("station.ui.sheet_forms.QStandardPaths", Documents)
    shown = StationWindow(plant.work, None)
    qtbot.addWidget(shown)
    shown.resize(1024, 768)
    shown.show()
    shown.hear(HeardScan(tag_text(TagKind.PLACE, "DESK"), ""))
    yield shown
    shown.close()


def form(window: StationWindow) -> MoreDialog:
    return next(dialog for dialog in window.findChildren(MoreDialog) if dialog.isVisible())


def touch(window: StationWindow, label: str, hint: str = "") -> None:
    buttons = form(window).buttons
    next(found for found in buttons if found.action_model.label == label and hint in found.action_model.hint).click()


def said(window: StationWindow) -> list[str]:
    (dialog,) = [dialog for dialog in window.findChildren(ReadDialog) if dialog.isVisible()]
    return [part.text() for part in dialog.findChildren(QLabel)]


def ask_for(window: StationWindow, label: str, paper: str) -> None:
    window.act("more:")
    touch(window, "Cards and tags")
    touch(window, label, paper)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_cards_are_made_and_the_form_says_where_they_are(desk: StationWindow, tmp_path: Path, paper: str) -> None:
    ask_for(desk, "Cards and tags", paper)
    file = tmp_path / FOLDER / f"cards-{paper}.pdf"
    assert str(file) in said(desk)
    assert file.read_bytes().startswith(b"%PDF")


def badges_asked_for(window: StationWindow, pin: str, badge: str = "P20") -> LeadDialog:
    ask_for(window, "Badges", "A4")
    (dialog,) = [dialog for dialog in window.findChildren(LeadDialog) if dialog.isVisible()]
    dialog.badge.fill(badge)
    dialog.pin.fill(pin)
    dialog.hand_in.click()
    return dialog


def test_badges_are_made_for_a_lead_with_the_pin_and_it_stands_in_the_record(
    desk: StationWindow, plant: Plant, tmp_path: Path
) -> None:
    badges_asked_for(desk, "2020")
    (file,) = (tmp_path / FOLDER).glob("badges-A4-*.pdf")
    assert str(file) in said(desk)
    (told,) = [fact for fact in plant.station.ledger.facts() if isinstance(fact.body, BadgesPrinted)]
    assert told.who == "P20"
    here = sorted(plant.station.ledger.people.values(), key=by_name)
    assert told.body == BadgesPrinted(tuple(found.id for found in here))


@pytest.mark.parametrize(("badge", "pin"), [("P20", "2021"), ("P12", "2020"), ("P99", "2020")])
def test_without_a_leads_badge_and_pin_no_badge_is_made(
    desk: StationWindow, plant: Plant, tmp_path: Path, badge: str, pin: str
) -> None:
    dialog = badges_asked_for(desk, pin, badge)
    assert dialog.isVisible()
    assert dialog.sentence.text()
    assert not (tmp_path / FOLDER).exists()
    assert not any(isinstance(fact.body, BadgesPrinted) for fact in plant.station.ledger.facts())


def by_name(person: Somebody) -> str:
    return person.name


def test_down_station_sheets_ask_who_has_them_printed(desk: StationWindow, plant: Plant, tmp_path: Path) -> None:
    ask_for(desk, "Down-station sheets", "A4")
    assert BADGE_FIRST in said(desk)
    assert not (tmp_path / FOLDER).exists()
    assert not plant.station.ledger.reserved


def test_a_folder_that_can_not_be_written_is_said(desk: StationWindow, tmp_path: Path) -> None:
    (tmp_path / FOLDER).write_text("in the way", encoding="utf-8")
    ask_for(desk, "Cards and tags", "A4")
    assert any("cannot be written" in text for text in said(desk))


def test_what_got_a_number_of_a_sheet_is_received_under_it(desk: StationWindow, plant: Plant, tmp_path: Path) -> None:
    desk.hear(HeardScan(badge_text("P20"), ""))
    ask_for(desk, "Down-station sheets", "Letter")
    (file,) = (tmp_path / FOLDER).glob("down-Letter-*.pdf")
    assert str(file) in said(desk)
    desk.findChildren(ReadDialog)[-1].leave()
    name = next(name for name, paste in plant.station.ledger.reserved.items() if paste == "PB-1")
    receive(desk, plant, f" {name.replace('-', ' ')} ")
    assert plant.station.ledger.containers[name].paste == "PB-1"


def test_a_number_of_no_sheet_is_refused_in_the_form(desk: StationWindow, plant: Plant) -> None:
    before = set(plant.station.ledger.containers)
    dialog = receive(desk, plant, "K1 999")
    assert "stands on no down-station sheet" in dialog.sentence.text()
    assert set(plant.station.ledger.containers) == before


def receive(window: StationWindow, plant: Plant, on_paper: str) -> ReceiveDialog:
    now = plant.station.floor().now
    window.act("receive")
    dialog = window.findChildren(ReceiveDialog)[-1]
    word = ReceiveWord(
        "PB-1",
        "JAR-500",
        "7",
        date(2027, 3, 31),
        None,
        1,
        now - timedelta(hours=1),
        8.0,
        "measured",
        leaking=False,
        on_paper=on_paper,
    )
    dialog.offered.emit(word)
    return dialog


def test_numbers_are_asked_for_only_where_a_sheet_is_about(desk: StationWindow, plant: Plant) -> None:
    window = desk
    window.act("receive")
    first = window.findChildren(ReceiveDialog)[-1]
    assert not first.on_paper.isVisible()
    first.leave()
    plant.station.reserve("SN-4", 1, None)
    window.act("receive")
    assert window.findChildren(ReceiveDialog)[-1].on_paper.isVisible()
