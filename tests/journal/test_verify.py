"""The check of the chain: any change of any stored row is found and named; later rows are not blamed."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from station.journal.store import Journal
from station.journal.verify import NOT_THERE, Verification, verify
from station.services.ports import JournalEnvironment, JournalRefusal
from tests.journal.material import cleaning, cleanings, run_sql
from tests.journal.test_store import foreign_rows


@pytest.fixture
def path(tmp_path: Path) -> Path:
    with Journal.open(tmp_path / "journal.sqlite") as journal:
        journal.append(cleanings(4))
        return journal.path


def named(verification: Verification) -> list[int | None]:
    return [finding.seq for finding in verification.findings]


def test_a_good_journal_has_no_findings(path: Path) -> None:
    verification = verify(path)
    with Journal.open(path) as journal:
        number, (seq, head) = journal.number, journal.head()
    assert verification.ok
    (chain,) = verification.chains
    assert (chain.journal, chain.rows, chain.head) == (number, seq, head)


def test_an_empty_journal_is_good(tmp_path: Path) -> None:
    Journal.open(tmp_path / "journal.sqlite").close()
    assert verify(tmp_path / "journal.sqlite") == Verification((), ())


def test_it_can_be_checked_while_in_use(path: Path) -> None:
    with Journal.open(path) as journal:
        journal.append([cleaning(5)])
        assert verify(path).chains[0].rows == 5


@pytest.fixture
def rows(path: Path) -> list[tuple[int, bytes, str]]:
    rows: list[tuple[int, bytes, str]] = run_sql(path, ("SELECT seq, CAST(stored AS BLOB), hash FROM facts", ()))
    return rows


def test_any_changed_byte_of_any_row_is_found_and_the_row_named(path: Path, rows: list[tuple[int, bytes, str]]) -> None:
    """In the file itself, behind SQLite's back; what the page check says first is as good a finding."""
    whole = path.read_bytes()
    for seq, stored, digest in rows:
        for content in (stored, digest.encode()):
            start = whole.index(content)
            for offset in range(start, start + len(content), 3):
                changed = bytearray(whole)
                changed[offset] ^= 0x01
                path.write_bytes(changed)
                assert seq in named(verify(path)), offset


def changes(stored: bytes) -> Iterator[bytes]:
    for place in range(len(stored)):
        for bit in (0x01, 0x20, 0x80):
            yield stored[:place] + bytes([stored[place] ^ bit]) + stored[place + 1 :]


def test_only_the_changed_row_is_named(path: Path, rows: list[tuple[int, bytes, str]]) -> None:
    seq, stored, _ = rows[1]
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        for changed in list(changes(stored))[::7]:
            connection.execute("UPDATE facts SET stored = CAST(? AS TEXT) WHERE seq = ?", (changed, seq))
            assert set(named(verify(path))) == {2}


@pytest.mark.parametrize(
    ("change", "found"),
    [
        ("SET stored = replace(stored, 'P-1', 'P-7') WHERE seq = 2", [2]),
        ("SET hash = upper(hash) WHERE seq = 4", [4]),
        ("SET hash = replace(hash, substr(hash, 1, 1), 'x') WHERE seq = 2", [2]),
        ("SET hash = 'none' WHERE seq = 4", [4]),
        ("SET hash = '" + "0" * 64 + "' WHERE seq = 2", [2]),
        ("SET tick = 9 WHERE seq = 3", [3]),
        ("SET seq = 9 WHERE seq = 4", [9, 9]),
        ("SET seq = 9 WHERE seq = 2", [3, 9, 9]),
        ("SET stored = 'null' WHERE seq = 1", [1, 1]),
        ("SET stored = '[1]' WHERE seq = 1", [1, 1]),
    ],
)
def test_a_change_by_hand_is_named(path: Path, change: str, found: list[int]) -> None:
    run_sql(path, (f"UPDATE facts {change}", ()))
    assert named(verify(path)) == found


def test_a_row_moved_to_another_journal_is_named(path: Path) -> None:
    run_sql(path, ("UPDATE facts SET journal = 'not a number' WHERE seq = 4", ()))
    verification = verify(path)
    assert [(finding.journal, finding.seq) for finding in verification.findings] == [("not a number", 4)] * 2
    assert min(chain.journal for chain in verification.chains) == -1


def test_rows_taken_out_are_named_and_what_follows_is_not_blamed(path: Path) -> None:
    run_sql(path, ("DELETE FROM facts WHERE seq IN (2, 3)", ()))
    (finding,) = verify(path).findings
    assert finding.seq == 4
    assert "rows 2 to 3 are missing before it" in finding.sentence


def test_each_journal_in_the_file_is_checked_by_itself(path: Path) -> None:
    foreign_rows(path, journal=5, ticks=[1, 2, 3])
    assert [chain.rows for chain in verify(path).chains] in ([3, 4], [4, 3])
    run_sql(path, ("UPDATE facts SET stored = replace(stored, 'P-1002', 'P-1') WHERE journal = ?", (f"{5:016x}",)))
    (finding,) = verify(path).findings
    assert (finding.journal, finding.seq) == (f"{5:016x}", 2)


def test_a_digest_printed_earlier_must_still_be_there(path: Path, rows: list[tuple[int, bytes, str]]) -> None:
    whole, short = rows[2][2], rows[3][2][:16]
    spaced = " ".join([short[:4], short[4:8], short[8:12], short[12:]]).upper()
    assert verify(path, digests=[whole, short, spaced]).ok

    run_sql(path, ("DELETE FROM facts WHERE seq = 4", ()))
    assert verify(path).ok  # the chain alone cannot miss its own end
    (finding,) = verify(path, digests=[whole, short]).findings
    assert finding.sentence == f"Digest '{short}' is not in the journal. {NOT_THERE}"
    assert finding.seq is None


def test_a_journal_written_anew_does_not_hold_the_old_digest(path: Path, tmp_path: Path) -> None:
    with Journal.open(path) as journal:
        printed = journal.head()[1]
    with Journal.open(tmp_path / "other" / "journal.sqlite") as other:
        other.append(cleanings(4))
    assert verify(other.path).ok
    assert not verify(other.path, digests=[printed]).ok


def test_a_digest_too_short_to_prove_anything_is_said_so(path: Path, rows: list[tuple[int, bytes, str]]) -> None:
    (finding,) = verify(path, digests=[rows[0][2][:15]]).findings
    assert "too short" in finding.sentence


def test_what_cannot_be_read_as_a_journal_is_told(path: Path) -> None:
    with pytest.raises(JournalEnvironment) as missing:
        verify(path.with_name("none.sqlite"))
    assert missing.value.code == "journal-no-access"
    run_sql(path, ("PRAGMA user_version = 9", ()))
    with pytest.raises(JournalRefusal) as newer:
        verify(path)
    assert newer.value.code == "journal-newer"
    path.write_bytes(b"rubbish")
    with pytest.raises(JournalEnvironment) as damaged:
        verify(path)
    assert damaged.value.code == "journal-damaged"
    assert path.read_bytes() == b"rubbish"
