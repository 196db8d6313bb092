"""Forms of times: one for each file, nothing guessed, nothing filled in."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.readings.timeform import FormUnknown, Unreadable, time_form


def at(*parts: int) -> datetime:
    return datetime(*parts)  # type: ignore[arg-type]  # noqa: DTZ001  # a logger's clock without its zone


@pytest.mark.parametrize(
    ("form", "cell", "expected"),
    [
        ("DD.MM.YYYY hh:mm", "12.07.2027 09:05", at(2027, 7, 12, 9, 5)),
        ("MM/DD/YYYY hh:mm AM", "07/12/2027 12:05 AM", at(2027, 7, 12, 0, 5)),
        ("MM/DD/YYYY hh:mm AM", "7/12/2027 12:05 p.m.", at(2027, 7, 12, 12, 5)),
        ("MM/DD/YYYY hh:mm:ss AM", "07/12/2027 1:05:09 PM", at(2027, 7, 12, 13, 5, 9)),
        ("DD-MMM-YYYY hh:mm:ss", "12-Jul-2027 09:05:30.25", at(2027, 7, 12, 9, 5, 30, 250_000)),
        ("YYYY/MM/DD hh:mm[:ss]", "2027/07/12 09:05", at(2027, 7, 12, 9, 5)),
        ("YYYY/MM/DD hh:mm[:ss]", "2027/07/12 09:05:01", at(2027, 7, 12, 9, 5, 1)),
        ("iso", "2027-07-06 10:00", at(2027, 7, 6, 10)),
        ("ISO", "2027-07-06T10:00:00,5", at(2027, 7, 6, 10, 0, 0, 500_000)),
        ("ISO", "2027-07-06 10:00:00 +02:00", datetime(2027, 7, 6, 8, tzinfo=UTC)),
        ("ISO", "2027-07-06T10:00Z", datetime(2027, 7, 6, 10, tzinfo=UTC)),
    ],
)
def test_a_cell_is_read_as_its_form_says(form: str, cell: str, expected: datetime) -> None:
    assert time_form(form).read(cell) == expected


def test_the_day_does_not_change_places_on_the_13th() -> None:
    """BR-37."""
    form = time_form("DD.MM.YYYY hh:mm")
    read = [form.read(f"{day}.07.2027 10:00") for day in (12, 13)]
    assert [found.date().isoformat() for found in read] == ["2027-07-12", "2027-07-13"]


def test_an_iso_date_is_never_swapped() -> None:
    """BR-37: a day-first reader made 7 June of it."""
    assert time_form("ISO").read("2027-07-06 00:00").month == 7


@pytest.mark.parametrize("cell", ["10", "2027", "2027-02", "1A2B", "26 s", "2027-02-01", "", "10:00"])
@pytest.mark.parametrize("form", ["ISO", "DD.MM.YYYY hh:mm"])
def test_a_fragment_is_refused(form: str, cell: str) -> None:
    """BR-38: nothing is filled in from today."""
    with pytest.raises(Unreadable, match="is no time like"):
        time_form(form).read(cell)


@pytest.mark.parametrize(
    ("form", "cell"),
    [
        ("DD.MM.YYYY hh:mm", "31.02.2027 10:00"),
        ("DD.MM.YYYY hh:mm", "01.13.2027 10:00"),
        ("DD.MM.YYYY hh:mm", "01.01.2027 25:00"),
        ("MM/DD/YYYY hh:mm AM", "01/01/2027 13:00 PM"),
        ("DD MMM YYYY hh:mm", "01 Foo 2027 10:00"),
        ("ISO", "2027-02-29T10:00"),
    ],
)
def test_what_no_calendar_has_is_refused(form: str, cell: str) -> None:
    with pytest.raises(Unreadable, match="there is no date or time"):
        time_form(form).read(cell)


def test_a_leap_day_is_a_day() -> None:
    """BR-36."""
    assert time_form("ISO").read("2028-02-29 10:00") == at(2028, 2, 29, 10)


@pytest.mark.parametrize("form", ["DD.MM.YY hh:mm", "YYMMDD hh:mm"])
def test_two_digit_years_cannot_be_declared(form: str) -> None:
    """BR-39."""
    with pytest.raises(FormUnknown, match="four digits"):
        time_form(form)


def test_two_digit_years_are_not_read_either() -> None:
    """BR-39."""
    for cell in ("05/06/27 10:00", "680101 10:00", "05/06/0027 10:00"):
        with pytest.raises(Unreadable):
            time_form("DD/MM/YYYY hh:mm").read(cell.replace("/0027", "/27"))


@pytest.mark.parametrize(
    "form", ["", "DD.MM.YYYY", "hh:mm", "DD.MM.MMM.YYYY hh:mm", "DD.MM.YYYY hh:mm hh", "elapsed days", "DD.YYYY hh:mm"]
)
def test_an_incomplete_form_is_refused_with_an_example(form: str) -> None:
    with pytest.raises(FormUnknown, match="elapsed s"):
        time_form(form)


def test_brackets_that_do_not_match_are_said() -> None:
    with pytest.raises(FormUnknown, match="brackets"):
        time_form("DD.MM.YYYY hh:mm[:ss")


@pytest.mark.parametrize(
    ("form", "cell", "expected"),
    [
        ("elapsed s", "90", timedelta(seconds=90)),
        ("elapsed min", "1,5", timedelta(seconds=90)),
        ("elapsed h", "0.025", timedelta(seconds=90)),
        ("elapsed hh:mm:ss", "00:01:30", timedelta(seconds=90)),
        ("elapsed hh:mm:ss", "100:00:00.5", timedelta(hours=100, seconds=0.5)),
    ],
)
def test_time_since_the_start(form: str, cell: str, expected: timedelta) -> None:
    found = time_form(form)
    assert found.elapsed
    assert found.since_start(cell) == expected


@pytest.mark.parametrize(("form", "cell"), [("elapsed s", "-1"), ("elapsed s", "1 h"), ("elapsed hh:mm:ss", "1:75:00")])
def test_what_is_no_time_since_the_start_is_refused(form: str, cell: str) -> None:
    with pytest.raises(Unreadable):
        time_form(form).since_start(cell)


@given(
    st.datetimes(min_value=at(1000, 1, 1), max_value=at(9999, 12, 31)).map(lambda found: found.replace(microsecond=0))
)
def test_every_time_written_in_a_form_is_read_back(moment: datetime) -> None:
    written = {
        "DD.MM.YYYY hh:mm:ss": f"{moment:%d.%m.}{moment.year:04d}{moment: %H:%M:%S}",
        "MM/DD/YYYY hh:mm:ss AM": f"{moment:%m/%d/}{moment.year:04d}{moment: %I:%M:%S %p}",
        "ISO": moment.isoformat(),
    }
    assert {form: time_form(form).read(cell) for form, cell in written.items()} == dict.fromkeys(written, moment)
