"""Figures side by side: the runs together with their interval, the safe pair to accept, and what the kind has now."""

from dataclasses import dataclass, replace
from datetime import timedelta
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from station.care.conditioning import CLOSE_TO_ROOM_K, time_to_reach
from station.care.saying import span, span_up
from station.care.specification import Kind
from station.ui.widgets.lettering import Lettering, Style
from station.ui.widgets.painted import PaintedPart, rule

if TYPE_CHECKING:
    from station.care.warmup.fit import Interval, Pooled

FROM_C, ROOM_C = 5.0, 23.0
"""The way that old and new figures are compared over: a refrigerator and a room as most are."""
SHARES = (0.2, 0.31, 0.31, 0.18)
ROW_PIXELS = 40.0
HEADINGS = ("", "time constant, 95 %", "dead time, 95 %", f"{FROM_C:g} to {ROOM_C - CLOSE_TO_ROOM_K:g} °C")


@dataclass(frozen=True)
class FigureRow:
    """One row in final words; a `strong` one is what may be accepted."""

    cells: tuple[str, str, str, str]
    strong: bool = False


def figure_rows(kind: Kind, pooled: "Pooled | None") -> tuple[FigureRow, ...]:
    """The rows for a kind; only what it has now where no runs count together."""
    now = FigureRow(("now, estimate" if kind.estimate else "now, measured", *_pair(kind)))
    if pooled is None:
        return (now,)
    together = FigureRow(
        (
            f"{pooled.runs} runs",
            with_interval(pooled.time_constant, pooled.time_constant_interval),
            with_interval(pooled.dead_time, pooled.dead_time_interval),
            "",
        )
    )
    return (together, FigureRow(("safe, to accept", *_pair(safe_kind(kind, pooled))), strong=True), now)


def safe_kind(kind: Kind, pooled: "Pooled") -> Kind:
    """The kind as it would be with the safe pair."""
    return replace(kind, time_constant=pooled.safe_time_constant, dead_time=pooled.safe_dead_time, estimate=False)


def _pair(kind: Kind) -> tuple[str, str, str]:
    way = time_to_reach(ROOM_C - CLOSE_TO_ROOM_K, FROM_C, ROOM_C, kind)
    return span(kind.time_constant), span(kind.dead_time), span_up(way)


def with_interval(middle: timedelta, interval: "Interval") -> str:
    """`45.1 min (44.0 to 46.2)`: the middle and its 95 % interval."""
    low, high = _minutes(interval.low), _minutes(interval.high)
    return f"{_minutes(middle):.1f} min ({low:.1f} to {high:.1f})"


def _minutes(length: timedelta) -> float:
    return length / timedelta(minutes=1)


class FiguresTable(PaintedPart):
    """Rows below a heading; intervals are 95 %."""

    rows: tuple[FigureRow, ...] = ()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_rows(self, rows: tuple[FigureRow, ...]) -> None:
        """Show other figures."""
        self.rows = rows
        self.update()

    def preferred_height(self, _width: float) -> float:
        """Heading and rows, pixels."""
        return max(22.0, self.scale.of(ROW_PIXELS)) * (len(self.rows) + 1)

    def paint(self, painter: QPainter, lettering: Lettering, area: QRectF) -> None:
        """Draw heading and rows, ruled off."""
        painter.fillRect(area, QColor(self.theme.body.ground))
        high = area.height() / (len(self.rows) + 1)
        self._row(lettering, QRectF(area.left(), area.top(), area.width(), high), HEADINGS, self._quiet())
        for number, row in enumerate(self.rows, 1):
            box = QRectF(area.left(), area.top() + number * high, area.width(), high)
            rule(painter, box.topLeft(), box.topRight(), self.theme.line, 1.0)
            self._row(lettering, box, row.cells, Style(self._size(), self.theme.body, bold=row.strong))

    def _size(self) -> float:
        return max(12.0, self.scale.of(24))

    def _quiet(self) -> Style:
        return Style(self._size(), self.theme.quiet)

    def _row(self, lettering: Lettering, box: QRectF, cells: tuple[str, str, str, str], style: Style) -> None:
        left = box.left()
        for share, text in zip(SHARES, cells, strict=True):
            wide = box.width() * share
            if text:
                lettering.line(text, QRectF(left, box.top(), wide - 6, box.height()), style)
            left += wide
