"""What a lead says at the desk of a whole store, through the forms, and what is on record after it."""

from collections.abc import Iterator
from datetime import timedelta

import pytest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from station.care.words import Card
from station.labels.containercode import container_numbers, pack_container
from station.labels.plaincodes import TagKind, tag_text
from station.scanning.heard import HeardScan
from station.ui.desk_work import DeskWork
from station.ui.dialogs.find_dialog import FindDialog
from station.ui.dialogs.sheet import ReadDialog
from station.ui.dialogs.store_dialog import StoreDialog
from station.ui.stock_forms import found_lines
from station.ui.window import StationWindow
from tests.care.bench import LEAD, LEAD_PIN, Bench
from tests.care.test_stores import two_stores
from tests.ui.test_lead_forms import the


@pytest.fixture
def bench() -> Bench:
    return Bench(two_stores(capacity=2))


@pytest.fixture
def window(bench: Bench, qtbot: QtBot) -> Iterator[StationWindow]:
    shown = StationWindow(DeskWork(bench.station), None)
    qtbot.addWidget(shown)
    shown.resize(1024, 768)
    shown.show()
    yield shown
    shown.close()


def opened(window: StationWindow, kind: str) -> StoreDialog:
    window.dialogs.open(kind, "")
    return the(window, StoreDialog)


def proved(form: StoreDialog, at: str, pin: str = LEAD_PIN) -> None:
    form.since.clock.fill(at)
    form.reason.fill("compressor failed")
    form.take_badge(LEAD)
    form.pin.fill(pin)
    form.hand_in.click()


def test_all_of_a_store_moves_after_its_list_was_shown(bench: Bench, window: StationWindow) -> None:
    jar, leaded = bench.cold(), bench.cold("PB-1")
    bench.at("2026-11-10T09:00")
    form = opened(window, "move-store")
    assert [(one.action_model.label, one.action_model.hint) for one in form.store.buttons] == [
        ("Refrigerator", "2 in it")
    ]
    assert form.target.chosen == "SECOND"
    assert form.preview.text().splitlines() == ["Bin C1: K7 001", "Bin C2: K7 002"]
    proved(form, "08:30")
    found = [bench.container(name) for name in (jar, leaded)]
    assert [(one.store, one.bin) for one in found] == [("SECOND", "C1"), ("SECOND", "C2")]
    assert {one.warm_spent for one in found} == {timedelta(minutes=30)}
    assert not form.isVisible()


def test_what_does_not_fit_is_named_and_nothing_moves(bench: Bench, window: StationWindow) -> None:
    for _ in range(3):
        bench.cold()
    bench.at("2026-11-10T09:00")
    form = opened(window, "move-store")
    assert form.preview.text().startswith("NO FREE BIN in Second refrigerator for K7 003.")
    proved(form, "08:30")
    assert form.isVisible()
    assert {bench.container(f"K7-00{number}").store for number in (1, 2, 3)} == {"FRIDGE"}


def test_after_a_power_cut_all_of_it_is_out_and_each_gets_its_label(bench: Bench, window: StationWindow) -> None:
    jar = bench.cold()
    bench.scan(bench.receive(), "SECOND")
    bench.at("2026-11-10T06:00")
    form = opened(window, "store-out")
    form.hand_in.click()
    assert form.store.complaint.text() == "Say which store."
    form.store.choose("FRIDGE")
    assert form.preview.text() == "A label prints for each of 1: K7 001."
    assert not form.target.isVisible()
    proved(form, "02:00", pin="0000")
    assert form.isVisible()
    form.pin.fill(LEAD_PIN)
    form.hand_in.click()
    assert bench.container(jar).out_from is not None
    assert bench.container(jar).print_number == 1
    assert bench.container("K7-002").store == "SECOND"


def test_with_nothing_in_any_store_the_form_says_so(window: StationWindow) -> None:
    window.dialogs.open("store-out", "")
    said = [part.text() for part in the(window, ReadDialog).findChildren(QLabel)]
    assert any(text.startswith("Nothing is recorded in any store") for text in said)


def test_a_store_without_another_of_its_kind_has_nowhere_to_go(bench: Bench, window: StationWindow) -> None:
    bench.scan(bench.receive("BI-9"), "SHELF")
    form = opened(window, "move-store")
    assert form.target.remark.text() == "There is no other store of that kind."
    proved(form, "11:00")
    assert form.target.complaint.text() == "Say which store it goes to."


# ---------------------------------------------------------------------- find, and what a door asks


def say(window: StationWindow, bench: Bench, name: str) -> None:
    text = pack_container(*container_numbers(name), bench.station.keys)
    window.hear(HeardScan(text, text))


def test_a_container_is_found_by_the_end_of_its_number_or_by_its_label(bench: Bench, window: StationWindow) -> None:
    bench.cold()
    bench.cold(leaking=True)
    before = len(list(bench.journal.facts()))
    window.dialogs.open("find", "")
    form = the(window, FindDialog)
    form.hand_in.click()
    assert form.number.complaint.text() == "Scan a label, or type a number."
    form.number.fill("002")
    form.hand_in.click()
    assert form.found.text().startswith("K7 002 SN-4, lot 101, cold: Refrigerator, bin H1; shelf life ends")
    assert form.found.text().endswith("ON HOLD")
    say(window, bench, "K7-001")
    assert "K7 001 SN-4, lot 101, cold: Refrigerator, bin A1" in form.found.text()
    form.number.fill("999")
    assert form.found.text() == ""
    form.hand_in.click()
    assert form.found.text() == "No container on record here has the number 999."
    assert len(list(bench.journal.facts())) == before


def test_what_has_ended_is_found_too(bench: Bench) -> None:
    jar = bench.cold()
    bench.scan(jar, "DESK")
    bench.card(Card.DISCARD, "DESK")
    assert found_lines(bench.floor, "1") == ("K7 001 SN-4, lot 101: discarded",)


def test_what_another_door_asks_may_be_touched_while_it_is_asked(bench: Bench, window: StationWindow) -> None:
    jar = bench.cold()
    bench.at("2026-11-10T09:00")
    window.hear(HeardScan(tag_text(TagKind.PLACE, "SECOND"), ""))
    say(window, bench, jar)
    offered = {button.action_model.label: button for button in window.view.action_grid.buttons}
    assert [name for name in offered if name in ("Moved here", "Taken out")] == ["Moved here", "Taken out"]
    offered["Moved here"].click()
    assert bench.container(jar).store == "SECOND"
    assert "Moved here" not in [button.action_model.label for button in window.view.action_grid.buttons]


def test_the_tag_of_a_bin_is_read_and_corrects_the_bin(bench: Bench, window: StationWindow) -> None:
    jar = bench.cold(leaking=True)
    window.hear(HeardScan(tag_text(TagKind.BIN, "A1"), ""))
    assert bench.container(jar).bin == "H1"
    assert window.view.model is not None
    assert window.view.model.verdict is not None
    assert window.view.model.verdict.headline == "NOT IN BIN A1"
    window.hear(HeardScan(tag_text(TagKind.STORE, "FRIDGE"), ""))
    assert window.view.model.verdict.headline == "TAG OF A STORE"
