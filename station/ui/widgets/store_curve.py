"""Seven days of a store between its limits: lines that break where nothing was measured, excursions striped."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPolygonF

from station.ui.theme import Scale, Theme
from station.ui.view_models import CurveModel
from station.ui.widgets.lettering import Lettering, Style
from station.ui.widgets.painted import frame, outline_pen, rule
from station.ui.widgets.patterns import stripes

MARGIN_K = 1.0


def paint_curve(
    painter: QPainter, lettering: Lettering, area: QRectF, model: CurveModel, theme: Theme, scale: Scale
) -> None:
    """Draw it into `area`, which is a few lines of text high."""
    values = [celsius for line in model.lines for _, celsius in line]
    low = min((*values, model.low_celsius)) - MARGIN_K
    high = max((*values, model.high_celsius)) + MARGIN_K
    named = scale.of(64)
    field = area.adjusted(0, 0, -named, 0)

    def at(across: float, celsius: float) -> QPointF:
        return QPointF(
            field.left() + across * field.width(), field.bottom() - (celsius - low) / (high - low) * field.height()
        )

    for begin, end in model.outside:
        left, right = at(begin, high), at(end, low)
        wide = max(right.x() - left.x(), scale.of(5))
        stripes(painter, QRectF(left.x(), field.top(), wide, field.height()), theme.danger.ground, scale.of(9), 2.0)
    for limit in (model.low_celsius, model.high_celsius):
        rule(painter, at(0, limit), at(1, limit), theme.line, 2.0)
        name = QRectF(field.right() + scale.of(6), at(1, limit).y() - scale.of(14), named, scale.of(28))
        lettering.line(f"{limit:g} °C", name, Style(scale.of(20), theme.quiet))
    width = max(2.0, scale.of(4))
    for line in model.lines:
        painter.setPen(outline_pen(theme.wait_digits.text, width))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        points = [at(across, celsius) for across, celsius in line]
        if len(points) == 1:  # by itself between two gaps
            painter.drawRect(QRectF(points[0].x() - width / 2, points[0].y() - width / 2, width, width))
        painter.drawPolyline(QPolygonF(points))
    days = QRectF(field.left() + scale.of(8), field.top() + scale.of(2), field.width(), scale.of(28))
    lettering.line(model.caption, days, Style(scale.of(20), theme.quiet))
    frame(painter, field, theme.line, 1.0)
