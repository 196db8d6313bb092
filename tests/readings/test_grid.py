"""Bytes to text and text to cells."""

import pytest

from station.readings.grid import Line, decode, separator_line, split
from station.readings.series import ReadingsRefused

TEXT = "Zeit;Kühlschrank °C\n"


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_the_usual_character_sets_are_told_apart_by_themselves(encoding: str) -> None:
    assert decode("a.csv", TEXT.encode(encoding)) == TEXT


def test_another_character_set_can_be_declared() -> None:
    assert decode("a.csv", TEXT.encode("utf-16-le"), "utf-16-le") == TEXT
    assert decode("a.csv", TEXT.encode("utf-8-sig"), "utf-8") == TEXT


@pytest.mark.parametrize(
    ("content", "encoding", "told"),
    [
        (b"", None, "the file is empty"),
        (b" \r\n", None, "the file is empty"),
        (TEXT.encode("utf-16-le"), None, "declare its encoding"),
        (b"\xff", "utf-8", "no text in utf-8"),
        (b"x", "klingon", "Declare another encoding"),
    ],
)
def test_what_is_no_text_is_refused(content: bytes, encoding: str | None, told: str) -> None:
    with pytest.raises(ReadingsRefused, match=told):
        decode("a.csv", content, encoding)


def test_rows_keep_the_line_numbers_of_the_file() -> None:
    found = split("a.csv", 'a; b\r\n\r\n"c;d";\n;\n', ";")
    assert found == (Line(1, ("a", "b")), Line(3, ("c;d", "")))


def test_a_quotation_mark_that_never_closes_is_told_and_swallows_nothing() -> None:
    with pytest.raises(ReadingsRefused, match="quotation marks do not match"):
        split("a.csv", 'a;"b\nc;d\n', ";")


def test_a_first_line_that_names_the_separator() -> None:
    assert separator_line("sep=;\r\na;b\n") == ";"
    assert separator_line("separator;\n") is None
