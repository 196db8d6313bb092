"""`station specs`: what is in force as a file that is there for good, and a file as drafts of an engineer."""

import io
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from station.bootstrap import JOURNAL_NAME, NoPrinter, build_station, keys_in
from station.care.paste_lists import ListTold
from station.care.specification import Product, Specification
from station.clock import SystemClock
from station.journal.lock import FolderLock
from station.journal.store import Journal
from station.services.specifications import approve_draft, set_paste_list
from station.services.station import Station
from station.settings import load
from tests.care.leading import ENGINEER_PROOF
from tests.cli.answers import Answer
from tests.cli.conftest import Say
from tests.settings.folders import Folder

CONFIG = Path(__file__).parents[1] / "plant_t"


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A data folder of plant T after one start; nothing may change it but by a copy."""
    folder = tmp_path_factory.mktemp("begun")
    keys_in(folder, create=True)
    _at_work(folder, lambda station: station.start("test"))
    return folder


@pytest.fixture
def data(begun: Path, tmp_path: Path) -> Path:
    folder = tmp_path / "data"
    folder.mkdir()
    for file in begun.iterdir():
        if file.is_file():
            (folder / file.name).write_bytes(file.read_bytes())
    return folder


def _at_work(folder: Path, act: Callable[[Station], object]) -> None:
    with Journal.open(folder / JOURNAL_NAME) as journal:
        keys = keys_in(folder, create=False)
        station = build_station(load(CONFIG), journal, SystemClock(), keys, NoPrinter(), journal.own)
        act(station)
        station.stop("test")


def ran(station: Say, task: str, file: Path, data: Path, *words: str) -> Answer:
    return station("specs", task, file, "--config", CONFIG, "--data", data, *words)


def typed(monkeypatch: pytest.MonkeyPatch, pin: str) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO(f"{pin}\n"))


def test_a_file_goes_out_is_changed_and_comes_in_as_a_draft_of_the_engineer(
    station: Say, data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "mine.toml"
    out = ran(station, "export", file, data)
    assert (out.code, out.err) == (0, "")
    assert "SN-4 version 1, of the settings" in out.out
    file.write_text(file.read_text(encoding="utf-8").replace('"24 h"', '"20 h"', 1), encoding="utf-8")
    dry = ran(station, "import", file, data, "--dry-run")
    assert (dry.code, dry.err) == (0, "")
    assert dry.out.splitlines()[:2] == ["  SN-4: open_life", "  PB-1: as in force, no draft"]
    typed(monkeypatch, "3030")
    into = ran(station, "import", file, data, "--by", "P30")
    assert (into.code, into.err) == (0, "")
    assert "done: 1 draft. Nothing goes by them before an engineer approves them" in into.out
    found: list[Specification] = []

    def approve(desk: Station) -> None:
        (draft,) = desk.ledger.rulebook.drafts
        assert (draft.source, draft.writer) == ("mine.toml", "P30")
        approve_draft(desk, draft.key, ENGINEER_PROOF)
        found.append(desk.floor().specification("SN-4"))

    _at_work(data, approve)
    assert (found[0].version, found[0].open_life.total_seconds()) == (2, 20 * 3600)
    asked = (
        "times",
        "--config",
        CONFIG,
        "--paste",
        "SN-4",
        "--kind",
        "JAR-500",
        "--out-at",
        "2026-11-09T06:00",
        "--json",
    )
    opened = ("--opened-at", "2026-11-09T09:00")
    assert station(*asked, *opened).json["discard_by"] == "2026-11-10T08:00:00Z"
    assert station(*asked, *opened, "--data", data).json["discard_by"] == "2026-11-10T04:00:00Z"
    again = ran(station, "export", tmp_path / "again.toml", data, "--paste", "SN-4")
    assert again.out.splitlines()[0] == "  SN-4 version 2, approved at the desk by P30"
    assert (tmp_path / "again.toml").read_text(encoding="utf-8").count("[[paste]]") == 1


def test_the_lists_of_products_go_out_as_the_desk_decided_them(station: Say, data: Path, tmp_path: Path) -> None:
    told = ListTold("SENS", ("SN-4",), 'Sensor "board"')
    _at_work(data, lambda desk: set_paste_list(desk, told, ENGINEER_PROOF))
    file = tmp_path / "lists.toml"
    answer = ran(station, "export", file, data, "--products")
    assert (answer.code, answer.err) == (0, "")
    assert answer.out.splitlines()[:3] == ["  CTRL: SN-4", "  POWER: PB-1", "  SENS: SN-4"]
    config = Folder(tmp_path / "config", CONFIG).path
    (config / "products.toml").write_text(file.read_text(encoding="utf-8"), encoding="utf-8")
    assert load(config).plant.products["SENS"] == Product("SENS", 'Sensor "board"', ("SN-4",))
    assert "Leave out --paste" in ran(station, "export", tmp_path / "x", data, "--products", "--paste", "SN-4").err


def test_every_fault_is_listed_and_nothing_is_recorded(station: Say, data: Path, tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    ran(station, "export", file, data)
    text = file.read_text(encoding="utf-8").replace('"24 h"', '"24"', 1).replace('"8 h"', '"9 hh"', 1)
    file.write_text(text, encoding="utf-8")
    before = (data / JOURNAL_NAME).read_bytes()
    answer = ran(station, "import", file, data, "--by", "P30")
    assert answer.code == 1
    assert len(answer.err.splitlines()) == 2
    assert "mine.toml, line" in answer.err
    assert answer.out == "2 faults in mine.toml: no draft is written.\n"
    assert (data / JOURNAL_NAME).read_bytes() == before


def test_a_new_paste_without_room_on_its_label_is_a_fault_too(station: Say, data: Path, tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    ran(station, "export", file, data, "--paste", "SN-4")
    text = file.read_text(encoding="utf-8").replace('"SN-4"', f'"{"W" * 16}"', 1)
    file.write_text(text.replace("number = 4\n", "number = 99\n"), encoding="utf-8")
    answer = ran(station, "import", file, data, "--dry-run")
    assert answer.code == 1
    assert "labels.toml" in answer.err


@pytest.mark.parametrize(
    ("pin", "words", "said"),
    [
        ("2020", ("--by", "P20"), "process engineer"),
        ("1111", ("--by", "P30"), "PIN"),
        ("3030", ("--by", "P99"), "Nobody here has badge"),
        ("3030", (), "is written by a process engineer. Add --by BADGE."),
    ],
)
def test_only_an_engineer_with_the_pin_writes_a_draft(
    station: Say,
    data: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    pin: str,
    words: tuple[str, ...],
    said: str,
) -> None:
    file = tmp_path / "mine.toml"
    ran(station, "export", file, data)
    file.write_text(file.read_text(encoding="utf-8").replace('"24 h"', '"20 h"', 1), encoding="utf-8")
    typed(monkeypatch, pin)
    answer = ran(station, "import", file, data, *words)
    assert answer.code == 2
    assert said in answer.err
    _at_work(data, lambda desk: None if desk.ledger.rulebook.drafts == () else pytest.fail("a draft is on record"))


def test_what_is_in_force_already_writes_nothing(station: Say, data: Path, tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    ran(station, "export", file, data)
    answer = ran(station, "import", file, data)
    assert (answer.code, answer.err) == (0, "")
    assert answer.out.splitlines()[-1] == "done: everything in it is in force already."


def test_what_can_not_be_done_is_said(station: Say, data: Path, tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    assert "There is no paste XX-1 here" in ran(station, "export", file, data, "--paste", "XX-1").err
    assert "is there already" in ran(station, "export", CONFIG / "pastes.toml", data).err
    assert "can't be written" in ran(station, "export", tmp_path / "no" / "file.toml", data).err
    assert "can't be read" in ran(station, "import", file, data).err
    assert "There is no journal" in ran(station, "export", file, tmp_path).err
    other = station("specs", "export", file, "--config", CONFIG.parent / "plant_f", "--data", data)
    assert "The record has no specification of SN-6 yet. Start the station once" in other.err


def test_a_station_at_work_keeps_drafts_out_but_not_the_export(station: Say, data: Path, tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    lock = FolderLock.take(data)
    try:
        exported = ran(station, "export", file, data)
        file.write_text(file.read_text(encoding="utf-8").replace('"24 h"', '"20 h"', 1), encoding="utf-8")
        dry, real = ran(station, "import", file, data, "--dry-run"), ran(station, "import", file, data, "--by", "P30")
    finally:
        lock.release()
    assert (exported.code, dry.code, real.code) == (0, 0, 2)
    assert "already running" in real.err
