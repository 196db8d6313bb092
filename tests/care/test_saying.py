"""How times, places and names are said."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from station.care.saying import a, day_time, loud_a, many, opening, span, span_up, spot, when
from station.ui import wording


@pytest.mark.parametrize(
    ("minutes", "said"),
    [
        (0, "0 min"),
        (59.99, "59 min"),
        (60, "1 h"),
        (140, "2 h 20"),
        (125, "2 h 05"),
        (47 * 60 + 59, "47 h 59"),
        (48 * 60, "2 d"),
        (52 * 60, "2 d 4 h"),
    ],
)
def test_time_left_is_rounded_down(minutes: float, said: str) -> None:
    assert span(timedelta(minutes=minutes)) == said


def test_time_to_wait_is_rounded_up_so_it_never_promises_too_much() -> None:
    assert span_up(timedelta(minutes=59, seconds=1)) == "1 h"
    assert span_up(timedelta(minutes=59)) == "59 min"


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("SN-4", "an SN-4"),
        ("PB-1", "a PB-1"),
        ("Sn-Pb", "an Sn-Pb"),
        ("Sn-Ag-Cu", "an Sn-Ag-Cu"),
        ("FLUX OR ADHESIVE", "a FLUX OR ADHESIVE"),
        ("LEADED (Pb)", "a LEADED (Pb)"),
        ("ALPHA-1", "an ALPHA-1"),
        ("early one", "an early one"),
        ("8836", "an 8836"),
        ("9000", "a 9000"),
    ],
)
def test_the_article_goes_by_the_sound(name: str, said: str) -> None:
    assert a(name) == said


def test_one_of_a_thing_takes_no_s() -> None:
    assert (many(1, "kept file"), many(0, "row"), many(2, "journal")) == ("1 kept file", "0 rows", "2 journals")


def test_headlines_shout_the_article_too() -> None:
    assert (loud_a("SN-4"), loud_a("Sn-Pb")) == ("AN SN-4", "AN Sn-Pb")


def test_places_are_named_as_people_say_them() -> None:
    assert (spot("1"), spot("2A"), spot("P1")) == ("line 1", "line 2A", "P1")
    assert opening("line 1 is paused.") == "Line 1 is paused."


@pytest.mark.parametrize(
    ("instant", "said"),
    [
        (datetime(2026, 12, 1, 8, 5, tzinfo=UTC), "Tue 1 Dec 09:05"),
        (datetime(2027, 3, 31, 21, 59, tzinfo=UTC), "Wed 31 Mar 2027 23:59"),
        (datetime(2026, 12, 31, 23, 30, tzinfo=UTC), "Fri 1 Jan 2027 00:30"),
        (datetime(2025, 11, 24, 8, 0, tzinfo=UTC), "Mon 24 Nov 2025 09:00"),
        (datetime(2026, 10, 25, 0, 30, tzinfo=UTC), "Sun 25 Oct 02:30 CEST"),
    ],
)
def test_a_day_is_said_one_way_in_sentences_and_on_screens_with_the_year_where_it_is_another(
    instant: datetime, said: str
) -> None:
    now, berlin = datetime(2026, 11, 24, 13, 5, tzinfo=UTC), ZoneInfo("Europe/Berlin")
    assert day_time(instant, now, berlin) == said
    assert when(instant, now, berlin) == said
    assert wording.moment(instant, now, berlin) == said
    assert wording.day_and_time(instant, berlin, now=now) == said
