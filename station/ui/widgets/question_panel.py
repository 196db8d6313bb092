"""A question only a person can answer, in place of the verdict: what to look at, and the answers to touch."""

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QColor, QPainter, QResizeEvent
from PySide6.QtWidgets import QWidget

from station.ui.theme import Scale, Theme
from station.ui.view_models import QuestionModel
from station.ui.widgets.lettering import Lettering, Style
from station.ui.widgets.painted import PaintedPart, frame, inset
from station.ui.widgets.stack import Piece, draw_stack, stack_height, step_that_fits, text_piece
from station.ui.widgets.touch_button import TouchButton


class QuestionPanel(PaintedPart):
    """Shows one `QuestionModel`; `acted` hands back the id of the answer."""

    acted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.model: QuestionModel | None = None
        self.answers: list[TouchButton] = []

    def show_model(self, model: QuestionModel | None) -> None:
        """Show another question."""
        if model == self.model:
            return
        self.model = model
        for button in self.answers:
            button.hide()
            button.deleteLater()
        self.answers = [TouchButton(answer, self) for answer in (model.answers if model else ())]
        for button in self.answers:
            button.acted.connect(self.acted)
            button.set_look(self.theme, self.scale)
            button.show()
        self._place_answers()
        self.update()

    def set_look(self, theme: Theme, scale: Scale) -> None:
        """Take other colours and sizes, with the answers."""
        super().set_look(theme, scale)
        for button in self.answers:
            button.set_look(theme, scale)
        self._place_answers()

    def preferred_height(self, width: float) -> float:
        """Height from which on nothing has to shrink."""
        return width * 1.4

    def resizeEvent(self, _event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Keep the answers at the bottom, a hand's breadth apart."""
        self._place_answers()

    def _answers_area(self) -> QRectF:
        pad = self.scale.of(34)
        tallest = max((button.wanted_height() for button in self.answers), default=0.0)
        height = max(tallest, self.scale.of(118)) if self.answers else 0.0
        return QRectF(pad, self.height() - pad - height, self.width() - 2 * pad, height)

    def _place_answers(self) -> None:
        area, gap = self._answers_area(), self.scale.of(24)
        count = len(self.answers)
        for number, button in enumerate(self.answers):
            wide = (area.width() - gap * (count - 1)) / count
            left = area.left() + number * (wide + gap)
            button.setGeometry(round(left), round(area.top()), round(wide), round(area.height()))

    def paint(self, painter: QPainter, lettering: Lettering, area: QRectF) -> None:
        """Draw the frame, the blue head that asks for an act, and the points to look at."""
        painter.fillRect(area, QColor(self.theme.card.ground))
        frame(painter, area, self.theme.label_done.text, self.scale.of(9))
        if self.model is None:
            return
        pad = self.scale.of(34)
        body = inset(area, pad, self.scale.of(30))
        body.setBottom(self._answers_area().top() - self.scale.of(18))
        model = self.model

        def pieces(step: float) -> list[Piece]:
            return self._pieces(painter, model, body.width(), self.scale.unit * step)

        step = step_that_fits(lambda step: stack_height(pieces(step)), body.height())
        draw_stack(pieces(step), lettering, body)

    def _pieces(self, painter: QPainter, model: QuestionModel, width: float, unit: float) -> list[Piece]:
        card, quiet = self.theme.card, self.theme.card_quiet
        pieces = [self._head(painter, model.title, width, unit)]
        pieces += text_piece(model.subject, Style(36 * unit, card, bold=True), width, 24 * unit)
        for line in model.lines:
            pieces += [self._point(painter, line, width, unit)]
        return pieces + text_piece(model.note, Style(26 * unit, quiet), width, 20 * unit)

    def _head(self, painter: QPainter, title: str, width: float, unit: float) -> Piece:
        pair = self.theme.act
        text = text_piece(title, Style(62 * unit, pair, bold=True), width - 48 * unit, 0)

        def draw(lettering: Lettering, box: QRectF) -> None:
            painter.fillRect(box, QColor(pair.ground))
            draw_stack(text, lettering, inset(box, 24 * unit, 14 * unit))

        return Piece(stack_height(text) + 28 * unit, 0, draw)

    def _point(self, painter: QPainter, line: str, width: float, unit: float) -> Piece:
        indent = 48 * unit
        text = text_piece(line, Style(33 * unit, self.theme.card), width - indent, 0)

        def draw(lettering: Lettering, box: QRectF) -> None:
            side = 20 * unit
            square = QRectF(box.left() + 4 * unit, box.top() + 11 * unit, side, side)
            frame(painter, square, self.theme.label_done.text, 4 * unit)
            draw_stack(text, lettering, box.adjusted(indent, 0, 0, 0))

        return Piece(stack_height(text), 16 * unit, draw)
