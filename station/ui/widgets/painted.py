"""What every painted part shares: one theme, one scale, the flash phase it is told, and the record of its text."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from station.ui.theme import LIGHT, Scale, Theme, scale_for
from station.ui.widgets.lettering import Lettered, Lettering


class PaintedPart(QWidget):
    """A part that draws itself in `paint`. It owns no timer: `set_flash` is told the phase."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme: Theme = LIGHT
        self.scale: Scale = scale_for(1920, 1080)
        self.flash_on = True
        self.lettered: tuple[Lettered, ...] = ()
        self._painted_for: object = None

    def set_look(self, theme: Theme, scale: Scale) -> None:
        """Take other colours and sizes."""
        if (theme, scale) != (self.theme, self.scale):
            self.theme, self.scale = theme, scale
            self.update()

    def paint_for(self, *shown: object) -> None:
        """Paint anew where what is `shown` is not what was: a screen is told all it shows once a second."""
        if shown != self._painted_for:
            self._painted_for = shown
            self.update()

    def set_flash(self, on: bool) -> None:
        """Take the phase of the flash, told by whoever owns the one timer (at most 2 Hz)."""
        if self.flash_on != on:
            self.flash_on = on
            if self.flashes():
                self.update()

    def flashes(self) -> bool:
        """True while something here is unacknowledged."""
        return False

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the part and keep the record of its text."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        lettering = Lettering(painter)
        self.paint(painter, lettering, QRectF(self.rect()))
        self.lettered = tuple(lettering.records)
        painter.end()

    def paint(self, painter: QPainter, lettering: Lettering, area: QRectF) -> None:
        """Draw into `area`; each part has its own."""
        raise NotImplementedError

    def preferred_height(self, width: float) -> float:
        """Height in pixels at which everything here stands in its wanted size."""
        raise NotImplementedError

    def least_height(self, width: float) -> float:
        """Height in pixels below which something here would be left out or hard to read."""
        return min(self.preferred_height(width), self.scale.of(142))


def outline_pen(colour: str, width: float, style: Qt.PenStyle = Qt.PenStyle.SolidLine) -> QPen:
    """A square-cornered pen."""
    pen = QPen(QColor(colour), width, style)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    return pen


def frame(painter: QPainter, area: QRectF, colour: str, width: float) -> None:
    """An outline drawn wholly inside `area`."""
    painter.setPen(outline_pen(colour, width))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    half = width / 2
    painter.drawRect(area.adjusted(half, half, -half, -half))


def rule(painter: QPainter, start: QPointF, end: QPointF, colour: str, width: float) -> None:
    """A straight line."""
    painter.setPen(outline_pen(colour, width))
    painter.drawLine(start, end)


def inset(area: QRectF, across: float, down: float) -> QRectF:
    """The area less a margin on each side."""
    return area.adjusted(across, down, -across, -down)
