"""One row's bar on the time ruler: conditioning striped, usable solid, near dotted, past crossed."""

from datetime import datetime

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QPainter

from station.ui.ruler import TimeRuler
from station.ui.theme import Scale, Theme
from station.ui.view_models import Stretch, StretchKind
from station.ui.widgets import patterns
from station.ui.widgets.painted import outline_pen, rule

_LEAST_WIDTH = 7.0


def draw_stretch(
    painter: QPainter, lane: QRectF, ruler: TimeRuler, stretch: Stretch, theme: Theme, scale: Scale
) -> None:
    """Draw one stretch in its lane; a short one is kept wide enough to be seen, ending where it ends."""
    piece = stretch_rect(lane, ruler, stretch, _LEAST_WIDTH * scale.unit)
    fill_stretch(painter, piece, stretch.kind, theme, scale)
    edge = max(1.5, scale.of(3))
    mark = theme.stretch(stretch.kind)
    half = edge / 2
    inner = piece.adjusted(half, half, -half, -half)
    painter.setPen(outline_pen(mark.shape, edge))
    painter.drawLine(inner.topLeft(), inner.topRight())
    painter.drawLine(inner.bottomLeft(), inner.bottomRight())
    if ruler.reaches(stretch.start):
        rule(painter, QPointF(inner.left(), piece.top()), QPointF(inner.left(), piece.bottom()), mark.shape, edge)
    if ruler.reaches(stretch.end):
        rule(painter, QPointF(inner.right(), piece.top()), QPointF(inner.right(), piece.bottom()), mark.shape, edge)


def draw_marks(
    painter: QPainter, lane: QRectF, ruler: TimeRuler, marks: tuple[datetime, ...], theme: Theme, scale: Scale
) -> None:
    """A thin stroke through the lane at each instant; what falls on the same dot is drawn once."""
    over, wide = lane.height() * 0.28, max(1.0, scale.of(2.5))
    for across in sorted({round(lane.left() + ruler.position(mark)) for mark in marks}):
        start, end = QPointF(across, lane.top() - over), QPointF(across, lane.bottom() + over)
        rule(painter, start, end, theme.outline.shape, wide)


def stretch_rect(lane: QRectF, ruler: TimeRuler, stretch: Stretch, least: float) -> QRectF:
    """Where a stretch lies in its lane, pixels; it ends exactly at its end and is at least `least` wide."""
    right = lane.left() + ruler.position(stretch.end)
    left = min(lane.left() + ruler.position(stretch.start), right - least)
    return QRectF(left, lane.top(), right - left, lane.height())


def fill_stretch(painter: QPainter, piece: QRectF, kind: StretchKind, theme: Theme, scale: Scale) -> None:
    """Fill a rectangle with the pattern of one kind."""
    mark = theme.stretch(kind)
    if kind is StretchKind.USABLE:
        painter.fillRect(piece, QColor(mark.shape))
    elif kind is StretchKind.CONDITIONING:
        painter.fillRect(piece, QColor(mark.ground))
        patterns.stripes(painter, piece, mark.shape, scale.of(19), scale.of(6))
    elif kind is StretchKind.NEAR:
        painter.fillRect(piece, QColor(theme.near_dot.ground))
        patterns.dots(painter, piece, theme.near_dot.shape, scale.of(16), scale.of(3.2))
    else:
        painter.fillRect(piece, QColor(mark.ground))
        patterns.crosses(painter, piece, mark.shape, scale.of(16), scale.of(3.2))
