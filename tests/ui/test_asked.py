"""What a verdict asks is one touch away, says what it means, and does it: EMPTY of the jar before, and the like."""

from collections.abc import Iterator
from datetime import timedelta

import pytest
from pytestqt.qtbot import QtBot

from station.care.scans import BadgeScan, ContainerScan, TagScan
from station.care.words import Card, Ending
from station.labels.containercode import container_numbers, pack_container
from station.labels.plaincodes import card_text
from station.scanning.heard import HeardScan
from station.ui.widgets.touch_button import TouchButton
from station.ui.window import StationWindow
from tests.ui.plants import Plant, mid_shift


@pytest.fixture
def plant() -> Plant:
    """Line 1 with a fresh bead of K1 002, where K1 003 comes next."""
    found = mid_shift()
    found.work.go_to("LINE1")
    for scan in (BadgeScan("P12"), TagScan("1")):
        found.later(timedelta(seconds=4))
        found.work.scanned(scan)
    found.work.card(Card.REMOVE)
    found.later(timedelta(seconds=4))
    found.work.scanned(ContainerScan(found.names["a2"]))
    return found


@pytest.fixture
def window(plant: Plant, qtbot: QtBot) -> Iterator[StationWindow]:
    shown = StationWindow(plant.work, None)
    qtbot.addWidget(shown)
    shown.resize(1024, 768)
    shown.show()
    yield shown
    shown.close()


def first_use_of_the_next(window: StationWindow, plant: Plant) -> None:
    plant.clock.go_on(timedelta(seconds=4))
    text = pack_container(*container_numbers(plant.names["a3"]), plant.station.keys)
    window.hear(HeardScan(text, text))
    plant.clock.go_on(timedelta(seconds=4))
    window.act("card:LOOKS-GOOD")


def button(window: StationWindow, label: str) -> TouchButton:
    return next(found for found in window.view.action_grid.buttons if found.action_model.label == label)


def labels(window: StationWindow) -> list[str]:
    return [found.action_model.label for found in window.view.action_grid.buttons]


def test_the_first_use_of_the_next_jar_asks_about_the_last_one_by_name(window: StationWindow, plant: Plant) -> None:
    first_use_of_the_next(window, plant)
    assert window.view.model is not None
    assert window.view.model.verdict is not None
    assert "Is K1 002 empty?" in window.view.model.verdict.note
    assert labels(window)[0] == "K1 002 is empty"
    assert "Empty" not in labels(window)


def test_the_touch_ends_the_jar_it_names_and_not_the_one_on_the_screen(window: StationWindow, plant: Plant) -> None:
    first_use_of_the_next(window, plant)
    button(window, "K1 002 is empty").click()
    containers = plant.station.ledger.containers
    assert containers[plant.names["a2"]].ended is Ending.USED_UP
    assert containers[plant.names["a3"]].ended is None
    bead = plant.station.ledger.positions["1"].bead
    assert bead is not None
    assert bead.feeding == plant.names["a3"]


def test_the_touch_still_means_that_jar_half_a_minute_later(window: StationWindow, plant: Plant) -> None:
    """A card is for ten seconds; a button that names its jar may be touched as long as it is shown."""
    first_use_of_the_next(window, plant)
    plant.clock.go_on(timedelta(seconds=30))
    window.tick()
    button(window, "K1 002 is empty").click()
    assert plant.station.ledger.containers[plant.names["a2"]].ended is Ending.USED_UP


def test_the_card_does_the_same_within_its_ten_seconds(window: StationWindow, plant: Plant) -> None:
    first_use_of_the_next(window, plant)
    plant.clock.go_on(timedelta(seconds=5))
    text = card_text(Card.EMPTY)
    window.hear(HeardScan(text, text))
    assert plant.station.ledger.containers[plant.names["a2"]].ended is Ending.USED_UP


def test_once_answered_it_is_asked_no_more_and_can_be_taken_back(window: StationWindow, plant: Plant) -> None:
    first_use_of_the_next(window, plant)
    button(window, "K1 002 is empty").click()
    assert labels(window)[-1] == "Undo"
    plant.clock.go_on(timedelta(seconds=4))
    button(window, "Undo").click()
    assert plant.station.ledger.containers[plant.names["a2"]].ended is None


def test_what_comes_and_goes_moves_no_other_button(window: StationWindow, plant: Plant) -> None:
    """A hand that knows where EMPTY is must not find UNDO or SILENCE there."""
    first_use_of_the_next(window, plant)
    button(window, "K1 002 is empty").click()
    with_undo = labels(window)
    assert "Silence" in with_undo
    window.act("card:SILENCE")
    plant.clock.go_on(timedelta(seconds=11))
    window.tick()
    silent = labels(window)
    assert not {"Undo", "Silence"} & set(silent)
    assert with_undo[: len(silent)] == silent


def test_undo_is_offered_no_longer_than_it_would_be_understood(window: StationWindow, plant: Plant) -> None:
    first_use_of_the_next(window, plant)
    button(window, "K1 002 is empty").click()
    plant.clock.go_on(timedelta(seconds=11))
    window.tick()
    assert "Undo" not in labels(window)


def test_after_long_silence_same_bead_or_new_bead_is_a_touch(window: StationWindow, plant: Plant) -> None:
    plant.later(timedelta(hours=2, minutes=5))
    plant.work.go_to("LINE1")
    plant.clock.go_on(timedelta(seconds=4))
    text = pack_container(*container_numbers(plant.names["a2"]), plant.station.keys)
    window.hear(HeardScan(text, text))
    assert labels(window)[:2] == ["Same bead", "New bead"]
    plant.clock.go_on(timedelta(seconds=20))
    button(window, "New bead").click()
    assert plant.station.ledger.positions["1"].bead is None


def test_what_is_asked_fits_the_screen_at_1024_x_768(window: StationWindow, plant: Plant) -> None:
    plant.later(timedelta(hours=2, minutes=5))
    plant.work.go_to("LINE1")
    plant.clock.go_on(timedelta(seconds=4))
    first_use_of_the_next(window, plant)
    window.grab()
    assert labels(window)[:3] == ["K1 002 is empty", "Same bead", "New bead"]
    buttons = window.view.action_grid.buttons
    assert not window.view.action_grid.geometry().intersects(window.view.bottom.geometry())
    assert all(found.geometry().bottom() <= window.view.action_grid.height() for found in buttons)
    assert all(record.fits for found in buttons for record in found.lettered)
