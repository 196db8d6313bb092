"""What an empty time board teaches: the four patterns a bar is made of, with their meaning."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from station.ui.theme import Scale, Theme
from station.ui.view_models import StretchKind
from station.ui.widgets.bar_painter import fill_stretch
from station.ui.widgets.lettering import Lettering, Style, block_height
from station.ui.widgets.painted import frame, inset


@dataclass(frozen=True)
class LegendWords:
    """The legend in the site's language: a heading, and a meaning for each pattern."""

    heading: str
    names: tuple[tuple[StretchKind, str], ...]


def draw_legend(
    painter: QPainter, lettering: Lettering, area: QRectF, theme: Theme, scale: Scale, words: LegendWords
) -> None:
    """Draw the heading and one sample for each pattern, as high as there is room for."""
    inner = inset(area, scale.of(24), scale.of(14))
    style = Style(scale.of(30), theme.body, bold=True)
    head = min(block_height(words.heading, style, inner.width()), inner.height() * 0.3)
    lettering.block(words.heading, QRectF(inner.left(), inner.top(), inner.width(), head + 1), style)
    top = inner.top() + head + scale.of(18)
    pitch = min(scale.of(92), (inner.bottom() - top) / len(words.names))
    for number, (kind, name) in enumerate(words.names):
        row = QRectF(inner.left(), top + number * pitch, inner.width(), pitch)
        _sample(painter, lettering, row, theme, scale, (kind, name))


def _sample(
    painter: QPainter,
    lettering: Lettering,
    row: QRectF,
    theme: Theme,
    scale: Scale,
    entry: tuple[StretchKind, str],
) -> None:
    kind, name = entry
    high = row.height() * 0.56
    bar = QRectF(row.left(), row.center().y() - high / 2, row.width() * 0.24, high)
    fill_stretch(painter, bar, kind, theme, scale)
    frame(painter, bar, theme.stretch(kind).shape, max(1.5, scale.of(3)))
    room = QRectF(bar.right() + scale.of(28), row.top(), 0, row.height())
    room.setRight(row.right())
    lettering.block(name, room, Style(scale.of(30), theme.body), middle=True)
