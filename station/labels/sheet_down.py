"""The down-station sheet on paper: one page for each paste, its figures above, below them rows and labels to write on.

Each row and each label has a number that was reserved for it, so that what was written can be entered afterwards.
"""

from collections.abc import Iterator, Sequence

from station.labels.faults import LabelFault
from station.labels.fitting import FillMark, Mark, Rectangle, TextMark
from station.labels.sheet_cards import CUT_DOTS, foot
from station.labels.sheet_fit import SheetPage, Words, outline, outside, set_words
from station.labels.sheet_limits import DownSheet
from station.labels.sheet_paper import Paper, dots

LABELS = 6
ACROSS = 3
LABEL_HIGH_MM = 43.0
ROW_MM = 8.4
FIGURE_MM = 4.3
TITLE = Words(3.0, 2.2, face="bold")
PASTE = Words(7.0, 3.5, face="bold")
SHOUT = Words(7.0, 3.0, face="bold", align="right")
PLAIN = Words(2.1, 1.5)
HEADING = Words(2.3, 1.8, face="bold")
FIGURE = Words(2.1, 1.4, face="bold", align="right")
NUMBER = Words(2.6, 1.8, face="bold")
BIG = Words(4.2, 2.5, face="bold", align="right")
SMALL = Words(1.9, 1.3)
HOW = (
    "Warm it closed, out of its carton, in still room air, a hand's width from the next. Earliest use = taken out + "
    "warming. Discard by the first life that is over. Write day and 24 h time on the row and on the label."
)
AFTER = (
    "Afterwards: a container with its own number: scan it at the shift desk, More, Taken out earlier. A new one: "
    "Receive, with the number of its row; then Taken out earlier."
)
CALL = "Call: shift lead ____________________   process engineer ____________________"
COLUMNS = (
    ("No.", 20.0),
    ("own number", 22.0),
    ("kind, lot, expiry, arrival", 46.0),
    ("taken out", 25.0),
    ("earliest use", 25.0),
    ("opened", 20.0),
    ("where, who", 0.0),
)


def down_pages(sheets: Sequence[DownSheet], paper: Paper) -> tuple[SheetPage, ...]:
    """A page for each sheet. LabelFault "layout" where something is too long for it."""
    pages = tuple(_Page(paper).filled(sheet) for sheet in sheets)
    faults = tuple(dict.fromkeys(fault for page in pages for fault in page.faults))
    if faults:
        raise LabelFault("layout", " ".join(faults))
    return pages


class _Page:
    """One page while it is being laid out, from the top down."""

    def __init__(self, paper: Paper) -> None:
        self.paper = paper
        self.left, self.y, self.right, self.bottom = paper.inside
        self.marks: list[Mark] = []
        self.faults: list[str] = []

    def filled(self, sheet: DownSheet) -> SheetPage:
        self._head(sheet)
        self._figures(sheet)
        self._lines((HOW,), 3)
        self._lines(sheet.cautions, 2)
        self._lines((CALL,), 1, gap_mm=2.5)
        self._rows(sheet)
        self._lines((AFTER,), 2)
        self._labels(sheet)
        marks, wrong = foot(
            self.paper, "Print at 100 %, not fitted to the page. Do not photocopy it: each number is given once."
        )
        self.marks += marks
        found = (*self.faults, *wrong, *outside(self.paper, tuple(self.marks)))
        return SheetPage(self.paper, tuple(self.marks), (), found)

    # ------------------------------------------------------------------ parts, from the top down

    def _head(self, sheet: DownSheet) -> None:
        middle = (self.left + self.right) // 2
        self.y += dots(1.5)  # brackets stand higher than capitals
        self._set("THE STATION IS DOWN: BY HAND", TITLE, self.left, self.y, middle)
        self._set(sheet.shout, SHOUT, middle, self.y, self.right)
        self.y += dots(5.0)
        self._set(sheet.paste, PASTE, self.left, self.y, middle)
        self.y += dots(9.0)
        self._set(f"{sheet.title}. {sheet.edition}", Words(2.1, 1.5, lines=2), self.left, self.y, self.right)
        self.y += dots(5.0)
        self._rule()

    def _figures(self, sheet: DownSheet) -> None:
        """Three columns of figures side by side."""
        parts = (("WARMING", sheet.warming), ("LIVES", sheet.lives), ("TEMPERATURES", sheet.temperatures))
        gap, start = dots(4), self.y
        width = (self.right - self.left - 2 * gap) // 3
        ends = []
        for number, (heading, lines) in enumerate(parts):
            left = self.left + number * (width + gap)
            ends.append(self._column(heading, lines, (left, start, left + width, self.bottom)))
        self.y = max(ends) + dots(1)
        self._rule()

    def _column(self, heading: str, lines: tuple[tuple[str, str], ...], bounds: Rectangle) -> int:
        left, y, right, _ = bounds
        self._set(heading, HEADING, left, y, right)
        y += dots(FIGURE_MM)
        for what, figure in lines:
            self._set(figure, FIGURE, left + (right - left) * 9 // 20, y, right)
            taken = min((mark.x for mark in self.marks[-1:] if isinstance(mark, TextMark)), default=right)
            marks = self._set(what, Words(2.1, 1.4, lines=4), left, y, taken - dots(1))
            y = max((mark.baseline for mark in marks), default=y) + dots(FIGURE_MM - 2.1)
        return y

    def _lines(self, texts: Sequence[str], most: int, *, gap_mm: float = 0.0) -> None:
        self.y += dots(gap_mm)
        for text in texts:
            marks = self._set(text, Words(2.1, 1.9, lines=most), self.left, self.y, self.right)
            self.y += dots(3.6) * len({mark.baseline for mark in marks})
        self.y += dots(1.2)

    def _rows(self, sheet: DownSheet) -> None:
        """The table: one row a number, with room to write."""
        top, high = self.y, dots(ROW_MM)
        places = list(self._places())
        for name, left, right in places:
            self._set(name, SMALL, left + dots(0.8), top + dots(0.6), right - dots(0.5))
        head = dots(3.4)
        bottom = top + head + high * len(sheet.numbers)
        for number, text in enumerate(sheet.numbers):
            y = top + head + number * high
            self._set(text.replace("-", " "), NUMBER, self.left + dots(0.8), y + dots(2.9), places[0][2] - dots(0.5))
            self.marks.append(FillMark(((self.left, y, self.right, y + 1),)))
        self.marks.append(outline((self.left, top, self.right, bottom), CUT_DOTS))
        self.marks += [FillMark(((left, top, left + 1, bottom),)) for _, left, _ in places[1:]]
        self.y = bottom + dots(1.4)

    def _places(self) -> Iterator[tuple[str, int, int]]:
        left = self.left
        for name, width in COLUMNS:
            right = left + dots(width) if width else self.right
            yield name, left, right
            left = right

    def _labels(self, sheet: DownSheet) -> None:
        """Labels to cut out and tape on, as high as on the stock they stand for."""
        high = dots(LABEL_HIGH_MM)
        edges = [self.left + (self.right - self.left) * column // ACROSS for column in range(ACROSS + 1)]
        for number, text in enumerate(sheet.numbers):
            row, column = divmod(number, ACROSS)
            top = self.y + row * high
            self._label(sheet, text, (edges[column], top, edges[column + 1], top + high))
        self.y += high * -(-len(sheet.numbers) // ACROSS)

    def _label(self, sheet: DownSheet, number: str, bounds: Rectangle) -> None:
        left, top, right, _ = bounds
        self.marks.append(outline(bounds, CUT_DOTS))
        inner, outer = left + dots(2), right - dots(2)
        half = inner + (outer - inner) * 11 // 20
        self._set(sheet.paste, Words(3.2, 1.5, face="bold"), inner, top + dots(2), half)
        self._set(number.replace("-", " "), BIG, half + dots(1), top + dots(2), outer)
        self._set(sheet.shout, Words(2.6, 1.6, face="bold"), inner, top + dots(7.4), outer)
        for place, name in enumerate(("OWN NUMBER", "TAKEN OUT", "NOT BEFORE", "DISCARD BY", "OPENED")):
            y = top + dots(13.4 + place * 5.8)
            marks = self._set(name, Words(1.9, 1.5, face="bold"), inner, y, half)
            start = max((mark.x + mark.line.right for mark in marks), default=inner) + dots(1)
            self.marks.append(FillMark(((start, y + dots(2.0), outer, y + dots(2.0) + 1),)))

    # ------------------------------------------------------------------ inside

    def _rule(self) -> None:
        self.marks.append(FillMark(((self.left, self.y, self.right, self.y + CUT_DOTS),)))
        self.y += dots(2)

    def _set(self, text: str, words: Words, left: int, top: int, right: int) -> tuple[TextMark, ...]:
        marks, wrong = set_words(text, words, left, top, right)
        self.marks += marks
        self.faults += [wrong] if wrong else []
        return marks
