"""The answer to a scan: one huge word with a shape and a pattern of its own, why, what to do, and the times.

USE is solid, WAIT striped, STOP crossed and DONE ruled like a form, so the four differ with no colour at all.
BY LABEL is a light panel with a torn-off, perforated edge, hollow letters, a second word as large as a headline, and
for USE a tag in place of the ring: it never looks like a plain USE.
"""

from dataclasses import replace

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter

from station.care.words import Word
from station.ui.theme import Pair
from station.ui.view_models import VerdictModel
from station.ui.widgets import patterns, shapes
from station.ui.widgets.lettering import Lettering, Style
from station.ui.widgets.painted import PaintedPart, inset, outline_pen
from station.ui.widgets.stack import draw_stack, stack_height, step_that_fits
from station.ui.widgets.verdict_pieces import Page, times_pieces, upper_pieces

_BAND = 34
_PAD = 30


class VerdictPanel(PaintedPart):
    """Shows one `VerdictModel`, filling whatever size it is given."""

    model: VerdictModel | None = None

    def show_model(self, model: VerdictModel | None) -> None:
        """Show another verdict; None leaves the panel blank."""
        self.model = model
        self.paint_for(model)

    def preferred_height(self, width: float) -> float:
        """Height from which on nothing has to shrink."""
        return width * 1.5

    def paint(self, painter: QPainter, lettering: Lettering, area: QRectF) -> None:
        """Draw ground, edge, words and times."""
        if self.model is None:
            painter.fillRect(area, QColor(self.theme.body.ground))
            return
        pair = self.theme.verdict(self.model.word, by_label=self.model.by_label)
        painter.fillRect(area, QColor(pair.ground))
        self._edge(painter, area, self.model, pair)
        inner = self._inner(area)
        if self.model.by_label:
            inner = self._by_label_head(painter, lettering, inner)
        self._words(painter, lettering, inner, self.model, pair)

    def _inner(self, area: QRectF) -> QRectF:
        pad = _PAD * self.scale.unit
        return area.adjusted((_BAND + _PAD * 0.8) * self.scale.unit, pad, -pad, -pad)

    def _edge(self, painter: QPainter, area: QRectF, model: VerdictModel, pair: Pair) -> None:
        unit = self.scale.unit
        band = QRectF(area.left(), area.top(), _BAND * unit, area.height())
        if model.by_label:
            band = inset(band.adjusted(8 * unit, 0, 8 * unit, 0), 0, 12 * unit)
        self._pattern(painter, band, model.word, pair.text if model.by_label else "")
        if model.by_label:
            painter.setPen(outline_pen(pair.text, 7 * unit, Qt.PenStyle.DashLine))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(inset(area, 3.5 * unit, 3.5 * unit))

    def _pattern(self, painter: QPainter, band: QRectF, word: Word, colour: str) -> None:
        unit = self.scale.unit
        if word is Word.WAIT:
            patterns.stripes(painter, band, colour or self.theme.wait_pattern.shape, 24 * unit, 5 * unit)
        elif word is Word.STOP:
            patterns.crosses(painter, band, colour or self.theme.stop_pattern.shape, 24 * unit, 4 * unit)
        elif word is Word.USE and colour:
            patterns.dots(painter, band, colour, 26 * unit, 6 * unit)
        elif word is Word.DONE:
            patterns.ruled(painter, band, colour or self.theme.done_pattern.shape, 18 * unit, 4 * unit)

    def _by_label_head(self, painter: QPainter, lettering: Lettering, inner: QRectF) -> QRectF:
        unit, chip = self.scale.unit, self.theme.chip
        height = 84 * unit
        head = QRectF(inner.left(), inner.top(), inner.width(), height)
        painter.fillRect(head, QColor(chip.ground))
        sign = QRectF(head.left() + 16 * unit, head.top() + height * 0.17, height * 0.66, height * 0.66)
        shapes.label_shape(painter, sign, chip.text)
        room = QRectF(sign.right() + 14 * unit, head.top(), head.right() - sign.right() - 24 * unit, height)
        lettering.line(self.tr("BY LABEL ONLY"), room, Style(52 * unit, chip, bold=True))
        return inner.adjusted(0, height + 20 * unit, 0, 0)

    def _words(self, painter: QPainter, lettering: Lettering, area: QRectF, model: VerdictModel, pair: Pair) -> None:
        page = Page(painter, self.theme, model, pair, area.width(), self.scale.unit, self.tr("USE THIS INSTEAD"))

        def height_at(step: float) -> float:
            sized = replace(page, unit=page.unit * step)
            gap = 20 * sized.unit if model.times else 0.0
            return stack_height(upper_pieces(sized)) + gap + stack_height(times_pieces(sized))

        sized = replace(page, unit=page.unit * step_that_fits(height_at, area.height()))
        draw_stack(upper_pieces(sized), lettering, area)
        times = times_pieces(sized)
        draw_stack(times, lettering, area.adjusted(0, area.height() - stack_height(times), 0, 0))
