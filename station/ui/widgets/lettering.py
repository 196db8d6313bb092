"""All painted text goes through here: it wraps, then shrinks in steps, is never cut, and is written down.

Each piece of text that was drawn leaves a `Lettered` record with the box it had and the rectangle its ink takes,
so that a test can prove that nothing overlaps, nothing leaves its widget and everything stands on its own ground.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum
from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen

from station.ui.theme import FAMILY, Pair

_STEP = 0.94
_SMALLEST = 6.0
_LINE_SPACING = 1.24
_GLUE = "\N{NO-BREAK SPACE}"
_BEFORE_FIGURE = re.compile(r" (?=\d)")
_BEFORE_UNIT = re.compile(r"(?<=\d) (?=(?:h|min|d|s|g|mm|[A-Z][a-z]{2})\b)")


class Align(Enum):
    """Where a line sits in the width of its box, as the share of free room on its left."""

    LEFT = 0.0
    CENTRE = 0.5
    RIGHT = 1.0


@dataclass(frozen=True)
class Style:
    """How a text wants to look. `size` is in pixels; `smallest` is where it should stop shrinking."""

    size: float
    pair: Pair
    bold: bool = False
    align: Align = Align.LEFT
    smallest: float = 8.5

    def shrunk(self) -> "Style":
        """One step smaller."""
        return replace(self, size=self.size * _STEP)


@dataclass(frozen=True)
class Run:
    """Part of a line in a size of its own, as a share of the line's size."""

    text: str
    share: float = 1.0
    bold: bool = True


@dataclass(frozen=True)
class Lettered:
    """What was drawn: from `origin` on the baseline, inside `box`; `fits` is false below the smallest size."""

    text: str
    box: QRectF
    origin: QPointF
    size: float
    bold: bool
    pair: Pair
    fits: bool

    @property
    def ink(self) -> QRectF:
        """The tight rectangle of the letters themselves, in the widget's pixels."""
        path = QPainterPath()
        path.addText(self.origin, letter(self.size, bold=self.bold), self.text)
        return path.boundingRect()


def letter(size: float, *, bold: bool) -> QFont:
    """The screen's one face at a size in pixels."""
    return _letter(max(1, round(size)), bold)


# Letters are of whole pixels, so a screen has few of them; most of what it says it said a second ago too.
@lru_cache(maxsize=256)
def _letter(pixels: int, bold: bool) -> QFont:
    font = QFont(FAMILY)
    font.setPixelSize(pixels)
    font.setBold(bold)
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    return font


def metrics(style: Style) -> QFontMetricsF:
    """Measures of a style."""
    return _metrics(max(1, round(style.size)), style.bold)


@lru_cache(maxsize=256)
def _metrics(pixels: int, bold: bool) -> QFontMetricsF:
    return QFontMetricsF(_letter(pixels, bold))


def width_of(text: str, style: Style) -> float:
    """Advance width of one line in pixels."""
    return _advance(text, max(1, round(style.size)), style.bold)


@lru_cache(maxsize=8192)
def _advance(text: str, pixels: int, bold: bool) -> float:
    return _metrics(pixels, bold).horizontalAdvance(text)


def line_height(style: Style) -> float:
    """Distance from line to line in pixels."""
    return round(style.size) * _LINE_SPACING


def unbreakable_parts(text: str) -> list[str]:
    """A line of text in the parts that stay together: a figure stays with the word before it and its unit."""
    return [part.replace(_GLUE, " ") for part in _BEFORE_FIGURE.sub(_GLUE, _BEFORE_UNIT.sub(_GLUE, text)).split(" ")]


def wrapped(text: str, style: Style, width: float) -> list[str]:
    """The text in lines no wider than `width`, broken at line feeds and at spaces, never inside a count-down."""
    return [line for line, _ in _measured(text, max(1, round(style.size)), style.bold, width)]


@lru_cache(maxsize=4096)
def _measured(text: str, pixels: int, bold: bool, width: float) -> tuple[tuple[str, float], ...]:
    """The lines of a text and their widths; measuring is most of what a screen costs, so nothing is measured twice."""
    lines: list[tuple[str, float]] = []
    for paragraph in text.splitlines():
        whole = _advance(paragraph, pixels, bold)
        lines += [(paragraph, whole)] if whole <= width else _broken(paragraph, _metrics(pixels, bold), width)
    return tuple(lines)


def _broken(paragraph: str, measure: QFontMetricsF, width: float) -> list[tuple[str, float]]:
    lines: list[tuple[str, float]] = []
    current, wide = "", 0.0
    for word in unbreakable_parts(paragraph):
        longer = f"{current} {word}" if current else word
        across = measure.horizontalAdvance(longer)
        if current and across > width:
            lines.append((current, wide))
            longer, across = word, measure.horizontalAdvance(word)
        current, wide = longer, across
    return [*lines, (current, wide)]


def block_height(text: str, style: Style, width: float) -> float:
    """Height the text takes at its wanted size in a given width, pixels."""
    return len(wrapped(text, style, width)) * line_height(style) if text else 0.0


def fitted(text: str, style: Style, width: float, height: float) -> tuple[Style, list[str]]:
    """The largest step of the style at which the wrapped text fits into width x height."""
    while True:
        lines = _measured(text, max(1, round(style.size)), style.bold, width)
        wide = max((across for _, across in lines), default=0.0)
        if (wide <= width and len(lines) * line_height(style) <= height + 0.5) or style.size <= _SMALLEST:
            return style, [line for line, _ in lines]
        style = style.shrunk()


class Lettering:
    """Draws text with one painter and keeps the record of it."""

    def __init__(self, painter: QPainter) -> None:
        self._painter = painter
        self.records: list[Lettered] = []

    def block(self, text: str, box: QRectF, style: Style, *, middle: bool = False) -> None:
        """Draw text from the top of its box (or in the `middle`), wrapped and shrunk to fit."""
        chosen, lines = fitted(text, style, box.width(), box.height())
        step = line_height(chosen)
        top = box.top() + (box.height() - step * len(lines)) / 2 if middle else box.top()
        for number, line in enumerate(lines):
            row = QRectF(box.left(), top + number * step, box.width(), step)
            self._draw(line, row, chosen, box, style.smallest)

    def line(self, text: str, box: QRectF, style: Style) -> None:
        """Draw one unbroken line, vertically centred in its box and shrunk to its width and height."""
        chosen = style
        while (width_of(text, chosen) > box.width() or chosen.size * 0.8 > box.height()) and chosen.size > _SMALLEST:
            chosen = chosen.shrunk()
        self._draw(text, box, chosen, box, style.smallest)

    def runs(self, runs: Sequence[Run], box: QRectF, style: Style) -> None:
        """Draw parts of different size on one baseline at the bottom of the box, as one line."""
        chosen = style
        while self._runs_width(runs, chosen) > box.width() and chosen.size > _SMALLEST:
            chosen = chosen.shrunk()
        left = box.left() + (box.width() - self._runs_width(runs, chosen)) * style.align.value
        for run in runs:
            part = replace(chosen, size=chosen.size * run.share, bold=run.bold)
            self._stamp(run.text, QPointF(left, box.bottom()), part, box, style.smallest * run.share)
            left += width_of(run.text, part)

    def hollow(self, text: str, box: QRectF, style: Style, stroke: float) -> None:
        """Draw one line in outlined letters, `stroke` pixels thick, for words that are not to look solid."""
        measure = metrics(style)
        origin = QPointF(box.left(), box.center().y() + measure.capHeight() / 2)
        path = QPainterPath()
        path.addText(origin, letter(style.size, bold=style.bold), text)
        self._painter.strokePath(path, QPen(QColor(style.pair.text), stroke))
        self.records.append(Lettered(text, box, origin, style.size, style.bold, style.pair, fits=True))

    def _runs_width(self, runs: Sequence[Run], style: Style) -> float:
        return sum(width_of(run.text, replace(style, size=style.size * run.share, bold=run.bold)) for run in runs)

    def _draw(self, text: str, row: QRectF, style: Style, box: QRectF, smallest: float) -> None:
        left = row.left() + (row.width() - width_of(text, style)) * style.align.value
        baseline = row.center().y() + metrics(style).capHeight() / 2
        self._stamp(text, QPointF(left, baseline), style, box, smallest)

    def _stamp(self, text: str, origin: QPointF, style: Style, box: QRectF, smallest: float) -> None:
        if not text.strip():
            return
        font = letter(style.size, bold=style.bold)
        self._painter.setFont(font)
        self._painter.setPen(QColor(style.pair.text))
        self._painter.drawText(origin, text)
        fits = style.size >= smallest - 0.01
        self.records.append(Lettered(text, box, origin, style.size, style.bold, style.pair, fits))


def digits_and_units(text: str, unit_share: float = 0.56) -> list[Run]:
    """Split a count-down so that its figures stand large and its units small: '2 h 20' -> 2, h, 20."""
    runs: list[Run] = []
    for word in text.split():
        lead = " " if runs else ""
        runs.append(Run(lead, 0.42))
        runs.append(Run(word, 1.0 if word.isdigit() else unit_share))
    return runs[1:]


def number_and_name(title: str) -> list[Run]:
    """Let the last three digits of a container's number stand out: 'K7 304' -> K7 small, 304 large."""
    head, _, tail = title.rpartition(" ")
    if head and len(tail) == 3 and tail.isdigit():
        return [Run(head, 0.72), Run(" ", 0.5), Run(tail, 1.0)]
    return [Run(title)]
