"""People at the desk: the list, somebody new, a PIN typed twice, and nothing recorded without a lead's proof."""

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from station.care.words import Role
from station.ui.dialogs.person_dialog import NewPinDialog, PersonDialog
from station.ui.dialogs.sheet import MoreDialog
from station.ui.window import StationWindow
from tests.ui.plants import Plant, mid_shift
from tests.ui.test_lead_forms import the


@pytest.fixture
def plant() -> Plant:
    return mid_shift()


@pytest.fixture
def desk(plant: Plant, qtbot: QtBot) -> Iterator[StationWindow]:
    shown = StationWindow(plant.work, None)
    qtbot.addWidget(shown)
    shown.show()
    yield shown
    shown.close()


def filled(dialog: PersonDialog, pin: str = "2020", new_pins: tuple[str, str] = ("", "")) -> None:
    dialog.name.fill("Noor Willow")
    dialog.person.fill("p41")
    dialog.may.choose("operator")
    dialog.new_pin.first.fill(new_pins[0])
    dialog.new_pin.again.fill(new_pins[1])
    dialog.badge.fill("P20")
    dialog.pin.fill(pin)
    dialog.hand_in.click()


def test_the_list_names_everybody_who_works_here_and_leads_to_their_form(desk: StationWindow) -> None:
    desk.act("staff:")
    listed = the(desk, MoreDialog)
    assert {button.action_model.id for button in listed.buttons} >= {"person:P12", "person:P20", "person:new"}
    next(button for button in listed.buttons if button.action_model.id == "person:P12").click()
    dialog = the(desk, PersonDialog)
    assert (dialog.name.text, dialog.may.chosen) == ("Robin Alder", "operator")


def test_somebody_new_is_recorded_with_a_leads_pin_only(desk: StationWindow, plant: Plant) -> None:
    desk.act("person:new")
    dialog = the(desk, PersonDialog)
    filled(dialog, pin="9999")
    assert "P41" not in plant.station.ledger.people
    filled(dialog)
    known = plant.station.ledger.people["P41"]
    assert (known.name, known.roles) == ("Noor Willow", (Role.OPERATOR,))
    assert not desk.dialogs.busy


def test_two_pins_that_differ_are_said_beside_the_second(desk: StationWindow, plant: Plant) -> None:
    desk.act("person:new")
    dialog = the(desk, PersonDialog)
    filled(dialog, new_pins=("4071", "4072"))
    assert "not the same" in dialog.new_pin.again.complaint.text()
    assert "P41" not in plant.station.ledger.people


@pytest.mark.parametrize("new", ["1111", "12"])
def test_an_easy_pin_is_refused_in_the_form(desk: StationWindow, new: str) -> None:
    desk.act("own-pin:")
    dialog = the(desk, NewPinDialog)
    for field in (dialog.new_pin.first, dialog.new_pin.again):
        field.fill(new)
    dialog.badge.fill("P20")
    dialog.pin.fill("2020")
    dialog.hand_in.click()
    assert desk.dialogs.busy
