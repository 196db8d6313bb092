"""A store is being counted: one panel from edge to edge, light on dark, between two rows of tally strokes.

Nothing else here looks like it, so that nobody at the door takes a scan for a take-out while it stands.
"""

from PySide6.QtCore import QPointF, QRectF, Signal
from PySide6.QtGui import QColor, QPainter, QResizeEvent
from PySide6.QtWidgets import QWidget

from station.ui.theme import Scale, Theme
from station.ui.view_models import CountModel
from station.ui.widgets.button_grid import ButtonGrid
from station.ui.widgets.lettering import Lettering, Style
from station.ui.widgets.painted import PaintedPart, frame, inset, outline_pen
from station.ui.widgets.stack import Piece, draw_stack, one_line_if_near, stack_height, step_that_fits, text_piece
from station.ui.widgets.verdict_panel import VerdictPanel

_BAND, _PAD, _SIDE = 54, 40, 0.46
_STROKES = 4


class CountPanel(PaintedPart):
    """Shows one `CountModel`; `acted` hands back the id of what was touched."""

    acted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.model: CountModel | None = None
        self.last, self.grid = VerdictPanel(self), ButtonGrid(self)
        self.grid.acted.connect(self.acted)

    def show_model(self, model: CountModel | None) -> None:
        """Show another state of the count."""
        self.model = model
        self.last.show_model(model.last if model is not None else None)
        self.last.setVisible(model is not None and model.last is not None)
        self.set_look(self.theme, self.scale)
        self.paint_for(model)

    def set_look(self, theme: Theme, scale: Scale) -> None:
        """Take other colours and sizes, with the answer and the touches."""
        super().set_look(theme, scale)
        self.last.set_look(theme, scale)
        self.grid.show_actions(self.model.actions if self.model is not None else (), theme, scale)
        self._place()

    def preferred_height(self, width: float) -> float:
        """All there is between the bar and the foot line."""
        return width * 0.6

    def resizeEvent(self, _event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Share the room."""
        self._place()

    def _inner(self) -> QRectF:
        return inset(QRectF(self.rect()), self.scale.of(_PAD), self.scale.of(_BAND + _PAD * 0.6))

    def _words_area(self) -> QRectF:
        inner = self._inner()
        inner.setRight(inner.left() + inner.width() * (1 - _SIDE) - self.scale.of(_PAD))
        return inner

    def _place(self) -> None:
        inner = self._inner()
        wide = inner.width() * _SIDE
        high = self.grid.preferred_height(wide)
        left, gap = round(inner.right() - wide), self.scale.of(24)
        self.grid.setGeometry(left, round(inner.bottom() - high), round(wide), round(high))
        self.last.setGeometry(left, round(inner.top()), round(wide), max(1, round(inner.height() - high - gap)))

    def paint(self, painter: QPainter, lettering: Lettering, area: QRectF) -> None:
        """Draw the dark ground, the tallies above and below, and what is counted."""
        pair = self.theme.chip
        painter.fillRect(area, QColor(pair.ground))
        band = self.scale.of(_BAND)
        self._tallies(painter, QRectF(area.left(), area.top(), area.width(), band), pair.text)
        self._tallies(painter, QRectF(area.left(), area.bottom() - band, area.width(), band), pair.text)
        if self.model is None:
            return
        model, words = self.model, self._words_area()

        def pieces(step: float) -> list[Piece]:
            return self._pieces(painter, model, words.width(), self.scale.unit * step)

        step = step_that_fits(lambda step: stack_height(pieces(step)), words.height())
        draw_stack(pieces(step), lettering, words)

    def _pieces(self, painter: QPainter, model: CountModel, width: float, unit: float) -> list[Piece]:
        pair = self.theme.chip
        head = one_line_if_near(self.tr("COUNTING"), Style(150 * unit, pair, bold=True), width, 0.4)
        return [
            *text_piece(self.tr("COUNTING"), head, width, 0),
            *text_piece(model.store, Style(56 * unit, pair, bold=True), width, 6 * unit),
            *text_piece(model.progress, Style(150 * unit, pair, bold=True), width, 26 * unit),
            *text_piece(model.caption, Style(36 * unit, pair), width, 0),
            *text_piece(model.note, Style(36 * unit, pair, bold=True), width, 12 * unit),
            *text_piece(model.instruction, Style(44 * unit, pair, bold=True), width, 32 * unit),
            *self._countdown(painter, model.countdown, width, unit),
        ]

    def _countdown(self, painter: QPainter, text: str, width: float, unit: float) -> list[Piece]:
        """Caution colours and a frame: it is soon over by itself."""
        if not text:
            return []
        pair, pad = self.theme.caution, 20 * unit
        said = text_piece(text, Style(44 * unit, pair, bold=True), width - 2 * pad, 0)

        def draw(lettering: Lettering, box: QRectF) -> None:
            painter.fillRect(box, QColor(pair.ground))
            frame(painter, box, pair.text, 5 * unit)
            draw_stack(said, lettering, inset(box, pad, pad * 0.7))

        return [Piece(stack_height(said) + 1.4 * pad, 28 * unit, draw)]

    def _tallies(self, painter: QPainter, band: QRectF, colour: str) -> None:
        """Strokes in fives, as whoever counts by hand makes them: four, and one across."""
        unit = self.scale.unit
        pitch, top, bottom = 18 * unit, band.top() + 12 * unit, band.bottom() - 12 * unit
        painter.setPen(outline_pen(colour, max(1.5, 5 * unit)))
        left = band.left() + 22 * unit
        while left + _STROKES * pitch < band.right():
            for number in range(_STROKES):
                painter.drawLine(QPointF(left + number * pitch, top), QPointF(left + number * pitch, bottom))
            end = left + (_STROKES - 1) * pitch
            painter.drawLine(QPointF(left - 8 * unit, bottom - 4 * unit), QPointF(end + 8 * unit, top + 4 * unit))
            left += (_STROKES + 2) * pitch
