"""A long file read in blocks of whole columns comes to exactly what it comes to row by row, whatever is in it."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta, timezone, tzinfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.readings import long_blocks
from station.readings.columns import MOST_CHARACTERS, columns
from station.readings.layout import Layout, SensorColumn, Unit
from station.readings.long_file import LongFile, read_long
from station.readings.series import Problem, ReadingsRefused
from station.readings.timeform import time_form
from tests.readings.files import BERLIN, rows

Told = tuple[bytes, int, int, int, int, tuple[Problem, ...]]
WRITTEN: dict[str, Callable[[datetime], str]] = {
    "DD.MM.YYYY hh:mm[:ss]": lambda at: f"{at:%d.%m.%Y %H:%M:%S}",
    "MM/DD/YYYY hh:mm AM": lambda at: f"{at.month}/{at.day}/{at.year} {(at.hour - 1) % 12 + 1}:{at:%M %p}",
    "YYYY-MM-DD hh:mm": lambda at: f"{at:%Y-%m-%d} {at.hour}:{at:%M}",
    "ISO": lambda at: at.isoformat(),
    "elapsed s": lambda at: f"{at.timestamp():.0f}",
}
TEMPERATURES = ["4,1", "4,2", "4,3", "5,0", "4,1", "4,2", "4,3", "-0,5", "85,0", "-127", "", "error", "4.1", " 4,4 "]
# what a line can be instead of the plain one; rare, so that whole blocks stay plain
ODD: list[Callable[[str, str], str]] = [
    lambda _time, _cell: "",
    lambda _time, _cell: ";",
    lambda time, _cell: time,
    lambda time, cell: f'"{time}";{cell}',
    lambda time, cell: f'{time};{cell};"a\nb"',
    lambda time, cell: f'"{time}";"{cell};5,0"',
    lambda time, cell: f'{time};{cell}";"4,1',
    lambda time, cell: f" {time} ; {cell}",
    lambda _time, cell: f"soon;{cell}",
    lambda time, cell: f"{time}Z;{cell}",
    lambda time, cell: f"{time}+02:00;{cell};more",
]
PLAIN: Callable[[str, str], str] = lambda time, cell: f"{time};{cell}"  # noqa: E731  one of many
LINES = st.lists(
    st.tuples(
        st.sampled_from([5, 5, 5, 5, 30, 0, -5, 55]),
        st.sampled_from([*TEMPERATURES[:4] * 4, *TEMPERATURES]),
        st.sampled_from([PLAIN] * 60 + ODD),
    ),
    min_size=1,
    max_size=60,
)


def layout(form: str, zone: tzinfo | None = BERLIN, wanted: tuple[int, ...] = (0,)) -> Layout:
    sensor = SensorColumn(len(wanted), "Air", Unit.CELSIUS)
    return Layout(";", ",", 1, wanted, time_form(form), (sensor,), zone, start=datetime(2027, 1, 1, tzinfo=UTC))


def told(content: bytes, how: Layout, *, blocks: bool) -> Told | tuple[str, ...]:
    try:
        found: LongFile = read_long("log.csv", content, "utf-8", how, how.sensors[0], blocks=blocks)
    except ReadingsRefused as refused:
        return refused.faults
    return found.track.pack(), found.rows, found.faults, found.repeated, found.left_out, found.problems


@settings(max_examples=150, deadline=None)
@given(
    lines=LINES,
    form=st.sampled_from(sorted(WRITTEN)),
    zone=st.sampled_from([BERLIN, UTC, timezone(timedelta(hours=-5))]),
    start=st.sampled_from(["2027-07-27T08:10", "2027-10-31T00:40", "2027-03-28T00:40"]),
    ends=st.sampled_from(["\n", "\r\n", "\r"]),
    piece=st.sampled_from([1, 40, 300, 100_000]),
    quoted=st.sampled_from(["{0};{1}", '"{0}";{1}', '"{0}";"{1}"']),
)
def test_blocks_and_rows_say_the_same_of_every_file(
    lines: list[tuple[int, str, Callable[[str, str], str]]],
    form: str,
    zone: tzinfo,
    start: str,
    ends: str,
    piece: int,
    quoted: str,
) -> None:
    """Hours that come twice or never, faults, empty and short lines, quotation marks, offsets here and there."""
    at, text = datetime.fromisoformat(start), "Time;Air"
    for step, cell, written in lines:
        at += timedelta(minutes=step)
        time = WRITTEN[form](at)
        text += ends + (quoted.format(time, cell) if written is PLAIN else written(time, cell))
    how = layout(form, zone)
    by_rows = told(text.encode(), how, blocks=False)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(long_blocks, "PIECE", piece)
        assert told(text.encode(), how, blocks=True) == by_rows


@pytest.mark.parametrize("form", ["DD.MM.YYYY hh:mm:ss", "DD.MM.YYYY hh:mm:ss AM"])
def test_a_date_apart_from_its_time_is_read_in_blocks_too(form: str) -> None:
    half = " AM" if form.endswith("AM") else ""
    text = "\n".join(["Day;Time;Air", *(f"27.07.2027 ; {hour:02d}:05:00{half};4,1" for hour in range(1, 12)), ""])
    how = layout(form, UTC, (0, 1))
    found = told(text.encode(), how, blocks=True)
    assert found == told(text.encode(), how, blocks=False)
    assert found[1] == 11


@pytest.mark.parametrize("line", ["{0},{1}", '"{0}","{1}"', '"{0}",{1},x'])
def test_a_plain_file_never_goes_row_by_row(line: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Else it would be slow, and nothing but the bench would notice."""
    plain = rows("2027-07-27T08:00", timedelta(minutes=1), [f"{4 + number % 9 / 10:.1f}" for number in range(9000)])
    text = "\n".join(["Time,Air", *(line.format(*row.split(",")) for row in plain), ""])
    assert len(text) > 2 * long_blocks.PIECE
    how = Layout(",", ".", 1, (0,), time_form("ISO"), (SensorColumn(1, "Air", Unit.CELSIUS),), BERLIN)
    monkeypatch.setattr(long_blocks.BlockReading, "_rows", None)
    assert read_long("log.csv", text.encode(), "utf-8", how, how.sensors[0]).rows == 9000


def test_the_time_may_be_the_last_column() -> None:
    how = Layout(";", ",", 1, (1,), time_form("ISO"), (SensorColumn(0, "Air", Unit.CELSIUS),), BERLIN)
    text = "\n".join(["Air;Time", *(f"4,1;2027-07-27T08:{minute:02d}" for minute in range(30)), ""])
    found = told(text.encode(), how, blocks=True)
    assert (found, found[1]) == (told(text.encode(), how, blocks=False), 30)


@pytest.mark.parametrize(
    ("block", "cells"),
    [
        ("a;b\nc;d\n", ["a", "b\n", "c", "d"]),
        ("a;b\r\nc;d", ["a", "b\n", "c", "d"]),
        ("a;b\rc;d", None),
        ("a;b\n\nc;d\n", None),
        ("a;b;c\nd\n", None),
        ("a\nb\n", None),
        ('"a";b\n"c";d\n', ['"a"', "b\n", '"c"', "d"]),
        ('"a";b\nc;d\n', None),
        ('"a;b"\n"c;d"\n', None),
        ('a;"b\nc";d\n', None),
        ('";"""\n', None),
        (f"a;{'b' * MOST_CHARACTERS}", None),
    ],
)
def test_only_lines_of_one_width_are_cut_into_columns(block: str, cells: list[str] | None) -> None:
    found = columns(block, ";", 2)
    assert (None if found is None else found.cells) == cells
