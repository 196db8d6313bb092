"""Patterns that tell stretches and verdicts apart without colour: stripes, solid, dots, crosses, ruled lines."""

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter

from station.ui.widgets.painted import outline_pen


def _clipped(painter: QPainter, area: QRectF) -> None:
    painter.save()
    painter.setClipRect(area, Qt.ClipOperation.IntersectClip)


def _diagonals(painter: QPainter, area: QRectF, pitch: float, *, rising: bool) -> None:
    height, lines = area.height(), []
    first, second = (area.bottom(), area.top()) if rising else (area.top(), area.bottom())
    start = area.left() - height
    while start < area.right() + height:
        lines.append(QLineF(start, first, start + height, second))
        start += pitch
    painter.drawLines(lines)


def stripes(painter: QPainter, area: QRectF, colour: str, pitch: float, thickness: float) -> None:
    """Diagonal stripes rising to the right, over whatever ground is there."""
    _clipped(painter, area)
    painter.setPen(outline_pen(colour, thickness))
    _diagonals(painter, area, pitch, rising=True)
    painter.restore()


def crosses(painter: QPainter, area: QRectF, colour: str, pitch: float, thickness: float) -> None:
    """Two sets of diagonals across each other."""
    _clipped(painter, area)
    painter.setPen(outline_pen(colour, thickness))
    _diagonals(painter, area, pitch, rising=True)
    _diagonals(painter, area, pitch, rising=False)
    painter.restore()


def dots(painter: QPainter, area: QRectF, colour: str, pitch: float, radius: float) -> None:
    """Rows of dots, every second row shifted by half."""
    _clipped(painter, area)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(colour))
    rows = max(1, int(area.height() // (pitch * 0.8)))
    step = area.height() / rows
    for row in range(rows):
        across = area.left() + pitch * (0.5 if row % 2 == 0 else 1.0)
        while across < area.right() + radius:
            painter.drawEllipse(QPointF(across, area.top() + step * (row + 0.5)), radius, radius)
            across += pitch
    painter.restore()


def ruled(painter: QPainter, area: QRectF, colour: str, pitch: float, thickness: float) -> None:
    """Level lines, as on a form."""
    _clipped(painter, area)
    painter.setPen(outline_pen(colour, thickness))
    down = area.top() + pitch / 2
    while down < area.bottom():
        painter.drawLine(QPointF(area.left(), down), QPointF(area.right(), down))
        down += pitch
    painter.restore()
