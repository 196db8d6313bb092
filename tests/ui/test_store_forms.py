"""What a lead says at the desk of a whole store, through the forms, and what is on record after it."""

from collections.abc import Iterator
from datetime import timedelta

import pytest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from station.ui.desk_work import DeskWork
from station.ui.dialogs.sheet import ReadDialog
from station.ui.dialogs.store_dialog import StoreDialog
from station.ui.people_dialogs import PeopleDialogs
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
    window.findChild(PeopleDialogs).open(kind, "")
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
    window.findChild(PeopleDialogs).open("store-out", "")
    said = [part.text() for part in the(window, ReadDialog).findChildren(QLabel)]
    assert any(text.startswith("Nothing is recorded in any store") for text in said)


def test_a_store_without_another_of_its_kind_has_nowhere_to_go(bench: Bench, window: StationWindow) -> None:
    bench.scan(bench.receive("BI-9"), "SHELF")
    form = opened(window, "move-store")
    assert form.target.remark.text() == "There is no other store of that kind."
    proved(form, "11:00")
    assert form.target.complaint.text() == "Say which store it goes to."
