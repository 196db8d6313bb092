"""Layouts found in the files themselves, and the questions where a file leaves a doubt."""

from datetime import UTC, datetime, timedelta, timezone
from itertools import product

import pytest

from station.readings.layout import Unit
from station.readings.questions import Declared, LayoutUnclear, Option
from station.readings.recognise import recognise
from station.readings.series import Noticed, ReadingsRefused
from tests.readings.files import questions, series

BERLIN = Declared(zone="Europe/Berlin")
SEMICOLONS = "Date;Time;Jar °C;Room °C\n13.07.2027;14:00:00;4,5;23,0\n13.07.2027;14:00:30;4,6;23,1\n"
COMMAS = (
    "Logger,TL-3\nStarted,2027-03-01 10:00:00\n\n#,Date-Time (UTC+01:00),Temp (°F),RH (%),Battery V\n"
    "1,2027-03-01 10:00:00,39.2,40.5,3.1\n2,2027-03-01 10:05:00,39.4,41.0,3.1\n"
)
TABS = "sep=\t\nTimestamp\tAir Â°C\n2027-07-06T10:00:00Z\t4.1\n2027-07-06T10:00:10Z\t4.2\n"
HALF_DAYS = (
    "Reading,Time,Sensor 1,Sensor 2\n,,deg F,deg F\n1,07/13/2027 12:05 PM,39.2,73.4\n2,07/13/2027 12:06 PM,39.3,73.4\n"
)
ELAPSED = "Time (min)|T1 [C]\n0|4\n0.5|5\n1|6\n"
WORDS = "12-Jul-2027 10:00;4,5\n12-Jul-2027 10:05;4,6\n"


def test_semicolons_decimal_commas_and_a_date_beside_its_time() -> None:
    found = recognise("a.csv", SEMICOLONS, BERLIN)
    assert (found.delimiter, found.decimal, found.header_rows, found.time_columns) == (";", ",", 1, (0, 1))
    assert found.time_form.text == "DD.MM.YYYY hh:mm[:ss]"
    assert [(column.sensor, column.unit) for column in found.sensors] == [("Jar", Unit.CELSIUS), ("Room", Unit.CELSIUS)]
    assert series(SEMICOLONS, BERLIN).rows[0].at == datetime(2027, 7, 13, 12, tzinfo=UTC)


def test_lines_about_the_logger_an_offset_in_the_heading_fahrenheit_and_humidity() -> None:
    found = recognise("a.csv", COMMAS)
    assert (found.delimiter, found.header_rows, found.time_columns, found.humidity_column) == (",", 4, (1,), 3)
    assert found.zone == timezone(timedelta(hours=1))
    (row, _) = series(COMMAS).rows
    assert row.temperatures == {"Temp": pytest.approx(4.0)}
    assert (row.at, row.humidity) == (datetime(2027, 3, 1, 9, tzinfo=UTC), 40.5)


def test_tabs_named_in_the_first_line_and_a_broken_degree_sign() -> None:
    """BR-83: a heading with a degree sign that went through the wrong character set is still Celsius."""
    found = series(TABS)
    assert [reading for _, reading in found.points("Air")] == [4.1, 4.2]
    assert found.rows[1].at == datetime(2027, 7, 6, 10, 0, 10, tzinfo=UTC)


def test_half_days_and_the_unit_in_a_second_heading_line() -> None:
    """BR-83."""
    found = series(HALF_DAYS, BERLIN)
    assert found.sensors == ("Sensor 1", "Sensor 2")
    assert found.rows[0].at == datetime(2027, 7, 13, 10, 5, tzinfo=UTC)
    assert found.rows[0].temperatures["Sensor 1"] == pytest.approx(4.0)


def test_times_since_the_start() -> None:
    start = datetime(2027, 7, 12, tzinfo=UTC)
    found = series(ELAPSED, Declared(start=start))
    assert [(row.at - start).total_seconds() for row in found.rows] == [0, 30, 60]
    assert "from a start that it does not name. Declare it with --start." in questions(ELAPSED)


def test_month_names_and_no_heading_at_all() -> None:
    found = series(WORDS, Declared(zone="UTC", unit=Unit.CELSIUS))
    assert found.sensors == ("column 2",)
    assert found.rows[1].at == datetime(2027, 7, 12, 10, 5, tzinfo=UTC)


def test_year_first_with_other_signs_is_no_doubt() -> None:
    text = "t;Temp °C\n2027/07/06 10:00;4\n2027/07/06 10:05;4\n"
    assert recognise("a.csv", text, BERLIN).time_form.text == "YYYY/MM/DD hh:mm[:ss]"


@pytest.mark.parametrize(
    ("first", "second", "month"),
    [("12.07.2027 10:00", "13.07.2027 10:00", 7), ("07/12/2027 10:00", "07/13/2027 10:00", 7)],
)
def test_one_day_after_the_12th_decides_for_the_whole_file(first: str, second: str, month: int) -> None:
    """BR-37: 12.07. must not be December because 13.07. is July."""
    found = series(f"Time;Temp °C\n{first};4,0\n{second};4,1\n", BERLIN)
    assert {row.at.month for row in found.rows} == {month}
    assert [row.at.day for row in found.rows] == [12, 13]


@pytest.mark.parametrize(("sign", "cell"), [(".", "12.07.2027"), ("/", "07/06/2027"), ("-", "05-06-2027")])
def test_days_up_to_the_12th_are_asked_with_both_answers_to_copy(sign: str, cell: str) -> None:
    """BR-37."""
    asked = questions(f"Time;Temp °C\n{cell} 10:00;4\n{cell} 10:05;4\n", BERLIN)
    assert f"{cell} could be either of two dates" in asked
    for form in (f"DD{sign}MM{sign}YYYY hh:mm[:ss]", f"MM{sign}DD{sign}YYYY hh:mm[:ss]"):
        assert f'--time-format "{form}"' in asked


def test_the_answer_given_is_taken() -> None:
    """BR-37."""
    text = "Time;Temp °C\n07/06/2027 10:00;4\n07/06/2027 10:05;4\n"
    for form, month in (("DD/MM/YYYY hh:mm[:ss]", 6), ("MM/DD/YYYY hh:mm[:ss]", 7)):
        found = series(text, Declared(zone="UTC", time_format=form))
        assert found.rows[0].at.month == month


@pytest.mark.parametrize(
    ("cells", "told"),
    [
        (("13.07.2027 10:00", "07.13.2027 10:00"), "the day stands first and in some the month"),
        (("13.07.2027 10:00", "13/07/2027 10:00"), "dates are not all written alike"),
        (("13.07.2027 10:00", "2027-07-13 10:00"), "times are not all written alike"),
        (("05/06/27 10:00", "05/06/27 10:05"), "two digits"),
        (("10:00:00", "10:00:10"), "have no date"),
        (("13.07.2027", "14.07.2027"), "dates but no time of day"),
    ],
)
def test_times_that_leave_a_doubt_are_asked(cells: tuple[str, str], told: str) -> None:
    """BR-37, BR-38, BR-39."""
    assert told in questions(f"Time;Temp °C\n{cells[0]};4,5\n{cells[1]};4,6\n", BERLIN)


def test_two_digit_years_must_be_exported_again_because_no_option_can_mend_them() -> None:
    """BR-39."""
    asked = questions("Time;Temp °C\n05/06/27 10:00;4\n05/06/27 10:05;4\n", BERLIN)
    assert "Export it again with four-digit years" in asked
    assert "--time-format" not in asked
    declared = Declared(zone="UTC", time_format="DD/MM/YY hh:mm")
    assert "Years need four digits" in questions("Time;Temp °C\n05/06/27 10:00;4\n05/06/27 10:05;4\n", declared)


def test_clock_times_without_a_date_can_be_declared_as_elapsed() -> None:
    text = "Clock;Temp °C\n00:00:00;4\n00:00:30;5\n"
    found = series(text, Declared(time_format="elapsed hh:mm:ss", start=datetime(2027, 1, 1, tzinfo=UTC)))
    assert found.rows[1].at - found.rows[0].at == timedelta(seconds=30)


def test_a_unit_that_is_not_named_is_asked_and_never_taken_as_celsius() -> None:
    """BR-83."""
    text = "Time;Jar;Room\n2027-07-13 10:00;39,2;73,4\n2027-07-13 10:05;39,2;73,4\n"
    asked = questions(text, BERLIN)
    assert "in which unit it is: Jar, Room. Declare it with --unit C or --unit F." in asked
    found = series(text, Declared(zone="UTC", units=(("Jar", Unit.FAHRENHEIT),), unit=Unit.CELSIUS))
    assert found.rows[0].temperatures == {"Jar": pytest.approx(4.0), "Room": 73.4}


@pytest.mark.parametrize("heading", ["Temp °C/°F", "Temperature", "Temp", "Sensor C", "Probe_F"])
def test_a_heading_that_does_not_settle_the_unit_is_asked(heading: str) -> None:
    """BR-83: a sensor called C is no unit."""
    asked = questions(f"Time;{heading}\n2027-07-13 10:00;39,2\n2027-07-13 10:05;39,2\n", BERLIN)
    assert "--unit C or --unit F" in asked


@pytest.mark.parametrize(
    ("heading", "unit"),
    [
        (heading.format(unit), Unit(unit))
        for heading, unit in product(
            (
                "Temp (°{0})",
                "T/°{0}",
                "Air deg {0}",
                "Air Â°{0}",
                "Air \ufffd{0} ",
                "Air [{0}]",
                "temp_{0}",
                "Temperature {0}",
            ),
            "CF",
        )
    ]
    + [("Celsius", Unit.CELSIUS), ("Air ℉", Unit.FAHRENHEIT), ("Water Fahrenheit", Unit.FAHRENHEIT)],
)
def test_units_in_headings(heading: str, unit: Unit) -> None:
    """BR-83."""
    text = f"Time;{heading}\n2027-07-13 10:00;39,2\n2027-07-13 10:05;39,2\n"
    (column,) = recognise("a.csv", text, BERLIN).sensors
    assert column.unit is unit


def test_two_files_with_different_units_are_each_read_in_their_own() -> None:
    """BR-83."""
    body = "2027-07-13 10:00;{}\n2027-07-13 10:05;{}\n"
    first = series("Time;Air °C\n" + body.format("4,0", "4,0"), BERLIN)
    second = series("Time;Air °F\n" + body.format("39,2", "39,2"), BERLIN)
    assert [row.temperatures["Air"] for row in first.rows] == pytest.approx(
        [row.temperatures["Air"] for row in second.rows]
    )


def test_a_unit_declared_against_the_heading_is_taken_and_remarked_on() -> None:
    """BR-83: the heading kept the old unit after a conversion."""
    text = "Time;Air °F\n2027-07-13 10:00;4,0\n2027-07-13 10:05;4,0\n"
    found = series(text, Declared(zone="UTC", unit=Unit.CELSIUS))
    assert found.rows[0].temperatures == {"Air": 4.0}
    (problem,) = found.noticed(Noticed.DECLARED_AGAINST_HEADING)
    assert problem.sentence == "the heading 'Air °F' says F, and C was declared and taken."


def test_a_zone_that_is_not_named_is_asked_and_a_wrong_one_refused() -> None:
    """BR-40."""
    assert "which zone its clock showed" in questions(SEMICOLONS)
    assert '"Europe/Berlin standard"' in questions(SEMICOLONS)
    assert 'There is no zone "Europe/Berlinn"' in questions(SEMICOLONS, Declared(zone="Europe/Berlinn"))
    assert "The zone is empty" in questions(SEMICOLONS, Declared(zone=""))


@pytest.mark.parametrize(("heading", "hours"), [("Time (UTC)", 0), ("Time GMT+2", 2), ("Time, GMT -05:00", -5)])
def test_an_offset_in_the_heading_of_the_time_is_enough(heading: str, hours: int) -> None:
    text = f'"{heading}";Air °C\n2027-07-13 10:00;4\n2027-07-13 10:05;4\n'
    assert recognise("a.csv", text).zone is not None
    assert series(text).rows[0].at == datetime(2027, 7, 13, 10, tzinfo=UTC) - timedelta(hours=hours)


def test_an_offset_that_is_none_is_asked_again() -> None:
    text = "Time UTC+25;Air °C\n2027-07-13 10:00;4\n2027-07-13 10:05;4\n"
    assert "--zone" in questions(text)


def test_commas_that_may_part_or_mark_decimals_are_asked() -> None:
    text = "Time,Air °C\n2027-07-13 10:00,4,1\n2027-07-13 10:05,4,2\n"
    asked = questions(text, BERLIN)
    assert "Its commas may part columns or mark decimals" in asked
    assert "--decimal" in asked


def test_commas_in_quotation_marks_are_decimal_commas() -> None:
    text = '"Time","Air °C"\n"2027-07-13 10:00","4,1"\n"2027-07-13 10:05","4,2"\n'
    assert [reading for _, reading in series(text, BERLIN).points("Air")] == [4.1, 4.2]


def test_both_decimal_signs_in_one_file_are_asked() -> None:
    text = "Time;Air °C\n2027-07-13 10:00;4,1\n2027-07-13 10:05;4.2\n"
    assert "Declare it with --decimal . or --decimal ,." in questions(text, BERLIN)
    declared = Declared(zone="UTC", decimal=",")
    with pytest.raises(ReadingsRefused, match=r'line 3: sensor Air: "4\.2" is no figure'):
        series(text, declared)


def test_columns_that_two_signs_could_part_are_asked() -> None:
    text = "2027-07-13 10:00;x,2027-07-13 10:00\n" * 2
    asked = questions(text, BERLIN)
    assert "Its columns could be parted by semicolon or comma" in asked
    assert "--delimiter semicolon or --delimiter comma" in asked


def test_two_times_in_a_row_are_asked_and_either_can_be_declared() -> None:
    text = "Local;World;Air °C\n2027-07-13 12:00;2027-07-13 10:00;4\n2027-07-13 12:05;2027-07-13 10:05;4\n"
    assert "Several columns could be its time: column 1 and column 2" in questions(text, BERLIN)
    for name in ("World", "2", "world"):
        found = series(text, Declared(zone="UTC", time_columns=(name,)))
        assert found.rows[0].at.hour == 10


def test_a_column_that_is_not_there_is_asked_with_those_that_are() -> None:
    asked = questions(SEMICOLONS, Declared(zone="UTC", sensors=("Pot",), time_columns=("Moment",)))
    assert 'It has no column "Pot"; it has "Date", "Time", "Jar °C", "Room °C". Declare it with --sensor.' in asked
    assert 'no column "Moment"' in asked
    bare = Declared(zone="UTC", sensors=("9",))
    assert 'no column "9"; it has 1 to 2. Declare' in questions(WORDS, bare)


def test_sensors_can_be_named_by_heading_by_name_or_by_place() -> None:
    for name in ("Room °C", "Room", "room", "4", "Room Â°C"):
        assert series(SEMICOLONS, Declared(zone="UTC", sensors=(name,))).sensors == ("Room",)
    assert series(SEMICOLONS, Declared(zone="UTC", sensors=("Room", "4", "Jar"))).sensors == ("Room", "Jar")


def test_columns_of_one_name_are_told_apart_by_their_place() -> None:
    text = "Time;Air °C;Air °C\n2027-07-13 10:00;4;5\n2027-07-13 10:05;4;5\n"
    assert series(text, BERLIN).sensors == ("Air (column 2)", "Air (column 3)")
    assert '"Air" is the name of several columns' in questions(text, Declared(zone="UTC", sensors=("Air",)))


def test_counters_and_humidity_are_no_temperatures() -> None:
    text = "No.;Time;Jar;RH %\n1;2027-07-13 10:00;4;40\n2;2027-07-13 10:05;4;40\n"
    assert series(text, Declared(zone="UTC", unit=Unit.CELSIUS)).sensors == ("Jar",)


def test_a_file_without_temperatures_is_asked() -> None:
    assert "It has no column of temperatures" in questions(
        "Time;Door\n2027-07-13 10:00;open\n2027-07-13 10:05;shut\n", BERLIN
    )


def test_plain_figures_without_a_unit_of_time_are_asked() -> None:
    declared = Declared(start=datetime(2027, 1, 1, tzinfo=UTC))
    asked = questions("Elapsed;T °C\n0;4\n10;5\n", declared)
    assert '--time-format "elapsed s" or --time-format "elapsed min" or --time-format "elapsed h"' in asked
    assert "which column is its time" in questions("A;T °C\n0;4\n10;5\n", declared)


def test_the_number_of_heading_lines_can_be_declared() -> None:
    text = "2027-07-13 09:00;99\nTime;Air °C\n2027-07-13 10:00;4\n2027-07-13 10:05;4\n"
    found = series(text, Declared(zone="UTC", header_rows=2))
    assert [row.number for row in found.rows] == [3, 4]
    assert "no row of readings" in questions(text, Declared(zone="UTC", header_rows=9))


def test_a_delimiter_can_be_declared() -> None:
    assert series(ELAPSED, Declared(delimiter="|", start=datetime(2027, 1, 1, tzinfo=UTC))).sensors == ("T1",)
    assert "no row of readings" in questions(";;\n;\n", Declared(delimiter=";"))


@pytest.mark.parametrize("text", ["Hello\nworld\n", "a,b\n1,x\n", 'Time;"T\n2027-07-13 10:00;4\n2027-07-13 10:05;4\n'])
def test_a_file_that_is_no_series_is_refused(text: str) -> None:
    assert "no two lines in it are a time and a temperature" in questions(text)


def test_questions_come_all_at_once_each_with_its_option() -> None:
    with pytest.raises(LayoutUnclear) as unclear:
        recognise("a.csv", "Time;Jar\n12.07.2027 10:00;4\n12.07.2027 10:05;4\n")
    assert [question.option for question in unclear.value.questions] == [Option.TIME_FORMAT, Option.ZONE, Option.UNIT]
    assert all(sentence.startswith("a.csv: ") for sentence in unclear.value.sentences())


def test_thermocouples_can_be_declared() -> None:
    assert not recognise("a.csv", TABS, Declared(thermocouples=True)).sensors[0].digital
