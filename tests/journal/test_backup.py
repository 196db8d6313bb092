"""BR-51: a backup holds everything, was opened and compared, and comes back as a journal of its own."""

import sqlite3
from pathlib import Path

import pytest

from station.journal import backup
from station.journal.backup import back_up, restore
from station.journal.database import copy_database
from station.journal.store import Journal
from station.journal.verify import Chain, verify
from station.services.ports import JournalEnvironment, JournalRefusal
from tests.journal.material import cleaning, cleanings, numbers, run_sql
from tests.journal.test_store import foreign_rows


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "data" / "journal.sqlite"


@pytest.fixture
def target(tmp_path: Path) -> Path:
    (tmp_path / "backups").mkdir()
    return tmp_path / "backups" / "monday.sqlite"


def test_br_51_a_backup_made_while_open_holds_every_fact(path: Path, target: Path, tmp_path: Path) -> None:
    with Journal.open(path) as journal:
        journal.append(cleanings(5))
        done = back_up(path, target)
        journal.append([cleaning(5)])
    assert (done.path, done.rows, done.verification.ok) == (target, 5, True)
    restore(target, tmp_path / "elsewhere.sqlite")
    with Journal.open(tmp_path / "elsewhere.sqlite") as elsewhere:
        assert numbers(elsewhere.facts()) == [0, 1, 2, 3, 4]


def test_a_backup_is_one_file_complete_by_itself(path: Path, target: Path) -> None:
    with Journal.open(path) as journal:
        journal.append(cleanings(5))
        back_up(path, target)
    assert [file.name for file in target.parent.iterdir()] == [target.name]
    target.chmod(0o444)
    assert verify(target).ok
    assert [file.name for file in target.parent.iterdir()] == [target.name]


def test_other_stations_facts_are_in_it_too(path: Path, target: Path) -> None:
    with Journal.open(path) as journal:
        journal.append(cleanings(2))
        foreign_rows(path, journal=5, ticks=[1, 2, 3])
        assert back_up(path, target).rows == 5


def test_an_empty_journal_can_be_backed_up_and_restored(path: Path, target: Path, tmp_path: Path) -> None:
    with Journal.open(path) as journal:
        assert back_up(path, target).rows == 0
    assert restore(target, tmp_path / "new.sqlite") == f"{journal.number:016x}-0-{'0' * 64}"


def test_keys_are_copied_along_and_kept_from_others(path: Path, target: Path, tmp_path: Path) -> None:
    key, old = tmp_path / "label.key", tmp_path / "label-old.key"
    key.write_bytes(b"\x00secret\xff")
    old.write_bytes(b"older")
    with Journal.open(path):
        done = back_up(path, target, keys=[key, old])
        assert done.keys == (
            target.with_name("monday.sqlite.label.key"),
            target.with_name("monday.sqlite.label-old.key"),
        )
        assert [copy.read_bytes() for copy in done.keys] == [b"\x00secret\xff", b"older"]
        assert done.keys[0].stat().st_mode & 0o077 == 0
        back_up(path, target, keys=[key, old])
    assert len(list(target.parent.iterdir())) == 3


def test_two_keys_of_one_name_are_not_written_over_each_other(path: Path, target: Path, tmp_path: Path) -> None:
    Journal.open(path).close()
    with pytest.raises(ValueError, match="one name"):
        back_up(path, target, keys=[tmp_path / "a" / "key", tmp_path / "b" / "key"])


def test_a_backup_that_fails_leaves_the_earlier_one(path: Path, target: Path, tmp_path: Path) -> None:
    with Journal.open(path) as journal:
        journal.append(cleanings(3))
        back_up(path, target)
        before = target.read_bytes()
        journal.append(cleanings(3))
        with pytest.raises(JournalEnvironment) as caught:
            back_up(path, target, keys=[tmp_path / "no such key"])
    assert caught.value.code == "journal-no-access"
    assert "no such key" in caught.value.sentence
    assert target.read_bytes() == before
    assert [file.name for file in target.parent.iterdir()] == [target.name]


def test_what_a_power_cut_left_of_an_earlier_try_does_no_harm(path: Path, target: Path) -> None:
    with Journal.open(path) as journal:
        journal.append(cleanings(3))
        for end in ("", "-journal", "-wal"):
            target.with_name(f"{target.name}.part{end}").write_bytes(b"half" * 300)
        assert back_up(path, target).rows == 3
    assert [file.name for file in target.parent.iterdir()] == [target.name]


def test_a_copy_that_is_not_equal_is_never_called_a_backup(
    path: Path, target: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def forgetful(source: sqlite3.Connection, copy: Path) -> None:
        copy_database(source, copy)
        run_sql(copy, ("DELETE FROM facts WHERE seq = 3", ()))

    monkeypatch.setattr(backup, "copy_database", forgetful)
    with Journal.open(path) as journal:
        journal.append(cleanings(3))
        with pytest.raises(JournalEnvironment, match="not equal to the journal and was thrown away") as caught:
            back_up(path, target)
    assert caught.value.code == "backup-unequal"
    assert list(target.parent.iterdir()) == []


def test_a_journal_with_findings_is_backed_up_and_says_so_but_not_restored(
    path: Path, target: Path, tmp_path: Path
) -> None:
    with Journal.open(path) as journal:
        journal.append(cleanings(3))
    run_sql(path, ("UPDATE facts SET stored = replace(stored, 'P-1', 'P-7') WHERE seq = 2", ()))
    done = back_up(path, target)
    assert [finding.seq for finding in done.verification.findings] == [2]
    with pytest.raises(JournalRefusal, match=r"row 2: .* Restore an earlier backup") as caught:
        restore(target, tmp_path / "new.sqlite")
    assert caught.value.code == "backup-broken"
    assert not (tmp_path / "new.sqlite").exists()


def test_a_backup_onto_the_journal_itself_is_refused(path: Path) -> None:
    with Journal.open(path) as journal:
        journal.append(cleanings(3))
        with pytest.raises(JournalRefusal) as caught:
            back_up(path, path.parent / ".." / "data" / path.name)
        assert caught.value.code == "backup-onto-itself"
        assert numbers(journal.facts()) == [0, 1, 2]


def test_a_backup_to_nowhere_is_told(path: Path, tmp_path: Path) -> None:
    with Journal.open(path), pytest.raises(JournalEnvironment) as caught:
        back_up(path, tmp_path / "unplugged" / "backup.sqlite")
    assert caught.value.code == "journal-no-access"
    assert "unplugged" in caught.value.sentence


def test_no_journal_no_backup(path: Path, target: Path) -> None:
    with pytest.raises(JournalEnvironment) as caught:
        back_up(path, target)
    assert "data/journal.sqlite" in caught.value.sentence.replace("\\", "/")
    assert list(target.parent.iterdir()) == []


def test_a_restored_journal_has_a_number_of_its_own_and_says_what_it_continues(
    path: Path, target: Path, tmp_path: Path
) -> None:
    with Journal.open(path) as journal:
        journal.append(cleanings(3))
        old, (seq, digest) = journal.number, journal.head()
        back_up(path, target)
        journal.append([cleaning(3)])
    new = tmp_path / "new" / "journal.sqlite"
    new.parent.mkdir()
    assert restore(target, new) == f"{old:016x}-{seq}-{digest}"
    with Journal.open(new) as restored:
        (fact,) = restored.append([cleaning(4)])
        assert (fact.seq, fact.tick, restored.number != old) == (1, 4, True)
        assert numbers(restored.facts()) == [0, 1, 2, 4]
    assert verify(new, digests=[digest]).ok
    assert [chain.rows for chain in verify(new).chains if chain.journal == old] == [3]
    assert verify(target).chains == (Chain(old, 3, digest),)


def test_a_restore_never_covers_a_journal(path: Path, target: Path) -> None:
    with Journal.open(path) as journal:
        journal.append(cleanings(3))
        back_up(path, target)
    before = path.read_bytes()
    with pytest.raises(JournalRefusal, match=r"journal.sqlite is in the way") as caught:
        restore(target, path)
    assert caught.value.code == "restore-onto-journal"
    assert path.read_bytes() == before

    path.unlink()
    path.with_name("journal.sqlite-wal").write_bytes(b"an old log")
    with pytest.raises(JournalRefusal, match=r"journal.sqlite-wal is in the way"):
        restore(target, path)


def test_after_damage_a_restore_gets_the_station_going_again(path: Path, target: Path) -> None:
    with Journal.open(path) as journal:
        journal.append(cleanings(3))
        back_up(path, target)
    path.write_bytes(path.read_bytes()[:-4096])
    with pytest.raises(JournalEnvironment):
        Journal.open(path)
    restore(target, path)
    with Journal.open(path) as journal:
        assert numbers(journal.facts()) == [0, 1, 2]
    assert path.with_name("journal.sqlite.damaged-1").exists()


def test_a_restore_onto_a_share_is_refused(target: Path) -> None:
    with pytest.raises(JournalRefusal) as caught:
        restore(target, Path("//server/share/journal.sqlite"))
    assert caught.value.code == "journal-network-share"


def test_a_restored_journal_knows_what_it_continues_until_its_first_fact_is_written(
    path: Path, target: Path, tmp_path: Path
) -> None:
    with Journal.open(path) as journal:
        journal.append(cleanings(2))
        back_up(path, target)
        assert (journal.continues, journal.own) == ("", frozenset({journal.number}))
    again, once_more = tmp_path / "again.sqlite", tmp_path / "once-more.sqlite"
    told = restore(target, again)
    with Journal.open(again) as second:
        assert second.continues == told
        second.append([cleaning(3)])
        assert (second.continues, second.own) == ("", frozenset({journal.number, second.number}))
        back_up(again, target)
    restore(target, once_more)
    with Journal.open(once_more) as third:
        assert third.continues.startswith(f"{second.number:016x}-1-")
        assert third.own == {journal.number, second.number, third.number}
