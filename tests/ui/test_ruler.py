"""The time ruler: minutes near now are wide, a month still fits, and nothing runs backwards."""

import itertools
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.ui.ruler import FUTURE_REACH, PAST_REACH, TICKS, TimeRuler

NOW = datetime(2026, 11, 24, 13, 5, 22, tzinfo=UTC)
RULER = TimeRuler(NOW, 600.0)

within_reach = st.timedeltas(min_value=-PAST_REACH, max_value=FUTURE_REACH)


def width_between(first: timedelta, second: timedelta) -> float:
    return RULER.position(NOW + second) - RULER.position(NOW + first)


@given(within_reach, within_reach)
def test_later_is_always_further_right(one: timedelta, other: timedelta) -> None:
    first, second = sorted((one, other))
    assert RULER.position(NOW + first) <= RULER.position(NOW + second)


@given(within_reach)
def test_a_place_on_the_ruler_leads_back_to_its_instant(offset: timedelta) -> None:
    back = RULER.instant_at(RULER.position(NOW + offset)) - NOW
    assert abs(back - offset) <= timedelta(seconds=1) + abs(offset) * 1e-9


@given(st.floats(min_value=0.0, max_value=600.0))
def test_an_instant_leads_back_to_its_place(place: float) -> None:
    assert RULER.position(RULER.instant_at(place)) == pytest.approx(place, abs=1e-3)


def test_the_same_minutes_grow_wider_as_they_fall_due() -> None:
    half_hour = timedelta(minutes=30)
    widths = [
        width_between(start, start + half_hour)
        for start in (timedelta(0), timedelta(hours=1), timedelta(hours=8), timedelta(days=7))
    ]
    assert widths == sorted(widths, reverse=True)
    assert widths[0] > 10 * widths[2]


def test_a_bead_of_twenty_minutes_and_a_month_stand_on_one_picture() -> None:
    assert width_between(timedelta(0), timedelta(minutes=20)) > 600 * 0.08
    assert RULER.position(NOW + timedelta(days=30)) < 600


def test_the_past_is_compressed() -> None:
    assert width_between(-timedelta(hours=4), timedelta(0)) < width_between(timedelta(0), timedelta(hours=4))


@pytest.mark.parametrize(("offset", "place"), [(timedelta(days=-400), 0.0), (timedelta(days=400), 600.0)])
def test_what_lies_beyond_is_held_at_the_end(offset: timedelta, place: float) -> None:
    assert RULER.position(NOW + offset) == pytest.approx(place)
    assert not RULER.reaches(NOW + offset)


def test_places_off_the_ruler_are_held_too() -> None:
    assert RULER.instant_at(-50) == RULER.instant_at(0)
    assert RULER.instant_at(700) == RULER.instant_at(600)
    assert RULER.reaches(NOW)


def test_now_stands_where_the_now_line_is_drawn() -> None:
    assert RULER.position(NOW) == RULER.now_position == RULER.position_of_offset(timedelta(0))


def test_every_named_tick_fits_a_wide_ruler() -> None:
    wide = TimeRuler(NOW, 3000.0)
    kept = wide.legible_ticks(lambda name: 11.0 * len(name), 8)
    assert [tick.label for tick in kept] == [
        "4 h ago", "NOW", "30 min", "2 h 30", "8 h", "1 day", "1 week", "1 month",
    ]  # fmt: skip


@pytest.mark.parametrize("width", [120, 240, 400, 500])
def test_a_narrow_ruler_keeps_now_and_drops_names_before_they_touch(width: int) -> None:
    ruler = TimeRuler(NOW, width)
    kept = ruler.legible_ticks(lambda name: 10.0 * len(name), 8)
    assert any(tick.is_now for tick in kept)
    edges = [
        (
            ruler.position_of_offset(tick.offset) - 5 * len(tick.label),
            ruler.position_of_offset(tick.offset) + 5 * len(tick.label),
        )
        for tick in kept
    ]
    assert all(right + 8 <= left for (_, right), (left, _) in itertools.pairwise(edges))
    assert len(kept) < len(TICKS)
