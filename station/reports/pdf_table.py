"""A table drawn on pages: columns as wide as they need, headings again on every page, one thin line below each row.

Text is put where it belongs, a line at a time. A table of the PDF library measures and sets each cell three times,
which takes ten times as long; a report over a year has tens of thousands of rows.
"""

from collections.abc import Callable, Sequence
from functools import lru_cache

from fpdf import FPDF

from station.reports.pdf_letters import Letters

LINE_MM, PAD_MM = 4.0, 1.2
HEAD_GREY, RULE_GREY = 225, 190
ASCENT = 0.76  # of a letter's size: where its baseline stands below the top of the line
MEASURED = 400  # rows that say how wide the columns are
NARROWEST_MM = 12.0
REMEMBERED = 50_000

Row = Sequence[str]


class TablePages:
    """Draws rows; `right` says of each column whether it stands at its right edge."""

    def __init__(self, pages: FPDF, letters: Letters, right: Sequence[bool]) -> None:
        """The font and its size are those that are set."""
        self._pages, self._letters, self._right = pages, letters, right
        self._width: Callable[[str], float] = lru_cache(REMEMBERED)(pages.get_string_width)
        self._widths: list[float] = []
        self._heading: Row = ()

    def begin(self, heading: Row, sample: Sequence[Row]) -> None:
        """Share the page's width out, and write the headings."""
        wanted = [
            max(self._width(line) for row in (heading, *sample[:MEASURED]) for line in row[place].split("\n"))
            for place in range(len(heading))
        ]
        self._widths = shared([width + 2 * PAD_MM for width in wanted], self._pages.epw)
        self._heading = heading
        self._head()

    def row(self, row: Row) -> None:
        """Write one row, on the next page if it does not fit on this one; what fits on none is broken."""
        cells = [self._lines(text, width - 2 * PAD_MM) for text, width in zip(row, self._widths, strict=True)]
        lines = max(map(len, cells))
        pages = self._pages
        if pages.y + lines * LINE_MM > pages.page_break_trigger and pages.y > self._first_row():
            self._turn()
        for place in range(lines):
            if pages.y + LINE_MM > pages.page_break_trigger:
                self._turn()
            self._set([cell[place] if place < len(cell) else "" for cell in cells])
        pages.set_draw_color(RULE_GREY)
        pages.line(pages.l_margin, pages.y, pages.l_margin + sum(self._widths), pages.y)

    def _first_row(self) -> float:
        """Where the first row stands on a page that begins with the headings."""
        return float(self._pages.t_margin) + 3 * LINE_MM

    def _turn(self) -> None:
        self._pages.add_page()
        self._head()

    def _head(self) -> None:
        cells = [self._lines(text, width - 2 * PAD_MM) for text, width in zip(self._heading, self._widths, strict=True)]
        pages, lines = self._pages, max(map(len, cells))
        if pages.y + (lines + 1) * LINE_MM > pages.page_break_trigger:
            pages.add_page()
        pages.set_fill_color(HEAD_GREY)
        pages.rect(pages.l_margin, pages.y, sum(self._widths), lines * LINE_MM, style="F")
        pages.set_fill_color(0)
        for place in range(lines):
            self._set([cell[place] if place < len(cell) else "" for cell in cells])

    def _set(self, line: Row) -> None:
        """One line of every cell, and down by a line."""
        pages = self._pages
        left, top = pages.l_margin, pages.y
        for text, width, right in zip(line, self._widths, self._right, strict=True):
            if text:
                place = left + width - PAD_MM - self._width(text) if right else left + PAD_MM
                self._put(text, place, top)
            left += width
        pages.set_xy(pages.l_margin, top + LINE_MM)

    def _put(self, text: str, left: float, top: float) -> None:
        pages = self._pages
        if self._letters.is_plain(text):
            pages.text(left, top + (LINE_MM - pages.font_size) / 2 + ASCENT * pages.font_size, text)
            return
        pages.set_xy(left - pages.c_margin, top)
        pages.cell(self._width(text) + 2 * pages.c_margin, LINE_MM, text)

    def _lines(self, text: str, width: float) -> list[str]:
        """A text in lines of this width."""
        return [line for part in text.split("\n") for line in (self._broken(part, width) if part else ("",))]

    def _broken(self, text: str, width: float) -> list[str]:
        if self._width(text) <= width:
            return [text]
        lines, line = list[str](), ""
        for word in text.split(" "):
            longer = f"{line} {word}" if line else word
            if self._width(longer) <= width:
                line = longer
                continue
            lines += [line] if line else []
            *whole, line = self._cut(word, width)
            lines += whole
        return [*lines, line]

    def _cut(self, word: str, width: float) -> list[str]:
        """A word in as many pieces as it takes; a letter at least in each."""
        pieces, piece = list[str](), ""
        for letter in word:
            if piece and self._width(piece + letter) > width:
                pieces.append(piece)
                piece = ""
            piece += letter
        return [*pieces, piece]


def shared(wanted: Sequence[float], there: float) -> list[float]:
    """Widths that add up to no more than is there: narrow columns get what they want, wide ones share the rest."""
    given, left = [0.0] * len(wanted), there
    for done, place in enumerate(sorted(range(len(wanted)), key=lambda place: wanted[place])):
        given[place] = min(max(wanted[place], NARROWEST_MM), left / (len(wanted) - done))
        left -= given[place]
    return given
