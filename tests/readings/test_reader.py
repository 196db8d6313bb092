"""Whole files read by a declared layout."""

from datetime import UTC, datetime, timedelta, timezone

import pytest

from station.readings.gaps import Gap, gaps, interval, sensor_gaps
from station.readings.layout import Layout, LayoutRefused, SensorColumn, Unit
from station.readings.reader import read
from station.readings.series import FaultKind, Noticed, ReadingsRefused, SensorFault, Series, bounded, lines
from station.readings.timeform import time_form
from tests.readings.files import BERLIN, plain, plain_layout, rows

MINUTE = timedelta(minutes=1)
PAIR = (SensorColumn(1, "Jar", Unit.CELSIUS), SensorColumn(2, "Room", Unit.FAHRENHEIT))


def pair(text: str, **more: object) -> Series:
    parts: dict[str, object] = {
        "delimiter": ";",
        "decimal": ",",
        "header_rows": 1,
        "time_columns": (0,),
        "time_form": time_form("DD.MM.YYYY hh:mm"),
        "sensors": PAIR,
        "zone": BERLIN,
        "humidity_column": 3,
        **more,
    }
    return read("pair.csv", text, Layout(**parts))  # type: ignore[arg-type]


def test_a_row_has_its_line_its_instant_and_celsius_for_every_sensor() -> None:
    found = pair("Time;Jar;Room;RH\n\n12.07.2027 14:00;4,5;73,4;41,5\n")
    (row,) = found.rows
    assert (row.file, row.number, row.at) == ("pair.csv", 3, datetime(2027, 7, 12, 12, tzinfo=UTC))
    assert row.temperatures == {"Jar": 4.5, "Room": pytest.approx(23.0)}
    assert row.humidity == 41.5
    assert found.sensors == ("Jar", "Room")
    assert found.problems == ()


def test_sensor_faults_are_kept_as_faults_and_told_with_their_lines() -> None:
    """BR-82: 4.1, 4.2, 85.0, 4.2, -127, 4.3."""
    found = plain(rows("2027-07-12T14:00", MINUTE, ["4.1", "4.2", "85.0", "4.2", "-127", "4.3"]))
    assert [reading for _, reading in found.points("Air")] == [4.1, 4.2, 4.2, 4.3]
    assert [row.temperatures["Air"] for row in found.rows][2] == SensorFault(FaultKind.POWER_UP, "85.0")
    told = [problem.sentence for problem in found.noticed(Noticed.SENSOR_FAULT)]
    assert told == [
        'line 3: sensor Air: sensor fault "85.0" (value at power-up), not taken as a temperature.',
        'line 5: sensor Air: sensor fault "-127" (no contact), not taken as a temperature.',
    ]


def test_a_thermocouple_has_no_value_at_power_up() -> None:
    """BR-82: judged by the sensor's type as well."""
    layout = plain_layout(digital=False)
    found = plain(rows("2027-07-12T14:00", MINUTE, ["60", "85.0", "60"]), layout)
    assert [reading for _, reading in found.points("Air")] == [60.0, 85.0, 60.0]


def test_a_long_fault_is_told_once() -> None:
    found = plain(rows("2027-07-12T14:00", MINUTE, ["4.1", *["Open"] * 500, "", "4.2"]))
    assert [problem.sentence for problem in found.noticed(Noticed.SENSOR_FAULT)] == [
        'lines 2 to 501: sensor Air: sensor fault "Open" (a text in place of a reading), not taken as a temperature.',
        "line 502: sensor Air: sensor fault (no reading), not taken as a temperature.",
    ]


def test_three_hours_without_rows_are_a_gap_that_is_told() -> None:
    """BR-86."""
    every = rows("2027-07-12T00:00", 5 * MINUTE, ["4.0"] * 120)
    found = plain(every[:48] + every[84:])
    (problem,) = found.noticed(Noticed.GAP)
    assert problem.sentence == "lines 48 to 49: nothing was measured for 3 h 05 min."


@pytest.mark.parametrize(("minutes", "told"), [(20, "20 min"), (1.5, "90 s")])
def test_the_length_of_a_gap_is_said_in_fitting_units(minutes: float, told: str) -> None:
    start = datetime(2027, 7, 12, 10)  # noqa: DTZ001
    step = timedelta(minutes=minutes) / 5
    times = [start + step * index for index in (0, 1, 2, 3, 8)]
    (problem,) = plain([f"{at},4.0" for at in times]).noticed(Noticed.GAP)
    assert f"for {told}." in problem.sentence


def test_one_missing_row_is_no_gap_and_a_slow_logger_may_be_declared() -> None:
    start = datetime(2027, 7, 12, tzinfo=UTC)
    times = [start + minute * MINUTE for minute in (0, 5, 10, 20, 25)]
    assert gaps(times) == ()
    assert gaps(times, 2 * MINUTE) == (Gap(times[2], times[3]),)
    assert gaps(times[:1]) == ()
    assert interval([]) is None


def test_rows_with_only_a_fault_are_a_gap_of_that_sensor() -> None:
    """BR-86: rows are there, measurements are not."""
    found = plain(rows("2027-07-12T14:00", MINUTE, ["4.1", "4.1", "Err", "Err", "Err", "4.2"]))
    assert found.noticed(Noticed.GAP) == ()
    (gap,) = sensor_gaps(found, "Air")
    assert gap.length == 4 * MINUTE


def test_a_row_written_twice_counts_once_and_a_contradiction_is_left_out() -> None:
    """BR-87 inside one file."""
    found = plain(["2027-07-12T14:00,4.0", "2027-07-12T14:00,4.0", "2027-07-12T14:00,4.9", "2027-07-12T14:01,4.1"])
    assert [row.number for row in found.rows] == [1, 4]
    assert [problem.sentence for problem in found.problems] == [
        "line 2: the same time and readings as line 1, counted once.",
        "line 3: the same time as line 1 with other readings; line 1 was kept.",
    ]


def test_everything_unreadable_is_told_at_once_with_its_line() -> None:
    text = "\n".join(
        [
            "Time;Jar;Room;RH",
            "12.07.2027 14:00;4,5;73,4;41",
            "12.07.27 14:01;4,5;73,4;41",
            "12.07.2027 14:02;4.5;73,4 °C;41",
            "12.07.2027 14:03;4,5",
            "31.02.2027 14:04;4,5;73,4;41.5",
        ]
    )
    with pytest.raises(ReadingsRefused) as refused:
        pair(text)
    assert refused.value.sentences() == (
        'pair.csv: line 3: "12.07.27 14:01" is no time like DD.MM.YYYY hh:mm.',
        'pair.csv: line 4: sensor Jar: "4.5" is no figure with "," as its decimal sign.',
        'pair.csv: line 4: sensor Room: "73,4 °C" has another unit than the F declared for its column.',
        "pair.csv: line 5: it has 2 columns where 4 are needed.",
        'pair.csv: line 6: there is no date or time "31.02.2027 14:04".',
        'pair.csv: line 6: humidity: "41.5" is no figure with "," as its decimal sign.',
    )


def test_a_long_list_of_faults_ends_with_how_many_more_there_are() -> None:
    with pytest.raises(ReadingsRefused) as refused:
        plain([f"row {number},4.0" for number in range(1000)])
    told = refused.value.sentences()
    assert len(told) == 21
    assert told[-1] == "... and 980 more like these."
    assert str(refused.value).count("\n") == 20
    assert bounded(["a", "b"], 2) == ("a", "b")


def test_a_file_without_readings_is_refused() -> None:
    with pytest.raises(ReadingsRefused, match="no row of readings"):
        pair("Time;Jar;Room;RH\n")


def test_times_without_offset_need_a_zone() -> None:
    with pytest.raises(ReadingsRefused, match="has no offset, and no zone was declared"):
        plain(["2027-07-12T14:00,4.0"], plain_layout(zone=None))


def test_date_and_time_of_day_in_two_columns() -> None:
    found = pair("Date;Jar;Room;RH;Clock\n12.07.2027;4,5;73,4;41;14:00\n", time_columns=(0, 4), humidity_column=None)
    assert found.rows[0].at == datetime(2027, 7, 12, 12, tzinfo=UTC)
    assert found.rows[0].humidity is None


def test_elapsed_times_count_from_the_start_told() -> None:
    start = datetime(2027, 7, 12, 14, tzinfo=timezone(timedelta(hours=2)))
    found = pair(
        "t;Jar;Room;RH\n0;4,5;73,4;41\n90;4,6;73,4;41\n", time_form=time_form("elapsed s"), zone=None, start=start
    )
    assert [row.at for row in found.rows] == [
        datetime(2027, 7, 12, 12, 0, tzinfo=UTC),
        datetime(2027, 7, 12, 12, 1, 30, tzinfo=UTC),
    ]


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"delimiter": ";;"}, "one character"),
        ({"decimal": "'"}, "a point or a comma"),
        ({"sensors": ()}, "at least one column of temperatures"),
        ({"time_columns": ()}, "needs a time column"),
        ({"humidity_column": 1}, "one meaning"),
        ({"time_columns": (-1,)}, "counts from 0"),
        ({"sensors": (PAIR[0], SensorColumn(2, "Jar", Unit.CELSIUS))}, "a name of its own"),
        ({"time_form": time_form("elapsed s")}, "instant of the start"),
        ({"time_form": time_form("elapsed s"), "start": datetime(2027, 1, 1)}, "with its offset"),  # noqa: DTZ001
        ({"zone": None}, "zone of the logger's clock is missing"),
    ],
)
def test_a_layout_that_can_not_be_meant_is_refused(wrong: dict[str, object], told: str) -> None:
    with pytest.raises(LayoutRefused, match=told):
        pair("", **wrong)


def test_lines_are_named_from_the_smaller_to_the_larger() -> None:
    assert (lines(5, 5), lines(9, 5)) == ("line 5", "lines 5 to 9")
