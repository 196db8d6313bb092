"""What is printed reads without doubt: weekday, day, month name, 24 h, and the zone when the hour comes twice."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import product
from zoneinfo import ZoneInfo

import pytest

from station.care.saying import MONTHS, WEEKDAYS
from station.care.words import Alloy, Limit
from station.labels.content import TALLEST_DAY, WIDEST_DAY, content_for, time_text
from station.labels.lettering import set_line
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
    ],
)
def test_times_as_people_read_them(instant: datetime, zone: str, text: str) -> None:
    """BR-32 for the doubled hour."""
    assert time_text(instant, ZoneInfo(zone)) == text


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
