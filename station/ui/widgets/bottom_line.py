"""The line at the foot: what can be scanned here, and whether scanner, printer, link and disk work."""

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter

from station.ui.theme import Pair
from station.ui.view_models import HealthMark
from station.ui.widgets import shapes
from station.ui.widgets.lettering import Lettering, Style, block_height, width_of
from station.ui.widgets.painted import PaintedPart

_HEIGHT = 54


class BottomLine(PaintedPart):
    """Hint on the left, health on the right; what is not well comes first and loud, with how to mend it."""

    hint = ""
    health: tuple[HealthMark, ...] = ()

    def show_model(self, hint: str, health: tuple[HealthMark, ...]) -> None:
        """Show another hint or health."""
        self.hint, self.health = hint, tuple(sorted(health, key=lambda mark: mark.ok))
        self.paint_for(hint, self.health)

    def preferred_height(self, width: float) -> float:
        """One line where hint and health stand side by side, else two, pixels."""
        one = max(self.scale.of(_HEIGHT), 34.0)
        return one if self._side_by_side(width) else one * 1.72

    def paint(self, painter: QPainter, lettering: Lettering, area: QRectF) -> None:
        """Draw hint and health side by side or one above the other."""
        painter.fillRect(area, QColor(self.theme.bottom.ground))
        pad = self.scale.of(28)
        body = area.adjusted(pad, 3, -pad, -3)
        if self._side_by_side(area.width()):
            health = QRectF(body.right() - self._health_width(), body.top(), self._health_width(), body.height())
            hint = QRectF(body.left(), body.top(), health.left() - body.left() - pad, body.height())
        else:
            hint = QRectF(body.left(), body.top(), body.width(), body.height() / 2)
            health = QRectF(body.left(), hint.bottom(), body.width(), body.height() / 2)
        lettering.block(self.hint, hint, Style(self.scale.of(27), self.theme.bottom), middle=True)
        self._marks(painter, lettering, health)

    def _style(self, pair: Pair, *, bold: bool = False) -> Style:
        return Style(self.scale.of(25), pair, bold=bold)

    def _side_by_side(self, width: float) -> bool:
        room = width - self._health_width() - 3 * self.scale.of(28)
        style = Style(self.scale.of(27), self.theme.bottom)
        return room > 0 and block_height(self.hint, style, room) < style.size * 1.5

    def _text(self, mark: HealthMark) -> str:
        return mark.name if mark.ok else f"{mark.name}: {mark.text}"

    def _mark_width(self, mark: HealthMark) -> float:
        style = self._style(self.theme.bottom, bold=not mark.ok)
        return width_of(self._text(mark), style) + style.size * 2.3

    def _health_width(self) -> float:
        return sum(self._mark_width(mark) for mark in self.health)

    def _marks(self, painter: QPainter, lettering: Lettering, area: QRectF) -> None:
        needed = self._health_width()
        share = min(1.0, area.width() / needed) if needed else 1.0
        left = area.left()
        for mark in self.health:
            wide = self._mark_width(mark) * share
            self._one(painter, lettering, QRectF(left, area.top(), wide, area.height()), mark)
            left += wide

    def _one(self, painter: QPainter, lettering: Lettering, cell: QRectF, mark: HealthMark) -> None:
        pair = self.theme.bottom_quiet if mark.ok else self.theme.caution
        style = self._style(pair, bold=not mark.ok)
        if not mark.ok:
            painter.fillRect(cell.adjusted(0, 2, -style.size * 0.3, -2), QColor(pair.ground))
        side = style.size * 0.72
        sign = QRectF(cell.left() + style.size * 0.4, cell.center().y() - side / 2, side, side)
        shapes.health_mark(painter, sign, pair.text, ok=mark.ok)
        room = QRectF(sign.right() + style.size * 0.36, cell.top(), 0, cell.height())
        room.setRight(cell.right() - style.size * 0.45)
        lettering.line(self._text(mark), room, style)
