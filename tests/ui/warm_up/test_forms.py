"""The three forms of the warm-up figures: whole at 1024 x 768, to be touched with gloves, in both surroundings."""

from collections.abc import Callable
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QLabel, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from station.settings import load
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.theme import DARK, LIGHT, Theme
from station.ui.view_models import ActionModel
from station.ui.warm_up.asked import Asking, Asks, Found, RunsAsked
from station.ui.warm_up.files_form import FilesForm
from station.ui.warm_up.questions_form import QuestionsForm, SeveralGroup
from station.ui.warm_up.result_form import ResultForm
from station.ui.warm_up.working_out import work_out
from station.ui.widgets.lettering import Lettered
from station.ui.widgets.touch_button import TouchButton
from tests.ui.dialogs import samples
from tests.ui.dialogs.test_dialogs import MILLIMETRES_15, opened, sentences, settle
from tests.ui.plants import DEMO
from tests.ui.warm_up.loggers import four, terse, written
from tests.ui.warm_up.loggers import samples as run_of

# The platform without a display says so of every window that is shown; it is no fault of a form.
pytestmark = pytest.mark.qt_log_ignore("does not support propagateSizeHints")
ZONE = "Europe/Berlin"
KINDS = tuple(
    ActionModel(kind.id, kind.title, "2 h 30 after 45 min, estimate") for kind in load(DEMO).plant.kinds.values()
)


@cache
def found() -> Found:
    """Three runs that count and one that does not."""
    with TemporaryDirectory() as folder:
        told = RunsAsked("JAR-500", four(Path(folder)), None, from_start=True, answers={"room": ("Room",)})
        answer = work_out(told, ZONE)
    assert isinstance(answer, Found)
    return answer


@cache
def questions() -> tuple[Asking, ...]:
    """Everything a terse file leaves open."""
    with TemporaryDirectory() as folder:
        answer = work_out(RunsAsked("JAR-500", written(Path(folder), terse(run_of(45, 1))), 23.0), ZONE)
    assert isinstance(answer, Asks)
    return answer.questions


def files(host: QWidget, theme: Theme = LIGHT) -> FilesForm:
    form = FilesForm(KINDS, "JAR-500", samples.ZONE, host, theme)
    form.take_files(tuple(Path(f"/measured/jar-{number}-bench-3.csv") for number in range(6)))
    return form


def asking(host: QWidget, theme: Theme = LIGHT) -> QuestionsForm:
    return QuestionsForm(questions(), host, theme)


def result(host: QWidget, theme: Theme = LIGHT) -> ResultForm:
    return ResultForm(found(), load(DEMO).plant.kinds["JAR-500"], host, theme)


MAKERS: dict[str, Callable[..., PaperDialog]] = {"files": files, "questions": asking, "result": result}


def host_of(qtbot: QtBot, size: tuple[int, int]) -> QWidget:
    host = samples.host_of(*size)
    qtbot.addWidget(host)
    host.show()
    return host


def shown(form: PaperDialog) -> list[QWidget]:
    parts = (*form.findChildren(QAbstractButton), *form.findChildren(QLineEdit), *form.findChildren(QLabel))
    return [part for part in parts if part.isVisibleTo(form)]


@pytest.mark.parametrize("name", MAKERS)
def test_all_of_it_is_seen_at_once_at_1024_x_768(name: str, qtbot: QtBot) -> None:
    host = host_of(qtbot, (1024, 768))
    form = MAKERS[name](host)
    opened(form)
    form.refuse("")
    settle()
    seen = QRect(0, 0, 1024, 768)
    assert [part for part in shown(form) if not seen.contains(QRect(part.mapTo(host, QPoint()), part.size()))] == []
    assert [part for part in shown(form) if part.visibleRegion().boundingRect() != part.rect()] == []


@pytest.mark.parametrize("size", [(1024, 768), (1920, 1080), (512, 384)], ids=str)
@pytest.mark.parametrize("name", MAKERS)
def test_everything_to_be_touched_is_fifteen_millimetres(name: str, size: tuple[int, int], qtbot: QtBot) -> None:
    form = MAKERS[name](host_of(qtbot, size))
    opened(form)
    touched = [part for part in shown(form) if not isinstance(part, QLabel)]
    assert [part for part in touched if min(part.width(), part.height()) < MILLIMETRES_15 - 0.5] == []
    assert len(touched) > 3


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
@pytest.mark.parametrize("name", MAKERS)
def test_nothing_painted_is_cut_or_too_small(name: str, theme: Theme, qtbot: QtBot) -> None:
    host = host_of(qtbot, (1024, 768))
    form = MAKERS[name](host, theme)
    opened(form)
    host.grab()
    records: list[Lettered] = [record for part in shown(form) for record in getattr(part, "lettered", ())]
    if isinstance(form, ResultForm):
        records += [*form.plot.lettered, *form.table.lettered]
    assert len(records) > 3
    assert [record.text for record in records if not record.fits] == []
    # a j hangs out to the left of where it stands; every button leaves it that room
    assert [r.text for r in records if not r.box.adjusted(-3, -1, 3, 1).contains(r.ink)] == []


@pytest.mark.parametrize("name", MAKERS)
def test_an_enter_from_a_scanner_presses_nothing(name: str, qtbot: QtBot) -> None:
    """BR-07."""
    form = MAKERS[name](host_of(qtbot, (1024, 768)))
    words = opened(form)
    for part in (*form.findChildren(QLineEdit), *form.findChildren(TouchButton)):
        part.setFocus()
        QTest.keyClick(part, Qt.Key.Key_Return)
    assert (words, sentences(form)) == ([], [])


def test_what_is_written_counts_before_what_is_chosen(qtbot: QtBot) -> None:
    form = asking(host_of(qtbot, (1024, 768)))
    opened(form)
    zone = next(field for field in form.fields if field.asking.id == "zone")
    zone.choices.choose("UTC")
    zone.written.fill("UTC+02:00")
    assert zone.answer() == ("UTC+02:00",)
    zone.choices.choose("UTC")
    assert (zone.written.text, zone.answer()) == ("", ("UTC",))


def test_date_and_time_may_stand_in_two_columns(qtbot: QtBot) -> None:
    columns = tuple(ActionModel(name, name) for name in ("Day", "Clock", "Probe"))
    question = Asking("time-column", "Several columns could be its time.", columns, "or its number", several=True)
    form = QuestionsForm((question,), host_of(qtbot, (1024, 768)))
    words = opened(form)
    group = form.fields[0].choices
    assert isinstance(group, SeveralGroup)
    for button in group.buttons[:2]:
        button.click()
    form.hand_in.click()
    assert words == [{"time-column": ("Day", "Clock")}]


def test_one_that_was_touched_twice_is_not_meant(qtbot: QtBot) -> None:
    question = Asking("sensor", "It has no column of temperatures.", (ActionModel("A", "A"), ActionModel("B", "B")),
                      several=True)  # fmt: skip
    form = QuestionsForm((question,), host_of(qtbot, (1024, 768)))
    words = opened(form)
    first, second = form.fields[0].choices.buttons
    for button in (first, second, first):
        button.click()
    form.hand_in.click()
    assert words == [{"sensor": ("B",)}]
