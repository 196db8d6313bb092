"""Upgrades of the file: a copy first, all steps or none."""

import sqlite3
from pathlib import Path

import pytest

from station.journal.database import Step
from station.journal.store import Journal
from station.journal.verify import verify
from station.services.ports import JournalEnvironment, JournalRefusal
from tests.journal.material import cleanings, numbers, run_sql


def table(name: str) -> Step:
    def step(connection: sqlite3.Connection) -> None:
        connection.execute(f"CREATE TABLE {name} (a TEXT)")

    return step


def disk_gives_out(connection: sqlite3.Connection) -> None:
    connection.execute("PRAGMA max_page_count = 1")
    connection.execute("CREATE TABLE too_much (a TEXT)")


def ends_by_itself(connection: sqlite3.Connection) -> None:
    connection.execute("ROLLBACK")
    raise sqlite3.ProgrammingError("a step that broke its rule")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A journal of version 1 with a few facts."""
    with Journal.open(tmp_path / "journal.sqlite") as journal:
        journal.append(cleanings(4))
        return journal.path


def version(path: Path) -> int:
    return int(run_sql(path, ("PRAGMA user_version", ()))[0][0])


def tables(path: Path) -> set[str]:
    return {row[0] for row in run_sql(path, ("SELECT name FROM sqlite_master WHERE type = 'table'", ()))}


def test_an_older_file_is_brought_up_step_by_step_and_kept_as_it_was(path: Path) -> None:
    steps = [table("second"), table("third")]
    with Journal.open(path, steps=steps) as journal:
        assert numbers(journal.facts()) == [0, 1, 2, 3]
        journal.append(cleanings(1, start=4))
    kept = path.with_name("journal.sqlite.version-1")
    assert (version(path), version(kept)) == (3, 1)
    assert tables(path) - tables(kept) == {"second", "third"}
    assert verify(path, steps=steps).ok
    assert verify(kept).chains[0].rows == 4


def test_an_upgrade_runs_once(path: Path) -> None:
    for _ in range(2):
        Journal.open(path, steps=[table("second")]).close()
    assert version(path) == 2


def test_a_file_between_versions_gets_only_the_steps_it_lacks(path: Path) -> None:
    Journal.open(path, steps=[table("second")]).close()
    Journal.open(path, steps=[table("second"), table("third")]).close()
    assert version(path) == 3
    assert path.with_name("journal.sqlite.version-2").exists()


def test_a_failed_upgrade_leaves_the_file_byte_for_byte(path: Path) -> None:
    before = path.read_bytes()
    with pytest.raises(JournalEnvironment) as caught:
        Journal.open(path, steps=[table("second"), disk_gives_out])
    assert caught.value.code == "journal-full"
    assert path.read_bytes() == before
    with Journal.open(path) as journal:
        assert numbers(journal.facts()) == [0, 1, 2, 3]


def test_a_step_that_breaks_its_rule_is_a_fault_of_the_program(path: Path) -> None:
    with pytest.raises(sqlite3.ProgrammingError, match="broke its rule"):
        Journal.open(path, steps=[ends_by_itself])
    assert version(path) == 1


def test_a_new_journal_has_all_that_the_newest_version_has(tmp_path: Path) -> None:
    new = tmp_path / "new" / "journal.sqlite"
    Journal.open(new, steps=[table("second")]).close()
    assert version(new) == 2
    assert "second" in tables(new)


def test_going_back_to_the_older_program_is_refused(path: Path) -> None:
    Journal.open(path, steps=[table("second")]).close()
    with pytest.raises(JournalRefusal, match="newer version"):
        Journal.open(path)
