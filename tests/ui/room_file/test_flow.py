"""Room air from a file as an operator goes through it: the form, its questions, what is shown, what is recorded."""

import threading
from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path
from typing import TypeVar

import pytest
from PySide6.QtWidgets import QApplication, QFileDialog, QWidget
from pytestqt.qtbot import QtBot

from station.care import facts as f
from station.ui.dialogs.room_dialog import RoomDialog
from station.ui.room_file import flow
from station.ui.room_file.air_form import AirForm
from station.ui.room_file.finding import AirAsked, find_air
from station.ui.warm_up.questions_form import QuestionsForm
from station.ui.window import StationWindow
from tests.ui.plants import Plant, mid_shift
from tests.ui.room_file.loggers import hall, written

Form = TypeVar("Form", bound=QWidget)
WAIT_MS = 30_000


@pytest.fixture
def plant() -> Plant:
    return mid_shift()


@pytest.fixture
def window(plant: Plant, qtbot: QtBot) -> Iterator[StationWindow]:
    window = StationWindow(plant.work, None)
    qtbot.addWidget(window)
    window.resize(1024, 768)
    window.show()
    yield window
    window.close()


def the(window: StationWindow, kind: type[Form]) -> Form:
    found = [form for form in window.findChildren(kind) if form.isVisible()]
    assert found, f"no {kind.__name__} is open"
    return found[-1]


def shown(window: StationWindow, kind: type[QWidget]) -> bool:
    return any(form.isVisible() for form in window.findChildren(kind))


def begun(window: StationWindow) -> AirForm:
    """The form, reached by touch."""
    window.act("room")
    the(window, RoomDialog).from_file.click()
    return the(window, AirForm)


def chosen(form: AirForm, path: Path) -> None:
    form.files.take((path,))
    form.files.chosen.emit()


def read(window: StationWindow, qtbot: QtBot, path: Path) -> AirForm:
    """The form once the file has been read."""
    form = begun(window)
    chosen(form, path)
    qtbot.waitUntil(form.hand_in.isEnabled, timeout=WAIT_MS)
    return form


def room_facts(plant: Plant) -> list[f.RoomRead]:
    return [fact.body for fact in plant.station._journal.facts() if isinstance(fact.body, f.RoomRead)]


def now(plant: Plant) -> datetime:
    return plant.station.floor().now


def text(plant: Plant, **more: str) -> str:
    return hall(now(plant), plant.station.site.zone, **more)  # type: ignore[arg-type]


def test_a_reading_is_shown_with_time_and_file_and_recorded_only_when_confirmed(
    window: StationWindow, plant: Plant, qtbot: QtBot, tmp_path: Path
) -> None:
    before = room_facts(plant)
    form = read(window, qtbot, written(tmp_path, text(plant)))
    assert form.reading.text() == "22.5 °C and 45 %"
    assert form.origin.text() == "Measured 14:02, 3 min ago, in hall.csv line 13."
    assert "taken as Europe/Berlin" in form.remarks.text()
    assert room_facts(plant) == before
    form.hand_in.click()
    (fact,) = room_facts(plant)[len(before) :]
    assert (fact.temperature_c, fact.humidity, fact.repeated) == (22.5, 45.0, False)
    assert fact.source.startswith("hall.csv line 13")
    assert not window.dialogs.busy
    assert window.view.model is not None
    assert window.view.model.verdict is not None
    assert window.view.model.verdict.headline == "ROOM AIR RECORDED"


def test_leaving_records_nothing_and_fills_in_nothing(
    window: StationWindow, plant: Plant, qtbot: QtBot, tmp_path: Path
) -> None:
    before = room_facts(plant)
    form = read(window, qtbot, written(tmp_path, text(plant)))
    assert form.cancel.action_model.label == "Back"
    form.cancel.click()
    typed = the(window, RoomDialog)
    assert (typed.temperature.text, typed.humidity.text) == ("", "")
    assert room_facts(plant) == before


def test_a_logger_that_shows_the_same_again_is_asked_about_and_marked(
    window: StationWindow, plant: Plant, qtbot: QtBot, tmp_path: Path
) -> None:
    plant.station.read_room(22.5, 45, None)
    plant.clock.go_on(timedelta(minutes=10))
    form = read(window, qtbot, written(tmp_path, text(plant)))
    assert "does the logger still measure?" in form.remarks.text()
    form.hand_in.click()
    assert room_facts(plant)[-1].repeated


def test_an_old_file_is_said_and_can_not_be_recorded(
    window: StationWindow, plant: Plant, qtbot: QtBot, tmp_path: Path
) -> None:
    before = room_facts(plant)
    path = written(tmp_path, hall(now(plant) - timedelta(hours=2), plant.station.site.zone))
    form = read(window, qtbot, path)
    assert "2 h 03 old" in form.sentence.text()
    form.hand_in.click()
    assert "no reading to record" in form.files.complaint.text()
    assert room_facts(plant) == before
    assert form.isVisible()


def test_a_reading_that_got_too_old_on_the_screen_is_refused(
    window: StationWindow, plant: Plant, qtbot: QtBot, tmp_path: Path
) -> None:
    before = room_facts(plant)
    form = read(window, qtbot, written(tmp_path, text(plant)))
    plant.clock.go_on(timedelta(minutes=58))
    form.hand_in.click()
    assert "old, and 60 min are allowed" in form.sentence.text()
    assert room_facts(plant) == before


def test_somebodys_newer_reading_stands_and_is_said_at_once(
    window: StationWindow, plant: Plant, qtbot: QtBot, tmp_path: Path
) -> None:
    plant.station.read_room(26, 60, None)
    form = read(window, qtbot, written(tmp_path, text(plant)))
    assert "after this reading" in form.sentence.text()
    assert form.reading.text() == "Nothing yet."


def test_another_zone_is_chosen_for_a_file_that_names_none(
    window: StationWindow, plant: Plant, qtbot: QtBot, tmp_path: Path
) -> None:
    utc = plant.station.site.zone.__class__("UTC")
    form = read(window, qtbot, written(tmp_path, hall(now(plant), utc)))
    assert "its times were taken as Europe/Berlin" in form.sentence.text()
    form.zone.choose("UTC")
    qtbot.waitUntil(form.hand_in.isEnabled, timeout=WAIT_MS)
    assert form.origin.text().startswith("Measured 14:02")
    assert form.sentence.text() == ""
    assert "taken as UTC" in form.remarks.text()


def test_what_the_file_leaves_open_is_asked_and_kept_for_another_zone(
    window: StationWindow, plant: Plant, qtbot: QtBot, tmp_path: Path
) -> None:
    """BR-83."""
    form = begun(window)
    chosen(form, written(tmp_path, text(plant, head="Time,Hall,RH %", air="72.5,45")))
    qtbot.waitUntil(lambda: shown(window, QuestionsForm), timeout=WAIT_MS)
    asking = the(window, QuestionsForm)
    assert [field.asking.id for field in asking.fields] == ["unit"]
    asking.fields[0].choices.choose("F")
    asking.hand_in.click()
    qtbot.waitUntil(lambda: form.reading.text() == "22.5 °C and 45 %", timeout=WAIT_MS)
    form.zone.choose("Europe/Berlin standard")
    qtbot.waitUntil(form.hand_in.isEnabled, timeout=WAIT_MS)
    assert not shown(window, QuestionsForm)
    assert "Europe/Berlin standard" in form.remarks.text()


def test_a_file_has_to_be_chosen_first(window: StationWindow) -> None:
    form = begun(window)
    form.zone.choose("UTC")
    form.hand_in.click()
    assert form.files.complaint.text() == "Choose the logger's file."


def test_the_file_is_chosen_in_a_dialog_that_leaves_scans_to_the_station(
    window: StationWindow, plant: Plant, qtbot: QtBot, tmp_path: Path
) -> None:
    """BR-07: the system's own dialog would take a scan for typing."""
    form = begun(window)
    form.files.button.click()
    (dialog,) = window.findChildren(QFileDialog)
    assert dialog.testOption(QFileDialog.Option.DontUseNativeDialog)
    assert dialog.fileMode() == QFileDialog.FileMode.ExistingFile
    dialog.filesSelected.emit([str(written(tmp_path, text(plant)))])
    dialog.close()
    qtbot.waitUntil(lambda: form.reading.text() == "22.5 °C and 45 %", timeout=WAIT_MS)


def test_the_file_chosen_last_is_the_one_that_counts(
    window: StationWindow, plant: Plant, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The first is still being read when the second is chosen; nothing can be recorded meanwhile."""
    go_on = threading.Event()

    def slow(asked: AirAsked, at: datetime) -> object:
        go_on.wait(WAIT_MS / 1000)
        return find_air(asked, at)

    monkeypatch.setattr(flow, "find_air", slow)
    form = begun(window)
    chosen(form, written(tmp_path, text(plant), "first.csv"))
    chosen(form, written(tmp_path, text(plant, air="19.5,50"), "second.csv"))
    assert not form.hand_in.isEnabled()
    go_on.set()
    qtbot.waitUntil(form.hand_in.isEnabled, timeout=WAIT_MS)
    assert form.reading.text() == "19.5 °C and 50 %"
    assert "second.csv" in form.origin.text()


def test_what_comes_after_the_form_was_left_is_dropped(
    window: StationWindow, plant: Plant, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    go_on = threading.Event()

    def later(asked: AirAsked, at: datetime) -> object:
        go_on.wait(WAIT_MS / 1000)
        return find_air(asked, at)

    monkeypatch.setattr(flow, "find_air", later)
    form = begun(window)
    chosen(form, written(tmp_path, text(plant)))
    form.leave()
    go_on.set()
    window.dialogs.finish()
    QApplication.processEvents()
    assert shown(window, RoomDialog)


def test_reading_that_fails_is_said_and_never_left_hanging(
    window: StationWindow, plant: Plant, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(asked: AirAsked, at: datetime) -> object:
        raise ZeroDivisionError

    monkeypatch.setattr(flow, "find_air", broken)
    form = read(window, qtbot, written(tmp_path, text(plant)))
    assert "fault in the program" in form.sentence.text()


def test_a_window_that_closes_waits_for_what_is_still_read(
    window: StationWindow, plant: Plant, qtbot: QtBot, tmp_path: Path
) -> None:
    chosen(begun(window), written(tmp_path, text(plant)))
    with qtbot.waitSignal(window.closed, timeout=WAIT_MS):
        window.close()
