"""How the rows of the time board share the height there is."""

import pytest

from station.ui.view_models import BoardRow
from station.ui.widgets.board_layout import RowHeights, headings_in, lay_out, wanted_height

HEIGHTS = RowHeights(least=40, best=100, heading=30, more=25)
BEAD = BoardRow("LINE 2 BEAD", tall=True)


def containers(count: int, group: str = "") -> tuple[BoardRow, ...]:
    return tuple(BoardRow(f"K7 {300 + number}", group=group) for number in range(count))


def test_the_bead_is_twice_as_tall_as_a_container() -> None:
    layout = lay_out((BEAD, *containers(2)), 0, 400, HEIGHTS)
    assert layout.slots[0].height == 2 * layout.slots[1].height == 200


def test_rows_do_not_grow_beyond_their_best() -> None:
    layout = lay_out(containers(2), 0, 900, HEIGHTS)
    assert [slot.height for slot in layout.slots] == [100, 100]
    assert layout.bottom == 200


@pytest.mark.parametrize("available", [90, 150, 260, 333, 500, 1000])
def test_rows_never_overlap_and_never_leave_the_board(available: int) -> None:
    rows = (BEAD, *containers(4, "AT LINE 2"), *containers(5, "WARMING UP"))
    layout = lay_out(rows, 0, available, HEIGHTS)
    tops = [slot.top for slot in layout.slots]
    ends = [slot.top + slot.height for slot in layout.slots]
    assert all(end <= top + 1e-9 for end, top in zip(ends, tops[1:], strict=False))
    assert layout.bottom + (HEIGHTS.more if layout.hidden else 0) <= available + 1e-9


def test_what_does_not_fit_is_counted_and_is_what_is_due_last() -> None:
    rows = containers(10)
    layout = lay_out(rows, 3, 200, HEIGHTS)
    assert [slot.row for slot in layout.slots] == list(rows[: len(layout.slots)])
    assert layout.hidden == 3 + 10 - len(layout.slots)
    assert layout.hidden > 3


def test_headings_go_before_rows_do() -> None:
    rows = containers(4, "WARMING UP")
    assert lay_out(rows, 0, 200, HEIGHTS).slots[0].heading_top == 0
    tight = lay_out(rows, 0, 170, HEIGHTS)
    assert len(tight.slots) == 4
    assert tight.slots[0].heading_top is None


def test_a_group_is_named_where_it_changes() -> None:
    rows = (BEAD, *containers(2, "AT LINE 2"), *containers(1, "WARMING UP"))
    assert headings_in(rows) == (False, True, False, True)
    assert wanted_height(rows, HEIGHTS) == 5 * 100 + 2 * 30


def test_one_row_stays_however_little_room_there_is() -> None:
    assert len(lay_out(containers(5), 0, 30, HEIGHTS).slots) == 1


def test_an_empty_board_has_no_rows_and_no_height() -> None:
    layout = lay_out((), 0, 300, HEIGHTS)
    assert layout.slots == ()
    assert layout.bottom == 0
