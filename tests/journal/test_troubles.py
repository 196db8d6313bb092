"""Every failure of the disk or the engine has a stable code and a sentence that ends with what to do."""

import errno
import sqlite3
from pathlib import Path

import pytest

from station.journal import troubles
from station.journal.troubles import from_os, told
from station.services.ports import JournalEnvironment, JournalRefusal, JournalTrouble

PATH = Path("/data/journal.sqlite")


def engine_error(code: int) -> sqlite3.OperationalError:
    error = sqlite3.OperationalError("as the engine says")
    error.sqlite_errorcode, error.sqlite_errorname = code, f"CODE_{code}"
    return error


# Primary codes and extended ones, whose low byte is the primary (sqlite.org, "Result and Error Codes").
@pytest.mark.parametrize(
    ("code", "expected"),
    [
        (13, "journal-full"),
        (8, "journal-read-only"),
        (8 | 4 << 8, "journal-read-only"),
        (3, "journal-read-only"),
        (14, "journal-no-access"),
        (23, "journal-no-access"),
        (10, "journal-disk"),
        (10 | 4 << 8, "journal-disk"),
        (22, "journal-disk"),
        (15, "journal-disk"),
        (7, "journal-disk"),
        (9, "journal-disk"),
        (11, "journal-damaged"),
        (26, "journal-damaged"),
        (5, "journal-locked"),
        (5 | 2 << 8, "journal-locked"),
        (6, "journal-locked"),
    ],
)
def test_what_the_engine_says_is_told_to_people(code: int, expected: str) -> None:
    with pytest.raises(JournalEnvironment) as caught, told(PATH):
        raise engine_error(code)
    assert caught.value.code == expected
    assert str(PATH) in str(caught.value)
    assert caught.value.detail == f"CODE_{code}: as the engine says"


@pytest.mark.parametrize("error", [engine_error(1), engine_error(19), sqlite3.ProgrammingError("closed")])
def test_a_fault_of_this_program_stays_one(error: sqlite3.Error) -> None:
    with pytest.raises(type(error)) as caught, told(PATH):
        raise error
    assert caught.value is error


@pytest.mark.parametrize(
    ("number", "expected"),
    [
        (errno.ENOSPC, "journal-full"),
        (errno.EDQUOT, "journal-full"),
        (errno.EROFS, "journal-read-only"),
        (errno.EACCES, "journal-no-access"),
        (errno.ENOENT, "journal-no-access"),
        (errno.EIO, "journal-disk"),
        (None, "journal-disk"),
    ],
)
def test_what_the_operating_system_says_is_told_to_people(number: int | None, expected: str) -> None:
    error = OSError() if number is None else OSError(number, "as the system says")
    assert from_os(error, PATH).code == expected


def test_every_sentence_names_the_place_and_the_next_step() -> None:
    meanings = {*troubles._BY_SQLITE_CODE.values(), *troubles._BY_ERRNO.values()}
    for meaning in meanings:
        assert "{path}" in meaning.sentence
        assert meaning.sentence.count(". ") >= 1
        assert meaning.sentence.endswith(".")
    assert len({meaning.code for meaning in meanings}) == len(meanings)


def test_a_trouble_reads_as_its_sentence() -> None:
    trouble = JournalRefusal("journal-x", "Do this.")
    assert isinstance(trouble, JournalTrouble)
    assert (str(trouble), trouble.detail) == ("Do this.", "")
