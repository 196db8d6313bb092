"""The newest air of a room logger: the last whole row, and every reason not to take it."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from station.readings.layout import Unit
from station.readings.newest_air import air_sensors, newest_air, worth_knowing
from station.readings.questions import Declared
from station.readings.series import Series
from station.services.outcome import Refusal
from tests.readings.files import questions, series

MINUTE = timedelta(minutes=1)
NOON = datetime(2027, 7, 12, 12, 0, tzinfo=UTC)
BERLIN = Declared(zone="Europe/Berlin", air=True)


def room(*rows: str, head: str = "Time,Temp (°C),RH %", declared: Declared = BERLIN) -> Series:
    """The series of a room logger's lines."""
    return series("\n".join([head, *rows, ""]), declared)


def every_five(first: str, temperatures: list[str], humidity: str = "45") -> list[str]:
    """`time,temperature,humidity` lines in local times, five minutes apart."""
    start = datetime.fromisoformat(first)
    return [f"{start + 5 * MINUTE * index},{text},{humidity}" for index, text in enumerate(temperatures)]


def refused(found: Series, now: datetime = NOON, sensor: str | None = None) -> tuple[str, str]:
    """Code and sentence of a refusal; there must be one."""
    with pytest.raises(Refusal) as refusal:
        newest_air(found, now, sensor)
    return refusal.value.code, refusal.value.sentence


def test_the_newest_row_is_taken_with_its_time_and_its_place_in_the_file() -> None:
    found = room("2027-07-12 13:50,22.5,44", "2027-07-12 13:55,22.6,45.5", "2027-07-12 14:00,22.7,46")
    air = newest_air(found, NOON + 3 * MINUTE)
    assert (air.temperature_c, air.humidity, air.at) == (22.7, 46.0, NOON)
    assert air.source == "log.csv line 4, 2027-07-12T12:00:00Z"
    assert worth_knowing(found, air) == ()


def test_a_file_that_runs_from_new_to_old_has_its_newest_row_on_top() -> None:
    found = room("2027-07-12 14:00,22.7,46", "2027-07-12 13:55,22.6,45", "2027-07-12 13:50,22.5,44")
    assert newest_air(found, NOON).line == 2


def test_a_fault_on_top_of_a_file_that_runs_from_new_to_old_is_told_and_one_further_down_is_not() -> None:
    """BR-82."""
    found = room("2027-07-12 14:00,Err,46", "2027-07-12 13:55,22.6,45", "2027-07-12 13:50,Open,44")
    air = newest_air(found, NOON)
    assert air.line == 3
    (told,) = worth_knowing(found, air)
    assert told.startswith("line 2: ")


@pytest.mark.parametrize("fault", ["85.0", "-127", "127", "Err", ""])
def test_a_sensor_fault_is_no_temperature_and_the_row_before_is_taken_and_told(fault: str) -> None:
    """BR-82."""
    found = room(*every_five("2027-07-12T13:45", ["22.5", "22.6", "22.7", fault]))
    air = newest_air(found, NOON)
    assert (air.temperature_c, air.line) == (22.7, 4)
    (told,) = worth_knowing(found, air)
    assert told.startswith("line 5: ")
    assert "sensor fault" in told


def test_a_file_of_nothing_but_faults_gives_no_air() -> None:
    """BR-82."""
    code, sentence = refused(room(*every_five("2027-07-12T13:45", ["85.0", "85.0", "-127"])))
    assert code == "no-air"
    assert "without a sensor fault" in sentence


@pytest.mark.parametrize("damp", ["Err", "", "104", "-1"])
def test_a_row_whose_humidity_is_a_fault_is_not_whole(damp: str) -> None:
    found = room("2027-07-12 13:55,22.6,45", f"2027-07-12 14:00,22.7,{damp}")
    assert newest_air(found, NOON).line == 2


def test_fahrenheit_becomes_celsius_as_a_person_would_round_it() -> None:
    """BR-83: 73.4 F is 23 C, and 71.6 F is 22 C (definition of the scales)."""
    found = room("2027-07-12 13:55,71.6,45", "2027-07-12 14:00,73.4,45", head="Time,Temp (°F),RH %")
    assert newest_air(found, NOON).temperature_c == 23.0


def test_a_second_heading_line_names_the_unit() -> None:
    """BR-83."""
    found = room(",°F,%", "2027-07-12 13:55,71.6,45", "2027-07-12 14:00,73.4,45", head="Time,Temp,Humidity")
    assert newest_air(found, NOON).temperature_c == 23.0


def test_a_unit_that_the_file_does_not_name_is_asked() -> None:
    """BR-83: never a silent 73.4 C."""
    text = "Time,Temp,RH %\n2027-07-12 13:55,73.4,45\n2027-07-12 14:00,73.4,45\n"
    assert "in which unit" in questions(text, BERLIN)


def test_fahrenheit_taken_for_celsius_is_no_room() -> None:
    """BR-83: the heading kept an old unit."""
    code, sentence = refused(room("2027-07-12 13:55,72,45", "2027-07-12 14:00,73.4,45"))
    assert (code, "73.4 C can't be a room" in sentence) == ("room-range", True)


@pytest.mark.parametrize(("warmth", "damp"), [("-11", "45"), ("51", "45"), ("22", "0")])
def test_air_that_no_room_has_is_refused_and_no_older_row_taken_for_it(warmth: str, damp: str) -> None:
    code, _ = refused(room("2027-07-12 13:55,22,45", f"2027-07-12 14:00,{warmth},{damp}"))
    assert code == "room-range"


def test_sixty_minutes_old_is_young_enough_and_a_second_more_is_not() -> None:
    found = room(*every_five("2027-07-12T13:50", ["22.5", "22.6", "22.7"]))
    assert newest_air(found, NOON + 60 * MINUTE).at == NOON
    code, sentence = refused(found, NOON + 60 * MINUTE + timedelta(seconds=1))
    assert code == "air-old"
    assert "log.csv: its newest whole reading, line 4, is 1 h 01 old" in sentence


def test_five_minutes_ahead_may_be_the_loggers_clock_and_a_second_more_is_not() -> None:
    found = room(*every_five("2027-07-12T13:50", ["22.5", "22.6", "22.7"]))
    assert newest_air(found, NOON - 5 * MINUTE).at == NOON
    code, sentence = refused(found, NOON - 5 * MINUTE - timedelta(seconds=1))
    assert code == "air-ahead"
    assert "line 4 is 6 min ahead" in sentence


def test_a_newer_row_ahead_of_the_clock_spoils_the_ones_before_it_even_as_a_fault() -> None:
    """The clock that dated the fault dated the rest as well."""
    assert refused(room("2027-07-12 13:55,22,45", "2027-07-12 14:00,22,45", "2027-07-12 16:00,Err,45"))[0] == (
        "air-ahead"
    )


def test_a_newest_row_before_a_gap_is_old_and_nothing_fills_the_gap() -> None:
    """BR-86: three hours are missing; what comes after them is only faults."""
    before = every_five("2027-07-12T10:30", ["22.5"] * 6)
    assert refused(room(*before))[0] == "air-old"
    assert refused(room(*before, *every_five("2027-07-12T13:55", ["Err", "Err"])))[0] == "air-old"


def test_a_row_after_the_gap_is_taken_and_the_gap_told() -> None:
    """BR-86."""
    found = room(*every_five("2027-07-12T10:30", ["22.5"] * 6), "2027-07-12 14:00,22.9,45")
    air = newest_air(found, NOON)
    assert air.temperature_c == 22.9
    assert worth_knowing(found, air) == ("lines 7 to 8: nothing was measured for 3 h 05 min.",)


# Clocks in Berlin go back at 03:00 on 31 October 2027 and forward at 02:00 on 28 March 2027 (time zone database).
BACK = datetime(2027, 10, 31, 1, 0, tzinfo=UTC)


def test_the_second_pass_of_the_hour_that_comes_twice_is_the_newer() -> None:
    """BR-84."""
    twice = every_five("2027-10-31T02:00", ["22.5"] * 12) + every_five("2027-10-31T02:00", ["21.5"] * 3)
    found = room(*every_five("2027-10-31T01:30", ["22"] * 6), *twice)
    air = newest_air(found, BACK + 12 * MINUTE)
    assert (air.temperature_c, air.at) == (21.5, BACK + 10 * MINUTE)


def test_a_time_that_comes_twice_with_nothing_to_tell_which_is_refused() -> None:
    """BR-84: an hour's error would hide a reading that is too old."""
    code, sentence = refused(room(*every_five("2027-10-31T02:10", ["22.5"] * 3)), BACK + 25 * MINUTE)
    assert code == "air-time-unclear"
    assert "comes twice when clocks go back" in sentence


def test_newer_rows_in_the_hour_that_comes_twice_are_not_passed_over_for_an_older_one() -> None:
    """BR-84: an hour and a half without rows, then some that may be of either pass."""
    found = room(*every_five("2027-10-31T00:30", ["22"] * 3), *every_five("2027-10-31T02:10", ["22.5"] * 3))
    assert refused(found, BACK - 30 * MINUTE)[0] == "air-time-unclear"


def test_a_time_of_the_hour_that_never_was_is_refused_at_the_end_and_told_further_up() -> None:
    """BR-84: rows at 02:10 on 28 March 2027."""
    lost = every_five("2027-03-28T02:10", ["22.5"] * 3)
    at = datetime(2027, 3, 28, 1, 25, tzinfo=UTC)
    assert refused(room(*lost), at)[0] == "air-time-unclear"
    found = room(*lost, *every_five("2027-03-28T03:15", ["22.9"] * 3))
    air = newest_air(found, at)
    assert air.temperature_c == 22.9
    assert any("left out when clocks go forward" in told for told in worth_knowing(found, air))


def test_times_that_run_backwards_at_the_end_are_refused() -> None:
    """BR-85."""
    rows = every_five("2027-07-12T13:00", ["22.5"] * 12) + every_five("2027-07-12T13:00", ["22.6"] * 3)
    assert refused(room(*rows))[0] == "air-time-unclear"


def test_two_readings_at_the_newest_time_are_not_chosen_between() -> None:
    """BR-87 inside one file."""
    found = room("2027-07-12 13:55,22,45", "2027-07-12 14:00,22,45", "2027-07-12 14:00,25,45")
    assert refused(found)[0] == "air-time-unclear"


def test_without_a_column_of_humidity_there_is_no_air() -> None:
    found = room("2027-07-12 13:55,22", "2027-07-12 14:00,22", head="Time,Temp (°C)")
    code, sentence = refused(found)
    assert code == "no-humidity"
    assert "no column of humidity" in sentence


def test_a_dew_point_beside_it_is_not_the_room() -> None:
    found = room("2027-07-12 13:55,22,45,9.5", "2027-07-12 14:00,22.4,45,9.6", head="Time,Air °C,RH %,Dew point °C")
    assert air_sensors(found) == ("Air",)
    assert newest_air(found, NOON).temperature_c == 22.4


def test_which_of_two_sensors_measured_the_room_has_to_be_said() -> None:
    found = room("2027-07-12 13:55,22,5,45", "2027-07-12 14:00,22.4,5.1,45", head="Time,Hall °C,Fridge °C,RH %")
    code, sentence = refused(found)
    assert (code, "Hall, Fridge" in sentence) == ("sensor", True)
    assert newest_air(found, NOON, "Hall").temperature_c == 22.4
    assert refused(found, sensor="Attic")[0] == "sensor"


def test_which_of_two_columns_of_humidity_is_asked_where_the_air_is_wanted() -> None:
    text = "Time,Hall °C,Hall RH %,Store RH %\n2027-07-12 13:55,22,45,60\n2027-07-12 14:00,22,45,60\n"
    assert "Several columns could be its humidity" in questions(text, BERLIN)
    found = series(text, Declared(zone="Europe/Berlin", air=True, humidity="Store RH %"))
    assert newest_air(found, NOON).humidity == 60.0


def test_humidity_is_found_beside_a_sensor_that_was_named() -> None:
    text = "Time,Hall,RH %\n2027-07-12 13:55,22,45\n2027-07-12 14:00,22,45\n"
    named = Declared(zone="Europe/Berlin", sensors=("Hall",), unit=Unit.CELSIUS)
    assert refused(series(text, named))[0] == "no-humidity"
    assert newest_air(series(text, replace(named, air=True)), NOON).humidity == 45.0
