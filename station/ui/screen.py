"""One place's screen: bar, verdict beside the time board, what belongs to the place below, and the foot line."""

from PySide6.QtCore import QPoint, QRectF, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from station.ui.arrangement import NARROW_ASPECT, Box, bands, split_height, split_side, split_width
from station.ui.theme import LIGHT, Scale, Theme, scale_for
from station.ui.view_models import ScreenModel
from station.ui.widgets.alarm_card import AlarmCard
from station.ui.widgets.bottom_line import BottomLine
from station.ui.widgets.button_grid import ButtonGrid
from station.ui.widgets.count_panel import CountPanel
from station.ui.widgets.just_scanned import JustScanned, Summary, TakeNext
from station.ui.widgets.lettering import Lettered
from station.ui.widgets.painted import PaintedPart
from station.ui.widgets.question_panel import QuestionPanel
from station.ui.widgets.store_panel import StorePanel
from station.ui.widgets.strip import Banner, StripRow
from station.ui.widgets.teach_panel import TeachPanel
from station.ui.widgets.time_board import TimeBoard
from station.ui.widgets.top_bar import TopBar
from station.ui.widgets.touch_button import TouchButton
from station.ui.widgets.verdict_panel import VerdictPanel

_GAP = 18
_LEGEND_SHARE = 0.66


class PlaceScreen(QWidget):
    """Shows one `ScreenModel`. `acted` hands back the id of what was touched, `seen` that of a strip seen to."""

    acted = Signal(str)
    seen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme: Theme = LIGHT
        self.scale: Scale = scale_for(1920, 1080)
        self.model: ScreenModel | None = None
        self.bar, self.bottom = TopBar(self), BottomLine(self)
        self.banner, self.strips = Banner(self), StripRow(self)
        self.verdict, self.question, self.teach = VerdictPanel(self), QuestionPanel(self), TeachPanel(self)
        self.board = TimeBoard(self)
        self.just_scanned, self.take_next, self.summary = JustScanned(self), TakeNext(self), Summary(self)
        self.store, self.card, self.action_grid = StorePanel(self), AlarmCard(self), ButtonGrid(self)
        self.count = CountPanel(self)  # made last: it lies over all the others
        for source in (self.question, self.card, self.action_grid, self.count):
            source.acted.connect(self.acted)
        self.strips.seen.connect(self.seen)

    def show_model(self, model: ScreenModel) -> None:
        """Show another state of the place."""
        self.model = model
        self._fill(model)
        self._arrange()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours for other surroundings."""
        self.theme = theme
        if self.model is not None:
            self._fill(self.model)
        self._arrange()
        self.update()

    def set_flash(self, on: bool) -> None:
        """Pass on the phase of the flash; the caller owns the timer (at most 2 Hz)."""
        for part in self._parts():
            part.set_flash(on)

    def lettered(self) -> list[tuple[QWidget, Lettered]]:
        """What was painted where: every visible text with the widget it stands in."""
        parts: list[PaintedPart | TouchButton] = [*self.findChildren(PaintedPart), *self.findChildren(TouchButton)]
        return [(part, record) for part in parts if part.isVisibleTo(self) for record in part.lettered]

    def on_screen(self, widget: QWidget, rect: QRectF) -> QRectF:
        """A rectangle of a part, in the screen's own pixels."""
        corner = widget.mapTo(self, QPoint(0, 0))
        return rect.translated(float(corner.x()), float(corner.y()))

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Lay the paper-coloured ground."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self.theme.body.ground))
        painter.end()

    def resizeEvent(self, _event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Take the sizes that suit the window."""
        self._arrange()

    def _parts(self) -> tuple[PaintedPart, ...]:
        panels = (self.verdict, self.question, self.teach, self.board, self.card, self.count)
        lists = (self.just_scanned, self.take_next, self.summary, self.store)
        return (self.bar, self.bottom, self.banner, *panels, *lists)

    def _fill(self, model: ScreenModel) -> None:
        self.bar.show_model(model.top)
        self.bottom.show_model(model.bottom, model.top.health)
        self.banner.show_model(model.banner)
        self.verdict.show_model(model.verdict)
        self.question.show_model(model.question)
        self.teach.show_hint(model.empty_hint)
        self.board.show_model(model.board)
        self.just_scanned.show_rows(model.just_scanned)
        self.take_next.show_rows(model.take_next)
        self.summary.show_rows(model.summary)
        self.store.show_model(model.store)
        self.count.show_model(model.count)
        first = model.alarm_cards[0] if model.alarm_cards else None
        self.card.show_model(first, more=max(0, len(model.alarm_cards) - 1))

    def _look(self) -> None:
        self.scale = scale_for(self.width(), self.height(), self.logicalDpiX())
        for part in self._parts():
            part.set_look(self.theme, self.scale)
        strips = self.model.strips if self.model else ()
        self.strips.show_models(strips, self.theme, self.scale)
        self.action_grid.show_actions(self.model.actions if self.model else (), self.theme, self.scale)

    def _arrange(self) -> None:
        if self.model is None:
            return
        self._look()
        width, gap = self.width(), self.scale.of(_GAP)
        parts = bands(
            width,
            self.height(),
            self.bar.preferred_height(width),
            self.banner.preferred_height(width),
            self.strips.preferred_height(width),
            self.bottom.preferred_height(width),
            gap,
        )
        _place(self.bar, parts.bar)
        _place(self.banner, parts.banner)
        _place(self.strips, parts.strips)
        _place(self.bottom, parts.bottom)
        self.count.setVisible(self.model.count is not None)
        if self.model.count is not None:
            self._count_over()
            return
        self._body(parts.body, self.model, gap)

    def _count_over(self) -> None:
        """A count takes everything between bar and foot line, edge to edge."""
        side = (self.verdict, self.question, self.teach)
        for part in (*side, self.board, *self._lower_parts()):
            part.setVisible(False)
        top = max(self.bar.geometry().bottom(), self.banner.geometry().bottom(), self.strips.geometry().bottom()) + 1
        _place(self.count, Box(0, top, self.width(), self.bottom.geometry().top() - top))

    def _body(self, body: Box, model: ScreenModel, gap: float) -> None:
        self.board.setVisible(True)
        side = self._side_part(model)
        for panel in (self.verdict, self.question, self.teach):
            panel.setVisible(panel is side)
        if side is None:
            self._right(body, gap)
            return
        narrow = self.width() / max(1, self.height()) < NARROW_ASPECT
        left, right = split_side(body, gap, narrow=narrow)
        _place(side, left)
        self._right(right, gap)

    def _side_part(self, model: ScreenModel) -> PaintedPart | None:
        if model.question is not None:
            return self.question
        if model.verdict is not None:
            return self.verdict
        return self.teach if model.empty_hint else None

    def _right(self, area: Box, gap: float) -> None:
        wide = area.width
        pairs = self._lower_pairs()
        wanted = max((part.preferred_height(wide * share) for part, share in pairs), default=0.0)
        least = max((part.least_height(wide * share) for part, share in pairs), default=0.0)
        most = _LEGEND_SHARE * (area.height - wanted)  # a board without rows would take whatever there is
        empty = self.board.model is not None and not self.board.model.rows
        needed = most if empty else self.board.preferred_height(wide)
        band = self._store_band(wide, area.height - wanted - needed - 2 * gap)
        over = Box(area.left, area.top, area.width, area.height - (round(band + gap) if band else 0))
        upper, lower = split_height(over, self.board.preferred_height(wide), wanted, least, gap)
        if band:
            _place(self.store, Box(area.left, upper.bottom + round(gap), area.width, round(band)))
            down = round(band + gap)
            lower = Box(lower.left, lower.top + down, lower.width, lower.height)
        _place(self.board, upper)
        for part in self._lower_parts():
            part.setVisible(any(part is shown for shown, _ in pairs) or (part is self.store and band > 0))
        if len(pairs) == 1:
            _place(pairs[0][0], lower)
        elif pairs:
            (left, share), (right, _) = pairs
            left_box, right_box = split_width(lower, share, gap)
            _place(left, left_box)
            _place(right, right_box)

    def _store_band(self, wide: float, spare: float) -> float:
        """The height of the store's own band between board and buttons: what is spare, or its words alone where its
        last reading is out of limits; 0 where there is no room."""
        least = self.store.least_height(wide)
        if self.store.model is None or least <= 0 or (spare < least and self.store.model.ok):
            return 0.0
        return max(least, min(self.store.preferred_height(wide), spare))

    def _lower_parts(self) -> tuple["PaintedPart | ButtonGrid", ...]:
        return (self.card, self.just_scanned, self.take_next, self.summary, self.store, self.action_grid)

    def _lower_pairs(self) -> list[tuple["PaintedPart | ButtonGrid", float]]:
        lists: list[PaintedPart | ButtonGrid] = [self.card, self.take_next, self.just_scanned, self.summary]
        ends: list[PaintedPart | ButtonGrid] = [self.action_grid, self.summary]
        left = next((part for part in lists if part.preferred_height(600) > 0), None)
        right = next((part for part in ends if part.preferred_height(600) > 0 and part is not left), None)
        if left is None or right is None:
            return [(part, 1.0) for part in (left, right) if part is not None]
        share = 0.45 if right is self.action_grid else 0.62
        return [(left, share), (right, 1 - share)]


def _place(part: QWidget, box: Box) -> None:
    part.setGeometry(box.left, box.top, box.width, box.height)
