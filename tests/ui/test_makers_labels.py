"""A maker's label scanned at the window: the form of a delivery opens or is filled in, and nothing is overwritten."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from station.care.facts import Received
from station.care.story_words import in_words
from station.labels.plaincodes import TagKind, tag_text
from station.scanning.heard import HeardScan
from station.ui.dialogs.receive_dialog import ReceiveDialog
from station.ui.window import StationWindow
from tests.ui.plants import Plant, mid_shift

pytestmark = pytest.mark.qt_log_ignore("does not support propagateSizeHints")

GTIN = "09501101530003"
WHOLE = f"]d201{GTIN}10L42A\x1d17270430"


@pytest.fixture(scope="module")
def plant() -> Plant:
    return mid_shift()


@pytest.fixture
def desk(plant: Plant, qtbot: QtBot) -> Iterator[StationWindow]:
    shown = StationWindow(plant.work, None)
    qtbot.addWidget(shown)
    shown.resize(1024, 768)
    shown.show()
    scanned(shown, tag_text(TagKind.PLACE, "DESK"))
    yield shown
    shown.close()


def scanned(window: StationWindow, text: str) -> None:
    window.hear(HeardScan(text, text))


def form_of(window: StationWindow) -> ReceiveDialog:
    (form,) = (form for form in window.findChildren(ReceiveDialog) if form.isVisible())
    return form


def test_the_form_opens_filled_in_and_nothing_is_recorded(desk: StationWindow, plant: Plant, tmp_path: Path) -> None:
    before = len(list(plant.station._journal.facts()))
    scanned(desk, WHOLE)
    form = form_of(desk)
    assert (form.paste.chosen, form.kind.chosen) == ("SN-4", "JAR-500")
    assert (form.lot.text, form.expires.text) == ("L42A", "2027-04-30")
    assert "paste, packing, lot, expiry" in form.sentence.text()
    assert len(list(plant.station._journal.facts())) == before
    desk.grab().save(str(tmp_path / "form.png"))


def test_what_a_person_typed_stays_and_a_difference_is_said(desk: StationWindow) -> None:
    desk.act("receive")
    form = form_of(desk)
    form.lot.fill("L99")
    scanned(desk, WHOLE)
    assert (form.lot.text, form.expires.text) == ("L99", "2027-04-30")
    assert "lot L42A (here L99)" in form.sentence.text()


def test_the_serial_number_goes_with_one_container_and_is_known_again(desk: StationWindow, plant: Plant) -> None:
    text = f"{WHOLE}21S9"
    scanned(desk, text)
    form = form_of(desk)
    form.temperature.measured.fill("6")
    form.tight.choose("tight")
    form.hand_in.click()
    assert [one.lot for one in plant.station.ledger.containers.values() if one.maker_serial == "S9"] == ["L42A"]
    scanned(desk, text)
    assert "Serial S9 was received before" in form_of(desk).sentence.text()


def test_what_else_stands_on_it_is_kept_with_every_container_of_its_lot(desk: StationWindow, plant: Plant) -> None:
    """BR-73: what is not known is not lost."""
    scanned(desk, f"]d201{GTIN}10L43A\x1d17270430422276\x1d38X7")
    form = form_of(desk)
    form.count.fill("2")
    form.temperature.measured.fill("6")
    form.tight.choose("tight")
    form.another.click()
    form.prefill("SN-4", "JAR-500", "L44A", date(2027, 4, 30))
    form.tight.choose("tight")
    form.hand_in.click()
    told = [fact.body for fact in plant.station._journal.facts() if isinstance(fact.body, Received)][-3:]
    assert [(one.lot, one.maker_said) for one in told] == [
        ("L43A", ("country of origin 276", "38X7")),
        ("L43A", ("country of origin 276", "38X7")),
        ("L44A", ()),
    ]
    said = in_words(told[0], plant.station.site.zone)
    assert said.endswith("; the maker's label also says country of origin 276, 38X7")


def test_a_best_before_date_is_asked_at_the_expiry_and_not_filled_in(desk: StationWindow) -> None:
    scanned(desk, f"]d201{GTIN}10L45A\x1d15270331")
    form = form_of(desk)
    assert form.expires.text == ""
    asked = form.expires.complaint.text()
    assert "Is it the expiry? Then type 2027-03-31; if not, type the expiry printed on the label" in asked


def test_a_lost_separator_leaves_lot_and_expiry_empty_and_asks_there(desk: StationWindow) -> None:
    """BR-71, BR-73: what is not known is shown, too."""
    scanned(desk, f"01{GTIN}10L42A17270430\x1d38X7")
    form = form_of(desk)
    assert (form.lot.text, form.expires.text) == ("", "")
    assert "L42A or L42A17270430" in form.lot.complaint.text()
    assert "2027-04-30" in form.expires.complaint.text()
    assert "38X7" in form.sentence.text()


def test_a_count_is_filled_in_only_where_it_is_surely_one_of_containers(desk: StationWindow) -> None:
    scanned(desk, f"]C102{GTIN}3712")
    assert form_of(desk).count.text == "12"
    form_of(desk).leave()


def test_a_quantity_by_agreement_is_left_to_the_person(desk: StationWindow) -> None:
    scanned(desk, "[)>\x1e06\x1d1PX-1\x1d1TA7\x1dQ12\x1e\x04")
    form = form_of(desk)
    assert (form.count.text, form.lot.text) == ("1", "A7")
    assert "Quantity 12: say yourself" in form.sentence.text()
    assert "No paste here has the number X-1" in form.sentence.text()


def test_at_a_printer_no_form_opens(desk: StationWindow) -> None:
    scanned(desk, tag_text(TagKind.PLACE, "LINE1"))
    scanned(desk, WHOLE)
    assert desk.findChildren(ReceiveDialog) == []
    assert not desk.dialogs.busy
