"""The journal in daily use: what was appended is there, in order, chained, and unchanged."""

import hashlib
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.care.facts import Body, Cleaned
from station.journal import store
from station.journal.codec import Codec
from station.journal.database import NO_HASH
from station.journal.store import Journal
from station.services.ports import JournalEnvironment, JournalPort
from tests.journal.material import (
    BODIES,
    SEGMENT,
    T0,
    arrival,
    bodies,
    cleaning,
    cleanings,
    draft,
    numbers,
    placed,
    reading,
    run_sql,
)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "journal.sqlite"


@pytest.fixture
def journal(path: Path) -> Iterator[Journal]:
    with Journal.open(path) as opened:
        yield opened


def foreign_rows(path: Path, journal: int, ticks: list[int]) -> None:
    """Rows as another station's journal would bring them."""
    before = NO_HASH
    for seq, tick in enumerate(ticks, start=1):
        fact = placed(Cleaned(position=f"P-{1000 + tick}"))
        text, _ = Codec().write(type(fact)(journal, seq, tick, fact.at, 9, None, SEGMENT, fact.body))
        before = hashlib.sha256(bytes.fromhex(before) + text.encode()).hexdigest()
        run_sql(path, ("INSERT INTO facts VALUES (?, ?, ?, ?, ?)", (f"{journal:016x}", seq, tick, text, before)))


def test_a_new_journal_is_empty_and_says_that_it_is_new(journal: Journal, path: Path) -> None:
    assert journal.created
    assert journal.head() == (0, "0" * 64)
    assert list(journal.facts()) == []
    assert path.exists()


def test_it_serves_as_the_port_the_services_ask_for(journal: Journal) -> None:
    port: JournalPort = journal
    assert port.append([]) == ()
    assert port.head()[0] == 0


def test_what_was_appended_is_there_after_opening_again(path: Path) -> None:
    with Journal.open(path) as first:
        given = first.append(cleanings(3)) + first.append([reading(23.5)])
        number, head = first.number, first.head()
    with Journal.open(path) as second:
        assert tuple(second.facts()) == given
        assert (second.created, second.number, second.head()) == (False, number, head)
        assert second.append([cleaning(9)])[0].seq == 5


def test_each_fact_gets_its_place_and_keeps_what_the_draft_says(journal: Journal) -> None:
    first, second = journal.append(cleanings(2))
    assert (first.seq, first.tick, second.seq, second.tick) == (1, 1, 2, 2)
    assert (first.at, first.station, first.who, first.segment) == (T0, 3, "p-07", SEGMENT)
    assert first.journal == journal.number
    assert journal.append([cleaning(5)])[0].order == (3, journal.number, 3)


def test_what_append_returns_is_what_a_later_reading_gives(journal: Journal) -> None:
    berlin = datetime.fromisoformat("2027-10-31T02:30:00+01:00")
    appended = journal.append([draft(Cleaned("P-1"), at=berlin)])
    assert tuple(journal.facts()) == appended
    assert appended[0].at.tzinfo is UTC


def test_a_tick_is_one_above_the_largest_seen_from_any_station(journal: Journal, path: Path) -> None:
    journal.append(cleanings(2))
    foreign_rows(path, journal=5, ticks=[7, 40])
    assert [fact.tick for fact in journal.append(cleanings(2))] == [41, 42]
    assert journal.head()[0] == 4


def test_fold_order_is_tick_then_journal_then_number(journal: Journal, path: Path) -> None:
    journal.append(cleanings(3))
    foreign_rows(path, journal=0, ticks=[1, 3])
    foreign_rows(path, journal=2**64 - 1, ticks=[1, 2])
    orders = [fact.order for fact in journal.facts()]
    assert orders == sorted(orders)
    assert len(orders) == 7


def test_the_chain_is_sha_256_over_the_hash_before_and_the_bytes_as_stored(journal: Journal, path: Path) -> None:
    journal.append(cleanings(2))
    rows = run_sql(path, ("SELECT CAST(stored AS BLOB), hash FROM facts ORDER BY seq", ()))
    first = hashlib.sha256(bytes(32) + rows[0][0]).digest()
    second = hashlib.sha256(first + rows[1][0]).hexdigest()
    assert [row[1] for row in rows] == [first.hex(), second]
    assert journal.head() == (2, second)


def test_facts_are_read_in_pages_without_loss(journal: Journal, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(store, "PAGE", 3)
    journal.append(cleanings(10))
    assert numbers(journal.facts()) == list(range(10))


def test_br_47_appending_works_in_the_middle_of_reading_while_others_write(
    journal: Journal, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(store, "PAGE", 1)
    journal.append(cleanings(3))
    reading_on = journal.facts()
    first = next(reading_on)
    run_sql(path, ("CREATE TABLE another_program_was_here (a TEXT)", ()))
    journal.append([cleaning(99)])
    assert numbers([first, *reading_on]) == [0, 1, 2]
    assert numbers(journal.facts()) == [0, 1, 2, 99]


def test_br_47_a_write_waits_for_the_lock_of_another_program(path: Path) -> None:
    class LettingGo(sqlite3.Connection):
        """Another program commits as soon as we begin to wait for it."""

        held: sqlite3.Connection | None = None

        def execute(self, sql: str, *values: Any) -> sqlite3.Cursor:
            if self.held and sql == "BEGIN IMMEDIATE":
                with pytest.raises(sqlite3.OperationalError, match="locked"):
                    super().execute(sql, *values)
                self.held.execute("COMMIT")
            return super().execute(sql, *values)

    with (
        Journal.open(path, factory=LettingGo, busy_wait=timedelta(milliseconds=20)) as journal,
        closing(sqlite3.connect(path, isolation_level=None)) as other,
    ):
        other.execute("BEGIN IMMEDIATE")
        LettingGo.held = other
        assert journal.append([cleaning(1)])[0].seq == 1


def test_a_lock_that_is_not_let_go_is_told_and_the_scan_can_be_repeated(path: Path) -> None:
    with (
        Journal.open(path, busy_wait=timedelta(milliseconds=20)) as journal,
        closing(sqlite3.connect(path, isolation_level=None)) as other,
    ):
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(JournalEnvironment, match="Another program holds the journal") as e:
            journal.append([cleaning(1)])
        assert e.value.code == "journal-locked"
        assert e.value.sentence.endswith("then do the last step again.")
        assert "SQLITE_BUSY" in e.value.detail
        other.execute("ROLLBACK")
        journal.append([cleaning(1)])
        assert numbers(journal.facts()) == [1]


def test_br_52_a_frozen_clock_and_one_set_back_give_different_keys(tmp_path: Path) -> None:
    with Journal.open(tmp_path / "a" / "j") as one, Journal.open(tmp_path / "b" / "j") as two:
        hour_back = draft(Cleaned("P-1"), at=T0 - timedelta(hours=1))
        facts = [*one.append(cleanings(100)), *two.append(cleanings(100)), *one.append([hour_back] * 100)]
    assert len({fact.key for fact in facts}) == 300
    assert one.number != two.number


@pytest.mark.parametrize("lot", ["00123", "1E5", "15E2621", "+5"])
def test_br_55_lots_are_text_in_the_file_and_back(journal: Journal, path: Path, lot: str) -> None:
    journal.append([arrival(lot)])
    (back,) = journal.facts()
    assert back.body == arrival(lot).body
    kinds = run_sql(path, ("SELECT typeof(journal), typeof(seq), typeof(stored), typeof(hash) FROM facts", ()))
    assert kinds == [("text", "integer", "text", "text")]


def test_br_56_facts_since_an_instant_are_found_whatever_zone_they_were_given_in(journal: Journal) -> None:
    journal.append([draft(Cleaned("P-1"), at=datetime.fromisoformat("2027-07-01T08:00:00+02:00"))])
    (back,) = journal.facts()
    assert back.at == datetime(2027, 7, 1, 6, 0, tzinfo=UTC)
    assert not back.at >= datetime(2027, 7, 1, 6, 30, tzinfo=UTC)


def test_drafts_of_one_call_are_stored_all_or_none(journal: Journal) -> None:
    broken = draft(Cleaned(position=7))  # type: ignore[arg-type]
    journal.append([cleaning(1)])
    with pytest.raises(ValueError, match="'cleaned' has a field of a wrong type"):
        journal.append([cleaning(2), broken])
    assert numbers(journal.facts()) == [1]
    journal.append([cleaning(3)])
    assert numbers(journal.facts()) == [1, 3]


def test_a_row_that_cannot_be_read_is_told_with_its_key(journal: Journal, path: Path) -> None:
    journal.append(cleanings(3))
    run_sql(path, ("UPDATE facts SET stored = '{}' WHERE seq = 2", ()))
    with pytest.raises(JournalEnvironment, match="damaged") as caught:
        list(journal.facts())
    assert f"{journal.number:016x}-2" in caught.value.detail


def test_a_commit_waits_for_the_disk(journal: Journal) -> None:
    modes = [journal._connection.execute(f"PRAGMA {name}").fetchone()[0] for name in ("journal_mode", "synchronous")]
    assert modes == ["wal", 2]  # 2 is FULL (sqlite.org, "PRAGMA synchronous")


def test_using_a_closed_journal_is_a_fault_of_the_program(path: Path) -> None:
    journal = Journal.open(path)
    journal.close()
    journal.close()
    with pytest.raises(sqlite3.ProgrammingError):
        journal.append([cleaning(1)])


@settings(max_examples=10, deadline=None)
@given(st.lists(st.sampled_from(BODIES).flatmap(bodies), max_size=8))
def test_facts_of_every_kind_go_through_the_file(given_bodies: list[Body]) -> None:
    with TemporaryDirectory() as folder, Journal.open(Path(folder) / "journal") as journal:
        appended = journal.append([draft(body) for body in given_bodies])
        assert tuple(journal.facts()) == appended
