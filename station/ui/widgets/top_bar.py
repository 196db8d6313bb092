"""The dark bar on top: where this is, who is badged in, open alarms by priority, sound, the time with its zone."""

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter

from station.care.words import Priority
from station.ui.theme import Mark
from station.ui.view_models import Scope, TopBarModel
from station.ui.widgets import shapes
from station.ui.widgets.lettering import Align, Lettering, Style, width_of
from station.ui.widgets.painted import PaintedPart

_HEIGHT = 84
_PRIORITIES = (Priority.HIGH, Priority.MEDIUM, Priority.LOW)


class TopBar(PaintedPart):
    """Shows one `TopBarModel` in two lines: what matters large, what explains it below."""

    model: TopBarModel | None = None

    def show_model(self, model: TopBarModel) -> None:
        """Show other counts, person or time."""
        self.model = model
        self.paint_for(model)

    def flashes(self) -> bool:
        """True while an alarm is unacknowledged."""
        return self.model is not None and self.model.unacknowledged

    def preferred_height(self, _width: float) -> float:
        """Two lines of text, pixels."""
        return max(self.scale.of(_HEIGHT), 44.0)

    def paint(self, painter: QPainter, lettering: Lettering, area: QRectF) -> None:
        """Draw place and person on the left, alarms in the middle, sound and time on the right."""
        painter.fillRect(area, QColor(self.theme.bar.ground))
        if self.model is None:
            return
        pad = self.scale.of(28)
        body = area.adjusted(pad, self.scale.of(9), -pad, -self.scale.of(9))
        left = QRectF(body.left(), body.top(), body.width() * 0.27, body.height())
        middle = QRectF(left.right() + pad / 2, body.top(), body.width() * 0.43, body.height())
        right = QRectF(middle.right() + pad / 2, body.top(), 0, body.height())
        right.setRight(body.right())
        self._two_lines(lettering, left, self.model.place, self.model.person or self.tr("nobody badged in"), Align.LEFT)
        self._alarms(painter, lettering, middle, self.model)
        self._sound_and_time(painter, lettering, right, self.model)

    def _two_lines(self, lettering: Lettering, area: QRectF, large: str, small: str, align: Align) -> None:
        cut = area.top() + area.height() * 0.58
        upper = QRectF(area.left(), area.top(), area.width(), cut - area.top())
        lower = QRectF(area.left(), cut, area.width(), area.bottom() - cut)
        lettering.line(large, upper, Style(self.scale.of(37), self.theme.bar, bold=True, align=align))
        lettering.line(small, lower, Style(self.scale.of(25), self.theme.bar_quiet, align=align))

    def _mark(self, priority: Priority) -> Mark:
        marks = {
            Priority.HIGH: self.theme.bars_high,
            Priority.MEDIUM: self.theme.bars_medium,
            Priority.LOW: self.theme.bars_low,
        }
        return marks[priority]

    def _alarms(self, painter: QPainter, lettering: Lettering, area: QRectF, model: TopBarModel) -> None:
        wide = area.width() / len(_PRIORITIES)
        names = (self.tr("high"), self.tr("medium"), self.tr("low"))
        for number, (priority, name) in enumerate(zip(_PRIORITIES, names, strict=True)):
            cell = QRectF(area.left() + number * wide, area.top(), wide, area.height())
            self._alarm_cell(painter, lettering, cell, priority, name, model)
        lower = area.adjusted(0, area.height() * 0.60, -self.scale.of(18), 0)
        texts = {
            Scope.HERE: self.tr("open alarms of this place"),
            Scope.PLANT: self.tr("open alarms of the plant"),
        }
        lettering.line(texts[model.scope], lower, Style(self.scale.of(23), self.theme.bar_quiet))

    def _alarm_cell(
        self,
        painter: QPainter,
        lettering: Lettering,
        cell: QRectF,
        priority: Priority,
        name: str,
        model: TopBarModel,
    ) -> None:
        count = model.count(priority)
        loud = priority is Priority.HIGH and count > 0
        pair = self.theme.danger if loud else self.theme.bar
        if loud:
            painter.fillRect(
                cell.adjusted(-self.scale.of(10), -self.scale.of(3), -self.scale.of(14), -cell.height() * 0.42),
                QColor(pair.ground),
            )
        side = cell.height() * 0.44
        colour = pair.text if loud else self._mark(priority).shape
        bars = QRectF(cell.left(), cell.top() + (cell.height() * 0.58 - side) / 2, side, side)
        hollow = count == 0 or (model.unacknowledged and not self.flash_on)
        taken = shapes.priority_bars(painter, bars, priority, colour, hollow=hollow)
        text_left = cell.left() + taken + side * 0.35
        upper = QRectF(text_left, cell.top(), cell.right() - text_left - self.scale.of(18), cell.height() * 0.58)
        lettering.line(f"{count} {name}", upper, Style(self.scale.of(31), pair, bold=count > 0))

    def _sound_and_time(self, painter: QPainter, lettering: Lettering, area: QRectF, model: TopBarModel) -> None:
        style = Style(self.scale.of(37), self.theme.bar, bold=True)
        clock = min(width_of(model.clock_text, style) + 2, area.width() * 0.72)
        right = QRectF(area.right() - clock, area.top(), clock, area.height())
        self._two_lines(lettering, right, model.clock_text, model.zone, Align.RIGHT)
        left = area.adjusted(0, 0, -clock - self.scale.of(24), 0)
        side = min(area.height() * 0.56, left.width())
        if model.sound_ok:
            sign = QRectF(left.right() - side, left.top(), side, side)
            shapes.sound_mark(painter, sign, self.theme.bar_quiet.text, ok=True)
            return
        self._no_sound(painter, lettering, left, side)

    def _no_sound(self, painter: QPainter, lettering: Lettering, area: QRectF, side: float) -> None:
        pair = self.theme.caution
        patch = QRectF(max(area.left(), area.right() - self.scale.of(150)), area.top(), 0, area.height())
        patch.setRight(area.right())
        painter.fillRect(patch, QColor(pair.ground))
        sign = QRectF(patch.center().x() - side * 0.4, patch.top() + 3, side * 0.8, side * 0.8)
        shapes.sound_mark(painter, sign, pair.text, ok=False)
        foot = QRectF(patch.left() + 3, patch.bottom() - area.height() * 0.42, patch.width() - 6, area.height() * 0.40)
        lettering.line(self.tr("NO SOUND"), foot, Style(self.scale.of(23), pair, bold=True, align=Align.CENTRE))
