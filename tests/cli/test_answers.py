"""`station answers`: the decision table, printed or written."""

from pathlib import Path

import pytest

from station.rehearsal.answers.page import page
from tests.cli.conftest import Say

# whichever test comes first builds the whole table, for all of the group: a minute, and more on a busy machine
pytestmark = [pytest.mark.timeout(400), pytest.mark.xdist_group("answers")]


def test_the_table_is_printed(station: Say) -> None:
    answer = station("answers")
    assert (answer.code, answer.err) == (0, "")
    assert answer.out == page()


def test_the_table_is_written_and_what_stands_there_is_replaced(station: Say, tmp_path: Path) -> None:
    file = tmp_path / "answers.md"
    file.write_text("old", encoding="utf-8")
    answer = station("answers", file)
    assert (answer.code, answer.out) == (0, f"done: {file}\n")
    assert file.read_bytes() == page().encode()


def test_a_folder_that_is_not_there_is_said(station: Say, tmp_path: Path) -> None:
    answer = station("answers", tmp_path / "nowhere" / "answers.md")
    assert (answer.code, answer.out) == (2, "")
    assert "can't be written (No such file or directory). Choose another file, or make its folder." in answer.err
