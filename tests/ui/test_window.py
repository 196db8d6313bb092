"""The window: scans, touches and forms reach the station, and a fault inside is shown instead of a frozen countdown."""

from collections.abc import Iterator
from datetime import timedelta
from types import SimpleNamespace
from typing import TypeVar, cast

import pytest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from station.care import alarms
from station.care.words import Boards, Disposition
from station.labels.containercode import container_numbers, pack_container
from station.labels.plaincodes import TagKind, badge_text, tag_text
from station.scanning.heard import HeardScan
from station.services.memory import MemoryJournal
from station.services.ports import JournalEnvironment
from station.ui.app import Running
from station.ui.dialogs.clear_dialog import ClearDialog, ClearWord
from station.ui.dialogs.lead_dialog import LeadDialog, LeadWord
from station.ui.dialogs.place_dialog import PlaceDialog
from station.ui.dialogs.receive_dialog import ReceiveDialog, ReceiveWord
from station.ui.dialogs.room_dialog import RoomDialog, RoomWord
from station.ui.sound import SoundDesk
from station.ui.window import StationWindow
from tests.ui.plants import Plant, mid_shift

Dialog = TypeVar("Dialog", bound=QWidget)


@pytest.fixture
def plant() -> Plant:
    return mid_shift()


@pytest.fixture
def window(plant: Plant, qtbot: QtBot) -> Iterator[StationWindow]:
    shown = StationWindow(plant.work, None)
    qtbot.addWidget(shown)
    shown.resize(1366, 768)
    shown.show()
    yield shown
    shown.close()


def scan(window: StationWindow, text: str) -> None:
    window.hear(HeardScan(text, text))


def code(plant: Plant, name: str) -> str:
    return pack_container(*container_numbers(plant.names[name]), plant.station.keys)


def open_dialog(window: StationWindow, kind: type[Dialog]) -> Dialog:
    found = window.findChildren(kind)
    assert found, f"no {kind.__name__} is open"
    return found[-1]


def to(window: StationWindow, place: str) -> None:
    scan(window, tag_text(TagKind.PLACE, place))


def test_a_scan_is_answered_on_the_screen(window: StationWindow, plant: Plant) -> None:
    to(window, "LINE3")
    scan(window, code(plant, "p1"))
    assert window.view.model is not None
    assert window.view.model.verdict is not None
    assert window.view.model.verdict.headline == "Sn-Pb ON AN Sn-Bi JOB"


def test_a_code_clicked_on_the_sheet_counts_as_a_scan(window: StationWindow, plant: Plant) -> None:
    window.hear_text(tag_text(TagKind.PLACE, "DESK"))
    assert plant.work.place().id == "DESK"


def test_a_lead_clears_an_alarm_by_badge_and_pin(window: StationWindow, plant: Plant) -> None:
    to(window, "DESK")
    alarm = alarms.open_alarms(plant.station.floor())[0][0]
    window.act(f"clear:{alarm.id}")
    dialog = open_dialog(window, ClearDialog)
    scan(window, badge_text("P20"))
    assert dialog.badge.text == "P20"
    dialog.offered.emit(ClearWord("P20", "2020", "found behind the printer", Disposition.DISCARDED, None, "", None))
    cleared = plant.station.ledger.alarms[alarm.id]
    assert cleared.cleared_by == "P20"
    assert plant.station.ledger.containers[alarm.subject].ended is not None


def test_a_lead_who_is_badged_in_is_asked_for_the_pin_only(window: StationWindow, plant: Plant) -> None:
    to(window, "DESK")
    scan(window, badge_text("P20"))
    window.act(f"clear:{alarms.open_alarms(plant.station.floor())[0][0].id}")
    assert open_dialog(window, ClearDialog).badge.text == "P20"


def test_an_operators_badge_is_not_taken_for_a_leads(window: StationWindow, plant: Plant) -> None:
    to(window, "DESK")
    scan(window, badge_text("P12"))
    window.act(f"clear:{alarms.open_alarms(plant.station.floor())[0][0].id}")
    assert open_dialog(window, ClearDialog).badge.text == ""


def test_a_form_that_stayed_open_for_minutes_still_goes(window: StationWindow, plant: Plant) -> None:
    """The buttons below are others by then; a form that could not go would swallow every scan from there on."""
    to(window, "DESK")
    plant.clock.go_on(timedelta(seconds=4))
    scan(window, code(plant, "a2"))
    opener = next(found for found in window.view.action_grid.buttons if found.action_model.label == "Room air")
    opener.setFocus()
    opener.click()
    plant.clock.go_on(timedelta(seconds=70))
    window.tick()
    scan(window, badge_text("P12"))
    dialog = open_dialog(window, RoomDialog)
    assert "A scan came in" in dialog.sentence.text()
    dialog.leave()
    assert not window.dialogs.busy


def test_a_wrong_pin_keeps_the_form_open_and_records_nothing(window: StationWindow, plant: Plant) -> None:
    to(window, "DESK")
    alarm = alarms.open_alarms(plant.station.floor())[0][0]
    window.act(f"clear:{alarm.id}")
    dialog = open_dialog(window, ClearDialog)
    dialog.offered.emit(ClearWord("P20", "1111", "because", Disposition.DISCARDED, None, "", None))
    assert "PIN" in dialog.sentence.text()
    assert dialog.isVisible()
    assert plant.station.ledger.alarms[alarm.id].cleared_at is None


def test_an_operator_cannot_clear(window: StationWindow, plant: Plant) -> None:
    alarm = alarms.open_alarms(plant.station.floor())[0][0]
    window.act(f"clear:{alarm.id}")
    dialog = open_dialog(window, ClearDialog)
    dialog.offered.emit(ClearWord("P12", "2020", "because", Disposition.DISCARDED, None, "", None))
    assert "shift lead" in dialog.sentence.text()
    assert plant.station.ledger.alarms[alarm.id].cleared_at is None


def test_a_bead_is_cleared_with_what_became_of_its_boards(window: StationWindow, plant: Plant) -> None:
    plant.later(timedelta(minutes=2))
    to(window, "LINE1")
    window.act("card:REMOVE")
    to(window, "DESK")
    alarm = next(found for found, _ in alarms.open_alarms(plant.station.floor()) if found.subject == "1")
    window.act(f"clear:{alarm.id}")
    word = ClearWord("P20", "2020", "late change", Disposition.BEAD_OFF, Boards.QUARANTINED, "", None)
    open_dialog(window, ClearDialog).offered.emit(word)
    assert plant.station.ledger.alarms[alarm.id].boards is Boards.QUARANTINED


def test_containers_are_received_from_the_form_and_can_be_put_away(window: StationWindow, plant: Plant) -> None:
    before = set(plant.station.ledger.containers)
    window.act("receive")
    floor = plant.station.floor()
    expires = (floor.now + timedelta(days=120)).date()
    word = ReceiveWord("SN-4", "JAR-500", "26-160", expires, None, 2, floor.now, 6.0, "measured", leaking=False)
    open_dialog(window, ReceiveDialog).offered.emit(word)
    new = sorted(set(plant.station.ledger.containers) - before)
    assert len(new) == 2
    plant.clock.go_on(timedelta(seconds=5))
    scan(window, pack_container(*container_numbers(new[0]), plant.station.keys))
    assert plant.station.ledger.containers[new[0]].bin is not None


def test_what_cannot_be_received_is_said_in_the_form(window: StationWindow, plant: Plant) -> None:
    window.act("receive")
    floor = plant.station.floor()
    word = ReceiveWord("SN-4", "JAR-500", "26-160", None, None, 1, floor.now, 6.0, "measured", leaking=False)
    dialog = open_dialog(window, ReceiveDialog)
    dialog.offered.emit(word)
    assert "expiry" in dialog.sentence.text()


def test_room_air_is_recorded_and_an_impossible_one_refused(window: StationWindow, plant: Plant) -> None:
    window.act("room")
    dialog = open_dialog(window, RoomDialog)
    dialog.offered.emit(RoomWord(99.0, 40.0))
    assert "99" in dialog.sentence.text()
    dialog.offered.emit(RoomWord(21.5, 40.0))
    assert plant.station.ledger.room is not None
    assert plant.station.ledger.room.temperature_c == 21.5


def test_a_reading_that_repeats_the_one_before_is_asked_about(window: StationWindow, plant: Plant) -> None:
    plant.station.read_room(21.5, 40, None)
    window.act("room")
    dialog = open_dialog(window, RoomDialog)
    dialog.temperature.fill("21.5")
    dialog.humidity.fill("40")
    assert dialog.humidity.remark.text().startswith("Same as ")
    dialog.hand_in.click()
    assert plant.station.ledger.room is not None
    assert plant.station.ledger.room.repeated


def test_a_scan_behind_an_open_form_records_nothing_and_is_said_in_the_form(
    window: StationWindow, plant: Plant
) -> None:
    to(window, "FRIDGE")
    window.act("receive")
    before = plant.station.ledger.latest_at
    for _ in range(2):
        plant.clock.go_on(timedelta(seconds=2))
        scan(window, code(plant, "a6"))
    assert plant.station.ledger.containers[plant.names["a6"]].bin is not None
    assert plant.station.ledger.latest_at == before
    assert "nothing was recorded" in open_dialog(window, ReceiveDialog).sentence.text()


def test_the_station_does_not_go_home_behind_an_open_form(window: StationWindow, plant: Plant) -> None:
    to(window, "DESK")
    window.act("room")
    for _ in range(4):
        plant.clock.go_on(timedelta(seconds=30))
        window.tick()
    assert plant.work.place().id == "DESK"
    open_dialog(window, RoomDialog).leave()
    plant.clock.go_on(timedelta(seconds=61))
    window.tick()
    assert plant.work.place().id == "FRIDGE"


def test_the_next_alarm_can_be_reached_while_the_first_has_to_wait(window: StationWindow, plant: Plant) -> None:
    plant.later(timedelta(minutes=2))
    to(window, "DESK")
    first = plant.work.screen().alarm_cards[0].title
    window.act("next-alarm")
    assert plant.work.screen().alarm_cards[0].title != first


def test_what_a_lead_said_is_confirmed_on_the_screen(window: StationWindow, plant: Plant) -> None:
    to(window, "DESK")
    window.act("room")
    open_dialog(window, RoomDialog).offered.emit(RoomWord(21.5, 40.0))
    assert window.view.model is not None
    assert window.view.model.verdict is not None
    assert window.view.model.verdict.headline == "ROOM AIR RECORDED"


def test_a_hold_is_released_by_a_lead(window: StationWindow, plant: Plant) -> None:
    held = plant.station.ledger.containers[plant.names["a5"]]
    to(window, "DESK")
    window.act(f"release:{held.id}:{held.holds[0].key}")
    open_dialog(window, LeadDialog).offered.emit(LeadWord("P20", "2020", "stirred, smooth"))
    assert not plant.station.ledger.containers[held.id].held


def test_the_place_is_chosen_by_touch(window: StationWindow, plant: Plant) -> None:
    window.act("places")
    open_dialog(window, PlaceDialog).offered.emit("LINE2")
    assert plant.work.place().id == "LINE2"


def test_the_time_is_confirmed_by_a_lead(window: StationWindow, plant: Plant) -> None:
    plant.clock.step(timedelta(hours=1))
    window.tick()
    to(window, "DESK")
    window.act("confirm-clock")
    open_dialog(window, LeadDialog).offered.emit(LeadWord("P20", "2020", ""))
    assert plant.station.ledger.clock.trusted_until is None


def test_a_fault_in_a_tick_is_shown_and_the_screen_says_not_to_trust_it(
    window: StationWindow, plant: Plant, monkeypatch: pytest.MonkeyPatch
) -> None:
    """BR-65."""
    tick = plant.work.tick
    calls: list[int] = []

    def third_fails() -> object:
        calls.append(1)
        if len(calls) == 3:
            raise ZeroDivisionError
        return tick()

    monkeypatch.setattr(plant.work, "tick", third_fails)
    for _ in range(3):
        window.tick()
    assert window.view.model is not None
    assert window.view.model.banner is not None
    assert "Do not trust" in window.view.model.banner.text


def test_a_window_closes_even_when_its_end_cannot_be_saved(
    window: StationWindow, plant: Plant, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_reason: str) -> None:
        raise JournalEnvironment("journal-full", "The disk is full. Free some space.")

    monkeypatch.setattr(plant.station, "stop", full)
    with qtbot.waitSignal(window.closed):
        window.close()
    monkeypatch.undo()


def test_closing_the_window_is_in_the_record(qtbot: QtBot) -> None:
    journal = MemoryJournal()
    window = StationWindow(mid_shift(journal).work, None)
    qtbot.addWidget(window)
    with qtbot.waitSignal(window.closed):
        window.close()
    assert list(journal.facts())[-1].body.NAME == "station-stopped"


def test_a_fault_that_nobody_caught_stands_on_the_screen(window: StationWindow) -> None:
    """Qt goes on after a fault in a form as if nothing had been; then no scan is heard any more, and none is told."""
    running = cast("Running", SimpleNamespace(window=window))
    Running.told_of_fault(running, RuntimeError, RuntimeError("in a form"), None)
    assert window.view.model is not None
    assert window.view.model.banner is not None
    assert "A FAULT IN THE PROGRAM" in window.view.model.banner.text


def test_a_scan_that_an_open_form_keeps_out_is_heard_to_have_failed(window: StationWindow, plant: Plant) -> None:
    """A cordless scanner is used where nobody can read the form."""
    sound = Heard()
    window.sound = cast("SoundDesk", sound)
    window.act("receive")
    scan(window, code(plant, "a2"))
    assert sound.played == ["stop"]
    window.hear_incomplete("K1")
    assert sound.played == ["stop", "stop"]
    window.sound = None


class Heard:
    """Stands in for the loudspeaker."""

    def __init__(self) -> None:
        self.played: list[str] = []

    def play(self, name: str) -> None:
        self.played.append(name)
