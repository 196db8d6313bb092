"""Dates as makers write them: one rule for two-digit years, day 00, and digits in another order (BR-39, BR-72)."""

from datetime import date

import pytest

from station.labels.makers.dates import LONG_FORMS, DateForm, day_of, full_year, plausible, readings, written
from tests.labels.makers.samples import TODAY


@pytest.mark.parametrize(
    ("digits", "this_year", "year"),
    [
        (75, 2026, 2075),
        (76, 2026, 2076),
        (77, 2026, 1977),
        (77, 2027, 2077),
        (78, 2027, 1978),
        (99, 2026, 1999),
        (26, 2026, 2026),
        (0, 2026, 2000),
        (48, 2098, 2148),
        (49, 2098, 2049),
        (98, 2026, 1998),
    ],
)
def test_two_digits_mean_the_year_within_49_back_and_50_ahead(digits: int, this_year: int, year: int) -> None:
    """GS1 General Specifications 7.12, the figures worked out by hand."""
    assert full_year(digits, this_year) == year
    assert -49 <= year - this_year <= 50


@pytest.mark.parametrize(
    ("digits", "day"),
    [
        ("270200", date(2027, 2, 28)),
        ("280200", date(2028, 2, 29)),
        ("271200", date(2027, 12, 31)),
        ("270430", date(2027, 4, 30)),
        ("270431", None),
        ("271300", None),
        ("270000", None),
        ("000000", None),
        ("27043", None),
        ("27O430", None),
        ("²70430", None),
    ],
)
def test_day_00_is_the_last_of_its_month_and_impossible_days_are_none(digits: str, day: date | None) -> None:
    """BR-72."""
    assert day_of(digits, DateForm.SHORT_YEAR_FIRST, TODAY, day_zero=True) == day


def test_day_00_is_no_day_where_the_standard_does_not_allow_it() -> None:
    assert day_of("20270200", DateForm.YEAR_FIRST, TODAY) is None


def test_all_readings_of_eight_digits_are_found_once() -> None:
    assert readings("05062027", LONG_FORMS, TODAY) == (date(2027, 6, 5), date(2027, 5, 6))
    assert readings("05052027", LONG_FORMS, TODAY) == (date(2027, 5, 5),)
    assert readings("20270430", LONG_FORMS, TODAY) == (date(2027, 4, 30),)
    assert readings("99999999", LONG_FORMS, TODAY) == ()


def test_a_date_decades_away_is_not_believed() -> None:
    assert plausible(date(2016, 1, 1), TODAY)
    assert not plausible(date(2015, 12, 31), TODAY)
    assert not plausible(date(2042, 1, 1), TODAY)
    assert not plausible(None, TODAY)


def test_signs_between_the_parts_do_not_matter() -> None:
    assert {written(text) for text in ("30.04.2027", "30-04-2027", "30/04/2027", "30 04 2027")} == {"30042027"}
