"""The label minute, the last day of an expiry, and elapsed time across clock changes."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.care.moments import MINUTE, end_of_day, minute_down, minute_up
from station.care.saying import clock_time, day_time, when
from station.care.words import Card
from tests.care.bench import Bench, berlin

REMOVE = Card.REMOVE

INSTANTS = st.datetimes(datetime(2020, 1, 1), datetime(2100, 1, 1), timezones=st.just(UTC))  # noqa: DTZ001  zoned


@given(INSTANTS)
def test_rounding_lands_on_whole_minutes_around_the_instant(instant: datetime) -> None:
    down, up = minute_down(instant), minute_up(instant)
    assert down <= instant <= up
    assert up - down in (timedelta(0), MINUTE)
    assert (down.second, down.microsecond, up.second, up.microsecond) == (0, 0, 0, 0)


def test_a_whole_minute_stays_what_it_is() -> None:
    noon = berlin("2026-11-09T12:00")
    assert minute_down(noon) == minute_up(noon) == noon


def test_br_76_an_expiry_day_is_good_through_its_end_in_the_plants_zone() -> None:
    end = end_of_day(date(2027, 4, 30), ZoneInfo("Europe/Berlin"))
    assert end == datetime(2027, 4, 30, 21, 59, tzinfo=UTC)


@pytest.mark.parametrize(
    ("at", "code"),
    [
        ("2027-04-30T00:01", "opening-check"),
        ("2027-04-30T12:00", "opening-check"),
        ("2027-04-30T23:59", "opening-check"),
        ("2027-05-01T00:00", "shelf-life"),
    ],
)
def test_br_76_paste_that_expires_on_30_april_is_used_all_that_day_and_not_the_next(at: str, code: str) -> None:
    bench = Bench(start="2027-04-29T20:00")
    jar = bench.ready(expires=date(2027, 4, 30))
    assert bench.at(at).scan(jar, "LINE1").code == code


@pytest.mark.parametrize(
    # IANA time zone data, through zoneinfo: eight true hours from each start
    ("zone", "start", "utc_end", "local_end"),
    [
        ("America/New_York", "2026-10-31T20:00", "2026-11-01T08:00", "03:00"),
        ("America/New_York", "2026-03-07T20:00", "2026-03-08T09:00", "05:00"),
        ("Europe/Berlin", "2026-10-24T20:00", "2026-10-25T02:00", "03:00"),
        ("Europe/Berlin", "2027-03-27T20:00", "2027-03-28T03:00", "05:00"),
        ("Asia/Kolkata", "2026-10-31T20:00", "2026-10-31T22:30", "04:00"),
    ],
)
def test_eight_hours_are_eight_true_hours_over_a_clock_change(
    zone: str, start: str, utc_end: str, local_end: str
) -> None:
    began = datetime.fromisoformat(start).replace(tzinfo=ZoneInfo(zone)).astimezone(UTC)
    ends = began + timedelta(hours=8)
    assert ends == datetime.fromisoformat(utc_end).replace(tzinfo=UTC)
    assert clock_time(ends, ZoneInfo(zone)) == local_end


def test_br_32_a_bead_over_the_doubled_hour_lasts_eight_true_hours_and_its_times_name_the_zone() -> None:
    zone = ZoneInfo("Europe/Berlin")
    first, second = datetime(2027, 10, 31, 0, 30, tzinfo=UTC), datetime(2027, 10, 31, 1, 10, tzinfo=UTC)
    assert second - first == timedelta(minutes=40)
    assert (clock_time(first, zone), clock_time(second, zone)) == ("02:30 CEST", "02:10 CET")
    bench = Bench(start="2027-10-30T12:00")
    jar = bench.on_line(expires=date(2028, 3, 31))
    bench.at("2027-10-30T22:00").tag_card("1", REMOVE, "LINE1")
    assert bench.scan(jar, "LINE1").headline == "BEAD ENDS Sun 31 Oct 05:00"
    bench.clock.go_on(timedelta(hours=4, minutes=30))
    assert bench.scan(jar, "LINE1").headline == "BEAD ENDS 05:00"
    assert bench.clock.wall == first + timedelta(hours=0)


def test_br_32_a_take_out_in_the_first_pass_conditions_three_true_hours() -> None:
    bench = Bench(start="2027-10-30T12:00")
    jar = bench.cold(expires=date(2028, 3, 31))
    bench.clock.go_on(datetime(2027, 10, 31, 0, 30, tzinfo=UTC) - bench.clock.wall)
    assert bench.scan(jar, "FRIDGE").headline == "NOT BEFORE 04:30"


@pytest.mark.parametrize(
    ("instant", "said"),
    [
        ("2026-11-09T14:05", "14:05"),
        ("2026-11-10T00:00", "Tue 10 Nov 00:00"),
        ("2026-11-08T23:59", "Sun 8 Nov 23:59"),
    ],
)
def test_a_time_on_another_day_is_said_with_its_day(instant: str, said: str) -> None:
    assert when(berlin(instant), berlin("2026-11-09T12:00"), ZoneInfo("Europe/Berlin")) == said


def test_a_half_hour_zone_change_is_doubled_too() -> None:
    zone = ZoneInfo("Australia/Lord_Howe")  # IANA: half an hour back on 4 April 2027
    first, second = datetime(2027, 4, 3, 14, 45, tzinfo=UTC), datetime(2027, 4, 3, 15, 15, tzinfo=UTC)
    assert clock_time(first, zone) != clock_time(second, zone)
    assert day_time(first, first, zone).startswith("Sun 4 Apr 01:45")
