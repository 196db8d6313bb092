"""A journal read at one moment beside the program that writes it, without touching it."""

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from station.care import facts as f
from station.journal.snapshot import snapshot
from station.journal.store import Journal
from station.services.ports import Draft, JournalEnvironment

SIX = datetime(2026, 11, 9, 6, tzinfo=UTC)


def draft(temperature: float) -> Draft:
    return Draft(f.RoomRead(temperature, 40.0), SIX, 1, "P1", f.Segment("boot", 0))


def test_a_snapshot_has_every_fact_and_the_head_while_the_journal_is_open(tmp_path: Path) -> None:
    path = tmp_path / "journal.sqlite"
    with Journal.open(path) as journal:
        assert snapshot(path).head == journal.head()[1] == "0" * 64
        facts = journal.append([draft(21.0), draft(22.0)])
        found = snapshot(path)
        assert (found.facts, found.own, found.head) == (facts, journal.own, journal.head()[1])
        journal.append([draft(23.0)])  # reading held nothing up
    assert len(found.facts) == 2
    assert len(snapshot(path).facts) == 3


def test_a_fact_that_can_not_be_read_is_said_with_its_place(tmp_path: Path) -> None:
    path = tmp_path / "journal.sqlite"
    with Journal.open(path) as journal:
        journal.append([draft(21.0)])
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("UPDATE facts SET stored = 'torn'")
        connection.commit()
    with pytest.raises(JournalEnvironment) as trouble:
        snapshot(path)
    assert trouble.value.code == "journal-damaged"
