"""When people work: by days and starts in plant time, over the nights on which clocks change."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from station.services.shift_calendar import is_closed, next_start, stops, worked
from station.services.site import Shift
from tests.care.bench import BERLIN, berlin

WEEK = ("MO", "TU", "WE", "TH", "FR")
ALL = (*WEEK, "SA", "SU")
EARLY = Shift("Early", "06:00", timedelta(hours=8), WEEK)
LATE = Shift("Late", "14:00", timedelta(hours=8), WEEK)
NIGHT = Shift("Night", "22:00", timedelta(hours=8), WEEK)
ROUND_THE_CLOCK = (EARLY, LATE, NIGHT)


def at_half_past_two(zone: ZoneInfo = BERLIN) -> tuple[Shift, ...]:
    return (Shift("Check", "02:30", timedelta(hours=1), ALL),)


def test_a_weekend_is_closed_from_the_end_of_the_friday_night() -> None:
    for at, closed in (
        ("2026-11-27T23:00", False),
        ("2026-11-28T05:59", False),
        ("2026-11-28T06:00", True),
        ("2026-11-30T05:59", True),
        ("2026-11-30T06:00", False),
    ):
        assert is_closed(ROUND_THE_CLOCK, BERLIN, berlin(at)) is closed, at
    assert not is_closed((), BERLIN, berlin("2026-11-29T12:00"))


def test_the_next_shift_after_friday_night_is_on_monday_and_in_the_week_it_follows_at_once() -> None:
    assert next_start(ROUND_THE_CLOCK, BERLIN, berlin("2026-11-28T05:30")) == berlin("2026-11-30T06:00")
    assert next_start(ROUND_THE_CLOCK, BERLIN, berlin("2026-11-25T06:00")) == berlin("2026-11-25T14:00")
    assert next_start((), BERLIN, berlin("2026-11-25T06:00")) is None
    only_sunday = (Shift("Sunday", "06:00", timedelta(hours=8), ("SU",)),)
    assert next_start(only_sunday, BERLIN, berlin("2026-11-29T06:00")) == berlin("2026-12-06T06:00")


def test_work_stops_with_the_shift_that_is_on_or_has_stopped_already() -> None:
    friday = berlin("2026-11-28T05:30")
    assert stops(ROUND_THE_CLOCK, BERLIN, friday) == berlin("2026-11-28T06:00")
    assert stops(ROUND_THE_CLOCK, BERLIN, berlin("2026-11-29T12:00")) == berlin("2026-11-29T12:00")
    assert stops(ROUND_THE_CLOCK, BERLIN, berlin("2026-11-25T13:00")) == berlin("2026-11-25T14:00")
    overlapping = (EARLY, Shift("Late", "13:30", timedelta(hours=8), WEEK))
    assert stops(overlapping, BERLIN, berlin("2026-11-25T13:00")) == berlin("2026-11-25T13:30")
    assert stops((), BERLIN, friday) == friday


def test_a_start_in_the_hour_that_is_skipped_comes_once_an_hour_later_by_the_clock() -> None:
    """BR-33. RFC 5545, 3.3.5: such a time is read with the offset from before the gap."""
    starts = [found.start for found in worked(at_half_past_two(), BERLIN, berlin("2027-03-28T12:00"))]
    assert starts[1:4] == [
        datetime(2027, 3, 27, 1, 30, tzinfo=UTC),
        datetime(2027, 3, 28, 1, 30, tzinfo=UTC),  # 03:30 by the clock
        datetime(2027, 3, 29, 0, 30, tzinfo=UTC),
    ]


def test_a_start_in_the_hour_that_comes_twice_comes_once_and_lasts_its_real_length() -> None:
    """BR-34. RFC 5545, 3.3.5: such a time is the first of the two."""
    night = berlin("2027-10-31T00:00")
    found = next(one for one in worked(at_half_past_two(), BERLIN, night) if one.start > night)
    assert (found.start, found.end) == (
        datetime(2027, 10, 31, 0, 30, tzinfo=UTC),
        datetime(2027, 10, 31, 1, 30, tzinfo=UTC),
    )
    half_hours = [found.start - timedelta(minutes=30) + count * timedelta(minutes=30) for count in range(4)]
    assert [is_closed(at_half_past_two(), BERLIN, at) for at in half_hours] == [True, False, False, True]
