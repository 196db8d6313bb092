"""Nothing is cut and nothing overlaps, at any size and scale, at any telling moment."""

import dataclasses
import itertools
from collections import Counter
from enum import Enum

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from station.ui.screen import PlaceScreen
from station.ui.theme import DARK, LIGHT, Theme, digit_height_for
from station.ui.view_models import ScreenModel
from station.ui.widgets.lettering import Lettered
from station.ui.widgets.time_board import TimeBoard
from station.ui.widgets.touch_button import TouchButton
from tests.ui.gallery import GALLERY, SIZES, screen_of

# Logical sizes of common screens with the desktop scaled: 1920 x 1080 at 125, 150 and 200 %, 3840 x 2160 at 150 %.
SCALED = ((1536, 864), (1280, 720), (960, 540), (2560, 1440))
ALL_SIZES = (*SIZES, *SCALED)
PIXELS_PER_MILLIMETRE = 96 / 25.4


def painted(qtbot: QtBot, name: str, size: tuple[int, int], theme: Theme = LIGHT) -> tuple[PlaceScreen, QImage]:
    screen = screen_of(name, *size, theme)
    qtbot.addWidget(screen)
    return screen, screen.grab().toImage()


def lettered(screen: PlaceScreen) -> list[tuple[QWidget, Lettered, QRectF]]:
    return [(part, record, screen.on_screen(part, record.ink)) for part, record in screen.lettered()]


@pytest.mark.parametrize("size", ALL_SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("name", GALLERY)
class TestEverySize:
    def test_no_text_lies_on_another(self, qtbot: QtBot, name: str, size: tuple[int, int]) -> None:
        screen, _ = painted(qtbot, name, size)
        pieces = lettered(screen)
        clashes = [
            (one.text, other.text)
            for (_, one, first), (_, other, second) in itertools.combinations(pieces, 2)
            if first.intersects(second)
        ]
        assert clashes == []
        assert len(pieces) > 15

    def test_no_text_leaves_its_part(self, qtbot: QtBot, name: str, size: tuple[int, int]) -> None:
        screen, _ = painted(qtbot, name, size)
        outside = [
            (record.text, record.ink, part.rect())
            for part, record in screen.lettered()
            if not QRectF(part.rect()).contains(record.ink)
        ]
        assert outside == []

    def test_no_text_becomes_too_small_to_read(self, qtbot: QtBot, name: str, size: tuple[int, int]) -> None:
        screen, _ = painted(qtbot, name, size)
        assert [(record.text, record.size) for _, record in screen.lettered() if not record.fits] == []

    def test_what_can_be_touched_is_fifteen_millimetres_and_apart(
        self, qtbot: QtBot, name: str, size: tuple[int, int]
    ) -> None:
        screen, _ = painted(qtbot, name, size)
        buttons = [button for button in screen.findChildren(TouchButton) if button.isVisibleTo(screen)]
        areas = [screen.on_screen(button, QRectF(button.rect())) for button in buttons]
        least = 15 * PIXELS_PER_MILLIMETRE - 1
        assert all(area.width() >= least and area.height() >= least for area in areas)
        assert not any(one.intersects(other) for one, other in itertools.combinations(areas, 2))
        assert all(QRectF(screen.rect()).contains(area) for area in areas)

    def test_parts_stand_side_by_side(self, qtbot: QtBot, name: str, size: tuple[int, int]) -> None:
        screen, _ = painted(qtbot, name, size)
        parts = [child for child in screen.children() if isinstance(child, QWidget) and child.isVisibleTo(screen)]
        shown = [part for part in parts if part.height() > 0 and part.width() > 0]
        clashes = [
            (type(one).__name__, type(other).__name__)
            for one, other in itertools.combinations(shown, 2)
            if one.geometry().intersects(other.geometry())
        ]
        assert clashes == []
        assert all(screen.rect().contains(part.geometry()) for part in shown)


def longer(value: object) -> object:
    """The same model in a language half as long again."""
    if isinstance(value, str) and not isinstance(value, Enum) and " " in value:
        return f"{value} {value[: len(value) // 2].strip()}"
    if isinstance(value, tuple):
        return tuple(longer(part) for part in value)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        names = [field.name for field in dataclasses.fields(value) if field.name not in {"countdown", "id"}]
        return dataclasses.replace(value, **{name: longer(getattr(value, name)) for name in names})
    return value


@pytest.mark.parametrize("size", [(1024, 768), (1920, 1080)], ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("name", GALLERY)
def test_longer_words_of_another_language_are_neither_cut_nor_overlap(
    qtbot: QtBot, name: str, size: tuple[int, int]
) -> None:
    screen, _ = painted(qtbot, name, size)
    model = longer(GALLERY[name]())
    assert isinstance(model, ScreenModel)
    screen.show_model(model)
    screen.grab()
    pieces = lettered(screen)
    assert [
        (one.text, other.text)
        for (_, one, first), (_, other, second) in itertools.combinations(pieces, 2)
        if first.intersects(second)
    ] == []
    assert [record.text for part, record, _ in pieces if not QRectF(part.rect()).contains(record.ink)] == []


def most_common_colour(image: QImage, area: QRectF) -> str:
    counts: Counter[int] = Counter()
    for across in range(int(area.left()) - 2, int(area.right()) + 2):
        for down in range(int(area.top()) - 2, int(area.bottom()) + 2):
            if image.valid(across, down):
                counts[image.pixel(across, down) & 0xFFFFFF] += 1
    return QColor.fromRgb(counts.most_common(1)[0][0]).name().upper()


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
@pytest.mark.parametrize("name", GALLERY)
def test_every_text_stands_on_the_ground_its_contrast_was_proved_on(qtbot: QtBot, name: str, theme: Theme) -> None:
    screen, image = painted(qtbot, name, (1366, 768), theme)
    pairs = set(theme.pairs().values())
    for _, record, area in lettered(screen):
        assert record.pair in pairs
        # Bold capitals can ink more of their rectangle than they leave free.
        assert most_common_colour(image, area) in {record.pair.ground.upper(), record.pair.text.upper()}, record.text


def digit_heights(board: TimeBoard, tall: bool) -> list[float]:
    """Height in pixels of the leading figure of each count-down on the board."""
    heights = []
    for slot in board.laid_out().slots:
        row = QRectF(board.width() * 0.6, board.scale.of(44) + slot.top, board.width() * 0.4, slot.height)
        figure = slot.row.countdown.split()[0]
        found = [record.ink for record in board.lettered if record.text == figure and row.contains(record.ink)]
        if slot.row.tall is tall:
            heights += [ink.height() for ink in found[:1]]
    return heights


@pytest.mark.parametrize("name", ["printer-use", "printer-wait", "fridge-done", "desk-alarms"])
def test_count_downs_are_read_from_three_metres_on_a_full_hd_screen(qtbot: QtBot, name: str) -> None:
    screen, _ = painted(qtbot, name, (1920, 1080))
    least = digit_height_for(3, PIXELS_PER_MILLIMETRE)
    heights = digit_heights(screen.board, tall=False)
    assert heights
    assert min(heights) >= least - 1


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
def test_the_bead_is_read_from_further_away_than_a_container(qtbot: QtBot, size: tuple[int, int]) -> None:
    screen, _ = painted(qtbot, "printer-use", size)
    assert min(digit_heights(screen.board, tall=True)) > 1.25 * max(digit_heights(screen.board, tall=False))


def test_figures_of_plain_rows_share_one_size_and_one_right_edge(qtbot: QtBot) -> None:
    screen, _ = painted(qtbot, "fridge-done", (1920, 1080))
    figures = [record for _, record in screen.lettered() if record.text in {"20", "31"}]
    assert len(figures) == 3
    assert len({record.size for record in figures}) == 1
    rights = [record.ink.right() for record in figures]
    assert max(rights) - min(rights) < 12


def look_of(screen: PlaceScreen) -> list[tuple[str, tuple[float, float], float]]:
    """Every text with its place on the screen and its size."""
    return [(record.text, (area.x(), area.y()), record.size) for _, record, area in lettered(screen)]


@pytest.mark.parametrize("name", GALLERY)
def test_a_screen_that_is_resized_looks_as_if_it_had_been_opened_so(qtbot: QtBot, name: str) -> None:
    screen, _ = painted(qtbot, name, (1920, 1080))
    screen.resize(1024, 768)
    screen.grab()
    fresh, _ = painted(qtbot, name, (1024, 768))
    assert look_of(screen) == look_of(fresh)
