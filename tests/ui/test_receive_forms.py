"""A delivery at the window: two lots and a logger's file in one act, and a lot released with its report."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from station.care import facts as f
from station.care.fold_lot import lot_name
from station.care.words import HoldReason
from station.labels.plaincodes import TagKind, tag_text
from station.scanning.heard import HeardScan
from station.services.outcome import Refusal
from station.ui.chosen_files import MOST_BYTES, enclosed
from station.ui.dialogs.correct_delivery_dialog import CorrectDeliveryDialog
from station.ui.dialogs.delivery_dialog import DeliveryDialog
from station.ui.dialogs.lot_dialogs import proof_field
from station.ui.dialogs.receive_dialog import ReceiveDialog
from station.ui.present.lead_offers import lead_offers, lot_holds
from station.ui.window import StationWindow
from tests.ui.plants import Plant, mid_shift

pytestmark = pytest.mark.qt_log_ignore("does not support propagateSizeHints")


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


def facts(plant: Plant, since: int) -> list[f.Body]:
    return [fact.body for fact in plant.station._journal.facts()][since:]


def lot(form: ReceiveDialog, plant: Plant, name: str, count: int, paste: str = "SN-4") -> None:
    expires = (plant.station.floor().now + timedelta(days=120)).date()
    form.prefill(paste, "JAR-500", name, expires, count=count)
    form.temperature.measured.fill("6")
    form.tight.choose("tight")


def test_two_lots_and_the_loggers_file_in_one_act(desk: StationWindow, plant: Plant, tmp_path: Path) -> None:
    file = tmp_path / "logger.csv"
    file.write_bytes(b"time;C\n1;4\n")
    before = len(facts(plant, 0))
    desk.act("receive")
    (form,) = desk.findChildren(ReceiveDialog)
    lot(form, plant, "26-160", 2)
    form.more.click()
    (over,) = desk.findChildren(DeliveryDialog)
    over.packs.choose("melted")
    over.files.take((file,))
    over.hand_in.click()
    assert form.isVisible()
    form.another.click()
    lot(form, plant, "26-161", 1)
    form.hand_in.click()
    told = facts(plant, before)
    received = [body for body in told if isinstance(body, f.Received)]
    (whole,) = [body for body in told if isinstance(body, f.Delivered)]
    assert [body.lot for body in received] == ["26-160", "26-160", "26-161"]
    assert {body.delivery for body in received} == {whole.delivery}
    assert whole.warned == ("cold packs melted on arrival",)
    assert plant.station.evidence.fetch(whole.digests[0]) == file.read_bytes()


def test_a_lot_told_before_can_be_taken_back_and_stands_in_the_form_again(desk: StationWindow, plant: Plant) -> None:
    before = len(facts(plant, 0))
    desk.act("receive")
    (form,) = desk.findChildren(ReceiveDialog)
    for name in ("26-170", "26-171"):
        lot(form, plant, name, 2)
        form.another.click()
    assert [button.action_model.hint for button in form.told.buttons] == ["2 x SN-4 lot 26-170", "2 x SN-4 lot 26-171"]
    form.told.buttons[0].click()
    assert (form.lot.text, form.count.text, form.tight.chosen) == ("26-170", "2", None)
    assert "Lot 26-170 is taken back; nothing was recorded." in form.sentence.text()
    lot(form, plant, "26-172", 1)
    form.told.buttons[0].click()
    assert (form.lot.text, form.told.isVisible()) == ("26-172", False)  # what is filled in stays
    form.hand_in.click()
    told = [body for body in facts(plant, before) if isinstance(body, f.Received)]
    assert [body.lot for body in told] == ["26-172"]


def test_the_right_kind_of_file_is_listed_first(qtbot: QtBot, plant: Plant, desk: StationWindow) -> None:
    """A certificate is no logger's file."""
    desk.act("receive")
    (form,) = desk.findChildren(ReceiveDialog)
    form.more.click()
    (over,) = desk.findChildren(DeliveryDialog)
    over.files.button.click()
    (chooser,) = over.findChildren(QFileDialog) or desk.findChildren(QFileDialog)
    assert chooser.nameFilters()[0] == "Loggers' files and reports (*.csv *.txt *.tsv *.pdf)"
    chooser.reject()
    document = proof_field()
    qtbot.addWidget(document)
    document.button.click()
    (chooser,) = document.findChildren(QFileDialog)
    assert chooser.nameFilters()[0].startswith("Certificates and reports (*.pdf")
    chooser.reject()


def test_what_was_said_of_a_delivery_is_put_right_by_a_lead(desk: StationWindow, plant: Plant, tmp_path: Path) -> None:
    desk.act("receive")
    (form,) = desk.findChildren(ReceiveDialog)
    lot(form, plant, "26-180", 2)
    form.hand_in.click()
    jars = [one.id for one in plant.station.ledger.containers.values() if one.lot == "26-180"]
    assert f"correct-delivery:{jars[1]}" in [
        offer.id for offer in lead_offers(plant.station.floor(), plant.station.ledger.containers[jars[1]])
    ]
    desk.act(f"correct-delivery:{jars[1]}")
    (right,) = desk.findChildren(CorrectDeliveryDialog)
    assert (right.box.chosen, right.temperature.measured.text) == (None, "6")
    right.grab().save(str(tmp_path / "right.png"))
    right.box.choose("damaged")
    right.badge.fill("P20")
    right.pin.fill("2020")
    right.reason.fill("the carrier's note was read too late")
    right.hand_in.click()
    assert not right.isVisible()
    reasons = [[hold.reason for hold in plant.station.ledger.containers[jar].holds] for jar in jars]
    assert reasons == [[HoldReason.BOX_DAMAGED], [HoldReason.BOX_DAMAGED]]
    desk.act(f"correct-delivery:{jars[0]}")
    again = next(one for one in desk.findChildren(CorrectDeliveryDialog) if one.isVisible())
    assert again.box.chosen == "damaged"
    again.temperature.other.choose("indicator tripped")
    again.badge.fill("P20")
    again.pin.fill("2021")
    again.reason.fill("it was red")
    again.hand_in.click()
    assert again.isVisible()
    assert "PIN" in again.sentence.text()


def test_a_refused_lot_leaves_the_form_with_nothing_recorded(desk: StationWindow, plant: Plant) -> None:
    before = len(plant.station.ledger.containers)
    desk.act("receive")
    (form,) = desk.findChildren(ReceiveDialog)
    lot(form, plant, "26-160", 1)
    form.another.click()
    lot(form, plant, "26-161", 1)
    form.arrived_day.fill("2099-01-01")
    form.hand_in.click()
    assert form.isVisible()
    assert "future" in form.sentence.text()
    assert len(plant.station.ledger.containers) == before


def test_a_file_that_is_gone_or_far_too_large_is_said(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="can't be read"):
        enclosed(tmp_path / "gone.csv")
    large = tmp_path / "large.csv"
    with large.open("wb") as file:
        file.truncate(MOST_BYTES + 1)
    with pytest.raises(Refusal, match="over 32 MB"):
        enclosed(large)


def test_a_lot_that_awaits_its_test_is_offered_for_release_with_its_reason(plant: Plant) -> None:
    hold = f.LotHeld(lot_name("SN-4", "26-160"), "", HoldReason.INCOMING_TEST)
    plant.station._say([hold], None)
    (offered,) = [found for found in lot_holds(plant.station.floor(), None) if found.id.startswith(f"{hold.lot}#")]
    assert "awaits incoming test" in offered.hint
