"""Notes and photos at the desk: added to a container that was scanned, or to an alarm that is cleared."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from station.care import alarms
from station.care.facts import Attached
from station.care.story import story
from station.care.words import Disposition
from station.labels.plaincodes import TagKind, badge_text, tag_text
from station.scanning.heard import HeardScan
from station.services.attachments import attachments_of
from station.ui.dialogs.clear_dialog import ClearDialog, ClearWord
from station.ui.dialogs.evidence_dialog import EvidenceDialog
from station.ui.dialogs.subject_dialog import SubjectDialog
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


def asked(desk: StationWindow) -> SubjectDialog:
    desk.act("more:")
    touch(desk, "Record and reports")
    touch(desk, "Note or photo")
    return the(desk, SubjectDialog)


def kept(desk: StationWindow, plant: Plant, about: str) -> str:
    """Write a note in the form that is open; what the record has of it."""
    form = the(desk, EvidenceDialog)
    form.note.fill("wiped twice")
    form.hand_in.click()
    (fact,) = attachments_of(plant.station.ledger, about)
    assert isinstance(fact.body, Attached)
    return fact.body.note


@pytest.mark.parametrize(
    ("topic", "which"), [("A line or position", "position:"), ("A store", "store:"), ("A lot", "lot:")]
)
def test_a_note_of_a_line_a_store_or_a_lot_is_chosen_by_touch(
    desk: StationWindow, plant: Plant, topic: str, which: str
) -> None:
    asked(desk)
    touch(desk, topic)
    button = the(desk, SubjectDialog).buttons[0]
    about = button.action_model.id.removeprefix("note:")
    assert about.startswith(which)
    button.click()
    assert kept(desk, plant, about) == "wiped twice"


def test_a_note_of_an_open_alarm_stands_in_the_story_of_its_container(desk: StationWindow, plant: Plant) -> None:
    floor = plant.station.floor()
    asked(desk)
    touch(desk, "An open alarm")
    first, _ = alarms.open_alarms(floor)[0]
    the(desk, SubjectDialog).buttons[0].click()
    assert kept(desk, plant, f"alarm:{first.id}") == "wiped twice"
    kind = "position" if first.subject in floor.plant.positions else "container"
    told = story(floor.ledger, kind, first.subject, floor.zone)
    assert any(line.what == "Kept with it: note: wiped twice" for line in told)


def test_the_tag_of_a_line_says_what_the_note_is_of_and_is_no_scan(desk: StationWindow, plant: Plant) -> None:
    before = len(plant.station.ledger.facts())
    name = next(iter(plant.station.site.plant.positions))
    asked(desk)
    desk.hear(HeardScan(tag_text(TagKind.POSITION, name), ""))
    assert len(plant.station.ledger.facts()) == before
    assert kept(desk, plant, f"position:{name}") == "wiped twice"


def test_a_store_and_a_container_are_scanned_too_and_a_strange_one_is_said(desk: StationWindow, plant: Plant) -> None:
    store = next(iter(plant.station.site.plant.stores))
    asked(desk)
    desk.dialogs.take_subject("container:K9-999")
    assert "not on record" in the(desk, SubjectDialog).sentence.text()
    desk.hear(HeardScan(tag_text(TagKind.STORE, store), ""))
    assert kept(desk, plant, f"store:{store}") == "wiped twice"
    asked(desk)
    desk.hear(HeardScan(badge_text("P12"), ""))
    assert kept(desk, plant, "person:P12") == "wiped twice"
    assert plant.station.sessions["DESK"].context.person is None
    asked(desk)
    scan(desk, plant, "a6")
    assert kept(desk, plant, f"container:{plant.names['a6']}") == "wiped twice"
