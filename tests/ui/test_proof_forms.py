"""The record given out at the desk: a digest that verify takes back, an export that checks itself, or nothing."""

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from threading import Event

import pytest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from station.bootstrap import DEMO_KEYS, JOURNAL_NAME, NoPrinter, build_station
from station.care.facts import Fact, RecordAsked
from station.journal.evidence import FOLDER as EVIDENCE
from station.journal.evidence import FolderEvidence
from station.journal.store import Journal
from station.journal.verify import verify
from station.labels.plaincodes import TagKind, badge_text, tag_text
from station.rehearsal.clock import SetClock
from station.reports import record_export
from station.scanning.heard import HeardScan
from station.services.attaching import Enclosed
from station.services.attachments import attach
from station.services.proof import digests_in
from station.services.station import Station
from station.settings.load import load
from station.ui import proof_forms, proof_work
from station.ui.desk_work import DeskWork
from station.ui.dialogs.export_dialog import ExportDialog
from station.ui.dialogs.report_dialog import AS_CSV, AS_PDF, ShownReport
from station.ui.dialogs.sheet import MoreDialog, ReadDialog
from station.ui.proof_forms import FOLDER
from station.ui.window import StationWindow
from tests.ui.plants import DEMO, NOW, mid_shift
from tests.ui.test_report_forms import seen
from tests.ui.test_sheet_forms import Documents

DAY = "2026-11-24"


@pytest.fixture
def station(tmp_path: Path) -> Iterator[Station]:
    data = tmp_path / "data"
    with Journal.open(data / JOURNAL_NAME) as journal:
        evidence = FolderEvidence(data / EVIDENCE)
        found = build_station(load(DEMO), journal, SetClock(NOW), DEMO_KEYS, NoPrinter(), journal.own, evidence)
        found.start("test")
        attach(found, "store:FRIDGE", "door seal", [Enclosed("seal.jpg", b"\xff\xd8\xff\xe0 seal")], found.place)
        yield found


@pytest.fixture
def desk(station: Station, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[StationWindow]:
    yield from opened(DeskWork(station), qtbot, tmp_path, monkeypatch)


def opened(work: DeskWork, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[StationWindow]:
    monkeypatch.setattr(Documents, "at", tmp_path)
    monkeypatch.setattr(proof_forms, "QStandardPaths", Documents)
    shown = StationWindow(work, None)
    qtbot.addWidget(shown)
    shown.resize(1024, 768)
    shown.show()
    shown.hear(HeardScan(tag_text(TagKind.PLACE, "DESK"), ""))
    yield shown
    shown.close()


def asked(station: Station) -> list[Fact]:
    return [fact for fact in station.ledger.facts() if isinstance(fact.body, RecordAsked)]


def digest(desk: StationWindow, qtbot: QtBot) -> ShownReport:
    desk.act("digest:")
    (form,) = seen(desk, MoreDialog)
    next(button for button in form.buttons if button.action_model.id == DAY).click()
    qtbot.waitUntil(lambda: bool(seen(desk, ShownReport)), timeout=20_000)
    return seen(desk, ShownReport)[0]


def hand_in(desk: StationWindow, pin: str = "2020", first: str = "", last: str = "") -> ExportDialog:
    desk.act("export:")
    (form,) = seen(desk, ExportDialog)
    form.badge.fill("P20")
    form.pin.fill(pin)
    form.first.fill(first)
    form.last.fill(last)
    form.hand_in.click()
    return form


def test_a_digest_says_where_the_record_stands_and_who_had_it_made(
    desk: StationWindow, station: Station, qtbot: QtBot, tmp_path: Path
) -> None:
    desk.hear(HeardScan(badge_text("P12"), ""))
    shown = digest(desk, qtbot)
    (fact,) = asked(station)
    assert fact.who == "P12"
    told = dict(shown.report.told)
    assert told["made by"] == "Robin Alder (P12)"
    assert "not over" in told["mind"]
    file = tmp_path / "data" / JOURNAL_NAME
    heads = [chain.head for chain in verify(file).chains]
    assert [row[4] for row in shown.report.tables[0].rows] == heads
    for form in (AS_CSV, AS_PDF):
        next(button for button in shown.files if button.action_model.id == form).click()
    written = {path.suffix: path for path in (tmp_path / FOLDER).iterdir()}
    assert set(written) == {".csv", ".pdf"}
    noted = digests_in(written[".csv"].read_text(encoding="utf-8-sig"))
    station.start("later")
    assert noted == tuple(heads)
    assert verify(file, noted).ok


def test_an_export_is_written_for_a_lead_and_checks_itself(
    desk: StationWindow, station: Station, qtbot: QtBot, tmp_path: Path
) -> None:
    hand_in(desk)
    qtbot.waitUntil(lambda: bool(seen(desk, ReadDialog)), timeout=20_000)
    (folder,) = (tmp_path / FOLDER).iterdir()
    (shown,) = seen(desk, ReadDialog)
    assert str(folder) in [part.text() for part in shown.findChildren(QLabel)]
    (fact,) = asked(station)
    assert (fact.who, isinstance(fact.body, RecordAsked) and fact.body.into) == ("P20", folder.name)
    command = [sys.executable, "-I", "-S", str(folder / "check_chain.py")]
    done = subprocess.run(command, capture_output=True, text=True, cwd=folder, check=False, timeout=60)
    assert (done.returncode, done.stderr) == (0, ""), done.stdout
    assert "record-asked" in (folder / "facts.jsonl").read_text(encoding="utf-8")
    assert len(list((folder / "evidence").iterdir())) == 1


@pytest.mark.parametrize(
    ("pin", "first", "last"), [("2021", "", ""), ("2020", "soon", ""), ("2020", "2026-11-24", "2026-11-23")]
)
def test_nothing_is_written_or_recorded_for_a_wrong_pin_or_wrong_days(
    desk: StationWindow, station: Station, tmp_path: Path, pin: str, first: str, last: str
) -> None:
    assert hand_in(desk, pin, first, last).isVisible()
    assert asked(station) == []
    assert not (tmp_path / FOLDER).exists()


def test_leaving_the_form_stops_the_export_and_leaves_nothing_of_it(
    desk: StationWindow, station: Station, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun, go_on = Event(), Event()
    writing = record_export.export

    def slowly(*told: object) -> tuple[str, ...]:
        begun.set()
        go_on.wait(20)
        return writing(*told)  # type: ignore[arg-type]

    monkeypatch.setattr(proof_work, "export", slowly)
    form = hand_in(desk)
    qtbot.waitUntil(begun.is_set, timeout=20_000)
    assert form.isVisible()
    form.leave()
    go_on.set()
    qtbot.waitUntil(lambda: desk.dialogs._proof._errand is None, timeout=20_000)
    assert list((tmp_path / FOLDER).iterdir()) == []
    assert not seen(desk, ReadDialog)
    assert len(asked(station)) == 1


def test_a_folder_that_can_not_be_written_is_said_in_the_form(
    desk: StationWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    (tmp_path / FOLDER).write_text("in the way", encoding="utf-8")
    form = hand_in(desk)
    qtbot.waitUntil(lambda: "can't be written" in form.sentence.text(), timeout=20_000)


@pytest.mark.parametrize("act", ["digest:", "export:"])
def test_a_record_in_memory_only_has_no_file_to_give_out(
    act: str, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plant = mid_shift()
    for desk in opened(plant.work, qtbot, tmp_path, monkeypatch):
        desk.act(act)
        (shown,) = seen(desk, ReadDialog)
        assert proof_forms.IN_MEMORY in [part.text() for part in shown.findChildren(QLabel)]
