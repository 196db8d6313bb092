"""Lists below the board: what was scanned lately, what to take out next, and the figures of the shift."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter

from station.care.words import Word
from station.ui.view_models import JustScannedRow, TakeNextRow
from station.ui.widgets import shapes
from station.ui.widgets.lettering import Align, Lettering, Style, width_of
from station.ui.widgets.painted import PaintedPart, frame, rule

_HEADING = 46


class _ListPart(PaintedPart):
    """A heading with rows below it, as many as there is room for."""

    row_pixels = 48.0

    def heading_text(self) -> str:
        """The heading in the site's language."""
        raise NotImplementedError

    def count(self) -> int:
        """How many rows there are to show."""
        raise NotImplementedError

    def draw_row(self, painter: QPainter, lettering: Lettering, area: QRectF, number: int) -> None:
        """Draw one row."""
        raise NotImplementedError

    def preferred_height(self, _width: float) -> float:
        """Height of heading and all rows, pixels; nothing without rows."""
        return self.scale.of(_HEADING + self.row_pixels * self.count()) if self.count() else 0.0

    def paint(self, painter: QPainter, lettering: Lettering, area: QRectF) -> None:
        """Draw the heading and the rows that fit whole."""
        painter.fillRect(area, QColor(self.theme.body.ground))
        if not self.count():
            return
        area = area.adjusted(self.scale.of(4), 0, -self.scale.of(4), 0)
        head = QRectF(area.left(), area.top(), area.width(), self.scale.of(_HEADING))
        lettering.line(self.heading_text(), head, Style(self.scale.of(29), self.theme.body, bold=True))
        high = self.scale.of(self.row_pixels)
        fitting = int((area.height() - head.height() + 0.5) // high)
        for number in range(min(self.count(), fitting)):
            row = QRectF(area.left(), head.bottom() + number * high, area.width(), high)
            self.draw_row(painter, lettering, row, number)


class JustScanned(_ListPart):
    """The last scans here, newest first; the newest in ink, the older ones quieter."""

    rows: tuple[JustScannedRow, ...] = ()

    def show_rows(self, rows: tuple[JustScannedRow, ...]) -> None:
        """Show other scans."""
        self.rows = rows
        self.paint_for(rows)

    def heading_text(self) -> str:
        """The heading in the site's language."""
        return self.tr("Just scanned")

    def count(self) -> int:
        """How many scans there are to show."""
        return len(self.rows)

    def draw_row(self, painter: QPainter, lettering: Lettering, area: QRectF, number: int) -> None:
        """Time, container, shape and word, outcome: in columns."""
        row = self.rows[number]
        pair = self.theme.body if number == 0 else self.theme.quiet
        style = Style(self.scale.of(26), pair, bold=number == 0)
        gap = self.scale.of(16)
        left = self._cell(lettering, [other.time_text for other in self.rows], row.time_text, area, style) + gap
        rest = QRectF(left, area.top(), area.right() - left, area.height())
        left = self._cell(lettering, [other.subject for other in self.rows], row.subject, rest, style) + gap
        side = style.size * 1.05
        if row.word is not None:
            sign = QRectF(left, area.center().y() - side / 2, side, side)
            shapes.verdict_shape(row.word, by_label=row.by_label)(painter, sign, pair.text)
        left += side + gap * 0.7
        room = QRectF(left, area.top() + 1, area.right() - left, area.height() - 3)
        lettering.block(self._outcome(row), room, style, middle=True)

    def _cell(self, lettering: Lettering, column: Sequence[str], text: str, area: QRectF, style: Style) -> float:
        widest = max(width_of(other, Style(style.size, style.pair, bold=True)) for other in column)
        wide = min(widest, area.width() * 0.34)
        lettering.line(text, QRectF(area.left(), area.top(), wide, area.height()), style)
        return area.left() + wide

    @staticmethod
    def _outcome(row: JustScannedRow) -> str:
        word: Word | None = row.word
        if word is None:
            return row.outcome
        return f"{word.value}{' BY LABEL' if row.by_label else ''} {row.outcome}"


class TakeNext(_ListPart):
    """What to take out next: where it lies stands largest, because that is what the hand looks for."""

    rows: tuple[TakeNextRow, ...] = ()
    row_pixels = 82.0

    def show_rows(self, rows: tuple[TakeNextRow, ...]) -> None:
        """Show other containers."""
        self.rows = rows
        self.paint_for(rows)

    def heading_text(self) -> str:
        """The heading in the site's language."""
        return self.tr("Take next")

    def count(self) -> int:
        """How many containers there are to show."""
        return len(self.rows)

    def draw_row(self, painter: QPainter, lettering: Lettering, area: QRectF, number: int) -> None:
        """Bin, container, what it is, and why it comes first."""
        row, scale = self.rows[number], self.scale
        box = area.adjusted(0, 0, 0, -scale.of(8))
        painter.fillRect(box, QColor(self.theme.card.ground))
        frame(painter, box, self.theme.line, max(1.0, scale.of(2)))
        card, quiet = self.theme.card, self.theme.card_quiet
        pad = scale.of(18)
        inner = box.adjusted(pad, 0, -pad, 0)
        where, whose = inner.width() * 0.25, inner.width() * 0.23
        gap = scale.of(14)
        first = QRectF(inner.left(), inner.top() + 2, where - gap, inner.height() - 4)
        lettering.block(row.location, first, Style(scale.of(38), card, bold=True), middle=True)
        second = QRectF(inner.left() + where, first.top(), whose - gap, first.height())
        lettering.line(row.container, second, Style(scale.of(33), card))
        rest = QRectF(second.right() + gap, first.top(), 0, first.height())
        rest.setRight(inner.right())
        upper = rest.adjusted(0, 0, 0, -rest.height() * 0.46 if row.note else 0)
        lettering.block(row.what, upper, Style(scale.of(26), card), middle=True)
        lettering.block(row.note, rest.adjusted(0, rest.height() * 0.54, 0, 0), Style(scale.of(23), quiet), middle=True)


class Summary(_ListPart):
    """Names and figures in two columns, such as the shift so far."""

    rows: tuple[tuple[str, str], ...] = ()
    row_pixels = 52.0

    def show_rows(self, rows: tuple[tuple[str, str], ...]) -> None:
        """Show other figures."""
        self.rows = rows
        self.paint_for(rows)

    def heading_text(self) -> str:
        """The heading in the site's language."""
        return self.tr("This shift")

    def count(self) -> int:
        """How many figures there are to show."""
        return len(self.rows)

    def draw_row(self, painter: QPainter, lettering: Lettering, area: QRectF, number: int) -> None:
        """Name on the left, figure on the right, ruled off."""
        name, value = self.rows[number]
        figure = Style(self.scale.of(28), self.theme.body, bold=True, align=Align.RIGHT)
        wide = min(width_of(value, figure) + 4, area.width() * 0.5)
        lettering.line(value, QRectF(area.right() - wide, area.top(), wide, area.height()), figure)
        room = area.adjusted(0, 0, -wide - self.scale.of(14), 0)
        lettering.line(name, room, Style(self.scale.of(26), self.theme.body))
        rule(painter, area.bottomLeft(), area.bottomRight(), self.theme.line, 1.0)
