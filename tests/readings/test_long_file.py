"""A long file read in one pass says the same as the reader that keeps every row, for every layout and every fault."""

from datetime import UTC, datetime, timedelta
from math import isnan

import pytest

from station.readings.long_file import Cancelled, LongFile, read_long
from station.readings.questions import Declared, LayoutUnclear
from station.readings.series import Noticed, ReadingsRefused, Series
from station.readings.store_log import LARGE, encoding_of, read_store_log
from station.readings.track import NoTrack, instant_of, unpack
from tests.readings.files import plain_layout, rows, series

BERLIN = Declared(zone="Europe/Berlin")
FIVE = timedelta(minutes=5)


def long_of(text: str, declared: Declared = BERLIN) -> LongFile:
    return read_store_log("log.csv", text.encode(), declared)[0]


def told(found: LongFile) -> list[tuple[datetime, float | None]]:
    pairs = zip(found.track.at, found.track.celsius, strict=True)
    return [(instant_of(at), None if isnan(celsius) else celsius) for at, celsius in pairs]


def as_kept(kept: Series) -> list[tuple[datetime, float | None]]:
    (sensor,) = kept.sensors
    readings = ((row.at, row.temperatures[sensor]) for row in kept.rows)
    return [(at, reading if isinstance(reading, float) else None) for at, reading in readings]


def alike(text: str, declared: Declared = BERLIN) -> LongFile:
    """The file as read in one pass, after comparing it with the reader of whole rows."""
    found, kept = long_of(text, declared), series(text, declared)
    assert told(found) == as_kept(kept)
    assert sorted(p.code for p in found.problems) == sorted(p.code for p in kept.problems)
    return found


def file_of(head: str, lines: list[str]) -> str:
    return "\n".join((head, *lines)) + "\n"


LAYOUTS = {
    "semicolon, comma, day first": file_of("Zeit;Temp (°C)", ["27.07.2027 14:00;4,1", "27.07.2027 14:05;4,2"]),
    "comma, ISO, Fahrenheit": file_of("time,temperature [F]", ["2027-07-27T14:00:00,39.2", "2027-07-27T14:05:00,39.4"]),
    "tab, month first, AM": file_of("When\tTemp C", ["07/27/2027 11:55 AM\t4.1", "07/27/2027 12:00 PM\t4.0"]),
    "bar, date apart from time": file_of("Date|Time|Temp (C)", ["27-07-2027|14:00:30|4.1", "27-07-2027|14:05:30|4.2"]),
    "month in words": file_of("At;Temperature C", ["27 Jul 2027 14:00;4.1", "27 Jul 2027 14:05;4.2"]),
    "offset in every row": file_of("t,temp C", ["2027-07-27T14:00:00+02:00,4.1", "2027-07-27T13:05:00+01:00,4.2"]),
    "year first, counter column": file_of("No;At;Temp °C", ["1;2027/07/27 14:00;4.1", "2;2027/07/27 14:05;4.2"]),
}


@pytest.mark.parametrize("text", LAYOUTS.values(), ids=LAYOUTS.keys())
def test_loggers_of_every_layout_are_read_as_by_the_reader_of_whole_rows(text: str) -> None:
    assert len(alike(text).track) == 2


def text_of(start: str, temperatures: list[str], step: timedelta = FIVE) -> str:
    return file_of("time,temp C", rows(start, step, temperatures))


def test_br_82_fault_values_are_no_temperatures() -> None:
    found = alike(text_of("2027-07-27T14:00", ["4.1", "4.2", "85.0", "4.2", "-127", "4.3", "", "error", "error"]))
    assert found.faults == 5


def test_85_between_its_like_is_a_temperature() -> None:
    assert alike(text_of("2027-07-27T14:00", ["80.0", "85.0", "84.0"])).faults == 0


def test_br_83_a_column_without_unit_is_asked_for() -> None:
    with pytest.raises(LayoutUnclear, match="unit"):
        long_of(file_of("time,temp", rows("2027-07-27T14:00", FIVE, ["39.2", "39.4"])))


def test_br_84_the_doubled_hour_keeps_both_passes() -> None:
    once = rows("2027-10-31T01:30", FIVE, ["4.1"] * 18)
    again = rows("2027-10-31T02:00", FIVE, ["4.2"] * 20)
    found = alike(file_of("time,temp C", [*once, *again]))
    assert (len(found.track), found.left_out) == (38, 0)


def test_br_84_hours_that_never_were_are_left_out_and_the_rest_is_taken() -> None:
    found = alike(text_of("2027-03-28T01:30", ["4.1"] * 24))
    assert (len(found.track), found.left_out) == (12, 12)
    assert Noticed.IMPOSSIBLE_TIME in {problem.code for problem in found.problems}


def test_br_85_time_running_backwards_is_told_with_its_rows() -> None:
    lines = [*rows("2027-03-28T01:50", FIVE, ["4.1"] * 2), *rows("2027-03-28T03:00", FIVE, ["4.1"] * 12)]
    found = alike(file_of("time,temp C", [*lines, *rows("2027-03-28T03:00", FIVE, ["4.1"] * 24)]))
    (back,) = (problem for problem in found.problems if problem.code is Noticed.BACKWARDS)
    assert (back.first, back.last) == (16, 26)
    assert "standard" in back.sentence


def test_br_86_a_hole_is_told() -> None:
    lines = [*rows("2027-07-27T10:00", FIVE, ["4.1"] * 6), *rows("2027-07-27T13:30", FIVE, ["4.1"] * 6)]
    (gap,) = alike(file_of("time,temp C", lines)).problems
    assert gap.sentence == "lines 7 to 8: nothing was measured for 3 h 05 min."


def test_a_repeated_row_counts_once_and_a_contradiction_keeps_the_first() -> None:
    lines = rows("2027-07-27T10:00", FIVE, ["4.1", "4.2", "4.3"])
    found = alike(file_of("time,temp C", [lines[0], lines[0], lines[1], lines[1].replace("4.2", "9.9"), lines[2]]))
    assert (found.rows, found.repeated, found.left_out) == (5, 1, 1)


def test_a_file_from_new_to_old_is_turned() -> None:
    lines = rows("2027-07-27T10:00", FIVE, ["4.1", "4.2", "4.3", "4.4"])
    assert alike(file_of("time,temp C", lines[::-1])).track.celsius.tolist() == [4.1, 4.2, 4.3, 4.4]


def test_every_cell_that_cannot_be_read_is_told_and_nothing_is_taken() -> None:
    text = text_of("2027-07-27T10:00", ["4.1", "4.2", "4,3", "4.4", "4.5"]).replace("2027-07-27 10:15:00", "soon")
    with pytest.raises(ReadingsRefused) as refused:
        read_long("log.csv", text.partition("\n")[2].encode(), "utf-8", plain_layout(), plain_layout().sensors[0])
    assert len(refused.value.faults) == 1
    assert "line 4" in refused.value.faults[0]


def test_offsets_in_some_rows_only_are_refused() -> None:
    lines = ["2027-07-27T10:00:00,4.1", "2027-07-27T10:05:00+02:00,4.2"]
    with pytest.raises(ReadingsRefused, match="some times have an offset and some have none"):
        read_long("log.csv", "\n".join(lines).encode(), "utf-8", plain_layout(), plain_layout().sensors[0])


def test_several_sensors_are_asked_about() -> None:
    with pytest.raises(LayoutUnclear, match="one of them measured the store"):
        long_of(file_of("time,top temp C,low temp C", ["2027-07-27 10:00,4.1,4.2", "2027-07-27 10:05,4.1,4.2"]))


def test_somebody_can_stop_it() -> None:
    with pytest.raises(Cancelled):
        read_store_log("log.csv", text_of("2027-07-27T10:00", ["4.1"] * 3).encode(), BERLIN, go_on=lambda _rows: False)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16", "cp1252"])
def test_what_a_large_files_first_lines_leave_open_a_later_line_says(encoding: str) -> None:
    """The first twelve days could be either of two dates; the sample reaches beyond them."""
    start, count = datetime(2027, 1, 1, tzinfo=UTC), 45_000
    lines = [f"{start + number * timedelta(minutes=1):%d.%m.%Y %H:%M:%S};4,1" for number in range(count)]
    text = file_of("Zeit;Temp C", lines)
    assert len(text) > LARGE
    assert len(read_store_log("log.csv", text.encode(encoding), Declared(zone="UTC"))[0].track) == count


@pytest.mark.parametrize(
    ("content", "encoding"),
    [
        (b"a,\xb0C", "cp1252"),
        ("a,°C".encode(), "utf-8"),
        ("a".encode("utf-16"), "utf-16"),
        (b"\xef\xbb\xbfa", "utf-8-sig"),
    ],
)
def test_the_character_set_is_found(content: bytes, encoding: str) -> None:
    assert encoding_of("log.csv", content) == encoding


@pytest.mark.parametrize(("content", "told"), [(b" \n", "empty"), (b"a\0b", "no plain text")])
def test_what_is_no_text_is_refused(content: bytes, told: str) -> None:
    with pytest.raises(ReadingsRefused, match=told):
        encoding_of("log.csv", content)


def test_stored_readings_come_back_as_they_were_and_the_same_give_the_same_bytes() -> None:
    found = long_of(text_of("2027-07-27T14:00", ["4.1", "", "4.2"])).track
    again = unpack(found.pack())
    assert (again.at, again.pack()) == (found.at, found.pack())
    assert again.usual_step() == FIVE


@pytest.mark.parametrize("content", [b"", b"something else", b"thawmark readings 1\n" + b"\1" + bytes(7)])
def test_other_bytes_are_no_stored_readings(content: bytes) -> None:
    with pytest.raises(NoTrack):
        unpack(content)
