"""The time board: a row for each container or bead, all on one time ruler with a single line for now."""

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QPainter

from station.ui.ruler import TimeRuler
from station.ui.view_models import BoardModel, StretchKind, Tone
from station.ui.widgets.bar_painter import draw_marks, draw_stretch
from station.ui.widgets.board_layout import BoardLayout, RowHeights, Slot, lay_out, wanted_height
from station.ui.widgets.board_row import Columns, RowPainter, columns_for, common_digits, now_line
from station.ui.widgets.legend import LegendWords, draw_legend
from station.ui.widgets.lettering import Align, Lettering, Style, width_of
from station.ui.widgets.painted import PaintedPart, rule

LINES = ("NOW", "END")
_HEADER = 44
_BEST_ROW = 112
_LEAST_ROW = 80
_LEAST_ROW_PIXELS = 40.0
_ALL_THERE_IS = 1e6
_ROW_FOR_THREE_METRES = 1.6  # a touch target is 15 mm, and so is a digit to be read from 3 m


class TimeBoard(PaintedPart):
    """Shows one `BoardModel`; the same widget at every place."""

    model: BoardModel | None = None
    hidden_rows = 0

    def show_model(self, model: BoardModel | None) -> None:
        """Show other rows or another now."""
        self.model = model
        # without rows nothing on it shows what time it is
        self.paint_for(model if model is not None and model.rows else model is None)

    def flashes(self) -> bool:
        """True while a row is unacknowledged."""
        return self.model is not None and any(row.unacknowledged for row in self.model.rows)

    def row_heights(self) -> RowHeights:
        """Heights of rows, headings and the counting line at this scale, pixels."""
        return RowHeights(
            least=max(_LEAST_ROW_PIXELS, self.scale.of(_LEAST_ROW)),
            best=max(self.scale.touch * _ROW_FOR_THREE_METRES, self.scale.of(_BEST_ROW)),
            heading=self.scale.of(30),
            more=self.scale.of(40),
        )

    def preferred_height(self, _width: float) -> float:
        """Height at which every row stands at its best, pixels."""
        if self.model is None:
            return 0.0
        if not self.model.rows:
            return _ALL_THERE_IS
        more = self.row_heights().more if self.model.more else 0.0
        return self.scale.of(_HEADER) + wanted_height(self.model.rows, self.row_heights()) + more

    def laid_out(self) -> BoardLayout:
        """The rows as they stand in the widget's present height."""
        model = self.model
        if model is None:
            return BoardLayout((), 0, 0.0)
        return lay_out(model.rows, model.more, self.height() - self.scale.of(_HEADER), self.row_heights())

    def paint(self, painter: QPainter, lettering: Lettering, area: QRectF) -> None:
        """Draw header, row grounds, ticks, bars, the now line, and the words on top."""
        painter.fillRect(area, QColor(self.theme.body.ground))
        if self.model is None:
            return
        if not self.model.rows:
            draw_legend(painter, lettering, area, self.theme, self.scale, self._legend_words())
            return
        layout = self.laid_out()
        self.hidden_rows = layout.hidden
        columns = columns_for(area.width(), self.scale)
        ruler = TimeRuler(self.model.now, columns.lane_width, self.model.reach)
        rows = RowPainter(painter, lettering, self.theme, self.scale, columns)
        for slot in layout.slots:
            rows.ground(slot.row, self._row_area(slot), flash_on=self.flash_on)
        self._ticks(painter, lettering, ruler, columns, layout)
        for slot in layout.slots:
            self._bar(painter, slot, ruler, columns)
        top = self.scale.of(_HEADER)
        now_line(painter, columns.lane_left + ruler.now_position, top, top + layout.bottom, self.theme, self.scale)
        self._words(rows, lettering, layout, columns)

    def _legend_words(self) -> LegendWords:
        return LegendWords(
            heading=self.tr("Nothing is out yet. What is out stands here, one bar each, due first on top:"),
            names=(
                (StretchKind.CONDITIONING, self.tr("striped: warming up, leave it closed")),
                (StretchKind.USABLE, self.tr("solid: may be used")),
                (StretchKind.NEAR, self.tr("dotted: near its limit, use it first")),
                (StretchKind.PAST, self.tr("crossed: past its limit or stopped, do not use")),
            ),
        )

    def _row_area(self, slot: Slot) -> QRectF:
        return QRectF(0, self.scale.of(_HEADER) + slot.top, self.width(), slot.height)

    def _bar(self, painter: QPainter, slot: Slot, ruler: TimeRuler, columns: Columns) -> None:
        area = self._row_area(slot)
        high = min(area.height() * 0.46, self.scale.of(84 if slot.row.tall else 52))
        lane = QRectF(columns.lane_left, area.center().y() - high / 2, columns.lane_width, high)
        for stretch in slot.row.stretches:
            draw_stretch(painter, lane, ruler, stretch, self.theme, self.scale)
        draw_marks(painter, lane, ruler, slot.row.marks, self.theme, self.scale)

    def _ticks(
        self, painter: QPainter, lettering: Lettering, ruler: TimeRuler, columns: Columns, layout: BoardLayout
    ) -> None:
        header = self.scale.of(_HEADER)
        quiet = Style(self.scale.of(21), self.theme.quiet, align=Align.CENTRE)
        bold = Style(self.scale.of(25), self.theme.body, bold=True, align=Align.CENTRE)
        for tick in ruler.legible_ticks(
            lambda name: width_of(name, bold if name in LINES else quiet), self.scale.of(14)
        ):
            across = columns.lane_left + ruler.position_of_offset(tick.offset)
            style = bold if tick.is_now else quiet
            half = width_of(tick.label, style) / 2 + 2
            lettering.line(tick.label, QRectF(across - half, 0, 2 * half, header * 0.84), style)
            if not tick.is_now and layout.slots:
                foot = header + layout.bottom
                rule(painter, QPointF(across, header * 0.9), QPointF(across, foot), self.theme.line, 1.0)

    def _words(self, rows: RowPainter, lettering: Lettering, layout: BoardLayout, columns: Columns) -> None:
        plain = [slot for slot in layout.slots if not slot.row.tall]
        size = 0.0
        if plain:
            size = common_digits([slot.row for slot in plain], plain[0].height, columns, self.theme, self.scale)
        for slot in layout.slots:
            digits = size
            if slot.row.tall:
                digits = common_digits([slot.row], slot.height, columns, self.theme, self.scale)
            rows.words(slot.row, self._row_area(slot), digits, self.tr("FEEDING"))
            self._heading(lettering, slot)
        self._more(lettering, layout)

    def _heading(self, lettering: Lettering, slot: Slot) -> None:
        if slot.heading_top is None:
            return
        high = self.row_heights().heading
        box = QRectF(self.scale.of(8), self.scale.of(_HEADER) + slot.heading_top, self.width() * 0.245, high)
        lettering.line(slot.row.group, box, Style(self.scale.of(22), self.theme.quiet, bold=True))

    def _left_out(self, layout: BoardLayout) -> str:
        """How many rows are not shown, and how many of these are past or on hold."""
        if self.model is not None and self.model.older:
            return self.tr("and {} more, earlier").format(layout.hidden)
        unseen = self.model.rows[len(layout.slots) :] if self.model is not None else ()
        red = sum(row.tone is Tone.PAST for row in unseen)
        return (self.tr("and {} more, {} of them red") if red else self.tr("and {} more")).format(layout.hidden, red)

    def _more(self, lettering: Lettering, layout: BoardLayout) -> None:
        if not layout.hidden:
            return
        top = self.scale.of(_HEADER) + layout.bottom
        box = QRectF(self.scale.of(36), top, self.width() - self.scale.of(50), self.row_heights().more)
        lettering.line(self._left_out(layout), box, Style(self.scale.of(24), self.theme.quiet))
