"""`station verify` and `station backup`: nothing is claimed of the record that was not looked at."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from station.bootstrap import JOURNAL_NAME, KEY_NAME
from station.care import facts as f
from station.journal.evidence import FOLDER, FolderEvidence
from station.journal.store import Journal
from station.journal.verify import verify
from station.services.ports import Draft
from tests.cli.conftest import Say


def change_a_row(data: Path) -> int:
    """Makes another paste of one received container, behind the program's back; gives the row."""
    with closing(sqlite3.connect(data / JOURNAL_NAME)) as connection, connection:
        query = "SELECT max(seq) FROM facts WHERE stored LIKE '%\"SN-4\"%'"
        row = int(connection.execute(query).fetchone()[0])
        connection.execute("UPDATE facts SET stored = replace(stored, 'SN-4', 'SN-6') WHERE seq = ?", (row,))
    return row


def test_a_whole_journal_is_ok_and_shows_the_digest_to_note(station: Say, data: Path) -> None:
    answer = station("verify", "--data", data)
    assert (answer.code, answer.err) == (0, "")
    (chain,) = verify(data / JOURNAL_NAME).chains
    assert f"journal {chain.journal:016x}: {chain.rows} facts, head {chain.head}" in answer.out
    assert "It has no key" in answer.out


def test_a_changed_row_is_found_and_is_the_answer_no(station: Say, data: Path) -> None:
    row = change_a_row(data)
    answer = station("verify", "--data", data)
    assert answer.code == 1
    assert f"row {row}" in answer.err
    assert "does not hold together" in answer.err
    assert "ok:" not in answer.out


def test_a_digest_noted_earlier_must_still_be_there(station: Say, data: Path) -> None:
    head = verify(data / JOURNAL_NAME).chains[0].head
    there = station("verify", "--data", data, "--digest", head[:16])
    assert (there.code, "The record holds the digest given" in there.out) == (0, True)
    gone = station("verify", "--data", data, "--digest", head, "--digest", "0123456789abcdef")
    assert gone.code == 1
    assert "'0123456789abcdef' is not in the journal" in gone.err


def test_a_file_with_digests_is_taken_for_what_it_holds(station: Say, data: Path, tmp_path: Path) -> None:
    head = verify(data / JOURNAL_NAME).chains[0].head
    note = tmp_path / "monday.txt"
    note.write_text(f"journal 00ab, 7 facts\nhead: {head.upper()}\nof {'9' * 70}\n", encoding="utf-8")
    assert station("verify", "--data", data, "--digest", note).code == 0
    note.write_text(f"head {head} and {'9' * 64}\n", encoding="utf-8")
    gone = station("verify", "--data", data, "--digest", note)
    assert gone.code == 1
    assert "'9999" in gone.err
    note.write_text("nothing to see", encoding="utf-8")
    assert "has no digest" in station("verify", "--data", data, "--digest", note).err


def test_a_kept_file_that_is_gone_or_changed_is_found(station: Say, data: Path) -> None:
    evidence = FolderEvidence(data / FOLDER)
    with Journal.open(data / JOURNAL_NAME) as journal:
        *_, last = journal.facts()
        note, photo = (
            f.Attached("lot:SN-4/101", "photo", "a.jpg", d, 3, "") for d in ("", evidence.keep(b"\xff\xd8a"))
        )
        journal.append([Draft(body, last.at, 1, "P12", last.segment) for body in (note, photo)])
    assert "1 kept files are whole" in station("verify", "--data", data).out
    (data / FOLDER / photo.digest).write_bytes(b"\xff\xd8b")
    assert "was changed after it was kept" in station("verify", "--data", data).err
    (data / FOLDER / photo.digest).unlink()
    gone = station("verify", "--data", data)
    assert gone.code == 1
    assert photo.digest[:12] in gone.err


def test_a_journal_that_continues_a_row_nobody_has_is_found(station: Say, data: Path) -> None:
    (chain,) = verify(data / JOURNAL_NAME).chains
    for continues, code in (
        (f"{chain.journal:016x}-{chain.rows}-{chain.head}", 0),
        (f"{chain.journal:016x}-{chain.rows + 5}-{chain.head}", 1),
    ):
        with Journal.open(data / JOURNAL_NAME) as journal:
            *_, last = journal.facts()
            journal.append([Draft(f.StationStarted("test", False, continues), last.at, 1, None, last.segment)])
        answer = station("verify", "--data", data)
        assert answer.code == code, answer.err
    assert "no such row is here" in answer.err


def test_no_journal_is_no_answer_at_all(station: Say, tmp_path: Path) -> None:
    answer = station("verify", "--data", tmp_path)
    assert (answer.code, answer.out) == (2, "")
    assert "cannot be opened" in answer.err


def test_a_backup_holds_journal_and_key_and_says_done_once_both_are_there(
    station: Say, data: Path, tmp_path: Path
) -> None:
    copy = tmp_path / "copies" / "monday.sqlite"
    copy.parent.mkdir()
    answer = station("backup", copy, "--data", data)
    assert (answer.code, answer.err) == (0, "")
    assert answer.out.startswith("done: ")
    assert verify(copy).chains == verify(data / JOURNAL_NAME).chains
    key = copy.with_name(f"{copy.name}.{KEY_NAME}")
    assert key.read_bytes() == (data / KEY_NAME).read_bytes()
    assert str(copy) in answer.out
    assert str(key) in answer.out


def test_a_backup_may_replace_an_earlier_one(station: Say, data: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy.sqlite"
    assert station("backup", copy, "--data", data).code == 0
    assert station("backup", copy, "--data", data).code == 0


def test_a_backup_replaces_nothing_else(station: Say, data: Path, tmp_path: Path) -> None:
    letter = tmp_path / "letter.txt"
    letter.write_text("dear customer", encoding="utf-8")
    answer = station("backup", letter, "--data", data)
    assert answer.code == 2
    assert "is no backup of a journal" in answer.err
    assert letter.read_text(encoding="utf-8") == "dear customer"


def test_a_backup_without_a_key_never_says_done(station: Say, data: Path, tmp_path: Path) -> None:
    (data / KEY_NAME).unlink()
    answer = station("backup", tmp_path / "copy.sqlite", "--data", data)
    assert answer.code == 1
    assert "There is no key" in answer.err
    assert "done" not in answer.out
    assert (tmp_path / "copy.sqlite").exists()  # half a copy is better than none


def test_a_backup_of_a_broken_journal_keeps_it_but_never_says_done(station: Say, data: Path, tmp_path: Path) -> None:
    row = change_a_row(data)
    answer = station("backup", tmp_path / "copy.sqlite", "--data", data)
    assert answer.code == 1
    assert f"row {row}" in answer.err
    assert "done" not in answer.out


@pytest.mark.parametrize("name", ["no/such/folder/copy.sqlite", ""])
def test_a_backup_that_cannot_be_written_says_so(station: Say, data: Path, tmp_path: Path, name: str) -> None:
    answer = station("backup", tmp_path / name, "--data", data)
    assert answer.code == 2
    assert answer.out == ""
    assert "Traceback" not in answer.err
    assert answer.err.strip().endswith(".")
