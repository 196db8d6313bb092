"""What to do at alarms at the desk: the words on the card, and the form a process engineer changes them in."""

from collections.abc import Iterator
from datetime import timedelta

import pytest
from pytestqt.qtbot import QtBot

from station.care.alarms import open_alarms
from station.care.reaction_rules import GLOVES, LEADED, USUAL
from station.care.words import Limit
from station.labels.plaincodes import TagKind, tag_text
from station.scanning.heard import HeardScan
from station.ui.desk_work import DeskWork
from station.ui.dialogs.reaction_dialog import ReactionDialog
from station.ui.window import StationWindow
from tests.care.test_alarm_floods import late_to_cold
from tests.ui.plants import Plant, mid_shift
from tests.ui.test_lead_forms import the, touch, verdict

CALL = "Call quality, extension 200"


@pytest.fixture
def plant() -> Plant:
    found = mid_shift()
    found.later(timedelta(hours=9))
    return found


@pytest.fixture
def desk(plant: Plant, qtbot: QtBot) -> Iterator[StationWindow]:
    shown = StationWindow(plant.work, None)
    qtbot.addWidget(shown)
    shown.resize(1024, 768)
    shown.show()
    shown.hear(HeardScan(tag_text(TagKind.PLACE, "DESK"), ""))
    yield shown
    shown.close()


def cards(plant: Plant) -> list[str]:
    return [" ".join(card.lines) for card in plant.work.screen().alarm_cards]


def form(desk: StationWindow, badge: str, pin: str, words: str) -> ReactionDialog:
    desk.act("more:")
    touch(desk, "Day and closing")
    touch(desk, "What to do at alarms")
    touch(desk, "Open life")
    dialog = the(desk, ReactionDialog)
    dialog.badge.fill(badge)
    dialog.pin.fill(pin)
    dialog.text.fill(words)
    dialog.hand_in.click()
    return dialog


def test_each_card_says_what_to_do_and_the_cautions_of_its_paste(plant: Plant, desk: StationWindow) -> None:
    assert desk.isVisible()
    told = cards(plant)
    assert len(told) == len(open_alarms(plant.station.floor()))
    assert all(words.endswith((GLOVES, LEADED)) for words in told)
    assert any(words.endswith(LEADED) and USUAL[Limit.OPEN, True] in words for words in told)


def test_alarms_that_share_a_card_share_what_to_do() -> None:
    bench = late_to_cold(12)
    bench.station.place = "DESK"
    (card,) = DeskWork(bench.station).screen().alarm_cards
    assert card.lines[-1] == f"{USUAL[Limit.TO_COLD, False]} {GLOVES}"


def test_the_engineer_changes_the_words_and_the_cautions_stay(desk: StationWindow, plant: Plant) -> None:
    form(desk, "P30", "3030", CALL)
    assert verdict(desk).headline == "ON THE CARDS NOW"
    assert any(f"{CALL}. {LEADED}" in words for words in cards(plant))
    again = form(desk, "P30", "3030", CALL)
    assert "stand there already" in again.sentence.text()


def test_a_shift_lead_is_refused_in_the_form_and_nothing_is_changed(desk: StationWindow, plant: Plant) -> None:
    dialog = form(desk, "P20", "2020", CALL)
    assert "process engineer" in dialog.sentence.text()
    assert plant.station.ledger.reactions == {}


def test_what_was_said_before_stands_in_the_form_to_be_changed(desk: StationWindow) -> None:
    form(desk, "P30", "3030", CALL)
    assert form(desk, "P30", "", CALL).text.text == CALL
