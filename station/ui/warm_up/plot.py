"""A run as a picture: measured points, the curve through them, the floor's slower one, the room; residuals beneath.

Painted like every other part here, not by a plotting library: the same letters and proved contrasts, nothing that
listens to keys a scanner may send, nothing to import before the first picture, and one dependency less. The four
things differ by pattern as well as colour: points, a whole line, a dashed and a dotted one.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from station.ui.warm_up.ticks import ticks, time_ticks
from station.ui.widgets.lettering import Align, Lettering, Style, width_of
from station.ui.widgets.painted import PaintedPart, frame, outline_pen

UPPER_SHARE = 0.7
CURVE_STEPS = 160
LEAST_RESIDUAL_K = 0.3


@dataclass(frozen=True)
class RunPicture:
    """What to draw: points and residuals over seconds since the take-out, two curves of time, the room in Celsius."""

    points: tuple[tuple[float, float], ...]
    room_c: float | None = None
    curve: Callable[[float], float] | None = None
    floor: Callable[[float], float] | None = None
    residuals: tuple[tuple[float, float], ...] = ()
    curve_name: str = ""
    floor_name: str = ""


@dataclass(frozen=True)
class Axes:
    """Where a value lies in pixels."""

    area: QRectF
    left: float
    right: float
    low: float
    high: float

    def at(self, second: float, value: float) -> QPointF:
        """The place of a value at a time."""
        across = (second - self.left) / max(1e-9, self.right - self.left)
        up = (value - self.low) / max(1e-9, self.high - self.low)
        return QPointF(self.area.left() + across * self.area.width(), self.area.bottom() - up * self.area.height())


class WarmingPlot(PaintedPart):
    """Draws one `RunPicture`, None for an empty frame."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.picture: RunPicture | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def show_picture(self, picture: RunPicture | None) -> None:
        """Draw another run."""
        self.picture = picture
        self.update()

    def preferred_height(self, width: float) -> float:
        """Half as high as wide, pixels."""
        return width * 0.5

    def paint(self, painter: QPainter, lettering: Lettering, area: QRectF) -> None:
        """Frame, axes, points and curves, residuals."""
        painter.fillRect(area, QColor(self.theme.card.ground))
        frame(painter, area, self.theme.line, max(1.0, self.scale.of(2)))
        if self.picture is None or len(self.picture.points) < 2:
            style = Style(self.scale.of(26), self.theme.card_quiet, align=Align.CENTRE)
            lettering.block(self.tr("There is nothing to draw of this run."), area, style, middle=True)
            return
        upper, lower = self._areas(area, bool(self.picture.residuals))
        axes = self._axes(self.picture, upper)
        self._grid(painter, lettering, axes, ticks(axes.low, axes.high, 5), "{:g} °C")
        self._times(painter, lettering, axes, lower or upper)
        self._curves(painter, self.picture, axes)
        self._legend(painter, lettering, self.picture, upper)
        if lower is not None:
            self._residuals(painter, lettering, self.picture, axes, lower)

    # ------------------------------------------------------------------ layout

    def _letters(self) -> float:
        return max(11.0, self.scale.of(22))

    def _areas(self, area: QRectF, residuals: bool) -> tuple[QRectF, QRectF | None]:
        size = self._letters()
        inner = area.adjusted(size * 4.6, size * 0.9, -size * 1.4, -size * 1.9)
        if not residuals:
            return inner, None
        cut = inner.height() * UPPER_SHARE
        return inner.adjusted(0, 0, 0, cut - inner.height()), inner.adjusted(0, cut + size * 1.3, 0, 0)

    def _axes(self, picture: RunPicture, upper: QRectF) -> Axes:
        seconds = [second for second, _ in picture.points]
        values = [value for _, value in picture.points]
        values += [picture.room_c] if picture.room_c is not None else []
        low, high = min(values), max(values)
        room = max(0.5, (high - low) * 0.06)
        return Axes(upper, min(seconds), max(seconds), low - room, high + room)

    # ------------------------------------------------------------------ drawing

    def _grid(self, painter: QPainter, lettering: Lettering, axes: Axes, values: Sequence[float], written: str) -> None:
        """Level lines at round values, their figures on the left."""
        size = self._letters()
        for value in values:
            point = axes.at(axes.left, value)
            painter.setPen(outline_pen(self.theme.line, 1.0))
            painter.drawLine(QLineF(point, QPointF(axes.area.right(), point.y())))
            box = QRectF(axes.area.left() - size * 4.4, point.y() - size * 0.6, size * 4.1, size * 1.2)
            text = written.format(value + 0.0).replace("-", "\N{MINUS SIGN}").replace("+0.0", "0")
            lettering.line(text, box, Style(size, self.theme.card_quiet, align=Align.RIGHT))
        frame(painter, axes.area, self.theme.card_quiet.text, 1.0)

    def _times(self, painter: QPainter, lettering: Lettering, axes: Axes, lowest: QRectF) -> None:
        """Upright lines at round times, named below the lowest picture."""
        size = self._letters()
        most = max(2, int(axes.area.width() // (size * 5.2)))
        for second, text in time_ticks(axes.left, axes.right, most):
            across = axes.at(second, axes.low).x()
            painter.setPen(outline_pen(self.theme.line, 1.0))
            painter.drawLine(QLineF(across, axes.area.top(), across, lowest.bottom()))
            wide = width_of(text, Style(size, self.theme.card_quiet)) + 4
            box = QRectF(across - wide / 2, lowest.bottom() + size * 0.25, wide, size * 1.3)
            lettering.line(text, box, Style(size, self.theme.card_quiet, align=Align.CENTRE))

    def _curves(self, painter: QPainter, picture: RunPicture, axes: Axes) -> None:
        painter.save()
        painter.setClipRect(axes.area)
        if picture.room_c is not None:
            self._room_line(painter, axes.at(axes.left, picture.room_c), axes.area.right())
        self._dots(painter, [axes.at(second, value) for second, value in picture.points])
        if picture.floor is not None:
            painter.setPen(self._floor_pen())
            self._curve(painter, picture.floor, axes)
        if picture.curve is not None:
            painter.setPen(outline_pen(self.theme.label_done.text, self._thick()))
            self._curve(painter, picture.curve, axes)
        painter.restore()

    def _curve(self, painter: QPainter, of: Callable[[float], float], axes: Axes) -> None:
        start = max(0.0, axes.left)
        step = (axes.right - start) / CURVE_STEPS
        seconds = [start + step * number for number in range(CURVE_STEPS + 1)]
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolyline(QPolygonF([axes.at(second, of(second)) for second in seconds]))

    def _dots(self, painter: QPainter, points: Sequence[QPointF]) -> None:
        pen = outline_pen(self.theme.card.text, max(3.2, self.scale.of(5.5)))
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
        painter.setPen(pen)
        painter.drawPoints(QPolygonF(points))

    def _room_line(self, painter: QPainter, start: QPointF, end: float) -> None:
        painter.setPen(outline_pen(self.theme.label_use.text, self._thick(), Qt.PenStyle.DotLine))
        painter.drawLine(QLineF(start, QPointF(end, start.y())))

    def _residuals(
        self, painter: QPainter, lettering: Lettering, picture: RunPicture, axes: Axes, lower: QRectF
    ) -> None:
        """How far each reading lies above or below its curve."""
        reach = max(LEAST_RESIDUAL_K, *(abs(value) for _, value in picture.residuals)) * 1.1
        beneath = Axes(lower, axes.left, axes.right, -reach, reach)
        self._grid(painter, lettering, beneath, ticks(-reach, reach, 4), "{:+.1f} K")
        size = self._letters()
        above = QRectF(lower.left(), lower.top() - size * 1.15, lower.width(), size * 1.1)
        lettering.line(self.tr("measured less its curve"), above, Style(size * 0.9, self.theme.card_quiet))
        painter.save()
        painter.setClipRect(lower)
        self._dots(painter, [beneath.at(second, value) for second, value in picture.residuals])
        painter.restore()

    def _thick(self) -> float:
        return max(1.8, self.scale.of(3))

    # ------------------------------------------------------------------ legend

    def _legend(self, painter: QPainter, lettering: Lettering, picture: RunPicture, upper: QRectF) -> None:
        """In the lower right corner, where a warming curve never is."""
        size = self._letters()
        rows = self._legend_rows(picture)
        style = Style(size, self.theme.card)
        wide = max(width_of(text, style) for text, _ in rows) + size * 3.6
        high = size * 1.45
        box = QRectF(upper.right() - wide - size * 0.6, 0, wide, high * len(rows) + size * 0.5)
        box.moveBottom(upper.bottom() - size * 0.5)
        painter.fillRect(box, QColor(self.theme.card.ground))
        for number, (text, draw) in enumerate(rows):
            row = QRectF(box.left(), box.top() + size * 0.25 + number * high, box.width(), high)
            draw(painter, QPointF(row.left() + size * 0.4, row.center().y()), row.left() + size * 2.6)
            lettering.line(text, row.adjusted(size * 3.2, 0, 0, 0), style)

    def _legend_rows(self, picture: RunPicture) -> list[tuple[str, Callable[[QPainter, QPointF, float], None]]]:
        rows: list[tuple[str, Callable[[QPainter, QPointF, float], None]]] = [(self.tr("measured"), self._three_dots)]
        if picture.curve is not None:
            rows.append((picture.curve_name, self._whole_line))
        if picture.floor is not None:
            rows.append((picture.floor_name, self._dashed_line))
        if picture.room_c is not None:
            rows.append((f"{self.tr('room')} {picture.room_c:.1f} °C", self._room_line))
        return rows

    def _three_dots(self, painter: QPainter, start: QPointF, end: float) -> None:
        third = (end - start.x()) / 2
        self._dots(painter, [QPointF(start.x() + third * number, start.y()) for number in range(3)])

    def _whole_line(self, painter: QPainter, start: QPointF, end: float) -> None:
        painter.setPen(outline_pen(self.theme.label_done.text, self._thick()))
        painter.drawLine(QLineF(start, QPointF(end, start.y())))

    def _dashed_line(self, painter: QPainter, start: QPointF, end: float) -> None:
        painter.setPen(self._floor_pen())
        painter.drawLine(QLineF(start, QPointF(end, start.y())))

    def _floor_pen(self) -> QPen:
        return outline_pen(self.theme.label_wait.text, self._thick(), Qt.PenStyle.DashLine)
