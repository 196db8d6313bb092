"""Files put together: nothing doubled, nothing overwritten, counts told."""

from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from station.readings.merge import merge
from station.readings.series import FaultKind, Reading, Row, SensorFault
from tests.readings.files import plain, rows

FIVE = timedelta(minutes=5)
START = datetime(2027, 7, 12, tzinfo=UTC)


def row(index: int, file: str = "a.csv", **temperatures: Reading) -> Row:
    return Row(file, index + 1, START + index * FIVE, temperatures)


def test_the_same_file_again_adds_nothing_and_says_so() -> None:
    """BR-87."""
    first = plain(rows("2027-07-12T00:00", FIVE, ["4.0"] * 12)).rows
    again = merge(first, first)
    assert again.rows == first
    assert (again.added, again.known, again.conflicts) == (0, 12, ())
    assert again.sentence == "Nothing new: all 12 readings were known already."


def test_a_longer_file_adds_only_what_is_new() -> None:
    """BR-87."""
    longer = plain(rows("2027-07-12T00:00", FIVE, ["4.0"] * 20)).rows
    found = merge(longer[4:12], longer)
    assert found.rows == longer
    assert (found.added, found.known) == (12, 8)
    assert found.sentence == "12 readings added, 8 known already, 0 in conflict."


def test_a_changed_old_value_is_told_and_not_taken() -> None:
    """BR-87."""
    first = [row(0, Air=4.0), row(1, Air=4.1)]
    found = merge(first, [row(0, "b.csv", Air=4.0), row(1, "b.csv", Air=9.9), row(2, "b.csv", Air=4.2)])
    assert [kept.temperatures["Air"] for kept in found.rows] == [4.0, 4.1, 4.2]
    assert (found.added, found.known, len(found.conflicts)) == (1, 1, 1)
    assert found.conflicts[0].sentence == (
        "Air at 2027-07-12 00:05:00 UTC is 4.1 C in a.csv line 2 and 9.9 C in b.csv line 2; the first was kept."
    )


def test_a_fault_and_a_reading_at_one_time_are_a_conflict() -> None:
    fault = SensorFault(FaultKind.TEXT, "Err")
    (conflict,) = merge([row(0, Air=fault)], [row(0, "b.csv", Air=4.0)]).conflicts
    assert 'is a fault "Err" in a.csv line 1 and 4.0 C in b.csv line 1' in conflict.sentence


def test_another_sensor_at_the_same_time_is_added_beside_the_first() -> None:
    found = merge([row(0, Air=4.0)], [Row("b.csv", 1, START, {"Jar": 5.0}, 40.0)])
    (both,) = found.rows
    assert both.temperatures == {"Air": 4.0, "Jar": 5.0}
    assert both.humidity == 40.0
    assert (both.file, found.added, found.known) == ("a.csv", 1, 0)


def test_humidity_once_known_stays() -> None:
    first = Row("a.csv", 1, START, {"Air": 4.0}, 41.0)
    assert merge([first], [Row("b.csv", 1, START, {"Air": 4.0}, 55.0)]).rows == (first,)


files = st.lists(st.integers(0, 30), unique=True, max_size=20).map(
    lambda indices: [row(index, Air=float(index % 3)) for index in sorted(indices)]
)


@given(files, files)
def test_no_order_of_files_doubles_or_loses_a_reading(first: list[Row], second: list[Row]) -> None:
    one, other = merge(first, second), merge(second, first)
    assert [found.at for found in one.rows] == sorted({found.at for found in first + second})
    assert one.rows == other.rows
    assert one.added + one.known == len(second)
    assert merge(one.rows, second).added == 0
