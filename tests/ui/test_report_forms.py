"""Reports at the desk: built beside the window, shown as tables, written where the form says."""

from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import NoReturn, TypeVar

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from station.labels.containercode import container_numbers, pack_container
from station.labels.plaincodes import TagKind, badge_text, tag_text
from station.reports.csv_file import from_csv
from station.scanning.heard import HeardScan
from station.ui.dialogs.report_dialog import AS_CSV, AS_CSV_COMMA, AS_PDF, ReportDialog, ShownReport
from station.ui.dialogs.story_dialog import ShownStory
from station.ui.report_forms import FOLDER
from station.ui.window import StationWindow
from tests.ui.plants import Plant, mid_shift
from tests.ui.test_sheet_forms import Documents

Form = TypeVar("Form", bound=QWidget)


@pytest.fixture(scope="module")
def plant() -> Plant:
    return mid_shift()


@pytest.fixture
def desk(plant: Plant, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[StationWindow]:
    monkeypatch.setattr(Documents, "at", tmp_path)
    monkeypatch.setattr("station.ui.report_forms.QStandardPaths", Documents)
    shown = StationWindow(plant.work, None)
    qtbot.addWidget(shown)
    shown.resize(1024, 768)
    shown.show()
    shown.hear(HeardScan(tag_text(TagKind.PLACE, "DESK"), ""))
    yield shown
    shown.close()


def seen(window: StationWindow, kind: type[Form]) -> list[Form]:
    """The forms of a kind that lie over the screen."""
    return [dialog for dialog in window.findChildren(kind) if dialog.isVisible()]


def ask(window: StationWindow, qtbot: QtBot, name: str, of: str = "") -> ShownReport:
    """Ask for a report and wait until it is shown."""
    window.act("report:")
    (form,) = seen(window, ReportDialog)
    form.reports.choose(name)
    form.of.fill(of)
    form.hand_in.click()
    qtbot.waitUntil(lambda: bool(seen(window, ShownReport)), timeout=20_000)
    return seen(window, ShownReport)[0]


def _says(shown: ShownReport, text: str) -> bool:
    return text in shown.sentence.text()


def cells(shown: ShownReport) -> list[list[str]]:
    """What stands in the table that is shown."""
    model = shown.view.model()
    rows, columns = range(model.rowCount()), range(model.columnCount())
    return [[str(model.data(model.index(row, column))) for column in columns] for row in rows]


def test_stock_is_shown_as_tables_one_at_a_time(desk: StationWindow, qtbot: QtBot, plant: Plant) -> None:
    shown = ask(desk, qtbot, "stock")
    assert [table.title for table in shown.report.tables] == ["Stock", "Reserve", "Shelf life ends soon"]
    alive = sum(1 for _ in plant.station.floor().alive())
    assert sum(int(row[3]) for row in cells(shown)) == alive
    shown.tables.choose("1")
    assert {row[0] for row in cells(shown)} == set(plant.station.site.plant.pastes)
    heading = shown.view.model().headerData(0, Qt.Orientation.Horizontal)
    assert heading == "paste"


def test_what_is_shown_is_written_as_csv_and_as_pdf_where_the_form_says(
    desk: StationWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    shown = ask(desk, qtbot, "stock")
    for form, end in ((AS_CSV, ".csv"), (AS_PDF, ".pdf")):
        next(button for button in shown.files if button.action_model.id == form).click()
        qtbot.waitUntil(partial(_says, shown, end), timeout=20_000)
    files = sorted((tmp_path / FOLDER).iterdir())
    assert [path.suffix for path in files] == [".csv", ".csv", ".csv", ".pdf"]
    assert all(str(path) in shown.sentence.text() for path in files if path.suffix == ".pdf")
    stock = next(path for path in files if path.stem.removeprefix("stock-").count("-") == 3 and path.suffix == ".csv")
    assert from_csv(stock.read_bytes()) == shown.report.tables[0]


def test_br_69_a_table_is_written_for_spreadsheets_of_either_decimal_sign(
    desk: StationWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    shown = ask(desk, qtbot, "stock")
    written: list[bytes] = []
    for form in (AS_CSV, AS_CSV_COMMA):
        shown.remark("")
        next(button for button in shown.files if button.action_model.id == form).click()
        qtbot.waitUntil(partial(_says, shown, ".csv"), timeout=20_000)
        written.append(min((tmp_path / FOLDER).glob("stock-*.csv"), key=lambda path: len(path.name)).read_bytes())
    assert [data.partition(b"\r\n")[0].partition(b"text")[0] for data in written] == [
        b'\xef\xbb\xbf"station-csv-1","separator comma","decimal point","',
        b'\xef\xbb\xbf"station-csv-1";"separator semicolon";"decimal comma";"',
    ]
    assert from_csv(written[0]) == from_csv(written[1]) == shown.report.tables[0]


def test_a_wrong_period_is_said_in_the_form_and_nothing_is_built(desk: StationWindow) -> None:
    desk.act("report:")
    (form,) = seen(desk, ReportDialog)
    form.first.fill("2026-11-24")
    form.last.fill("2026-11-01")
    form.hand_in.click()
    assert "before the first" in form.last.complaint.text()
    form.last.fill("24.13.")
    form.hand_in.click()
    assert form.last.complaint.text()
    form.leave()


def test_a_report_whose_form_was_left_is_dropped(desk: StationWindow, qtbot: QtBot) -> None:
    desk.act("report:")
    (form,) = seen(desk, ReportDialog)
    form.hand_in.click()
    form.leave()
    qtbot.waitUntil(lambda: desk.dialogs._reports._errand is None, timeout=20_000)
    assert seen(desk, ShownReport) == []


def without_end(*told: object) -> NoReturn:
    """Work that goes on until nobody wants it any more; its pace is given last, or stands in what is asked."""
    pace = told[-1] if callable(told[-1]) else told[-1].pace  # type: ignore[attr-defined]  # a report that is asked for
    while True:
        pace("counting jars", 1, 4)


def test_a_long_report_says_how_far_it_is_and_ends_when_its_form_is_left(
    desk: StationWindow, qtbot: QtBot, plant: Plant, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("station.ui.report_work.build", without_end)
    desk.act("report:")
    (form,) = seen(desk, ReportDialog)
    form.hand_in.click()
    qtbot.waitUntil(lambda: form.sentence.text().startswith("Counting jars: 25 %. Leave this form"), timeout=20_000)
    before = plant.station.ledger.tick
    desk.hear(HeardScan(tag_text(TagKind.PLACE, "FRIDGE"), ""))  # the window listens meanwhile; the form keeps it out
    assert (plant.station.place, plant.station.ledger.tick) == ("DESK", before)
    form.leave()
    qtbot.waitUntil(lambda: desk.dialogs._reports._errand is None, timeout=20_000)
    assert seen(desk, ShownReport) == []


def test_a_file_that_is_not_wanted_any_more_is_not_written(
    desk: StationWindow, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown = ask(desk, qtbot, "stock")
    monkeypatch.setattr("station.reports.files.pdf_files", without_end)
    next(button for button in shown.files if button.action_model.id == AS_PDF).click()
    qtbot.waitUntil(partial(_says, shown, "Counting jars: 25 %"), timeout=20_000)
    shown.leave()
    qtbot.waitUntil(lambda: desk.dialogs._reports._errand is None, timeout=20_000)
    assert list(tmp_path.iterdir()) == []


def test_the_story_of_a_scanned_container_is_one_touch_away(desk: StationWindow, plant: Plant) -> None:
    name = next(iter(plant.station.ledger.containers))
    desk.act(f"story:{name}")
    (shown,) = seen(desk, ShownReport)
    told = cells(shown)
    assert told[0][3].startswith("Received")
    assert f"container {name}" in shown.report.tables[0].title
    before = plant.station.ledger.tick
    desk.hear(HeardScan(tag_text(TagKind.PLACE, "FRIDGE"), ""))  # a scan over an open form changes nothing
    assert (plant.station.place, plant.station.ledger.tick) == ("DESK", before)
    shown.leave()


@pytest.mark.parametrize(
    ("what", "title"),
    [
        ("container", "Story of container "),
        ("tag", "Story of position 1"),
        ("badge", "Story of person P20"),
        ("order", "Story of work order WO8829"),
    ],
)
def test_whatever_is_scanned_while_the_form_is_open_has_its_story_told_and_nothing_is_recorded(
    desk: StationWindow, qtbot: QtBot, plant: Plant, what: str, title: str
) -> None:
    codes = {
        "container": pack_container(*container_numbers(next(iter(plant.names.values()))), plant.station.keys),
        "tag": tag_text(TagKind.POSITION, "1"),
        "badge": badge_text("P20"),
        "order": "WO8829-CTRL",
    }
    before = plant.station.ledger.tick
    desk.act("story:")
    desk.hear(HeardScan(codes[what], ""))
    qtbot.waitUntil(lambda: bool(seen(desk, ShownReport)), timeout=20_000)
    (shown,) = seen(desk, ShownReport)
    assert any(table.title.startswith(title) and table.rows for table in shown.report.tables)
    assert plant.station.ledger.tick == before
    shown.leave()


def test_a_story_is_drawn_on_the_board_above_its_lines(desk: StationWindow, plant: Plant) -> None:
    name = next(iter(plant.station.ledger.containers))
    desk.act(f"story:{name}")
    (shown,) = seen(desk, ShownStory)
    model = shown.board.model
    assert model is not None
    assert model.rows[0].title == name.replace("-", " ")
    assert len(model.rows[0].marks) == len(shown.report.tables[0].rows)
    assert shown.board.isVisible()
    assert shown.board.geometry().bottom() <= shown.view.geometry().top()
    shown.leave()


def test_a_story_of_anything_asks_of_what(desk: StationWindow) -> None:
    desk.act("story:")
    (form,) = seen(desk, ReportDialog)
    assert form.reports.chosen == "story"
    form.hand_in.click()
    assert "needs a name" in form.of.complaint.text()
    form.leave()
