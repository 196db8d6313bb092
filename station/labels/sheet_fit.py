"""Text set into a box on a sheet: smaller or on more lines until it fits, and a fault where it never does.

Sizes are the height of a capital in millimetres, as on labels; places are whole dots.
"""

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from station.labels.fitting import CodeMark, FillMark, Mark, Rectangle, TextMark
from station.labels.lettering import Line, set_line
from station.labels.sheet_paper import DPI, Paper, dots

LEADING = 1.7  # from line to line, in capitals


@dataclass(frozen=True, slots=True)
class SheetPage:
    """One page in dots. `faults` are sentences; a page with faults must not be printed."""

    paper: Paper
    marks: tuple[Mark, ...]
    codes: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Words:
    """How a text is set: its face, the tallest and the smallest capital, and how many lines it may take.

    With `high_mm` the lines together are no higher than that.
    """

    cap_mm: float
    least_mm: float
    lines: int = 1
    face: str = "regular"
    align: str = "left"
    high_mm: float = 0.0

    def hold(self, lines: Sequence[Line], width: int, dpi: int = DPI) -> bool:
        """Whether these lines are as they may be, in a box of this width in dots."""
        high = sum(line.capital * (LEADING if number else 1) for number, line in enumerate(lines))
        low = not self.high_mm or high <= dots(self.high_mm, dpi)
        return len(lines) <= self.lines and low and all(line.width <= width for line in lines)


def set_words(
    text: str, words: Words, left: int, top: int, right: int, dpi: int = DPI
) -> tuple[tuple[TextMark, ...], str]:
    """The marks of a text whose first capitals begin at `top`, and what is wrong with it: nothing, or one sentence."""
    if not text:
        return (), ""
    lines = _fitted(text, words, right - left, dpi)
    if not lines:
        width = (right - left) * 25.4 / dpi
        return (), f"{text!r} does not fit into {width:.0f} mm on {words.lines} line(s). Shorten the name."
    return tuple(_placed(lines, words.align, left, top, right)), ""


def _fitted(text: str, words: Words, width: int, dpi: int) -> list[Line]:
    """The text as large as it fits, with words cut only where nothing else fits; no lines where it never does."""
    sizes = range(dots(words.cap_mm, dpi), dots(words.least_mm, dpi) - 1, -1)

    def broken(capital: int, *, cut: bool) -> list[Line]:
        parts = _parts(text, words.face, capital, width) if cut else text.split(" ")
        return _broken(parts, words.face, capital, width)

    whole = broken(sizes[0], cut=False)
    if words.hold(whole, width, dpi):
        return whole
    for cut in (False, True):
        # what fits at one size fits at every smaller one
        place = bisect_left(sizes, x=True, key=lambda capital: words.hold(broken(capital, cut=cut), width, dpi))
        if place < len(sizes):
            return broken(sizes[place], cut=cut)
    return []


def _broken(parts: Iterable[str], face: str, capital: int, width: int) -> list[Line]:
    lines: list[Line] = []
    for word in parts:
        longer = set_line(f"{lines[-1].text} {word}", face, capital) if lines else None
        if longer is not None and longer.width <= width:
            lines[-1] = longer
        else:
            lines.append(set_line(word, face, capital))
    return lines


def _parts(text: str, face: str, capital: int, width: int) -> Iterator[str]:
    """The words of a text; one that is too long for any line by itself in pieces."""
    for word in text.split(" "):
        rest = word
        while set_line(rest, face, capital).width > width and len(rest) > 1:
            longer = range(1, len(rest))
            fits = max(1, bisect_left(longer, x=True, key=lambda n: set_line(rest[:n], face, capital).width > width))
            yield rest[:fits]
            rest = rest[fits:]
        yield rest


def _placed(lines: list[Line], align: str, left: int, top: int, right: int) -> Iterator[TextMark]:
    for number, line in enumerate(lines):
        baseline = top + line.capital + round(number * LEADING * line.capital)
        start = {"left": left, "right": right - line.width, "centre": (left + right - line.width) // 2}[align]
        yield TextMark(line, start - line.left, baseline, None)


def outline(bounds: Rectangle, thick: int) -> FillMark:
    """A frame just inside `bounds`."""
    left, top, right, bottom = bounds
    return FillMark(
        (
            (left, top, right, top + thick),
            (left, bottom - thick, right, bottom),
            (left, top, left + thick, bottom),
            (right - thick, top, right, bottom),
        )
    )


def reach(mark: Mark) -> Rectangle:
    """The rectangle in which a mark's ink lies."""
    match mark:
        case TextMark(line=line, x=x, baseline=baseline):
            ink = (x + line.left, baseline + line.top, x + line.right, baseline + line.bottom)
            return ink if mark.bar is None else mark.bar
        case CodeMark():
            return mark.square
        case FillMark(parts=parts):
            return (
                min(part[0] for part in parts),
                min(part[1] for part in parts),
                max(part[2] for part in parts),
                max(part[3] for part in parts),
            )
        case _:
            return mark.bounds


def outside(paper: Paper, marks: tuple[Mark, ...]) -> tuple[str, ...]:
    """A sentence if anything comes into the margin of the paper."""
    left, top, right, bottom = paper.inside
    over = any(
        ink[0] < left or ink[1] < top or ink[2] > right or ink[3] > bottom for ink in (reach(mark) for mark in marks)
    )
    return (f"Something on the sheet does not fit on {paper.name}.",) if over else ()
