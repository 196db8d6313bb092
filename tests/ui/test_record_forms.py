"""Notes and photos at the desk: added to a container that was scanned, or to an alarm that is cleared."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from station.care import alarms
from station.care.facts import Attached
from station.care.words import Disposition
from station.labels.plaincodes import TagKind, tag_text
from station.scanning.heard import HeardScan
from station.services.attachments import attachments_of
from station.ui.dialogs.clear_dialog import ClearDialog, ClearWord
from station.ui.dialogs.evidence_dialog import EvidenceDialog
from station.ui.window import StationWindow
from tests.ui.plants import Plant, mid_shift
from tests.ui.test_lead_forms import scan, the, touch, verdict

JPEG = b"\xff\xd8\xff\xe0 a photo"


@pytest.fixture
def plant() -> Plant:
    return mid_shift()


@pytest.fixture
def desk(plant: Plant, qtbot: QtBot) -> Iterator[StationWindow]:
    shown = StationWindow(plant.work, None)
    qtbot.addWidget(shown)
    shown.resize(1024, 768)
    shown.show()
    shown.hear(HeardScan(tag_text(TagKind.PLACE, "DESK"), ""))
    yield shown
    shown.close()


def note_form(desk: StationWindow, plant: Plant) -> EvidenceDialog:
    scan(desk, plant, "a6")
    touch(desk, "More")
    touch(desk, "Note or photo")
    return the(desk, EvidenceDialog)


def test_a_photo_and_a_note_of_a_container_are_on_record_and_shown_next_time(
    desk: StationWindow, plant: Plant, tmp_path: Path
) -> None:
    photo = tmp_path / "pail.jpg"
    photo.write_bytes(JPEG)
    form = note_form(desk, plant)
    form.hand_in.click()
    assert form.isVisible()  # nothing said yet
    form.note.fill("lid was off")
    form.files.take((photo,))
    form.hand_in.click()
    assert verdict(desk).headline == "ON RECORD"
    (fact,) = attachments_of(plant.station.ledger, f"container:{plant.names['a6']}")
    assert isinstance(fact.body, Attached)
    assert plant.station.evidence.fetch(fact.body.digest) == JPEG
    again = note_form(desk, plant)
    assert any(part.text().endswith("pail.jpg, lid was off") for part in again.findChildren(QLabel))


def test_a_file_that_is_no_proof_is_refused_in_the_form(desk: StationWindow, plant: Plant, tmp_path: Path) -> None:
    program = tmp_path / "photo.jpg"
    program.write_bytes(b"MZ\x90\x00")
    form = note_form(desk, plant)
    form.files.take((program,))
    form.hand_in.click()
    assert "photo.jpg is no picture" in form.sentence.text()
    assert attachments_of(plant.station.ledger, f"container:{plant.names['a6']}") == ()


def test_a_photo_can_be_kept_with_the_clearing_of_an_alarm(desk: StationWindow, plant: Plant, tmp_path: Path) -> None:
    photo = tmp_path / "bench.jpg"
    photo.write_bytes(JPEG)
    floor = plant.station.floor()
    found = next(alarm for alarm, _ in alarms.open_alarms(floor) if alarm.subject in floor.ledger.containers)
    desk.dialogs.open("clear", found.id)
    form = the(desk, ClearDialog)
    assert form.photos.isVisible()
    form.offered.emit(ClearWord("P20", "0000", "behind the printer", Disposition.DISCARDED, None, "", None, (photo,)))
    assert form.isVisible()
    assert list(plant.station.evidence.digests()) == []
    form.offered.emit(ClearWord("P20", "2020", "behind the printer", Disposition.DISCARDED, None, "", None, (photo,)))
    assert verdict(desk).headline == "ALARM CLEARED"
    (fact,) = attachments_of(plant.station.ledger, f"alarm:{found.id}")
    assert fact.who == "P20"
    assert isinstance(fact.body, Attached)
    assert plant.station.evidence.fetch(fact.body.digest) == JPEG
