"""Pieces one below another, shrunk together in steps until all of them fit."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from PySide6.QtCore import QRectF

from station.ui.widgets.lettering import Lettering, Style, block_height, metrics, unbreakable_parts, width_of

STEPS = (1.0, 0.94, 0.88, 0.82, 0.77, 0.72, 0.68, 0.64, 0.6, 0.56, 0.52, 0.48, 0.44, 0.4)


@dataclass(frozen=True)
class Piece:
    """One part of a stack: its height, the gap above it, and how it is drawn into the box it gets."""

    height: float
    gap: float
    draw: Callable[[Lettering, QRectF], None]


def text_piece(text: str, style: Style, width: float, gap: float) -> list[Piece]:
    """A wrapped text as a piece; nothing at all for an empty text."""
    if not text:
        return []
    narrow = fit_longest_word(text, style, width)
    height = block_height(text, narrow, width)
    return [Piece(height, gap, lambda lettering, box: _block(lettering, text, box, narrow))]


def one_line_if_near(text: str, style: Style, width: float, least_share: float) -> Style:
    """The style made smaller where that spares a second line, but not below a share of its size."""
    share = width / max(1.0, width_of(text, style)) * 0.99
    return replace(style, size=style.size * share) if least_share <= share < 1 else style


def fit_longest_word(text: str, style: Style, width: float) -> Style:
    """The style, made smaller where one word alone is wider than the width: words are never broken."""
    measure = metrics(style)
    widest = max(
        (measure.horizontalAdvance(word) for line in text.splitlines() for word in unbreakable_parts(line)),
        default=0.0,
    )
    return style if widest <= width else replace(style, size=style.size * width / widest * 0.99)


def stack_height(pieces: Sequence[Piece]) -> float:
    """Height of all pieces with the gaps between them, pixels; the first gap is not counted."""
    return sum(piece.height + piece.gap for piece in pieces) - (pieces[0].gap if pieces else 0.0)


def step_that_fits(height_at: Callable[[float], float], available: float) -> float:
    """The largest step of size whose height fits into what is available; the smallest step otherwise."""
    return next((step for step in STEPS if height_at(step) <= available), STEPS[-1])


def draw_stack(pieces: Sequence[Piece], lettering: Lettering, area: QRectF) -> float:
    """Draw pieces from the top of the area; returns where the last one ended."""
    top = area.top()
    for number, piece in enumerate(pieces):
        top += piece.gap if number else 0.0
        piece.draw(lettering, QRectF(area.left(), top, area.width(), piece.height))
        top += piece.height
    return top


def _block(lettering: Lettering, text: str, box: QRectF, style: Style) -> None:
    lettering.block(text, box.adjusted(0, 0, 0, 1), style)
