"""Alarm figures on sequences worked by hand.

Flood: more than 10 in 10 minutes, over at fewer than 5 (ANSI/ISA-18.2 as quoted by public texts).
"""

from datetime import UTC, datetime, timedelta

import pytest

from station.care.response_figures import Flood, Spread, flooded, floods, peak, rate, spread, stale

SIX = datetime(2026, 11, 9, 6, tzinfo=UTC)


def minutes(*told: float) -> list[timedelta]:
    return [timedelta(minutes=count) for count in told]


def at(*told: float) -> list[datetime]:
    return [SIX + length for length in minutes(*told)]


def test_median_p90_and_worst_of_ten_answers() -> None:
    # sorted 1 2 3 4 5 6 7 8 9 30: median (5 + 6) / 2, nearest rank 0.9 x 10 = the ninth
    told = spread(minutes(30, 1, 9, 2, 8, 3, 7, 4, 6, 5))
    assert told == Spread(10, *minutes(5.5, 9, 30))


def test_one_answer_is_its_own_spread_and_none_has_none() -> None:
    assert spread(minutes(4)) == Spread(1, *minutes(4, 4, 4))
    assert spread([]) is None


def test_the_rate_is_for_each_operator_and_ten_minutes() -> None:
    # 96 alarms in 8 h are 2 in 10 minutes: for two operators 1 each
    assert rate(96, timedelta(hours=8), 2) == pytest.approx(1.0)


@pytest.mark.parametrize(("period", "operators"), [(timedelta(0), 1), (timedelta(hours=1), 0)])
def test_a_rate_of_no_time_or_nobody_is_refused(period: timedelta, operators: int) -> None:
    with pytest.raises(ValueError, match="at least one operator"):
        rate(1, period, operators)


def test_ten_in_ten_minutes_are_no_flood_and_the_eleventh_begins_one() -> None:
    ten = at(*(place * 0.5 for place in range(10)))  # 06:00:00 to 06:04:30
    assert floods(ten, SIX + timedelta(hours=1)) == ()
    # the eleventh at 06:05; seven have to go until four are left: the seventh was at 06:03
    assert floods([*ten, *at(5)], SIX + timedelta(hours=1)) == (Flood(*at(5, 13)),)


def test_a_flood_that_is_still_on_has_no_end() -> None:
    eleven = at(*(place * 0.5 for place in range(11)))
    assert floods(eleven, SIX + timedelta(minutes=12.9)) == (Flood(at(5)[0], None),)


def test_a_later_alarm_finds_the_flood_over_and_may_begin_another() -> None:
    eleven = [place * 0.5 for place in range(11)]
    told = floods(at(*eleven, *(60 + place for place in eleven)), SIX + timedelta(hours=2))
    assert told == (Flood(*at(5, 13)), Flood(*at(65, 73)))


def test_an_alarm_counts_up_to_not_at_ten_minutes() -> None:
    assert floods(at(*(place for place in range(11))), SIX + timedelta(hours=1)) == ()


def test_the_peak_is_the_most_in_any_ten_minutes() -> None:
    # 0 to 9 are ten within ten minutes; at 10:00 the first has run out; 12 and 12.5 come while 3 to 9 still count
    assert peak(at(*range(10))) == 10
    assert peak(at(*range(11))) == 10
    assert peak(at(*range(10), 12, 12.5)) == 10
    assert peak(at(0, 9.9, 9.9, 10)) == 3
    assert peak([]) == 0


def test_the_share_of_floods_is_of_the_period_and_one_that_is_still_on_counts_up_to_its_end() -> None:
    # one from 06:05 to 06:13 and one from 06:55 that is still on at 07:00: 13 of 60 minutes
    found = (Flood(*at(5, 13)), Flood(at(55)[0], None))
    assert flooded(found, SIX, SIX + timedelta(hours=1)) == pytest.approx(13 / 60)
    assert flooded((), SIX, SIX + timedelta(hours=1)) == 0
    with pytest.raises(ValueError, match="needs a period"):
        flooded((), SIX, SIX)


def test_an_alarm_is_stale_from_twenty_four_hours_on() -> None:
    day = 24 * 60
    told = [(SIX, at(day - 1)[0]), (SIX, at(day)[0]), (SIX, None), (at(1)[0], None)]
    assert stale(told, SIX + timedelta(days=1)) == 2  # the second, and the third that nobody cleared
