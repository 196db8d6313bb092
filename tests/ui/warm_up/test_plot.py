"""What is seen of a run: points, the three lines told apart without colour, round figures, nothing cut."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from station.ui.theme import DARK, LIGHT, Theme, scale_for
from station.ui.warm_up.plot import Axes, RunPicture, WarmingPlot
from station.ui.warm_up.ticks import minutes_text, ticks, time_ticks

SIZES = ((520, 270), (560, 400), (1700, 800))


def curve(tau_s: float) -> Callable[[float], float]:
    return lambda second: 23.0 - 18.0 * float(2.718281828 ** (-max(second - 600, 0) / tau_s))


POINTS = tuple((minute * 60.0, curve(2700)(minute * 60.0) + 0.05 * (-1) ** minute) for minute in range(240))
PICTURE = RunPicture(
    points=POINTS,
    room_c=23.0,
    curve=curve(2700),
    floor=curve(3000),
    residuals=tuple((second, value - curve(2700)(second)) for second, value in POINTS),
    curve_name="its curve",
    floor_name="safe pair",
)


def drawn(
    qtbot: QtBot, picture: RunPicture | None, size: tuple[int, int] = SIZES[0], theme: Theme = LIGHT
) -> tuple[WarmingPlot, QImage]:
    plot = WarmingPlot()
    qtbot.addWidget(plot)
    plot.resize(*size)
    plot.set_look(theme, scale_for(size[0] * 1.9, size[1] * 2.6))
    plot.show_picture(picture)
    return plot, plot.grab().toImage()


def texts(plot: WarmingPlot) -> list[str]:
    return [record.text for record in plot.lettered]


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
@pytest.mark.parametrize("size", SIZES, ids=str)
def test_no_word_is_cut_or_lies_on_another(qtbot: QtBot, size: tuple[int, int], theme: Theme) -> None:
    plot, _ = drawn(qtbot, PICTURE, size, theme)
    inks = [record.ink for record in plot.lettered]
    assert all(QRectF(plot.rect()).contains(ink) for ink in inks)
    assert not any(one.intersects(other) for i, one in enumerate(inks) for other in inks[:i])
    assert all(record.fits for record in plot.lettered)


def test_axes_room_and_every_line_are_named(qtbot: QtBot) -> None:
    said = texts(drawn(qtbot, PICTURE)[0])
    assert {"measured", "its curve", "safe pair", "room 23.0 °C", "measured less its curve"} <= set(said)
    assert {"5 °C", "20 °C", "0", "1 h", "2 h", "0 K"} <= set(said)


def test_a_run_that_was_never_fitted_shows_its_points_alone(qtbot: QtBot) -> None:
    plot, _ = drawn(qtbot, RunPicture(POINTS[:40], 23.0))
    assert "its curve" not in texts(plot)
    assert "measured" in texts(plot)


@pytest.mark.parametrize("picture", [None, RunPicture(())])
def test_nothing_to_draw_is_said(qtbot: QtBot, picture: RunPicture | None) -> None:
    assert texts(drawn(qtbot, picture)[0]) == ["There is nothing to draw of this run."]


def _dark_share(image: QImage, plot: WarmingPlot, row: str) -> float:
    """How much of the sample left of a legend's word is inked."""
    ink = next(record.ink for record in plot.lettered if record.text == row)
    size = next(record.size for record in plot.lettered if record.text == row)
    left, right = round(ink.left() - size * 2.6), round(ink.left() - size * 0.8)
    down = [round(ink.center().y()) + step for step in range(-6, 7)]
    columns = [any(image.pixelColor(x, y).lightness() < 150 for y in down) for x in range(left, right)]
    return sum(columns) / len(columns)


def test_the_lines_differ_by_pattern_and_not_by_colour_alone(qtbot: QtBot) -> None:
    plot, image = drawn(qtbot, PICTURE, SIZES[2])
    whole = _dark_share(image, plot, "its curve")
    dashed = _dark_share(image, plot, "safe pair")
    dotted = _dark_share(image, plot, "room 23.0 °C")
    points = _dark_share(image, plot, "measured")
    assert whole > 0.95
    assert 0.6 < dashed < 0.95
    assert dotted < dashed
    assert points < 0.5


def test_a_reading_is_drawn_where_it_belongs(qtbot: QtBot) -> None:
    axes = Axes(QRectF(100, 10, 400, 200), 0, 4000, 0, 20)
    assert (axes.at(1000, 5).x(), axes.at(1000, 5).y()) == (200, 160)


def test_times_and_figures_on_the_axes_are_round() -> None:
    assert time_ticks(0, 4 * 3600, 6) == ((0, "0"), (3600, "1 h"), (7200, "2 h"), (10800, "3 h"), (14400, "4 h"))
    assert time_ticks(-600, 1500, 5)[0] == (-600, "\N{MINUS SIGN}10 min")
    assert minutes_text(5400) == "1 h 30"
    assert ticks(4.2, 24.1, 5) == (5, 10, 15, 20)
    assert ticks(-0.33, 0.33, 4) == pytest.approx((-0.2, 0.0, 0.2))
    assert len(ticks(0, 0, 5)) == 1
