"""Power cuts, torn writes, full and failing disks: what was told is stored, and what is stored is whole."""

import random
import shutil
import sqlite3
from collections.abc import Callable
from itertools import count
from pathlib import Path
from typing import Any

import pytest

from station.journal.store import Journal
from station.journal.verify import verify
from station.services.ports import JournalEnvironment
from tests.journal.children import Child, killed_after
from tests.journal.material import arrival, cleaning, cleanings, draft, numbers


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "data" / "journal.sqlite"


def whole_pairs(path: Path) -> int:
    """Check that the file holds an unbroken run of whole pairs and a good chain; how many pairs."""
    with Journal.open(path) as journal:
        found = numbers(journal.facts())
    assert found == [number for number in range(len(found) // 2) for _ in range(2)]
    assert verify(path).ok
    return len(found) // 2


@pytest.mark.faults
def test_br_49_57_nothing_told_is_lost_when_the_program_is_killed(path: Path) -> None:
    at_random = random.Random(49)
    for _ in range(8):
        told = killed_after(at_random.randint(1, 25), path)
        assert whole_pairs(path) > told[-1]


@pytest.mark.faults
def test_a_program_killed_while_it_makes_the_journal_can_start_again(path: Path) -> None:
    for _ in range(4):
        Child("append", path).kill()
        whole_pairs(path)
        shutil.rmtree(path.parent)


@pytest.mark.faults
def test_br_49_a_log_cut_anywhere_gives_an_unbroken_beginning(path: Path, tmp_path: Path) -> None:
    told = killed_after(30, path)
    log = path.with_name(f"{path.name}-wal")
    data, whole = path.read_bytes(), log.read_bytes()
    lengths = set()
    for case, offset in enumerate([*range(0, len(whole), len(whole) // 61), len(whole) - 1, len(whole)]):
        copy = tmp_path / f"cut-{case}" / path.name
        copy.parent.mkdir()
        copy.write_bytes(data)
        copy.with_name(log.name).write_bytes(whole[:offset])
        lengths.add(whole_pairs(copy))
    assert max(lengths) > told[-1]
    assert len(lengths) > 20


def test_br_49_a_file_with_its_end_cut_off_is_kept_aside_and_never_replaced(path: Path) -> None:
    with Journal.open(path) as journal:
        journal.append(cleanings(200))
    cut = path.read_bytes()[:-4096]
    path.write_bytes(cut)

    with pytest.raises(JournalEnvironment, match=r"kept aside unchanged as journal.sqlite.damaged-1") as caught:
        Journal.open(path)
    assert caught.value.code == "journal-damaged"
    assert caught.value.detail
    assert not path.exists()
    assert path.with_name("journal.sqlite.damaged-1").read_bytes() == cut


def test_br_50_a_full_disk_is_told_and_what_was_stored_stays(path: Path) -> None:
    with Journal.open(path) as journal:
        journal.append(cleanings(10))
        pages = journal._connection.execute("PRAGMA page_count").fetchone()[0]
        journal._connection.execute(f"PRAGMA max_page_count = {pages + 1}")
        with pytest.raises(JournalEnvironment, match="The disk is full") as caught:
            journal.append([cleaning(10), arrival("L", note="x" * 20_000)])
        assert caught.value.code == "journal-full"
        assert numbers(journal.facts()) == list(range(10))

        journal._connection.execute("PRAGMA max_page_count = 100000")
        journal.append([cleaning(10)])
    with Journal.open(path) as journal:
        assert numbers(journal.facts()) == list(range(11))
    assert verify(path).ok


class Failing(sqlite3.Connection):
    """A disk that fails at the n-th call, once or from then on."""

    calls_left: int | None = None
    stays_broken = False

    def execute(self, sql: str, *values: Any) -> sqlite3.Cursor:
        cls = type(self)
        if cls.calls_left is not None:
            cls.calls_left -= 1
            if cls.calls_left == 0 or (cls.stays_broken and cls.calls_left < 0):
                raise disk_error()
        return super().execute(sql, *values)


def disk_error() -> sqlite3.OperationalError:
    error = sqlite3.OperationalError("disk I/O error")
    error.sqlite_errorcode, error.sqlite_errorname = sqlite3.SQLITE_IOERR_FSYNC, "SQLITE_IOERR_FSYNC"
    return error


def fails_at(nth: int, stays_broken: bool, act: Callable[[], object]) -> bool:
    """Whether the act failed, as it must if the disk did, and only then."""
    Failing.calls_left, Failing.stays_broken = nth, stays_broken
    code = None
    try:
        act()
    except JournalEnvironment as trouble:
        code = trouble.code
    failed = Failing.calls_left <= 0
    Failing.calls_left = None
    assert code == ("journal-disk" if failed else None)
    return failed


@pytest.mark.parametrize("stays_broken", [False, True])
def test_whichever_call_fails_the_append_is_all_or_nothing_and_the_next_one_works(
    path: Path, stays_broken: bool
) -> None:
    with Journal.open(path, factory=Failing) as journal:
        for nth in count(1):
            before = numbers(journal.facts())
            failed = fails_at(nth, stays_broken, lambda: journal.append(cleanings(2, start=100)))
            assert numbers(journal.facts()) == before + ([] if failed else [100, 101])
            journal.append([cleaning(nth)])
            if not failed:
                break
        expected = [*range(1, nth), 100, 101, nth]
        assert numbers(journal.facts()) == expected
    assert nth > 5
    assert verify(path).ok


def test_whichever_call_fails_a_journal_that_did_not_open_is_free_again(path: Path) -> None:
    for nth in count(1):
        opened: list[Journal] = []
        failed = fails_at(nth, True, lambda: opened.append(Journal.open(path, factory=Failing)))  # noqa: B023
        for journal in opened:
            journal.close()
        with Journal.open(path) as again:
            again.append([draft(cleaning(nth).body)])
        if not failed:
            break
    assert nth > 3
    assert verify(path).ok


def test_a_disk_that_fails_while_reading_is_told(path: Path) -> None:
    with Journal.open(path, factory=Failing) as journal:
        journal.append(cleanings(2))
        assert fails_at(1, False, journal.head)
        assert fails_at(2, False, lambda: list(journal.facts()))
