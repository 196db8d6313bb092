"""An alarm with what a shift lead may do about it: clearing is always a deliberate touch."""

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QColor, QPainter, QResizeEvent
from PySide6.QtWidgets import QWidget

from station.ui.theme import Scale, Theme
from station.ui.view_models import AlarmCardModel
from station.ui.widgets import shapes
from station.ui.widgets.button_grid import ButtonGrid
from station.ui.widgets.lettering import Lettering, Style
from station.ui.widgets.painted import PaintedPart, frame
from station.ui.widgets.stack import Piece, draw_stack, stack_height, step_that_fits, text_piece


class AlarmCard(PaintedPart):
    """Shows one `AlarmCardModel`; `acted` hands back the id of what was touched."""

    acted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.model: AlarmCardModel | None = None
        self._waiting = 0
        self.grid = ButtonGrid(self)
        self.grid.acted.connect(self.acted)

    def show_model(self, model: AlarmCardModel | None, more: int = 0) -> None:
        """Show another alarm; `more` others wait behind it."""
        self.model, self._waiting = model, more
        self.grid.show_actions(model.actions if model else (), self.theme, self.scale)
        self._place_grid()
        self.paint_for(model, more)

    def set_look(self, theme: Theme, scale: Scale) -> None:
        """Take other colours and sizes, with the buttons."""
        super().set_look(theme, scale)
        self.grid.show_actions(self.model.actions if self.model else (), theme, scale)
        self._place_grid()

    def flashes(self) -> bool:
        """True while the alarm is unacknowledged."""
        return self.model is not None and self.model.unacknowledged

    def preferred_height(self, width: float) -> float:
        """Height at which everything stands in its wanted size, pixels."""
        if self.model is None:
            return 0.0
        pad = self._pad()
        words = stack_height(self._pieces(None, width - 2 * pad, self.scale.unit))
        return words + self.grid.preferred_height(width - 2 * pad) + 2.6 * pad

    def least_height(self, width: float) -> float:
        """Height below which the words would shrink past reading, pixels."""
        pad = self._pad()
        words = stack_height(self._pieces(None, width - 2 * pad, self.scale.unit * 0.72))
        return words + self.grid.preferred_height(width - 2 * pad) + 2.6 * pad

    def resizeEvent(self, _event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Keep the buttons at the bottom."""
        self._place_grid()

    def _pad(self) -> float:
        return self.scale.of(26)

    def _place_grid(self) -> None:
        pad = self._pad()
        wide = self.width() - 2 * pad
        high = self.grid.preferred_height(wide)
        self.grid.setGeometry(round(pad), round(self.height() - pad - high), round(wide), round(high))

    def paint(self, painter: QPainter, lettering: Lettering, area: QRectF) -> None:
        """Draw a frame that flashes while unacknowledged, the title with its bars, the lines."""
        painter.fillRect(area, QColor(self.theme.card.ground))
        steady = self.flash_on or not self.flashes()
        frame(painter, area, self.theme.card_danger.text if steady else self.theme.line, self.scale.of(7))
        if self.model is None:
            return
        pad = self._pad()
        body = area.adjusted(pad, pad * 0.8, -pad, 0)
        body.setBottom(self.grid.y() - pad * 0.5)
        step = step_that_fits(
            lambda step: stack_height(self._pieces(painter, body.width(), self.scale.unit * step)), body.height()
        )
        draw_stack(self._pieces(painter, body.width(), self.scale.unit * step), lettering, body)

    def _pieces(self, painter: QPainter | None, width: float, unit: float) -> list[Piece]:
        model = self.model
        if model is None:
            return []
        pieces = [self._title(painter, model, width, unit)]
        for line in model.lines:
            pieces += text_piece(line, Style(27 * unit, self.theme.card), width, 8 * unit)
        if self._waiting:
            waiting = self.tr("{} more alarms wait behind this one.").format(self._waiting)
            if self._waiting == 1:
                waiting = self.tr("1 more alarm waits behind this one.")
            pieces += text_piece(waiting, Style(25 * unit, self.theme.card_quiet), width, 8 * unit)
        return pieces

    def _title(self, painter: QPainter | None, model: AlarmCardModel, width: float, unit: float) -> Piece:
        pair, side = self.theme.card_danger, 34 * unit
        indent = side * 1.5
        text = text_piece(model.title, Style(37 * unit, pair, bold=True), width - indent, 0)

        def draw(lettering: Lettering, box: QRectF) -> None:
            if painter is not None:
                bars = QRectF(box.left(), box.top() + 6 * unit, side, side)
                shapes.priority_bars(painter, bars, model.priority, pair.text)
            draw_stack(text, lettering, box.adjusted(indent, 0, 0, 0))

        return Piece(stack_height(text), 0, draw)
