"""Before the first fact: what is refused, what is kept aside, and that the refused touch nothing."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from station.journal.database import inspect
from station.journal.lock import LOCK_NAME, FolderLock
from station.journal.store import Journal
from station.journal.upgrade import refuse_newer
from station.services.ports import JournalEnvironment, JournalRefusal, JournalTrouble
from tests.journal.children import killed_after, running
from tests.journal.material import cleaning, cleanings, numbers, run_sql


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "data" / "journal.sqlite"


def folder_state(folder: Path) -> dict[str, tuple[bytes, int]]:
    return {
        file.name: (file.read_bytes(), file.stat().st_mtime_ns)
        for file in sorted(folder.iterdir())
        if not file.name.endswith("-shm")  # memory shared by readers, holds no facts
        and (file.stat().st_size or not file.name.endswith("-wal"))  # a reader makes an empty one
    }


def refusal(path: Path) -> JournalTrouble:
    with pytest.raises(JournalTrouble) as caught:
        Journal.open(path)
    return caught.value


def filled(path: Path) -> None:
    with Journal.open(path) as journal:
        journal.append(cleanings(5))


@pytest.mark.parametrize("name", ["Kühlraum ë 최", "50% #1?x=y", "with blank"])
def test_br_64_folders_of_any_name_work(tmp_path: Path, name: str) -> None:
    path = tmp_path / name / "Tür 1" / "journal.sqlite"
    filled(path)
    with Journal.open(path) as journal:
        assert numbers(journal.facts()) == [0, 1, 2, 3, 4]


def test_a_file_where_the_folder_should_be_is_told(tmp_path: Path) -> None:
    (tmp_path / "data").write_text("not a folder")
    trouble = refusal(tmp_path / "data" / "journal.sqlite")
    assert isinstance(trouble, JournalEnvironment)
    assert trouble.code == "journal-no-access"


@pytest.mark.parametrize("path", ["//server/share/station/journal.sqlite", r"\\server\share\station\journal.sqlite"])
def test_br_48_a_network_share_is_refused_before_anything_is_made(
    path: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)  # where a name with backslashes would end up on Linux
    trouble = refusal(Path(path))
    assert isinstance(trouble, JournalRefusal)
    assert trouble.code == "journal-network-share"
    assert "Choose a folder on a disk of this PC" in trouble.sentence
    assert not Path("//server").exists()
    assert list(tmp_path.iterdir()) == []


@pytest.mark.faults
def test_br_58_a_second_program_is_refused_and_touches_nothing(path: Path) -> None:
    with running("race", path) as first:
        first.say("go")
        assert first.hear() == "open"
        before = folder_state(path.parent)
        trouble = refusal(path)
        assert folder_state(path.parent) == before
    assert isinstance(trouble, JournalRefusal)
    assert trouble.code == "journal-in-use"
    assert "already running" in trouble.sentence


@pytest.mark.faults
def test_br_58_of_two_started_at_the_same_moment_exactly_one_runs(path: Path) -> None:
    with running("race", path) as one, running("race", path) as two:
        for _ in range(20):
            one.say("go")
            two.say("go")
            assert sorted([one.hear(), two.hear()]) == ["journal-in-use", "open"]
            one.say("done")
            two.say("done")
            assert (one.hear(), two.hear()) == ("closed", "closed")


def test_br_57_a_lock_file_left_behind_or_naming_a_living_process_means_nothing(path: Path) -> None:
    path.parent.mkdir()
    (path.parent / LOCK_NAME).write_text(str(os.getppid()))
    filled(path)
    assert (path.parent / LOCK_NAME).read_text() == str(os.getppid())


def test_a_helper_process_started_meanwhile_does_not_keep_the_lock(path: Path) -> None:
    journal = Journal.open(path)
    helper = subprocess.Popen([sys.executable, "-c", "input()"], stdin=subprocess.PIPE)
    try:
        journal.close()
        filled(path)
    finally:
        helper.communicate(b"\n")


def test_a_lock_taken_earlier_stays_with_its_taker(tmp_path: Path) -> None:
    lock = FolderLock.take(tmp_path)
    Journal.open(tmp_path / "journal.sqlite", lock=lock).close()
    assert refusal(tmp_path / "journal.sqlite").code == "journal-in-use"
    lock.release()
    lock.release()
    filled(tmp_path / "journal.sqlite")


def test_a_file_of_a_newer_program_is_refused_untouched(path: Path) -> None:
    filled(path)
    run_sql(path, ("PRAGMA user_version = 2", ()))
    before = folder_state(path.parent)
    trouble = refusal(path)
    assert isinstance(trouble, JournalRefusal)
    assert trouble.code == "journal-newer"
    assert "file version 2, this program knows up to 1" in trouble.sentence
    assert folder_state(path.parent) == before


@pytest.mark.faults
def test_a_newer_file_left_by_a_power_cut_keeps_its_log_untouched(path: Path) -> None:
    killed_after(3, path)
    state = folder_state(path.parent)
    later = inspect(path) + 1
    with pytest.raises(JournalRefusal):
        refuse_newer(path, later, ())
    assert folder_state(path.parent) == state


def test_another_programs_database_is_refused_untouched(path: Path) -> None:
    path.parent.mkdir()
    run_sql(path, ("CREATE TABLE recipes (name TEXT)", ()))
    before = path.read_bytes()
    trouble = refusal(path)
    assert trouble.code == "journal-foreign"
    assert path.read_bytes() == before


@pytest.mark.parametrize("content", [b"", b"x" * 5000, b"SQLite format 3\x00" + b"\xff" * 8176])
def test_what_is_no_database_is_kept_aside(path: Path, content: bytes) -> None:
    path.parent.mkdir()
    path.write_bytes(content)
    assert refusal(path).code == "journal-damaged"
    assert path.with_name("journal.sqlite.damaged-1").read_bytes() == content


@pytest.mark.faults
def test_a_damaged_file_takes_its_log_along_unchanged(path: Path) -> None:
    killed_after(3, path)
    log = path.with_name("journal.sqlite-wal")
    content = log.read_bytes()
    path.write_bytes(b"rubbish" + path.read_bytes()[7:])
    log.write_bytes(content[:40] + b"rubbish" + content[47:])
    damaged, damaged_log = path.read_bytes(), log.read_bytes()
    assert refusal(path).code == "journal-damaged"
    assert path.with_name("journal.sqlite.damaged-1").read_bytes() == damaged
    assert path.with_name("journal.sqlite.damaged-1-wal").read_bytes() == damaged_log
    assert not log.exists()


def test_damage_inside_a_page_is_found_at_the_start(path: Path) -> None:
    with Journal.open(path) as journal:
        journal.append(cleanings(300))
    content = bytearray(path.read_bytes())
    content[4096 * 5 : 4096 * 6] = bytes(4096)
    path.write_bytes(content)
    assert refusal(path).code == "journal-damaged"


def test_what_the_page_check_finds_goes_to_the_log(path: Path) -> None:
    filled(path)
    content = bytearray(path.read_bytes())
    content[39] = 5  # number of free pages, bytes 36 to 39 (sqlite.org, "Database File Format")
    path.write_bytes(content)
    trouble = refusal(path)
    assert trouble.code == "journal-damaged"
    assert "reelist" in trouble.detail


def test_a_folder_where_the_file_should_be_is_not_called_damage(path: Path) -> None:
    path.mkdir(parents=True)
    assert refusal(path).code in {"journal-disk", "journal-no-access"}
    assert path.is_dir()


def test_after_damage_no_empty_journal_is_started_in_silence(path: Path) -> None:
    filled(path)
    path.write_bytes(b"")
    assert refusal(path).code == "journal-damaged"
    before = folder_state(path.parent)
    again = refusal(path)
    assert isinstance(again, JournalRefusal)
    assert again.code == "journal-missing"
    assert "journal.sqlite.damaged-1" in again.sentence
    assert folder_state(path.parent) == before

    path.write_bytes(b"")
    assert refusal(path).code == "journal-damaged"
    assert path.with_name("journal.sqlite.damaged-2").exists()

    for left in path.parent.glob("*damaged*"):
        left.unlink()
    with Journal.open(path) as journal:
        assert journal.created


@pytest.mark.faults
def test_a_log_without_its_database_is_a_loss_and_told(path: Path) -> None:
    killed_after(3, path)
    path.unlink()
    assert refusal(path).code == "journal-missing"
    assert not path.exists()


def test_a_half_made_new_journal_is_made_again(path: Path) -> None:
    path.parent.mkdir()
    path.with_name("journal.sqlite.part").write_bytes(b"half")
    filled(path)
    assert not path.with_name("journal.sqlite.part").exists()


def test_a_file_that_does_not_know_its_own_number_is_told(path: Path) -> None:
    filled(path)
    run_sql(path, ("DELETE FROM own", ()))
    trouble = refusal(path)
    assert (trouble.code, trouble.detail) == ("journal-damaged", "table own has 0 rows")
    run_sql(path, ("INSERT INTO own VALUES ('000000000000002a')", ()))
    with Journal.open(path) as journal:
        assert journal.number == 42
        journal.append([cleaning(1)])
