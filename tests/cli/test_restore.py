"""`station restore` and what a backup holds of kept files: all of it comes back, and no number twice."""

from itertools import pairwise
from pathlib import Path

import pytest

from station.bootstrap import JOURNAL_NAME, KEY_NAME, NoPrinter, build_station, keys_in
from station.journal.evidence import FOLDER, FolderEvidence
from station.journal.store import Journal
from station.rehearsal.clock import SetClock
from station.services.attaching import Enclosed, attached
from station.services.numbering import STRETCH
from station.services.ports import Draft
from station.services.station import Station
from station.settings.load import load
from tests.cli.answers import DEMO
from tests.cli.conftest import START, Say

PHOTO = b"\xff\xd8\xff\xe0 a photo"


@pytest.fixture
def backup(station: Say, data: Path, tmp_path: Path) -> Path:
    """A backup of a folder in which a photo was kept."""
    with Journal.open(data / JOURNAL_NAME) as journal:
        *_, last = journal.facts()
        files = [Enclosed("pail.jpg", PHOTO)]
        for body in attached(FolderEvidence(data / FOLDER), "container:K1-001", "photo", files):
            journal.append([Draft(body, START, 1, "P12", last.segment)])
    copy = tmp_path / "copies" / "monday.sqlite"
    copy.parent.mkdir()
    answer = station("backup", copy, "--data", data)
    assert (answer.code, answer.err) == (0, "")
    assert "1 kept files" in answer.out
    return copy


def opened(data: Path, journal: Journal) -> Station:
    keys = keys_in(data, create=False)
    return build_station(load(DEMO), journal, SetClock(START), keys, NoPrinter(), journal.own)


def test_a_backup_comes_back_with_key_and_kept_files(station: Say, data: Path, backup: Path, tmp_path: Path) -> None:
    answer = station("restore", backup, "--data", tmp_path / "new")
    assert (answer.code, answer.err) == (0, "")
    assert "Start the station, run station verify; labels printed after this backup are not on record." in answer.out
    assert (tmp_path / "new" / KEY_NAME).read_bytes() == (data / KEY_NAME).read_bytes()
    (digest,) = FolderEvidence(data / FOLDER).digests()
    assert FolderEvidence(tmp_path / "new" / FOLDER).fetch(digest) == PHOTO


def test_no_container_number_comes_twice_after_a_restore(
    station: Say, data: Path, backup: Path, tmp_path: Path
) -> None:
    with Journal.open(data / JOURNAL_NAME) as journal:
        lost = opened(data, journal).new_container()  # given after the backup, so nobody will know of it
    new = tmp_path / "new"
    assert station("restore", backup, "--data", new).code == 0
    with Journal.open(new / JOURNAL_NAME) as journal:
        again = opened(new, journal)
        again.start("test", journal.continues)
        first = again.new_container()
        (kept,) = again.reserve("SN-4", 1, "P12")
    assert lost == "K1-003"
    assert int(first[3:]) > 2 * STRETCH
    assert kept == f"K1-{int(first[3:]) + 1}"
    with Journal.open(new / JOURNAL_NAME) as journal:
        later = opened(new, journal)
        later.start("test", journal.continues)
        assert later.new_container() == f"K1-{int(first[3:]) + 2}"


def test_what_the_backup_knows_is_on_hold_from_the_first_start_on_and_only_once(
    station: Say, backup: Path, tmp_path: Path
) -> None:
    new = tmp_path / "new"
    assert station("restore", backup, "--data", new).code == 0
    for started in (1, 2):
        with Journal.open(new / JOURNAL_NAME) as journal:
            again = opened(new, journal)
            said = again.start("test", journal.continues).trouble
            holds = [[hold.note for hold in one.holds] for one in again.floor().alive()]
        note = "backup of Mon 9 Nov 06:01; what happened since is not known"
        assert (started, holds) == (started, [[note], [note]])
        assert f"This station goes on from a {note}. On hold since: 2." in said


def restored(station: Say, backup: Path, data: Path) -> int:
    """The first number a station gives that was restored from a backup."""
    assert station("restore", backup, "--data", data).code == 0
    with Journal.open(data / JOURNAL_NAME) as journal:
        again = opened(data, journal)
        again.start("test", journal.continues)
        return int(again.new_container()[3:])


def test_two_stations_restored_from_one_backup_number_apart(station: Say, backup: Path, tmp_path: Path) -> None:
    first = sorted(restored(station, backup, tmp_path / str(times)) for times in range(5))
    assert all(later - before >= STRETCH for before, later in pairwise(first))
    noted = backup.with_name(f"{backup.name}.restored").read_text(encoding="ascii").split()
    assert len(set(noted)) == 5


def test_a_backup_whose_list_of_restores_cannot_be_written_is_restored_all_the_same(
    station: Say, backup: Path, tmp_path: Path
) -> None:
    backup.with_name(f"{backup.name}.restored").mkdir()
    assert restored(station, backup, tmp_path / "new") > STRETCH


@pytest.mark.parametrize("words", [("sheet", "down.pdf", "--down"), ("import-stock", "stock.csv")])
def test_no_number_is_given_before_the_restored_station_has_started(
    station: Say, backup: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("stock.csv").write_text(
        "paste,kind,lot,store,bin,arrived,expires\nSN-4,JAR-500,1,FRIDGE,A1,2026-11-01,2027-11-01\n", encoding="utf-8"
    )
    assert station("restore", backup, "--data", "new").code == 0
    answer = station(*words, "--config", DEMO, "--data", "new")
    assert answer.code == 2
    assert "Start the station once first." in answer.err


@pytest.mark.parametrize("name", [JOURNAL_NAME, f"{JOURNAL_NAME}-wal", KEY_NAME, FOLDER])
def test_a_restore_covers_nothing(station: Say, backup: Path, tmp_path: Path, name: str) -> None:
    there = tmp_path / "new" / name
    there.mkdir(parents=True)
    answer = station("restore", backup, "--data", tmp_path / "new")
    assert answer.code == 2
    assert f"{name} is in the way" in answer.err
    assert [file for file in (tmp_path / "new").iterdir() if file.name != "station.lock"] == [there]


def test_a_running_station_keeps_its_folder(station: Say, data: Path, backup: Path) -> None:
    with Journal.open(data / JOURNAL_NAME):
        answer = station("restore", backup, "--data", data)
    assert answer.code == 2
    assert "already running" in answer.err


def test_without_its_key_a_backup_is_not_restored(station: Say, backup: Path, tmp_path: Path) -> None:
    backup.with_name(f"{backup.name}.{KEY_NAME}").unlink()
    answer = station("restore", backup, "--data", tmp_path / "new")
    assert answer.code == 2
    assert "no label in the plant could be read" in answer.err


def test_a_restore_that_fails_leaves_nothing(station: Say, backup: Path, tmp_path: Path) -> None:
    backup.write_bytes(backup.read_bytes()[:-4096])
    answer = station("restore", backup, "--data", tmp_path / "new")
    assert answer.code == 2
    assert [file.name for file in (tmp_path / "new").iterdir()] == ["station.lock"]


def test_a_kept_file_that_was_changed_is_named_and_the_backup_is_not_called_done(
    station: Say, data: Path, backup: Path
) -> None:
    (digest,) = FolderEvidence(data / FOLDER).digests()
    (data / FOLDER / digest).write_bytes(b"another photo")
    answer = station("backup", backup, "--data", data)
    assert answer.code == 1
    assert digest in answer.err
    assert "done" not in answer.out
