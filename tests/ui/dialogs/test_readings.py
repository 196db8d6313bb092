"""Typed figures, dates and times are read in one declared way or refused with how to write them."""

from datetime import UTC, date, datetime, time
from zoneinfo import ZoneInfo

import pytest

from station.ui.dialogs import readings
from station.ui.dialogs.readings import Unreadable

BERLIN = ZoneInfo("Europe/Berlin")


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2027-07-06", date(2027, 7, 6)),
        (" 2027-07-12 ", date(2027, 7, 12)),
        ("2027-07-13", date(2027, 7, 13)),
        ("2028-02-29", date(2028, 2, 29)),
    ],
)
def test_a_date_is_year_month_day_on_either_side_of_the_thirteenth(text: str, day: date) -> None:
    """BR-37, and BR-36 for the leap day."""
    assert readings.iso_date(text) == day


@pytest.mark.parametrize("text", ["12.07.2027", "13.07.2027", "07/06/2027", "12-07-2027", "27-07-06", "20270706"])
def test_another_order_is_refused_not_guessed(text: str) -> None:
    """BR-37, BR-39."""
    with pytest.raises(Unreadable, match="2027-03-31"):
        readings.iso_date(text)


@pytest.mark.parametrize("text", ["", "10", "2027", "2027-02", "1A2B", "26 s", "2027-W05-1", "２０２７-02-01"])
def test_a_fragment_is_not_filled_up_from_today(text: str) -> None:
    """BR-38."""
    with pytest.raises(Unreadable):
        readings.iso_date(text)


@pytest.mark.parametrize("text", ["2027-02-29", "2027-13-01", "2027-04-31", "2027-00-10"])
def test_a_day_the_calendar_has_not_is_named(text: str) -> None:
    with pytest.raises(Unreadable, match=text):
        readings.iso_date(text)


@pytest.mark.parametrize("text", ["1027-03-31", "2207-03-31", "0027-03-31"])
def test_a_mistyped_year_is_noticed(text: str) -> None:
    with pytest.raises(Unreadable, match="year"):
        readings.iso_date(text)


def test_a_date_is_read_back_in_words() -> None:
    assert readings.day_in_words(date(2027, 7, 6)) == "6 Jul 2027"


@pytest.mark.parametrize(("text", "clock"), [("00:00", time(0, 0)), ("9:05", time(9, 5)), ("23:59", time(23, 59))])
def test_a_time_of_day(text: str, clock: time) -> None:
    assert readings.wall_time(text) == clock


@pytest.mark.parametrize("text", ["", "24:00", "14.05", "2:05 pm", "14:5", "14:60", "1405", "14:05:00"])
def test_no_time_of_day(text: str) -> None:
    with pytest.raises(Unreadable, match="14:05"):
        readings.wall_time(text)


def test_summer_and_winter_time_in_the_plants_zone() -> None:
    """Offsets of Europe/Berlin from the time zone database: +1 h in winter, +2 h in summer."""
    assert readings.plant_instant(date(2026, 11, 24), time(14, 5), BERLIN) == datetime(2026, 11, 24, 13, 5, tzinfo=UTC)
    assert readings.plant_instant(date(2026, 7, 6), time(14, 5), BERLIN) == datetime(2026, 7, 6, 12, 5, tzinfo=UTC)


def test_of_an_hour_that_comes_twice_the_earlier_one_is_meant() -> None:
    """Clocks in Berlin go back at 03:00 on 25 October 2026 (time zone database)."""
    instant = readings.plant_instant(date(2026, 10, 25), time(2, 30), BERLIN)
    assert instant == datetime(2026, 10, 25, 0, 30, tzinfo=UTC)
    assert readings.comes_twice(instant, BERLIN)
    assert not readings.comes_twice(datetime(2026, 11, 24, 13, 5, tzinfo=UTC), BERLIN)


def test_a_time_the_clocks_skipped_is_refused() -> None:
    """Clocks in Berlin go forward at 02:00 on 29 March 2026 (time zone database)."""
    with pytest.raises(Unreadable, match="02:30 was skipped"):
        readings.plant_instant(date(2026, 3, 29), time(2, 30), BERLIN)


@pytest.mark.parametrize(
    ("text", "figure"),
    [("5.5", 5.5), ("5,5", 5.5), ("4.125", 4.125), ("4,125", 4.125), ("-3", -3.0), ("−3,5", -3.5), (" 21 ", 21.0)],
)
def test_decimal_comma_and_point_are_the_same(text: str, figure: float) -> None:
    """BR-66: a point is never a mark between thousands."""
    assert readings.figure(text) == figure


@pytest.mark.parametrize("text", ["", "1.234,5", "1,234.5", "1 234", "5.", ",5", "5 C", "five", "1e3", "nan", "--5"])
def test_what_is_no_plain_figure_is_refused(text: str) -> None:
    """BR-66."""
    with pytest.raises(Unreadable, match="plain figure"):
        readings.figure(text)


@pytest.mark.parametrize(("fahrenheit", "celsius"), [(32, 0), (212, 100), (-40, -40), (98.6, 37)])
def test_fahrenheit_at_its_fixed_points(fahrenheit: float, celsius: float) -> None:
    """Freezing and boiling water, where both scales meet, and body heat (definition of the scales)."""
    assert readings.celsius(fahrenheit, "F") == celsius
    assert readings.celsius(celsius, "C") == celsius


@pytest.mark.parametrize("text", ["0", "51", "-1", "1.5", "", "two"])
def test_a_count_outside_the_range_is_refused(text: str) -> None:
    with pytest.raises(Unreadable, match="from 1 to 50"):
        readings.count(text, 50)


def test_counts_at_both_ends() -> None:
    assert (readings.count("1", 50), readings.count(" 50 ", 50)) == (1, 50)


def test_grams_may_stay_empty_and_zero_is_a_weight() -> None:
    assert readings.grams("") is None
    assert readings.grams("0") == 0
    assert readings.grams("180,5") == 180.5
    with pytest.raises(Unreadable, match="grams"):
        readings.grams("-5")
