"""Local times of a logger as instants: the hour that comes twice and the hour that never comes.

Instants of the changes: Berlin 31 Oct 2027 01:00 UTC and 28 Mar 2027 01:00 UTC; Lord Howe changes by half an hour
(IANA time zone database).
"""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from station.readings.placing import Placed, Stamp, newest_first, place
from station.readings.series import Noticed, ReadingsRefused
from station.readings.zones import zone_of
from tests.readings.files import BERLIN, plain, rows

MINUTE, HOUR = timedelta(minutes=1), timedelta(hours=1)


def placed(*times: str, zone: ZoneInfo = BERLIN) -> Placed:
    return place([Stamp(number, datetime.fromisoformat(text)) for number, text in enumerate(times, 2)], zone)


def utc(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


def codes(found: Placed) -> list[str]:
    return [problem.code.value for problem in found.problems]


def test_forty_minutes_over_the_doubled_hour_are_forty_minutes() -> None:
    """BR-32: taken out 02:30 in the first pass, scanned 02:10 in the second; the plain difference was minus 20."""
    found = placed("2027-10-31T02:30", "2027-10-31T02:10")
    assert found.instants == (utc("2027-10-31T00:30"), utc("2027-10-31T01:10"))
    first, second = found.instants
    assert first is not None
    assert second is not None
    assert second - first == timedelta(minutes=40)
    assert found.problems == ()


def test_both_passes_of_the_doubled_hour_are_kept_in_order() -> None:
    """BR-84: five-minute rows over 31 Oct 2027 with 02:00 to 02:55 twice."""
    before = rows("2027-10-31T01:00", 5 * MINUTE, ["4.0"] * 24)
    after = rows("2027-10-31T02:00", 5 * MINUTE, ["4.0"] * 24)
    found = plain(before + after)
    assert len(found.rows) == 48
    assert found.rows[0].at == utc("2027-10-30T23:00")
    steps = {later.at - earlier.at for earlier, later in zip(found.rows, found.rows[1:], strict=False)}
    assert steps == {5 * MINUTE}
    assert found.problems == ()


def test_an_hourly_logger_repeats_the_very_same_time() -> None:
    found = placed("2027-10-31T01:00", "2027-10-31T02:00", "2027-10-31T02:00", "2027-10-31T03:00")
    assert found.instants == tuple(utc(f"2027-10-{day}") for day in ("30T23:00", "31T00:00", "31T01:00", "31T02:00"))


def test_rows_in_the_hour_that_never_comes_are_flagged_and_the_rest_is_read() -> None:
    """BR-84: rows at 02:10 on 28 Mar 2027."""
    lines = [f"2027-03-28T{clock},4.0" for clock in ("01:50", "02:10", "02:20", "03:10")]
    found = plain(lines)
    assert [row.number for row in found.rows] == [1, 4]
    (problem,) = found.noticed(Noticed.IMPOSSIBLE_TIME)
    assert problem.sentence.startswith("lines 2 to 3: 2027-03-28 02:10 is in the hour that is left out")
    assert "declare the zone as standard" in problem.sentence


def test_a_logger_that_changed_its_clock_wrongly_is_told_with_its_rows() -> None:
    """BR-85: 01:59, 03:00 to 03:59, then 03:00 again on the day when nothing repeats."""
    lines = [
        "2027-03-28T01:59,4.0",
        *rows("2027-03-28T03:00", MINUTE, ["4.0"] * 60),
        *rows("2027-03-28T03:00", MINUTE, ["4.1"] * 60),
        "2027-03-28T04:00,4.2",
    ]
    found = plain(lines)
    (problem,) = found.noticed(Noticed.BACKWARDS)
    assert (problem.first, problem.last) == (62, 120)
    assert "time runs backwards, from 03:59:00 in line 61 to 03:00:00" in problem.sentence
    assert 'as in "Europe/Berlin standard"' in problem.sentence
    assert len({row.at for row in found.rows}) == len(found.rows)


def test_declared_as_standard_time_a_logger_that_never_changes_reads_without_a_word() -> None:
    """BR-85, the mend; and the nights of both changes."""
    zone = zone_of("Europe/Berlin standard")
    for night in ("2027-03-28T00:00", "2027-10-31T00:00"):
        stamps = [Stamp(i, datetime.fromisoformat(night) + i * 10 * MINUTE) for i in range(36)]
        found = place(stamps, zone)
        assert found.problems == ()
        assert found.instants == tuple((stamp.at - HOUR).replace(tzinfo=UTC) for stamp in stamps)


def test_a_file_that_begins_in_the_second_pass_is_placed_by_what_follows() -> None:
    found = placed("2027-10-31T02:40", "2027-10-31T02:50", "2027-10-31T03:00", "2027-10-31T03:10")
    assert found.instants[0] == utc("2027-10-31T01:40")
    assert found.problems == ()


def test_a_file_that_ends_in_the_first_pass_is_placed_by_what_went_before() -> None:
    found = placed("2027-10-31T01:40", "2027-10-31T01:50", "2027-10-31T02:00", "2027-10-31T02:10")
    assert found.instants[-1] == utc("2027-10-31T00:10")
    assert found.problems == ()


@pytest.mark.parametrize(
    "times",
    [
        ("2027-10-31T02:10", "2027-10-31T02:20"),  # nothing before or after
        ("2027-10-31T01:50", "2027-10-31T02:00", "2027-10-31T02:50", "2027-10-31T03:00"),  # one hour too few
        ("2027-10-30T12:00", "2027-10-31T02:10"),  # no usual step near it
        ("2027-10-31T02:10",),
    ],
)
def test_a_single_pass_that_could_be_either_is_asked_and_never_guessed(times: tuple[str, ...]) -> None:
    found = placed(*times)
    doubled = [text for text in times if "T02" in text]
    assert codes(found) == ["doubled-hour-unclear"]
    assert sum(instant is None for instant in found.instants) == len(doubled)
    assert "comes twice when clocks go back" in found.problems[0].sentence


def test_half_an_hour_of_summer_time_is_understood_as_well() -> None:
    """Lord Howe, 4 April 2027: 01:45 comes at 14:45 and at 15:15 UTC of the day before."""
    zone = ZoneInfo("Australia/Lord_Howe")
    found = placed("2027-04-04T01:15", "2027-04-04T01:45", "2027-04-04T01:45", "2027-04-04T02:15", zone=zone)
    clocks = ("14:15", "14:45", "15:15", "15:45")
    assert found.instants == tuple(utc(f"2027-04-03T{clock}") for clock in clocks)


def test_times_with_their_own_offset_need_no_zone() -> None:
    stamps = [Stamp(1, datetime(2027, 10, 31, 0, 30, tzinfo=UTC)), Stamp(2, datetime(2027, 10, 31, 1, 30, tzinfo=UTC))]
    assert place(stamps, None).instants == (stamps[0].at, stamps[1].at)


def test_a_file_from_new_to_old_is_turned_and_its_line_numbers_stay() -> None:
    lines = rows("2027-10-31T01:30", 10 * MINUTE, ["4.0"] * 9) + rows("2027-10-31T02:00", 10 * MINUTE, ["5.0"] * 9)
    found = plain(lines[::-1])
    assert [row.number for row in found.rows] == list(range(18, 0, -1))
    assert [problem.code for problem in found.problems] == [Noticed.NEWEST_FIRST]
    assert found.rows == tuple(sorted(found.rows, key=lambda row: row.at))


def test_one_step_back_does_not_turn_a_file() -> None:
    stamps = [Stamp(i, utc("2027-01-01T00:00") + timedelta(minutes=minute)) for i, minute in enumerate((0, 5, 3, 8))]
    assert not newest_first(stamps)
    assert not newest_first(stamps[:1])


def test_several_jumps_back_are_several_problems() -> None:
    found = placed("2027-01-01T10:00", "2027-01-01T09:00", "2027-01-01T10:30", "2027-01-01T10:10", "2027-01-01T10:20")
    assert codes(found) == ["time-runs-backwards"] * 2
    assert [(problem.first, problem.last) for problem in found.problems] == [(3, 3), (5, 6)]


def test_every_instant_is_aware_utc() -> None:
    """BR-41."""
    for lines in (["2027-07-01T10:00,4", "2027-07-01T10:05,4"], ["2027-07-01T10:00+02:00,4", "2027-07-01T08:05Z,4"]):
        found = plain(lines)
        assert [row.at for row in found.rows] == [utc("2027-07-01T08:00"), utc("2027-07-01T08:05")]
        assert {row.at.tzinfo for row in found.rows} == {UTC}


def test_offsets_in_some_lines_only_are_refused() -> None:
    """BR-41: aware and naive times are never mixed."""
    with pytest.raises(ReadingsRefused, match=r"1 times have no offset .*the first in line 2"):
        plain(["2027-07-01T10:00Z,4", "2027-07-01T10:05,4", "2027-07-01T10:10Z,4"])
