"""A screen is told once a second all it shows: what is the same is not painted again, what changed always is."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest
from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from station.ui.screen import PlaceScreen
from station.ui.theme import DARK
from station.ui.view_models import HealthMark, ScreenModel
from tests.ui.gallery import GALLERY, screen_of


class Painted(QObject):
    """Which parts of a screen were painted since it was asked last."""

    def __init__(self, screen: PlaceScreen) -> None:
        super().__init__()
        self._names: list[str] = []
        for part in screen.findChildren(QObject):
            part.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802  as Qt calls it
        if event.type() == QEvent.Type.Paint:
            self._names.append(type(watched).__name__)
        return False

    def after(self, act: Callable[[], object]) -> set[str]:
        """What an act has painted."""
        self._names.clear()
        act()
        for _ in range(3):
            QApplication.processEvents()
        return set(self._names)


def watched(qtbot: QtBot, name: str) -> tuple[PlaceScreen, ScreenModel, Painted]:
    screen = screen_of(name, 1024, 768)
    qtbot.addWidget(screen)
    screen.show()
    qtbot.waitExposed(screen)
    for _ in range(3):
        QApplication.processEvents()
    assert screen.model is not None
    return screen, screen.model, Painted(screen)


@pytest.mark.parametrize("name", GALLERY)
def test_the_same_screen_again_paints_nothing(qtbot: QtBot, name: str) -> None:
    screen, model, painted = watched(qtbot, name)
    assert painted.after(lambda: screen.show_model(model)) == set()


def test_another_second_paints_the_clock_and_the_time_board_and_leaves_the_verdict(qtbot: QtBot) -> None:
    screen, model, painted = watched(qtbot, "printer-use")
    later = replace(
        model,
        top=replace(model.top, clock_text="14:05:23"),
        board=replace(model.board, now=model.board.now + timedelta(seconds=1)),
    )
    assert painted.after(lambda: screen.show_model(later)) == {"TopBar", "TimeBoard"}


@pytest.mark.parametrize(
    ("changed", "part"),
    [
        (lambda model: {"verdict": replace(model.verdict, headline="ANOTHER")}, "VerdictPanel"),
        (lambda model: {"just_scanned": model.just_scanned[:1]}, "JustScanned"),
        (lambda _: {"bottom": "Scan another."}, "BottomLine"),
        (lambda model: {"top": replace(model.top, health=(HealthMark("Scanner", False, "gone"),))}, "BottomLine"),
    ],
)
def test_what_changed_is_painted(qtbot: QtBot, changed: Callable[[ScreenModel], dict[str, object]], part: str) -> None:
    screen, model, painted = watched(qtbot, "printer-use")
    other = replace(model, **changed(model))  # type: ignore[arg-type]
    assert part in painted.after(lambda: screen.show_model(other))


def test_rows_that_go_are_painted_away(qtbot: QtBot) -> None:
    screen, model, painted = watched(qtbot, "printer-use")
    assert "TimeBoard" in painted.after(lambda: screen.show_model(replace(model, board=replace(model.board, rows=()))))


def test_other_colours_and_another_size_paint_everything(qtbot: QtBot) -> None:
    screen, _, painted = watched(qtbot, "printer-use")
    everything = {"TopBar", "TimeBoard", "VerdictPanel", "JustScanned", "BottomLine", "TouchButton"}
    assert everything <= painted.after(lambda: screen.set_theme(DARK))
    assert everything <= painted.after(lambda: screen.resize(1366, 900))
