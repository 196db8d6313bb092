"""What a verdict is stacked from: the word with its shape, sentences, the container to use instead, times."""

from dataclasses import dataclass, replace

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter

from station.ui.theme import CAP_HEIGHT, Pair, Theme
from station.ui.view_models import InsteadModel, VerdictModel
from station.ui.widgets import shapes
from station.ui.widgets.lettering import (
    Align,
    Lettering,
    Style,
    block_height,
    line_height,
    number_and_name,
    width_of,
)
from station.ui.widgets.painted import frame, rule
from station.ui.widgets.stack import Piece, fit_longest_word, one_line_if_near, text_piece

_WORD_SIZE = 158
_SHAPE_SHARE = 0.86
_ONE_LINE_SHARE = 0.74


@dataclass(frozen=True)
class Page:
    """What drawing one verdict needs at hand; sizes are multiples of `unit`, `width` is in pixels."""

    painter: QPainter
    theme: Theme
    model: VerdictModel
    pair: Pair
    width: float
    unit: float
    instead_heading: str

    def style(self, size_at_1080: float, *, bold: bool = False) -> Style:
        """Letters in the panel's colours."""
        return Style(size_at_1080 * self.unit, self.pair, bold=bold)


def upper_pieces(page: Page) -> list[Piece]:
    """Everything above the times, most telling first."""
    model, unit, width = page.model, page.unit, page.width
    pieces = [_word_piece(page)]
    headline = one_line_if_near(model.headline, page.style(56, bold=True), width, _ONE_LINE_SHARE)
    pieces += text_piece(model.headline, headline, width, 14 * unit)
    pieces += text_piece(model.subject, page.style(33, bold=True), width, 18 * unit)
    pieces += text_piece(model.why, page.style(31), width, 6 * unit)
    if model.instead is not None:
        pieces.append(_instead_piece(page, model.instead))
    if model.todo or model.note:
        pieces.append(_rule_piece(page))
    pieces += text_piece(model.todo, page.style(36, bold=True), width, 14 * unit)
    return pieces + text_piece(model.note, page.style(27), width, 8 * unit)


def times_pieces(page: Page) -> list[Piece]:
    """One row for each time, all in one size so that they read as a table."""
    style = page.style(28)
    gap = 18 * page.unit
    needed = max((_row_width(row, style) + gap for row in page.model.times), default=0.0)
    if needed > page.width:
        style = replace(style, size=float(int(style.size * page.width / needed)))
    return [_time_piece(row, style, 12 * page.unit) for row in page.model.times]


def _word_piece(page: Page) -> Piece:
    word = page.model.word.value
    share = _WORD_SIZE * page.unit
    style = Style(share, page.pair, bold=True)
    wide = width_of(word, style) + share * (CAP_HEIGHT * _SHAPE_SHARE + 0.34)
    size = share * min(1.0, page.width / wide)
    height = size * CAP_HEIGHT * 1.12

    def draw(lettering: Lettering, box: QRectF) -> None:
        side = size * _SHAPE_SHARE
        sign = QRectF(box.right() - side, box.center().y() - side / 2, side, side)
        room = QRectF(box.left() - size * 0.04, box.top(), sign.left() - box.left(), box.height())
        sized = Style(size, page.pair, bold=True)
        if page.model.by_label:
            lettering.hollow(word, room, sized, size * 0.035)
        else:
            lettering.line(word, room, sized)
        shape = shapes.verdict_shape(page.model.word, by_label=page.model.by_label)
        shape(page.painter, sign, page.pair.text)

    return Piece(max(height, size * _SHAPE_SHARE), 0.0, draw)


def _rule_piece(page: Page) -> Piece:
    thickness = max(1.5, 2.5 * page.unit)

    def draw(_lettering: Lettering, box: QRectF) -> None:
        rule(page.painter, box.topLeft(), box.topRight(), page.pair.text, thickness)

    return Piece(thickness, 22 * page.unit, draw)


def _instead_piece(page: Page, instead: InsteadModel) -> Piece:
    unit, pair = page.unit, page.theme.instead
    side = 92 * unit
    text_width = page.width - side - 64 * unit
    detail = fit_longest_word(instead.detail, Style(28 * unit, pair), text_width)
    heading = Style(25 * unit, pair, bold=True)
    title = Style(68 * unit, pair, bold=True)
    detail_height = block_height(instead.detail, detail, text_width)
    height = line_height(heading) + title.size + detail_height + 42 * unit

    def draw(lettering: Lettering, box: QRectF) -> None:
        page.painter.fillRect(box, QColor(pair.ground))
        frame(page.painter, box, pair.text, 6 * unit)
        sign = QRectF(box.right() - side - 20 * unit, box.center().y() - side / 2, side, side)
        shapes.use_shape(page.painter, sign, pair.text)
        left, top = box.left() + 24 * unit, box.top() + 14 * unit
        row = QRectF(left, top, text_width, line_height(heading))
        lettering.line(page.instead_heading, row, heading)
        name = QRectF(left, row.bottom(), text_width, title.size * 0.9)
        lettering.runs(number_and_name(instead.title), name, title)
        lettering.block(instead.detail, QRectF(left, name.bottom() + 8 * unit, text_width, detail_height + 1), detail)

    return Piece(height, 20 * unit, draw)


def _row_width(row: tuple[str, str], style: Style) -> float:
    name, value = row
    return width_of(name, style) + width_of(value, replace(style, bold=True))


def _time_piece(row: tuple[str, str], style: Style, gap: float) -> Piece:
    name, value = row

    def draw(lettering: Lettering, box: QRectF) -> None:
        lettering.line(name, box, style)
        lettering.line(value, box, replace(style, bold=True, align=Align.RIGHT))

    return Piece(style.size * 1.1, gap, draw)
