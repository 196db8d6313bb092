"""What stays until it is seen to: folded STOPs in one row, and the banner about the station itself."""

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QColor, QPainter, QResizeEvent
from PySide6.QtWidgets import QWidget

from station.ui.theme import Pair, Scale, Theme
from station.ui.view_models import ActionModel, BannerModel, StripModel, Tone
from station.ui.widgets import shapes
from station.ui.widgets.lettering import Align, Lettering, Style, block_height
from station.ui.widgets.painted import PaintedPart, frame, inset
from station.ui.widgets.touch_button import TouchButton

SHOWN_AT_ONCE = 2


class Strip(PaintedPart):
    """One folded STOP; `seen` hands back its id when a person says it was seen to."""

    seen = Signal(str)

    def __init__(self, model: StripModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.model = model
        self.button = TouchButton(ActionModel(model.id, self.tr("Seen to")), self)
        self.button.acted.connect(self.seen)

    def set_look(self, theme: Theme, scale: Scale) -> None:
        """Take other colours and sizes, with the button."""
        super().set_look(theme, scale)
        self.button.set_look(theme, scale)
        self._place_button()

    def preferred_height(self, _width: float) -> float:
        """A touch target with a margin, pixels."""
        return max(self.scale.touch + 2 * round(self.scale.of(6)) + 2, self.scale.of(84))

    def resizeEvent(self, _event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Keep the button at the right end."""
        self._place_button()

    def _place_button(self) -> None:
        wide = max(self.scale.touch, self.scale.of(150))
        margin = round(self.scale.of(6)) + 1
        self.button.setGeometry(
            round(self.width() - wide - margin), margin, round(wide), round(self.height() - 2 * margin)
        )

    def paint(self, painter: QPainter, lettering: Lettering, area: QRectF) -> None:
        """Draw the sign, the sentence, and when it was."""
        pair, plain = self.theme.card_danger, self.theme.card
        painter.fillRect(area, QColor(pair.ground))
        frame(painter, area, pair.text, self.scale.of(6))
        side = area.height() * 0.56
        sign = QRectF(area.left() + self.scale.of(16), area.center().y() - side / 2, side, side)
        shapes.stop_shape(painter, sign, pair.text)
        left = sign.right() + self.scale.of(16)
        room = QRectF(left, area.top() + 4, self.button.x() - left - self.scale.of(12), area.height() - 8)
        first = f"{self.model.time_text} {self.model.text}"
        if not self.model.detail:
            lettering.block(first, room, Style(self.scale.of(29), pair, bold=True), middle=True)
            return
        cut = room.height() * 0.52
        upper, lower = room.adjusted(0, 0, 0, cut - room.height()), room.adjusted(0, cut, 0, 0)
        lettering.block(first, upper, Style(self.scale.of(29), pair, bold=True), middle=True)
        lettering.block(self.model.detail, lower, Style(self.scale.of(25), plain), middle=True)


class StripRow(QWidget):
    """The folded STOPs side by side, newest first; what finds no room is counted."""

    seen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.strips: list[Strip] = []
        self.rest = _Rest(self)
        self._models: tuple[StripModel, ...] = ()

    def show_models(self, models: tuple[StripModel, ...], theme: Theme, scale: Scale) -> None:
        """Show other strips, in these colours and sizes."""
        if models != self._models:
            self._models = models
            for strip in self.strips:
                strip.hide()
                strip.deleteLater()
            self.strips = [Strip(model, self) for model in models[:SHOWN_AT_ONCE]]
            for strip in self.strips:
                strip.seen.connect(self.seen)
                strip.show()
        for strip in self.strips:
            strip.set_look(theme, scale)
        self.rest.set_look(theme, scale)
        self.rest.count = len(models) - len(self.strips)
        self._place()

    def preferred_height(self, width: float) -> float:
        """Height of one strip; nothing without strips, pixels."""
        return self.strips[0].preferred_height(width) if self.strips else 0.0

    def resizeEvent(self, _event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Share the width."""
        self._place()

    def _place(self) -> None:
        rest = self.rest.scale.of(150) if self.rest.count > 0 else 0.0
        self.rest.setVisible(self.rest.count > 0)
        self.rest.setGeometry(round(self.width() - rest), 0, round(rest), self.height())
        gap, count = 8, max(1, len(self.strips))
        wide = (self.width() - (rest + gap if rest else 0) - gap * (count - 1)) / count
        for number, strip in enumerate(self.strips):
            strip.setGeometry(round(number * (wide + gap)), 0, round(wide), self.height())


class _Rest(PaintedPart):
    """How many folded STOPs stand behind those that are shown."""

    count = 0

    def preferred_height(self, _width: float) -> float:
        """As high as the strips beside it."""
        return self.scale.touch

    def paint(self, painter: QPainter, lettering: Lettering, area: QRectF) -> None:
        """Draw the number."""
        pair = self.theme.card_danger
        painter.fillRect(area, QColor(pair.ground))
        frame(painter, area, pair.text, self.scale.of(6))
        text = self.tr("{} more").format(self.count)
        lettering.block(text, inset(area, 8, 6), Style(self.scale.of(30), pair, True, Align.CENTRE), middle=True)


class Banner(PaintedPart):
    """Something about the station that stands until mended."""

    model: BannerModel | None = None

    def show_model(self, model: BannerModel | None) -> None:
        """Show another banner."""
        self.model = model
        self.paint_for(model)

    def _pair(self) -> Pair:
        return self.theme.danger if self.model and self.model.tone is Tone.PAST else self.theme.caution

    def _style(self) -> Style:
        return Style(self.scale.of(28), self._pair(), bold=True)

    def _text(self) -> str:
        return " ".join(part for part in (self.model.text, self.model.todo) if part) if self.model else ""

    def preferred_height(self, width: float) -> float:
        """As many lines as the sentence needs, pixels; nothing without a banner."""
        if self.model is None:
            return 0.0
        return block_height(self._text(), self._style(), width - self._left() - self.scale.of(28)) + self.scale.of(22)

    def _left(self) -> float:
        return self.scale.of(84)

    def paint(self, painter: QPainter, lettering: Lettering, area: QRectF) -> None:
        """Draw a crossed mark and the sentence."""
        pair = self._pair()
        painter.fillRect(area, QColor(pair.ground))
        side = min(self.scale.of(36), area.height() * 0.6)
        sign = QRectF(self.scale.of(28), area.center().y() - side / 2, side, side)
        shapes.health_mark(painter, sign, pair.text, ok=False)
        room = area.adjusted(self._left(), 2, -self.scale.of(28), -2)
        lettering.block(self._text(), room, self._style(), middle=True)
