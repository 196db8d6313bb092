"""The paper that sheets of codes are printed on, and how it is divided into cards.

Sizes: A4 from ISO 216; Letter, 8 1/2 by 11 inches, is size A of ANSI/ASME Y14.1. Two cards lie side by side and three
below each other, which leaves the centres of any two codes more than 80 mm apart, so a reader sees one at a time.
"""

from dataclasses import dataclass

from station.labels.faults import LabelFault
from station.labels.fitting import Rectangle

DPI = 300
MARGIN_MM = 10.0  # no office printer leaves more than this blank
FOOT_MM = 5.0
APART_MM = 80.0
COLUMNS, ROWS = 2, 3
CARDS = COLUMNS * ROWS


@dataclass(frozen=True, slots=True)
class Paper:
    """A size of paper, upright, in millimetres."""

    name: str
    width_mm: float
    height_mm: float

    @property
    def width(self) -> int:
        """Dots from edge to edge."""
        return dots(self.width_mm)

    @property
    def height(self) -> int:
        """Dots from top to bottom."""
        return dots(self.height_mm)

    @property
    def inside(self) -> Rectangle:
        """What may be printed on, in dots."""
        margin = dots(MARGIN_MM)
        return margin, margin, self.width - margin, self.height - margin


A4 = Paper("A4", 210.0, 297.0)
LETTER = Paper("Letter", 215.9, 279.4)
PAPERS = {paper.name: paper for paper in (A4, LETTER)}


def paper_named(name: str) -> Paper:
    """The paper of a name, whatever its case; LabelFault "paper" for one that sheets are not laid out for."""
    found = next((paper for paper in PAPERS.values() if paper.name.lower() == name.lower()), None)
    if found is None:
        raise LabelFault("paper", f"There are no sheets for paper {name!r}; choose {' or '.join(PAPERS)}.")
    return found


def dots(millimetres: float, dpi: int = DPI) -> int:
    """Whole dots of a sheet, or at another figure per inch."""
    return round(millimetres * dpi / 25.4)


def card_cells(paper: Paper) -> tuple[Rectangle, ...]:
    """The cards of one sheet in dots, row by row."""
    left, top, right, bottom = paper.inside
    across = [left + (right - left) * column // COLUMNS for column in range(COLUMNS + 1)]
    down = [top + (bottom - dots(FOOT_MM) - top) * row // ROWS for row in range(ROWS + 1)]
    return tuple(
        (across[column], down[row], across[column + 1], down[row + 1])
        for row in range(ROWS)
        for column in range(COLUMNS)
    )
