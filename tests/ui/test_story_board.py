"""A story drawn on the time board: the same things as in its lines, from one reading of the record."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from pytestqt.qtbot import QtBot

from station.care import trace
from station.care.floor import Floor
from station.care.pace import unhurried
from station.care.story import CONTAINER, DAY, LOT, PERSON, POSITION, WORK_ORDER, story
from station.ui.present.story_board import story_board
from station.ui.ruler import PAST_REACH, TimeRuler, story_reach
from station.ui.view_models import BoardModel, BoardRow, StretchKind, Tone
from station.ui.widgets.time_board import TimeBoard
from tests.care.test_trace import after

RECALL, CHANGEOVERS = "recall_at_two_printers", "changeovers"
NOW = datetime(2026, 11, 24, 13, tzinfo=UTC)


def drawn(floor: Floor, kind: str, name: str) -> BoardModel:
    """The board of a story."""
    found = story_board(floor, kind, name, story(floor.ledger, kind, name, floor.zone))
    assert found is not None
    return found


def kinds(row: BoardRow) -> list[StretchKind]:
    return [stretch.kind for stretch in row.stretches]


def test_a_position_has_a_row_for_each_bead_the_newest_first_as_long_as_it_lay() -> None:
    floor = after(CHANGEOVERS)
    board = drawn(floor, POSITION, "2")
    lain = trace.stays_at(floor.ledger, "2")
    assert len(board.rows) == len({stay.key for stay in lain})
    starts = [row.stretches[0].start for row in board.rows]
    assert (
        starts == sorted({min(stay.since for stay in lain if stay.key == key) for key in {s.key for s in lain}})[::-1]
    )
    assert "WO1, WO2" in board.rows[-1].subtitle  # the bead that was carried over
    assert board.older


def test_what_lay_past_a_limit_is_crossed_from_the_limit_on() -> None:
    board = drawn(after(RECALL), POSITION, "P1")
    (row,) = [row for row in board.rows if StretchKind.PAST in kinds(row)]
    assert kinds(row) == [StretchKind.USABLE, StretchKind.PAST]
    assert [
        (one.start.replace(second=0), one.end.replace(second=0)) for one in row.stretches
    ] == [  # on hold at 12:00, off at 12:10, Berlin
        (datetime(2026, 11, 9, 5, 0, tzinfo=UTC), datetime(2026, 11, 9, 11, 0, tzinfo=UTC)),
        (datetime(2026, 11, 9, 11, 0, tzinfo=UTC), datetime(2026, 11, 9, 11, 10, tzinfo=UTC)),
    ]
    assert (row.tone, row.caption) == (Tone.PAST, "past for 10 min")


def test_a_container_stands_with_what_it_lay_at_and_a_stroke_for_each_line_of_its_story() -> None:
    floor = after(RECALL)
    used = next(stay.container for stay in trace.stays(floor.ledger) if stay.position == "P1")
    jar, place, *rest = drawn(floor, CONTAINER, used).rows
    lines = story(floor.ledger, CONTAINER, used, floor.zone)
    assert list(jar.marks) == [line.at for line in lines]
    assert jar.title == used.replace("-", " ")
    assert {place.title, *(row.title for row in rest)} >= {"P1"}
    assert set(place.marks) <= set(jar.marks)


def test_an_ended_container_has_no_future_and_the_line_says_end() -> None:
    floor = after(RECALL)
    ended = next(one for one in floor.ledger.containers.values() if one.ended is not None)
    board = drawn(floor, CONTAINER, ended.id)
    assert board.rows[0].stretches[-1].end == ended.ended_at
    assert all(stretch.end < board.now for row in board.rows for stretch in row.stretches)  # its paste lay on in a bead
    assert board.reach.ticks[0].label == "END"
    assert board.rows[0].caption.startswith("used up")


def test_a_lot_has_a_row_for_each_of_its_containers() -> None:
    floor = after(RECALL)
    board = drawn(floor, LOT, "SN-4/101")
    assert {row.title for row in board.rows} == {
        one.spoken for one in floor.ledger.containers.values() if one.lot == "101"
    }
    assert (board.now, board.reach.ticks[0].label) == (floor.now, "NOW")  # one of them is still here


def test_a_work_order_has_a_row_for_each_stay() -> None:
    floor = after(CHANGEOVERS)
    board = drawn(floor, WORK_ORDER, "WO2")
    found = trace.of_work_order(floor.ledger, "WO2")
    assert [row.stretches[0].start for row in board.rows] == [stay.since for stay in reversed(found)]


@pytest.mark.parametrize(("kind", "name"), [(PERSON, "P20"), (DAY, "2026-11-09")])
def test_a_person_and_a_day_have_a_row_for_each_place_with_a_stroke_for_all_that_was_recorded(
    kind: str, name: str
) -> None:
    floor = after(RECALL)
    lines = story(floor.ledger, kind, name, floor.zone)
    board = drawn(floor, kind, name)
    assert sum(len(row.marks) for row in board.rows) == len(lines)
    assert len(board.rows) == len({line.where for line in lines})
    assert {int(row.countdown) for row in board.rows} == {len(row.marks) for row in board.rows}


def test_nothing_told_is_nothing_drawn() -> None:
    assert story_board(after(RECALL), DAY, "2026-12-24", (), unhurried) is None


@pytest.mark.parametrize("goes_on", [True, False])
def test_a_story_of_months_fits_its_ruler_with_the_newest_hours_widest(goes_on: bool) -> None:
    ruler = TimeRuler(NOW, 600.0, story_reach(timedelta(days=200), goes_on=goes_on))
    places = [ruler.position(NOW - timedelta(days=days)) for days in (200, 30, 1, 0)]
    assert places == sorted(places)
    assert places[0] == 0
    assert places[3] - places[2] > places[1] - places[0]
    assert ruler.reaches(NOW - timedelta(days=200))
    back = ruler.instant_at(ruler.position(NOW - timedelta(days=3)))
    assert abs(back - (NOW - timedelta(days=3))) < timedelta(minutes=1)


def test_names_beyond_the_reach_of_a_ruler_are_not_written_on_it() -> None:
    ruler = TimeRuler(NOW, 3000.0, story_reach(timedelta(days=2), goes_on=False))
    named = [tick.label for tick in ruler.legible_ticks(lambda name: 11.0 * len(name), 8)]
    assert named == ["1 day before", "4 h before", "30 min before", "END"]
    assert story_reach(timedelta(0), goes_on=False).past == PAST_REACH


def test_what_ended_before_the_time_that_is_told_of_is_not_drawn() -> None:
    floor = after(CHANGEOVERS)
    lines = story(floor.ledger, POSITION, "2", floor.zone)
    newest = max(stay.since for stay in trace.stays_at(floor.ledger, "2"))
    board = story_board(floor, POSITION, "2", tuple(line for line in lines if line.at >= newest))
    assert board is not None
    assert 0 < len(board.rows) < len(drawn(floor, POSITION, "2").rows)


def test_what_has_no_room_is_counted_as_earlier_and_the_line_is_named(qtbot: QtBot) -> None:
    told = story(after(RECALL).ledger, DAY, "2026-11-09", after(RECALL).zone)
    many = tuple(replace(line, where=f"place {place}") for place, line in enumerate(told))
    assert len(many) > 8
    board = TimeBoard()
    qtbot.addWidget(board)
    board.resize(900, 300)
    board.show_model(story_board(after(RECALL), DAY, "2026-11-09", many))
    board.show()
    board.grab()
    said = [one.text for one in board.lettered]
    assert f"and {board.hidden_rows} more, earlier" in said
    assert board.hidden_rows > 0
    assert "END" in said


def test_only_the_newest_of_very_many_are_drawn(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("station.ui.present.story_board.MOST_DRAWN", 1)
    floor = after(RECALL)
    board = drawn(floor, LOT, "SN-4/101")
    assert (len(board.rows), board.more) == (1, 1)
