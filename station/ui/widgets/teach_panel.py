"""What an empty screen says: what to scan first, step by step."""

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter

from station.ui.widgets import shapes
from station.ui.widgets.lettering import Align, Lettering, Style, line_height
from station.ui.widgets.painted import PaintedPart, frame, inset
from station.ui.widgets.stack import Piece, draw_stack, stack_height, step_that_fits, text_piece


class TeachPanel(PaintedPart):
    """Shows steps, one for each line of the hint; the first line stands large as the thing to do now."""

    hint: str = ""

    def show_hint(self, hint: str) -> None:
        """Show other steps."""
        self.hint = hint
        self.paint_for(hint)

    def preferred_height(self, width: float) -> float:
        """Height from which on nothing has to shrink."""
        return width * 1.3

    def paint(self, painter: QPainter, lettering: Lettering, area: QRectF) -> None:
        """Draw a picture of the act and the steps below it."""
        painter.fillRect(area, QColor(self.theme.card.ground))
        frame(painter, area, self.theme.line, max(2.0, self.scale.of(3)))
        inner = inset(area, self.scale.of(40), self.scale.of(36))
        step = step_that_fits(
            lambda step: stack_height(self._pieces(painter, inner.width(), self.scale.unit * step)), inner.height()
        )
        draw_stack(self._pieces(painter, inner.width(), self.scale.unit * step), lettering, inner)

    def _pieces(self, painter: QPainter, width: float, unit: float) -> list[Piece]:
        first, *others = self.hint.splitlines() or [""]
        pieces = [self._picture(painter, min(width * 0.62, 300 * unit))]
        pieces += text_piece(first, Style(54 * unit, self.theme.card, bold=True), width, 26 * unit)
        for number, line in enumerate(others, start=1):
            pieces.append(self._step(painter, number, line, width, unit))
        return pieces

    def _picture(self, painter: QPainter, side: float) -> Piece:
        def draw(_lettering: Lettering, box: QRectF) -> None:
            picture = QRectF(box.left(), box.top() - side * 0.12, side, side)
            shapes.jar_and_beam(painter, picture, self.theme.label_done.text)

        return Piece(side * 0.86, 0, draw)

    def _step(self, painter: QPainter, number: int, line: str, width: float, unit: float) -> Piece:
        style, indent = Style(32 * unit, self.theme.card), 64 * unit
        text = text_piece(line, style, width - indent, 0)

        def draw(lettering: Lettering, box: QRectF) -> None:
            side = line_height(style)
            chip = self.theme.chip
            square = QRectF(box.left(), box.top(), side, side)
            painter.fillRect(square, QColor(chip.ground))
            lettering.line(str(number), square, Style(26 * unit, chip, bold=True, align=Align.CENTRE))
            draw_stack(text, lettering, box.adjusted(indent, 0, 0, 0))

        return Piece(stack_height(text), 18 * unit, draw)
