"""Count-downs and times as people read them."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.ui import wording

BERLIN = ZoneInfo("Europe/Berlin")


def span(**parts: float) -> timedelta:
    return timedelta(**parts)


@pytest.mark.parametrize(
    ("left", "written"),
    [
        (span(days=10, hours=10), "10 d"),
        (span(days=2, hours=23, minutes=59), "2 d"),
        (span(days=1, hours=4, minutes=50), "1 d 4 h"),
        (span(days=1), "1 d"),
        (span(hours=21, minutes=33, seconds=59), "21 h 33"),
        (span(hours=2, minutes=5), "2 h 05"),
        (span(hours=1), "1 h 00"),
        (span(minutes=59, seconds=59), "59 min"),
        (span(minutes=43, seconds=20), "43 min"),
        (span(seconds=59), "0 min"),
        (span(), "0 min"),
    ],
)
def test_time_left_never_promises_more_than_there_is(left: timedelta, written: str) -> None:
    assert wording.time_left(left) == written


@pytest.mark.parametrize(
    ("wait", "written"),
    [
        (span(hours=2, minutes=19, seconds=1), "2 h 20"),
        (span(hours=3, minutes=59, seconds=30), "4 h 00"),
        (span(minutes=59, seconds=1), "1 h 00"),
        (span(hours=23, minutes=59, seconds=1), "1 d"),
        (span(hours=47, minutes=0, seconds=1), "2 d"),
        (span(days=2, seconds=1), "3 d"),
        (span(seconds=1), "1 min"),
        (span(), "0 min"),
    ],
)
def test_time_to_wait_never_sends_anyone_too_early(wait: timedelta, written: str) -> None:
    assert wording.time_to_wait(wait) == written


@pytest.mark.parametrize(
    ("left", "written"),
    [
        (span(minutes=43, seconds=20), "43 min 20 s"),
        (span(minutes=43, seconds=5, milliseconds=900), "43 min 05 s"),
        (span(seconds=20), "20 s"),
        (span(hours=1), "1 h 00"),
        (span(minutes=59, seconds=59, milliseconds=999), "59 min 59 s"),
    ],
)
def test_only_the_last_hour_counts_in_seconds(left: timedelta, written: str) -> None:
    assert wording.time_left(left, seconds=True) == written


def test_waiting_in_seconds_is_rounded_up_to_the_second() -> None:
    assert wording.time_to_wait(span(minutes=3, milliseconds=1), seconds=True) == "3 min 01 s"
    assert wording.time_to_wait(span(minutes=59, seconds=59, milliseconds=1), seconds=True) == "1 h 00"


@pytest.mark.parametrize(
    ("over", "written"),
    [
        (span(minutes=17, seconds=1), "18 min past"),
        (span(seconds=1), "1 min past"),
        (span(hours=2, minutes=4), "2 h 04 past"),
        (span(days=3), "3 d past"),
    ],
)
def test_time_past_is_said_in_words_and_rounded_up(over: timedelta, written: str) -> None:
    assert wording.time_past(over) == written


def test_a_row_counts_down_through_its_limit_and_then_up() -> None:
    limit = datetime(2026, 11, 9, 16, 3, tzinfo=UTC)
    assert wording.countdown(limit, limit - span(seconds=1)) == "1 s"
    assert wording.countdown(limit, limit) == "0 s"
    assert wording.countdown(limit, limit + span(seconds=1)) == "1 min past"
    assert wording.countdown(limit, limit - span(minutes=30, seconds=4), seconds=False) == "30 min"


@pytest.mark.parametrize("write", [wording.time_left, wording.time_to_wait, wording.time_past])
def test_a_span_that_is_over_is_refused_not_shown_with_a_minus(write: object) -> None:
    assert callable(write)
    with pytest.raises(ValueError, match="already over"):
        write(span(seconds=-1))


def spans() -> st.SearchStrategy[timedelta]:
    return st.timedeltas(min_value=timedelta(0), max_value=timedelta(days=400))


def read_back(text: str) -> timedelta:
    """The span a person reads from a count-down."""
    words = text.split()
    if len(words) == 3 and words[1] == "h":
        words.append("min")
    units = {"d": span(days=1), "h": span(hours=1), "min": span(minutes=1), "s": span(seconds=1)}
    pairs = zip(words[::2], words[1::2], strict=True)
    return sum((int(count) * units[unit] for count, unit in pairs), timedelta(0))


@given(spans(), st.booleans())
def test_what_is_read_is_never_more_than_what_is_left(left: timedelta, seconds: bool) -> None:
    written = wording.time_left(left, seconds=seconds)
    assert read_back(written) <= left
    assert ":" not in written


@given(spans(), st.booleans())
def test_what_is_read_is_never_less_than_the_wait(wait: timedelta, seconds: bool) -> None:
    written = wording.time_to_wait(wait, seconds=seconds)
    assert read_back(written) >= wait
    assert ":" not in written


def test_an_instant_is_written_with_weekday_month_name_and_24_hours() -> None:
    instant = datetime(2026, 11, 24, 13, 5, 59, tzinfo=UTC)
    assert wording.day_and_time(instant, BERLIN) == "Tue 24 Nov 14:05"
    assert wording.clock_of_day(instant, BERLIN) == "14:05"
    assert wording.wall_clock(instant, BERLIN) == "Tue 14:05:59"
    assert wording.zone_name(instant, BERLIN) == "CET"


@pytest.mark.parametrize(
    ("utc", "written"),
    [
        # IANA time zone database: Europe/Berlin leaves summer time on 25 October 2026 at 01:00 UTC.
        (datetime(2026, 10, 24, 23, 59, tzinfo=UTC), "Sun 25 Oct 01:59"),
        (datetime(2026, 10, 25, 0, 30, tzinfo=UTC), "Sun 25 Oct 02:30 CEST"),
        (datetime(2026, 10, 25, 1, 30, tzinfo=UTC), "Sun 25 Oct 02:30 CET"),
        (datetime(2026, 10, 25, 2, 0, tzinfo=UTC), "Sun 25 Oct 03:00"),
        (datetime(2027, 3, 28, 1, 0, tzinfo=UTC), "Sun 28 Mar 03:00"),
    ],
)
def test_the_zone_is_named_only_where_the_hour_comes_twice(utc: datetime, written: str) -> None:
    assert wording.day_and_time(utc, BERLIN) == written


def test_a_moment_is_as_short_as_is_safe() -> None:
    now = datetime(2026, 11, 24, 13, 5, tzinfo=UTC)
    assert wording.moment(now + span(hours=3), now, BERLIN) == "17:05"
    assert wording.moment(now + span(hours=12), now, BERLIN) == "Wed 25 Nov 02:05"
    assert wording.moment(datetime(2027, 1, 12, 22, 59, tzinfo=UTC), now, BERLIN) == "Tue 12 Jan 2027 23:59"


def test_an_instant_without_a_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="has no zone"):
        wording.day_and_time(datetime(2026, 11, 24, 13, 5, tzinfo=UTC).replace(tzinfo=None), BERLIN)


def test_another_language_brings_its_own_words() -> None:
    german = wording.Vocabulary(
        day="T", hour="Std", past="seit {}", weekdays=("Mo", "Di", "Mi", "Do", "Fr", "Sa", "So")
    )
    assert wording.time_left(span(days=1, hours=4), words=german) == "1 T 4 Std"
    assert wording.time_past(span(minutes=18), words=german) == "seit 18 min"
    instant = datetime(2026, 11, 24, 13, 5, tzinfo=UTC)
    assert wording.day_and_time(instant, BERLIN, words=german) == "Di 24 Nov 14:05"
