"""One row of the time board: whose it is on the left, its bar in the middle, its count-down in large figures."""

from dataclasses import dataclass, replace

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QPainter

from station.ui.theme import CAP_HEIGHT, Scale, Theme
from station.ui.view_models import BoardRow
from station.ui.widgets import shapes
from station.ui.widgets.lettering import (
    Align,
    Lettering,
    Style,
    digits_and_units,
    fitted,
    line_height,
    number_and_name,
    width_of,
)
from station.ui.widgets.painted import frame, rule

_ONE_LINE_SHARE = 0.8
_DESCENDERS = "gjpqy"
_DESCENDER_SHARE = 0.06


@dataclass(frozen=True)
class Columns:
    """The three parts of a row, pixels from the left of the board."""

    label_left: float
    label_width: float
    lane_left: float
    lane_width: float
    digits_left: float
    digits_width: float


def columns_for(width: float, scale: Scale) -> Columns:
    """Share a board's width: labels, ruler, count-downs."""
    gap, indent, edge = scale.of(20), scale.of(42), scale.of(14)
    label = min(width * 0.25, scale.of(386)) - indent
    digits = min(width * 0.25, scale.of(372))
    lane_left = indent + label + gap
    digits_left = width - digits - edge
    return Columns(indent, label, lane_left, digits_left - gap - lane_left, digits_left, digits)


def caption_height(height: float, scale: Scale) -> float:
    """Height of the line under the count-down, pixels."""
    return min(scale.of(25), height * 0.3)


def caption_gap(height: float) -> float:
    """Room between the figures and their caption, pixels."""
    return height * 0.05


def digits_size(height: float, scale: Scale) -> float:
    """Letter size at which the figures fill a row of this height, pixels."""
    margins = 2 * max(4.0, height * 0.08)
    return (height - caption_height(height, scale) - caption_gap(height) - margins) / CAP_HEIGHT


class RowPainter:
    """Draws rows of one board; `plain_digits` is the size all plain rows share, so that figures stay in line."""

    def __init__(self, painter: QPainter, lettering: Lettering, theme: Theme, scale: Scale, columns: Columns) -> None:
        self._painter = painter
        self._lettering = lettering
        self._theme = theme
        self._scale = scale
        self._columns = columns

    def ground(self, row: BoardRow, area: QRectF, *, flash_on: bool) -> None:
        """Tint the row over its whole width, rule it off, and frame it while it flashes."""
        self._painter.fillRect(area, QColor(self._theme.row(row.tone).ground))
        rule(self._painter, area.bottomLeft(), area.bottomRight(), self._theme.line, max(1.0, self._scale.of(1.5)))
        if row.unacknowledged and flash_on:
            frame(self._painter, area, self._theme.digits(row.tone).text, self._scale.of(5))

    def words(self, row: BoardRow, area: QRectF, digits: float, feeding_word: str) -> None:
        """Draw the label on the left and the count-down on the right."""
        self._signs(row, area)
        self._label(row, area, feeding_word)
        self._countdown(row, area, digits)

    def _signs(self, row: BoardRow, area: QRectF) -> None:
        pair = self._theme.digits(row.tone)
        side = min(self._scale.of(24), area.height() * 0.3)
        left = area.left() + self._scale.of(8)
        if row.feeding:
            wedge = QRectF(left, area.center().y() - side / 2, side * 0.8, side)
            shapes.feeding_mark(self._painter, wedge, self._theme.row(row.tone).text)
        elif row.priority is not None:
            bars = QRectF(left, area.center().y() - side / 2, side, side)
            shapes.priority_bars(self._painter, bars, row.priority, pair.text)

    def _label(self, row: BoardRow, area: QRectF, feeding_word: str) -> None:
        columns, scale = self._columns, self._scale
        pair, quiet = self._theme.row(row.tone), self._theme.row_quiet(row.tone)
        size = min(scale.of(56 if row.tall else 44), area.height() * 0.40)
        title, gap = Style(size, pair, bold=True), size * 0.12
        room = area.height() * 0.88 - size * CAP_HEIGHT - gap
        style, lines = self._subtitle(row.subtitle, Style(scale.of(23), quiet), columns.label_width, room)
        foot = line_height(style) * len(lines)
        top = area.top() + (area.height() - size * CAP_HEIGHT - gap - foot) / 2
        box = QRectF(area.left() + columns.label_left, top, columns.label_width, size * CAP_HEIGHT)
        self._title(row, box, title, feeding_word)
        self._lettering.block(row.subtitle, QRectF(box.left(), box.bottom() + gap, box.width(), foot + 1), style)

    @staticmethod
    def _subtitle(text: str, style: Style, width: float, height: float) -> tuple[Style, list[str]]:
        """One line a little smaller reads better than two; two read better than one much smaller."""
        one_line = min(1.0, width / max(1.0, width_of(text, style)))
        if one_line >= _ONE_LINE_SHARE:
            return fitted(text, replace(style, size=style.size * one_line * 0.99), width, height)
        return fitted(text, style, width, height)

    def _title(self, row: BoardRow, box: QRectF, style: Style, feeding_word: str) -> None:
        room = QRectF(box)
        if row.feeding:
            chip = Style(max(9.0, style.size * 0.44), self._theme.chip, bold=True, align=Align.CENTRE)
            wide = width_of(feeding_word, chip) + chip.size * 0.9
            high = chip.size * 1.5
            place = QRectF(box.right() - wide, box.bottom() - high + style.size * 0.04, wide, high)
            self._painter.fillRect(place, QColor(self._theme.chip.ground))
            self._lettering.line(feeding_word, place, chip)
            room.setRight(place.left() - chip.size * 0.5)
        self._lettering.runs(number_and_name(row.title), room, style)

    def _countdown(self, row: BoardRow, area: QRectF, digits: float) -> None:
        columns, scale = self._columns, self._scale
        pair = self._theme.digits(row.tone)
        foot = caption_height(area.height(), scale) if row.caption else 0.0
        cap = digits * CAP_HEIGHT
        gap = caption_gap(area.height()) if row.caption else 0.0
        gap += digits * _DESCENDER_SHARE if any(letter in _DESCENDERS for letter in row.countdown) else 0.0
        top = area.top() + (area.height() - cap - gap - foot) / 2
        box = QRectF(area.left() + columns.digits_left, top, columns.digits_width, cap)
        style = Style(digits, pair, bold=True, align=Align.RIGHT)
        self._lettering.runs(digits_and_units(row.countdown), box, style)
        caption = Style(scale.of(22), pair, align=Align.RIGHT)
        self._lettering.line(row.caption, QRectF(box.left(), box.bottom() + gap, box.width(), foot), caption)


def common_digits(rows: list[BoardRow], height: float, columns: Columns, theme: Theme, scale: Scale) -> float:
    """The one letter size, in pixels, at which the count-downs of all these rows fit their height and column."""
    size = digits_size(height, scale)
    for row in rows:
        style = Style(size, theme.calm_digits, bold=True)
        wide = sum(width_of(run.text, replace(style, size=size * run.share)) for run in digits_and_units(row.countdown))
        if wide > columns.digits_width:
            size *= columns.digits_width / wide * 0.985
    return size


def now_line(painter: QPainter, across: float, top: float, bottom: float, theme: Theme, scale: Scale) -> None:
    """The one line that is now, with a halo so that it stands clear of every bar."""
    start, end = QPointF(across, top), QPointF(across, bottom)
    rule(painter, start, end, theme.outline.ground, scale.of(9))
    rule(painter, start, end, theme.outline.shape, max(2.0, scale.of(5)))
