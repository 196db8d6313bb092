"""What is printed reads without doubt: weekday, day, month name, 24 h, and the zone when the hour comes twice."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import product
from zoneinfo import ZoneInfo

import pytest

from station.care.saying import MONTHS, WEEKDAYS
from station.care.words import Alloy, Limit
from station.labels.builtin import builtin_templates
from station.labels.content import TALLEST_DAY, WIDEST_DAY, content_for, time_text, widest_zone_text
from station.labels.fitting import TextMark, plan
from station.labels.lettering import set_line
from station.labels.raster import render
from tests.labels.samples import KEYS, LABEL, ZONE, content


@pytest.mark.parametrize(
    ("instant", "zone", "text"),
    [
        (datetime(2026, 11, 24, 16, 36, tzinfo=UTC), "Europe/Berlin", "Tue 24 Nov 2026 17:36"),
        (datetime(2028, 2, 29, 0, 5, tzinfo=UTC), "UTC", "Tue 29 Feb 2028 00:05"),
        # Clocks go back on 2026-10-25 at 01:00Z (tzdata 2026): 02:30 comes twice.
        (datetime(2026, 10, 25, 0, 30, tzinfo=UTC), "Europe/Berlin", "Sun 25 Oct 2026 02:30 CEST"),
        (datetime(2026, 10, 25, 1, 30, tzinfo=UTC), "Europe/Berlin", "Sun 25 Oct 2026 02:30 CET"),
        (datetime(2026, 10, 25, 2, 0, tzinfo=UTC), "Europe/Berlin", "Sun 25 Oct 2026 03:00"),
        # Clocks go forward on 2026-03-29: nothing comes twice.
        (datetime(2026, 3, 29, 1, 0, tzinfo=UTC), "Europe/Berlin", "Sun 29 Mar 2026 03:00"),
        (datetime(2026, 11, 1, 6, 15, tzinfo=UTC), "America/New_York", "Sun 01 Nov 2026 01:15 EST"),
        # A zone whose clocks go back half an hour, and whose names are figures: 01:45 comes twice on 2027-04-04.
        (datetime(2027, 4, 3, 14, 45, tzinfo=UTC), "Australia/Lord_Howe", "Sun 04 Apr 2027 01:45 +11:00"),
        (datetime(2027, 4, 3, 15, 15, tzinfo=UTC), "Australia/Lord_Howe", "Sun 04 Apr 2027 01:45 +10:30"),
        # A zone that kept its name when its clocks went back for good, on 2014-10-26 at 22:00Z the day before.
        (datetime(2014, 10, 25, 21, 30, tzinfo=UTC), "Europe/Moscow", "Sun 26 Oct 2014 01:30 +04:00"),
        (datetime(2014, 10, 25, 22, 30, tzinfo=UTC), "Europe/Moscow", "Sun 26 Oct 2014 01:30 +03:00"),
    ],
)
def test_times_as_people_read_them(instant: datetime, zone: str, text: str) -> None:
    """BR-32 for the doubled hour."""
    assert time_text(instant, ZoneInfo(zone)) == text


# The doubled hour of 2027 in Berlin: clocks go back on 31 October at 01:00Z (tzdata 2026).
FIRST_HALF_PAST_TWO = datetime(2027, 10, 31, 0, 30, tzinfo=UTC)
DOUBLED = [FIRST_HALF_PAST_TWO + timedelta(minutes=10 * step) for step in range(-6, 13)]


def test_no_two_moments_of_the_night_the_clocks_go_back_read_the_same() -> None:
    """BR-32: every ten minutes from 01:30 to past 03:00, in both seasons' time."""
    said = [time_text(moment, ZONE) for moment in DOUBLED]
    assert len(set(said)) == len(said)
    assert [text for text in said if "02:00" in text] == ["Sun 31 Oct 2027 02:00 CEST", "Sun 31 Oct 2027 02:00 CET"]
    assert [text for text in said if "01:50" in text or "03:00" in text] == [
        "Sun 31 Oct 2027 01:50",
        "Sun 31 Oct 2027 03:00",
    ]


@pytest.mark.parametrize("name", ["60x40", "50x25", "40x20"])
@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize(("later", "zone"), [(False, "CEST"), (True, "CET")])
def test_each_label_prints_which_of_the_two_hours_it_means(name: str, language: str, later: bool, zone: str) -> None:
    """BR-32: earliest-use and discard-by both in the doubled hour; the code carries the instants themselves."""
    half_past_two = FIRST_HALF_PAST_TWO + timedelta(hours=int(later))
    label = replace(LABEL, thaw_start=half_past_two, earliest_use=half_past_two, discard_by=half_past_two)
    template = replace(builtin_templates()[name], language=language)
    said = content(label)
    marks = plan(template, said, 203).marks
    lines = [mark.line.text for mark in marks if isinstance(mark, TextMark)]
    assert render(template, said, 203)
    assert sum(zone in line.split() for line in lines) >= (2 if name == "40x20" else 3)
    other = "CEST" if later else "CET"
    assert not any(other in line.split() for line in lines)


@pytest.mark.parametrize(
    ("zone", "text"),
    [("Europe/Berlin", "CEST"), ("UTC", ""), ("America/Sao_Paulo", ""), ("Australia/Lord_Howe", "+11:00")],
)
def test_a_label_is_checked_with_the_zone_names_of_its_site(zone: str, text: str) -> None:
    assert len(widest_zone_text(ZoneInfo(zone), 2027)) == len(text)


def test_earliest_use_in_parts_is_earliest_use() -> None:
    said = content()
    parts = (said.earliest_day, said.earliest_clock, said.earliest_zone)
    assert " ".join(part for part in parts if part) == said.earliest_use_brief


def test_a_label_says_what_its_code_says() -> None:
    said = content()
    assert (said.thaw_start, said.earliest_use) == ("Tue 24 Nov 2026 14:05", "Tue 24 Nov 2026 17:36")
    assert said.discard_by == "Tue 01 Dec 2026 14:05"
    assert (said.discard_day, said.discard_year, said.discard_clock) == ("Tue 01 Dec", "2026", "14:05")
    assert (said.thaw_start_brief, said.earliest_use_brief) == ("Tue 24 Nov 14:05", "Tue 24 Nov 17:36")
    assert (said.last_three, said.container, said.print_number) == ("311", "K7-311", "1")
    assert (said.open_life, said.governing, said.tip) == ("24 h", "room life", "TIP DOWN")
    assert content(tip_down=False).tip == ""


def test_the_last_three_digits_of_a_long_number() -> None:
    assert content(replace(LABEL, counter=1_045_007)).last_three == "007"


def test_lead_and_bismuth_are_loud_and_the_rest_plain() -> None:
    assert content(alloy=Alloy.SN_PB).alloy_loud == "LEADED (Pb)"
    assert content(alloy=Alloy.SN_BI).alloy_loud == "BISMUTH (Sn-Bi)"
    assert (content().alloy_loud, content().alloy_plain) == ("", "LEAD-FREE Sn-Ag-Cu")
    assert content(alloy=Alloy.NONE).alloy_plain == "FLUX OR ADHESIVE"


def test_a_label_never_contradicts_its_own_code_about_lead() -> None:
    with pytest.raises(ValueError, match="contradicts"):
        content_for(
            replace(LABEL, leaded=True, governing=Limit.OPEN),
            "",
            paste="SN-4",
            kind="jar 500 g",
            alloy=Alloy.SN_AG_CU,
            tip_down=False,
            lot="26-121",
            who="Robin Alder",
            zone=ZONE,
        )


def test_no_day_is_wider_or_taller_than_those_templates_are_checked_with() -> None:
    days = [f"{weekday} 00 {month}" for weekday, month in product(WEEKDAYS, MONTHS)]
    for face, capital in product(("regular", "bold"), range(10, 60, 7)):
        widest = max(set_line(day, face, capital).width for day in days)
        assert widest <= set_line(WIDEST_DAY, face, capital).width + 1
        lines = [set_line(day, face, capital) for day in days]
        tallest = set_line(TALLEST_DAY, face, capital)
        assert (tallest.top, tallest.bottom) == (
            min(line.top for line in lines),
            max(line.bottom for line in lines),
        )


def test_a_signed_time_survives_the_year_end() -> None:
    late = replace(LABEL, discard_by=datetime(2026, 12, 31, 23, 30, tzinfo=UTC), open_life=timedelta(hours=8))
    assert content(late).discard_by == "Fri 01 Jan 2027 00:30"
    assert content(late).discard_year == "2027"
    assert KEYS.current == late.key_id
