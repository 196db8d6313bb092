"""Warm-up figures at the desk, as an engineer goes through them: files, questions, pictures, acceptance."""

import threading
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from typing import TypeVar

import pytest
from PySide6.QtCore import QThread
from PySide6.QtWidgets import QApplication, QFileDialog, QWidget
from pytestqt.qtbot import QtBot

from station.labels.plaincodes import TagKind, badge_text, tag_text
from station.scanning.heard import HeardScan
from station.ui.dialogs.lead_dialog import LeadDialog
from station.ui.warm_up import flow
from station.ui.warm_up.asked import RunsAsked
from station.ui.warm_up.files_form import FilesForm
from station.ui.warm_up.questions_form import QuestionsForm
from station.ui.warm_up.result_form import ResultForm
from station.ui.warm_up.working_out import work_out
from station.ui.window import StationWindow
from tests.ui.plants import Plant, mid_shift
from tests.ui.warm_up.loggers import four, plain, samples, terse, written

Form = TypeVar("Form", bound=QWidget)
WAIT_MS = 30_000


@pytest.fixture
def plant() -> Plant:
    return mid_shift()


@pytest.fixture
def desk(plant: Plant, qtbot: QtBot) -> Iterator[StationWindow]:
    window = StationWindow(plant.work, None)
    qtbot.addWidget(window)
    window.resize(1024, 768)
    window.show()
    window.hear(HeardScan(tag_text(TagKind.PLACE, "DESK"), ""))
    yield window
    window.close()


def the(window: StationWindow, kind: type[Form]) -> Form:
    found = [form for form in window.findChildren(kind) if form.isVisible()]
    assert found, f"no {kind.__name__} is open"
    return found[-1]


def shown(window: StationWindow, kind: type[QWidget]) -> bool:
    return any(form.isVisible() for form in window.findChildren(kind))


def handed_in(desk: StationWindow, paths: tuple[Path, ...], kind: str = "JAR-500") -> FilesForm:
    """The first form with these files, a sensor as the room's thermometer, and the take-out at the files' start."""
    desk.act(f"figures:{kind}")
    form = the(desk, FilesForm)
    form.take_files(paths)
    form.unit.choose("sensor")
    form.take_out.choose("from-start")
    form.hand_in.click()
    return form


def answered(desk: StationWindow, qtbot: QtBot, **answers: str) -> None:
    """Answer the questions that come next."""
    qtbot.waitUntil(lambda: shown(desk, QuestionsForm), timeout=WAIT_MS)
    form = the(desk, QuestionsForm)
    for field in form.fields:
        field.choices.choose(answers[field.asking.id.replace("-", "_")])
    form.hand_in.click()


def result(desk: StationWindow, qtbot: QtBot, paths: tuple[Path, ...]) -> ResultForm:
    handed_in(desk, paths)
    answered(desk, qtbot, room="Room")
    qtbot.waitUntil(lambda: shown(desk, ResultForm), timeout=WAIT_MS)
    return the(desk, ResultForm)


def test_from_files_to_accepted_figures(desk: StationWindow, plant: Plant, qtbot: QtBot, tmp_path: Path) -> None:
    form = result(desk, qtbot, four(tmp_path))
    assert form.runs.caption.text() == "3 of 4 runs count"
    assert plant.station.ledger.figures == {}
    form.hand_in.click()
    accept = the(desk, LeadDialog)
    desk.hear(HeardScan(badge_text("P30"), ""))
    for digit in "3030":
        accept.pad.touch(digit)
    accept.reason.fill("probe in the middle, bench 3")
    accept.hand_in.click()
    figures = plant.station.ledger.figures["JAR-500"]
    assert figures.time_constant > timedelta(minutes=46.5)
    assert not figures.estimate
    assert not desk.dialogs.busy
    assert desk.view.model is not None
    assert desk.view.model.verdict is not None
    assert desk.view.model.verdict.headline == "FIGURES ACCEPTED"


def test_a_shift_lead_who_is_no_engineer_accepts_nothing(
    desk: StationWindow, plant: Plant, qtbot: QtBot, tmp_path: Path
) -> None:
    result(desk, qtbot, four(tmp_path)).hand_in.click()
    accept = the(desk, LeadDialog)
    accept.take_badge("P20")
    accept.pin.fill("2020")
    accept.reason.fill("measured")
    accept.hand_in.click()
    assert "process engineer" in accept.sentence.text()
    assert accept.isVisible()
    assert plant.station.ledger.figures == {}


def test_each_run_says_whether_it_counts_and_is_drawn_when_touched(
    desk: StationWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    form = result(desk, qtbot, four(tmp_path))
    hints = [button.action_model.hint for button in form.runs.buttons]
    assert [hint.split()[0] for hint in hints] == ["Counts:", "Counts:", "Counts:", "Refused."]
    assert "Log longer" in hints[3]
    first = form.plot.picture
    assert first is not None
    assert first.residuals
    form.runs.buttons[3].click()
    assert form.plot.picture is not None
    assert form.plot.picture.points != first.points
    assert form.plot.picture.curve is None


def test_the_floors_curve_is_behind_every_reading_on_its_way(desk: StationWindow, qtbot: QtBot, tmp_path: Path) -> None:
    form = result(desk, qtbot, four(tmp_path))
    for number in range(3):
        form.runs.choose(str(number))
        picture = form.plot.picture
        assert picture is not None
        assert picture.floor is not None
        assert picture.curve is not None
        on_its_way = [second for second, value in picture.points if 12 < value < 21]
        assert all(picture.floor(second) < picture.curve(second) for second in on_its_way)


def test_present_pooled_and_safe_figures_stand_side_by_side(desk: StationWindow, qtbot: QtBot, tmp_path: Path) -> None:
    form = result(desk, qtbot, four(tmp_path))
    together, safe, now = form.table.rows
    assert together.cells[0] == "3 runs"
    assert "(" in together.cells[1]
    assert (safe.cells[0], safe.strong) == ("safe, to accept", True)
    assert now.cells == ("now, estimate", "55 min", "5 min", "2 h 06")


def test_one_run_that_counts_gives_nothing_to_accept(desk: StationWindow, qtbot: QtBot, tmp_path: Path) -> None:
    form = result(desk, qtbot, written(tmp_path, plain(samples(45, 1))))
    assert not form.hand_in.isEnabled()
    assert [row.cells[0] for row in form.table.rows] == ["now, estimate"]
    picture = form.plot.picture
    assert picture is not None
    assert picture.floor_name == "figures now"


def test_the_questions_of_a_terse_file_are_answered_by_touch(desk: StationWindow, qtbot: QtBot, tmp_path: Path) -> None:
    handed_in(desk, written(tmp_path, terse(samples(45, 1)), terse(samples(46, 2))))
    qtbot.waitUntil(lambda: shown(desk, QuestionsForm), timeout=WAIT_MS)
    forms = the(desk, QuestionsForm).fields[0].choices.buttons
    day_first = next(button.action_model.id for button in forms if button.action_model.hint == "the day first")
    answered(desk, qtbot, time_format=day_first, zone="Europe/Berlin", unit="C")
    qtbot.waitUntil(
        lambda: shown(desk, QuestionsForm) and the(desk, QuestionsForm).fields[0].asking.id == "room", timeout=WAIT_MS
    )
    answered(desk, qtbot, room="Room")
    qtbot.waitUntil(lambda: shown(desk, ResultForm), timeout=WAIT_MS)
    assert the(desk, ResultForm).runs.caption.text() == "2 of 2 runs count"


def test_an_open_question_is_not_passed_over(desk: StationWindow, qtbot: QtBot, tmp_path: Path) -> None:
    handed_in(desk, four(tmp_path))
    qtbot.waitUntil(lambda: shown(desk, QuestionsForm), timeout=WAIT_MS)
    form = the(desk, QuestionsForm)
    form.hand_in.click()
    assert form.isVisible()
    assert "nobody may guess" in form.fields[0].choices.complaint.text()


def test_back_leads_to_the_form_below_with_all_that_was_said(desk: StationWindow, qtbot: QtBot, tmp_path: Path) -> None:
    form = result(desk, qtbot, four(tmp_path))
    assert form.cancel.action_model.label == "Back"
    form.cancel.click()
    files = the(desk, FilesForm)
    assert len(files.files.paths) == 4
    assert files.hand_in.isEnabled()
    files.cancel.click()
    assert not desk.dialogs.busy


def test_what_can_not_be_read_is_said_in_the_form(desk: StationWindow, qtbot: QtBot, tmp_path: Path) -> None:
    form = handed_in(desk, written(tmp_path, "nothing of use\n"))
    qtbot.waitUntil(form.sentence.isVisible, timeout=WAIT_MS)
    assert "run1.csv" in form.sentence.text()
    assert form.hand_in.isEnabled()


def test_time_goes_on_at_the_desk_while_files_are_read(
    desk: StationWindow, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The window's thread is free: a tick is shown while the work stands still on the other one."""
    go_on, on_window = threading.Event(), []

    def slow(asked: RunsAsked, zone: str) -> object:
        on_window.append(QThread.currentThread() is desk.thread())
        go_on.wait(WAIT_MS / 1000)
        return None

    monkeypatch.setattr(flow, "work_out", slow)
    form = handed_in(desk, four(tmp_path))
    assert not form.hand_in.isEnabled()
    desk.tick()
    go_on.set()
    qtbot.waitUntil(form.hand_in.isEnabled, timeout=WAIT_MS)
    assert on_window == [False]
    assert "fault in the program" in form.sentence.text()


def test_what_comes_after_the_form_was_left_is_dropped(
    desk: StationWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    go_on = threading.Event()

    def later(asked: RunsAsked, zone: str) -> object:
        go_on.wait(WAIT_MS / 1000)
        return work_out(asked, zone)

    monkeypatch.setattr(flow, "work_out", later)
    form = handed_in(desk, four(tmp_path))
    form.leave()
    go_on.set()
    desk.dialogs.finish()
    QApplication.processEvents()
    assert not desk.dialogs.busy


def test_what_is_missing_is_asked_for_before_anything_is_read(desk: StationWindow) -> None:
    desk.act("figures:")
    form = the(desk, FilesForm)
    form.hand_in.click()
    said = [part.complaint.text() for part in (form.kind, form.files, form.room, form.take_out)]
    assert all(said)
    form.take_out.choose("noted")
    form.hand_in.click()
    assert "year-month-day" in form.outs.complaint.text()


def test_noted_times_are_read_as_plant_time(desk: StationWindow, tmp_path: Path) -> None:
    desk.act("figures:JAR-500")
    form = the(desk, FilesForm)
    form.take_files(four(tmp_path))
    form.room.fill("73,4")
    form.unit.choose("F")
    form.take_out.choose("noted")
    form.outs.fill("2026-07-03 08:00, 2026-07-03 09:30")
    word = form.collect()
    assert word is not None
    assert [f"{out:%H:%M}" for out in word.outs] == ["06:00", "07:30"]
    assert (word.room_c, word.from_start) == (23.0, False)


def test_files_are_chosen_in_a_dialog_that_leaves_scans_to_the_station(desk: StationWindow, tmp_path: Path) -> None:
    """BR-07: the system's own dialog would take a scan for typing."""
    desk.act("figures:JAR-500")
    form = the(desk, FilesForm)
    form.files.button.click()
    (dialog,) = desk.findChildren(QFileDialog)
    assert dialog.testOption(QFileDialog.Option.DontUseNativeDialog)
    path = written(tmp_path, plain(samples(45, 1)))[0]
    dialog.filesSelected.emit([str(path)])
    dialog.close()
    assert form.files.paths == (path,)
    assert "run1.csv" in form.files.remark.text()


def test_kinds_carry_the_figures_they_have_now(desk: StationWindow) -> None:
    desk.act("figures:JAR-500")
    form = the(desk, FilesForm)
    hints = {button.action_model.label: button.action_model.hint for button in form.kind.buttons}
    assert hints["jar 500 g"] == "time constant 55 min, dead time 5 min, estimate"
    assert form.kind.chosen == "JAR-500"


def test_work_that_fails_is_said_and_never_left_hanging(
    desk: StationWindow, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(asked: RunsAsked, zone: str) -> object:
        raise ZeroDivisionError

    monkeypatch.setattr(flow, "work_out", broken)
    form = handed_in(desk, four(tmp_path))
    qtbot.waitUntil(form.hand_in.isEnabled, timeout=WAIT_MS)
    assert "fault in the program" in form.sentence.text()


def test_a_window_that_closes_waits_for_what_is_still_read(desk: StationWindow, qtbot: QtBot, tmp_path: Path) -> None:
    handed_in(desk, four(tmp_path))
    with qtbot.waitSignal(desk.closed, timeout=WAIT_MS):
        desk.close()
