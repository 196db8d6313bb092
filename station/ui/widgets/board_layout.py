"""Where the rows of the time board stand: plain arithmetic, so that it can be tried without a screen.

Rows share the height there is. When they would become too low to be read, first the group headings go, then
the rows that are due last; what is left out is counted and said.
"""

from dataclasses import dataclass

from station.ui.view_models import BoardRow

_TALL = 2.0


@dataclass(frozen=True)
class RowHeights:
    """Heights in pixels: of a plain row at least and at best, of a heading, of the line that counts the rest."""

    least: float
    best: float
    heading: float
    more: float


@dataclass(frozen=True)
class Slot:
    """A row with its place, pixels from the top of the rows; `heading_top` is where its group's name stands."""

    row: BoardRow
    top: float
    height: float
    heading_top: float | None = None


@dataclass(frozen=True)
class BoardLayout:
    """All rows that are shown, how many are not, and where the last one ends."""

    slots: tuple[Slot, ...]
    hidden: int
    bottom: float


def share_of(row: BoardRow) -> float:
    """Height of a row in plain rows."""
    return _TALL if row.tall else 1.0


def headings_in(rows: tuple[BoardRow, ...]) -> tuple[bool, ...]:
    """For each row, whether a group's name stands above it."""
    groups = ["", *(row.group for row in rows)]
    return tuple(bool(row.group) and row.group != before for row, before in zip(rows, groups, strict=False))


def wanted_height(rows: tuple[BoardRow, ...], heights: RowHeights) -> float:
    """Height in pixels at which every row and heading stands at its best."""
    return sum(share_of(row) for row in rows) * heights.best + sum(headings_in(rows)) * heights.heading


def lay_out(rows: tuple[BoardRow, ...], more: int, available: float, heights: RowHeights) -> BoardLayout:
    """Place as many rows as can be read in the height available, pixels."""
    for headings in (True, False):
        if _plain_height(rows, more, available, heights, headings=headings) >= heights.least:
            return _placed(rows, more, available, heights, headings=headings)
    kept = rows
    while len(kept) > 1:
        kept = kept[:-1]
        left_out = more + len(rows) - len(kept)
        if _plain_height(kept, left_out, available, heights, headings=False) >= heights.least:
            break
    return _placed(kept, more + len(rows) - len(kept), available, heights, headings=False)


def _plain_height(
    rows: tuple[BoardRow, ...], more: int, available: float, heights: RowHeights, *, headings: bool
) -> float:
    shares = sum(share_of(row) for row in rows)
    room = available - (heights.more if more else 0.0) - (sum(headings_in(rows)) * heights.heading if headings else 0.0)
    return min(heights.best, room / shares) if shares else heights.best


def _placed(
    rows: tuple[BoardRow, ...], more: int, available: float, heights: RowHeights, *, headings: bool
) -> BoardLayout:
    plain = _plain_height(rows, more, available, heights, headings=headings)
    slots: list[Slot] = []
    top = 0.0
    for row, headed in zip(rows, headings_in(rows), strict=True):
        heading_top = top if headings and headed else None
        top += heights.heading if heading_top is not None else 0.0
        slots.append(Slot(row, top, plain * share_of(row), heading_top))
        top += plain * share_of(row)
    return BoardLayout(tuple(slots), more, top)
