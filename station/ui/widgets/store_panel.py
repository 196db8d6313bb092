"""A cold storage: its last reading large, its limits in words, and its recent readings between those limits."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPolygonF

from station.ui.theme import Pair
from station.ui.view_models import StoreModel
from station.ui.widgets.lettering import Lettering, Style, block_height
from station.ui.widgets.painted import PaintedPart, outline_pen, rule
from station.ui.widgets.store_curve import paint_curve

_NAME, _READING = 46, 66
_WORDS = _NAME + _READING + 12
_WIDE, _BESIDE = 800, 0.4


class StorePanel(PaintedPart):
    """Shows one `StoreModel`."""

    model: StoreModel | None = None

    def show_model(self, model: StoreModel | None) -> None:
        """Show another store or reading."""
        self.model = model
        self.paint_for(model)

    def preferred_height(self, _width: float) -> float:
        """Words and a curve, pixels."""
        return self.scale.of(268) if self.model else 0.0

    def least_height(self, width: float) -> float:
        """The words without the curve, pixels."""
        if self.model is None:
            return 0.0
        words = width * _BESIDE if self._beside(width) else width
        return self.scale.of(_WORDS) + block_height(self.model.caption, self._caption_style(), words)

    def _beside(self, width: float) -> bool:
        """Whether there is room for days of readings on the right of the words."""
        return self.model is not None and self.model.curve is not None and width > self.scale.of(_WIDE)

    def _caption_style(self) -> Style:
        return Style(self.scale.of(25), self.theme.quiet)

    def _pair(self) -> Pair:
        return self.theme.body if self.model is None or self.model.ok else self.theme.danger

    def paint(self, painter: QPainter, lettering: Lettering, area: QRectF) -> None:
        """Draw name, reading, caption, then the curve in what is left."""
        painter.fillRect(area, QColor(self.theme.body.ground))
        model, scale = self.model, self.scale
        if model is None:
            return
        beside = self._beside(area.width())
        if model.curve is not None and beside:
            whole, area = area, QRectF(area.left(), area.top(), area.width() * _BESIDE, area.height())
            days = QRectF(area.right() + scale.of(20), area.top() + scale.of(10), 0, area.height() - scale.of(20))
            days.setRight(whole.right())
            paint_curve(painter, lettering, days, model.curve, self.theme, scale)
        name = QRectF(area.left(), area.top(), area.width(), scale.of(_NAME))
        lettering.line(model.name, name, Style(scale.of(29), self.theme.body, bold=True))
        reading = QRectF(area.left(), name.bottom(), area.width(), scale.of(_READING))
        self._reading(painter, lettering, reading, model)
        caption = self._caption_style()
        high = min(block_height(model.caption, caption, area.width()) + 1, area.bottom() - reading.bottom())
        below = QRectF(area.left(), reading.bottom() + scale.of(4), area.width(), high)
        lettering.block(model.caption, below, caption)
        curve = QRectF(area.left(), below.bottom() + scale.of(14), area.width(), 0)
        curve.setBottom(area.bottom() - scale.of(6))
        if curve.height() > scale.of(30) and len(model.celsius) > 1:
            self._curve(painter, curve, model)
        if curve.height() > scale.of(30) and model.curve is not None and not beside:
            paint_curve(painter, lettering, curve, model.curve, self.theme, scale)

    def _reading(self, painter: QPainter, lettering: Lettering, area: QRectF, model: StoreModel) -> None:
        pair = self._pair()
        if not model.ok:
            painter.fillRect(area, QColor(pair.ground))
            area = area.adjusted(self.scale.of(14), 0, -self.scale.of(8), 0)
        lettering.line(model.reading, area, Style(self.scale.of(60), pair, bold=True))

    def _curve(self, painter: QPainter, area: QRectF, model: StoreModel) -> None:
        limits = [value for value in (model.low_celsius, model.high_celsius) if value is not None]
        low, high = min((*model.celsius, *limits)), max((*model.celsius, *limits))
        span = max(high - low, 0.1)

        def down(value: float) -> float:
            return area.bottom() - (value - low) / span * area.height()

        for limit in limits:
            rule(
                painter,
                QPointF(area.left(), down(limit)),
                QPointF(area.right(), down(limit)),
                self.theme.line,
                2.0,
            )
        step = area.width() / (len(model.celsius) - 1)
        points = [QPointF(area.left() + number * step, down(value)) for number, value in enumerate(model.celsius)]
        painter.setPen(outline_pen(self.theme.wait_digits.text, max(2.0, self.scale.of(4))))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolyline(QPolygonF(points))
