"""The signs beside the words: one shape for each verdict, bars for alarm priority, marks for health.

No shape here is a safety sign: those are for hazards to people only.
"""

from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPolygonF

from station.care.words import Priority, Word
from station.ui.widgets.painted import frame, outline_pen

PRIORITY_BARS = {Priority.HIGH: 3, Priority.MEDIUM: 2, Priority.LOW: 1}


def _at(area: QRectF, across: float, down: float) -> QPointF:
    return QPointF(area.left() + area.width() * across, area.top() + area.height() * down)


def _path(painter: QPainter, area: QRectF, points: tuple[tuple[float, float], ...], *, closed: bool = False) -> None:
    polygon = QPolygonF([_at(area, across, down) for across, down in points])
    if closed:
        painter.drawPolygon(polygon)
    else:
        painter.drawPolyline(polygon)


def _pen(painter: QPainter, area: QRectF, colour: str, share: float = 0.085) -> None:
    painter.setPen(outline_pen(colour, area.width() * share))
    painter.setBrush(Qt.BrushStyle.NoBrush)


def use_shape(painter: QPainter, area: QRectF, colour: str) -> None:
    """A ring with a tick."""
    _pen(painter, area, colour)
    margin = area.width() * 0.0425
    painter.drawEllipse(area.adjusted(margin, margin, -margin, -margin))
    _pen(painter, area, colour, 0.11)
    _path(painter, area, ((0.26, 0.52), (0.44, 0.70), (0.75, 0.34)))


def wait_shape(painter: QPainter, area: QRectF, colour: str) -> None:
    """An hour-glass, still half full."""
    _pen(painter, area, colour)
    _path(painter, area, ((0.16, 0.05), (0.84, 0.05)))
    _path(painter, area, ((0.16, 0.95), (0.84, 0.95)))
    _path(painter, area, ((0.24, 0.05), (0.24, 0.20), (0.47, 0.5), (0.24, 0.80), (0.24, 0.95)))
    _path(painter, area, ((0.76, 0.05), (0.76, 0.20), (0.53, 0.5), (0.76, 0.80), (0.76, 0.95)))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(colour))
    _path(painter, area, ((0.34, 0.24), (0.66, 0.24), (0.5, 0.46)), closed=True)
    _path(painter, area, ((0.30, 0.90), (0.5, 0.70), (0.70, 0.90)), closed=True)


def stop_shape(painter: QPainter, area: QRectF, colour: str) -> None:
    """An octagon with a cross."""
    _pen(painter, area, colour)
    corner, edge = 0.30, 0.045
    far, turn = 1 - edge, 1 - corner
    octagon = ((corner, edge), (turn, edge), (far, corner), (far, turn), (turn, far), (corner, far))
    _path(painter, area, (*octagon, (edge, turn), (edge, corner)), closed=True)
    _pen(painter, area, colour, 0.12)
    _path(painter, area, ((0.32, 0.32), (0.68, 0.68)))
    _path(painter, area, ((0.68, 0.32), (0.32, 0.68)))


def done_shape(painter: QPainter, area: QRectF, colour: str) -> None:
    """A written sheet: it is recorded."""
    _pen(painter, area, colour)
    _path(painter, area, ((0.12, 0.045), (0.88, 0.045), (0.88, 0.955), (0.12, 0.955)), closed=True)
    for down, end in ((0.30, 0.72), (0.50, 0.72), (0.70, 0.52)):
        _path(painter, area, ((0.28, down), (end, down)))


def label_shape(painter: QPainter, area: QRectF, colour: str) -> None:
    """A tag with its hole: only the label speaks."""
    _pen(painter, area, colour)
    _path(painter, area, ((0.05, 0.5), (0.34, 0.16), (0.95, 0.16), (0.95, 0.84), (0.34, 0.84)), closed=True)
    painter.drawEllipse(_at(area, 0.36, 0.5), area.width() * 0.075, area.width() * 0.075)
    for down in (0.40, 0.60):
        _path(painter, area, ((0.55, down), (0.83, down)))


Shape = Callable[[QPainter, QRectF, str], None]
VERDICT_SHAPES: dict[Word, Shape] = {
    Word.USE: use_shape,
    Word.WAIT: wait_shape,
    Word.STOP: stop_shape,
    Word.DONE: done_shape,
}


def verdict_shape(word: Word, *, by_label: bool) -> Shape:
    """The sign beside a word; leave to use by a label alone has the label's, not the ring of a plain USE."""
    return label_shape if by_label and word is Word.USE else VERDICT_SHAPES[word]


def priority_bars(painter: QPainter, area: QRectF, priority: Priority, colour: str, *, hollow: bool = False) -> float:
    """One, two or three upright bars from the left of `area`; returns the width they took, in pixels."""
    wide, gap = area.height() * 0.24, area.height() * 0.14
    count = PRIORITY_BARS[priority]
    for number in range(count):
        bar = QRectF(area.left() + number * (wide + gap), area.top(), wide, area.height())
        if hollow:
            frame(painter, bar, colour, max(1.5, wide * 0.22))
        else:
            painter.fillRect(bar, QColor(colour))
    return count * wide + (count - 1) * gap


def health_mark(painter: QPainter, area: QRectF, colour: str, *, ok: bool) -> None:
    """A filled square where all is well, a crossed open one where not."""
    if ok:
        painter.fillRect(area, QColor(colour))
        return
    _pen(painter, area, colour, 0.16)
    margin = area.width() * 0.08
    painter.drawRect(area.adjusted(margin, margin, -margin, -margin))
    _path(painter, area, ((0.1, 0.1), (0.9, 0.9)))
    _path(painter, area, ((0.9, 0.1), (0.1, 0.9)))


def sound_mark(painter: QPainter, area: QRectF, colour: str, *, ok: bool) -> None:
    """A horn with two waves, or crossed through when there is no sound."""
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(colour))
    horn = ((0.02, 0.36), (0.20, 0.36), (0.44, 0.12), (0.44, 0.88), (0.20, 0.64), (0.02, 0.64))
    _path(painter, area, horn, closed=True)
    _pen(painter, area, colour, 0.09)
    if not ok:
        _path(painter, area, ((0.56, 0.30), (0.96, 0.70)))
        _path(painter, area, ((0.96, 0.30), (0.56, 0.70)))
        return
    for reach in (0.22, 0.40):
        arc = QRectF(_at(area, 0.44 - reach, 0.5 - reach), _at(area, 0.44 + reach, 0.5 + reach))
        painter.drawArc(arc, -45 * 16, 90 * 16)


def feeding_mark(painter: QPainter, area: QRectF, colour: str) -> None:
    """A solid wedge that points at the row which feeds the bead."""
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(colour))
    _path(painter, area, ((0.0, 0.0), (1.0, 0.5), (0.0, 1.0)), closed=True)


def jar_and_beam(painter: QPainter, area: QRectF, colour: str) -> None:
    """A container with its code under a scanner's beam: what to do on an empty screen."""
    _pen(painter, area, colour, 0.03)
    _path(painter, area, ((0.10, 0.34), (0.10, 0.95), (0.54, 0.95), (0.54, 0.34)), closed=True)
    painter.drawRect(QRectF(_at(area, 0.06, 0.18), _at(area, 0.58, 0.34)))
    cell = area.width() * 0.055
    corner = _at(area, 0.21, 0.52)
    for number in (0, 1, 2, 4, 6, 7, 9, 11, 12, 15):
        place = QRectF(corner.x() + number % 4 * cell, corner.y() + number // 4 * cell, cell, cell)
        painter.fillRect(place, QColor(colour))
    for slope in (-0.16, 0.0, 0.16):
        _path(painter, area, ((0.92, 0.63), (0.60, 0.63 + slope)))
    _path(painter, area, ((0.92, 0.50), (0.99, 0.50), (0.99, 0.76), (0.92, 0.76)), closed=True)
