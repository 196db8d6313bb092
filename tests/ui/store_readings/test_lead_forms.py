"""A shift lead takes back a file of a store, and says what was found of a time out of the limits."""

from collections.abc import Iterator
from datetime import date

import pytest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from station.care import facts as f
from station.care.cold_readings_back import TakeBack
from station.care.cold_readings_rules import Mistake, Policy
from station.services.cold_readings import take_back_readings
from station.ui.desk_work import DeskWork
from station.ui.dialogs.lead_dialog import LeadDialog
from station.ui.dialogs.rows_dialog import RowsDialog
from station.ui.dialogs.sheet import MoreDialog, ReadDialog
from station.ui.people_dialogs import PeopleDialogs
from station.ui.present.lead_offers import lead_offers
from station.ui.store_readings.back_dialog import BackDialog
from station.ui.window import StationWindow
from tests.care.bench import Bench
from tests.care.leading import PROOF
from tests.services.test_cold_readings import NIGHT, WARM_HALF_AN_HOUR, plant, take_in, track
from tests.ui.test_lead_forms import the


@pytest.fixture
def bench() -> Bench:
    made = Bench(plant(due=date(2026, 11, 9)), "2026-11-09T12:00")
    made.cold()
    made.at("2026-11-10T08:00")
    take_in(made, track(NIGHT, *WARM_HALF_AN_HOUR), "night.csv")
    return made


@pytest.fixture
def window(bench: Bench, qtbot: QtBot) -> Iterator[StationWindow]:
    shown = StationWindow(DeskWork(bench.station), None)
    qtbot.addWidget(shown)
    shown.resize(1024, 768)
    shown.show()
    yield shown
    shown.close()


def opened(window: StationWindow, kind: str, rest: str = "") -> None:
    dialogs = window.findChild(PeopleDialogs)
    assert isinstance(dialogs, PeopleDialogs)
    dialogs.open(kind, rest)


def signed(form: LeadDialog, pin: str = "2020") -> None:
    form.badge.fill("P20")
    form.pin.fill(pin)
    form.reason.fill("the door stood open")
    form.hand_in.click()


def words(form: ReadDialog) -> str:
    return "\n".join(part.text() for part in form.findChildren(QLabel))


def test_a_file_is_taken_back_by_a_lead_and_its_excursion_is_marked(bench: Bench, window: StationWindow) -> None:
    opened(window, "store-back")
    form = the(window, BackDialog)
    signed(form)
    assert form.mistake.complaint.text() == "Say what was wrong with it."
    assert "1 excursion rests on this file alone and will count no more" in form.preview.text()
    form.mistake.choose("ZONE")
    signed(form, "9999")
    assert bench.station.ledger.cold.excursions("FRIDGE") != ()
    signed(form)
    (fact,) = [fact.body for fact in bench.journal.facts() if isinstance(fact.body, f.ReadingsWithdrawn)]
    assert (fact.file, fact.mistake, fact.reason) == ("night.csv", Mistake.ZONE, "the door stood open")
    assert bench.station.ledger.cold.excursions("FRIDGE") == ()
    opened(window, "excursions")
    assert "TAKEN BACK with its file: too warm, Mon 9 Nov 22:10" in words(the(window, ReadDialog))


def test_of_several_files_the_newest_is_offered_first_and_one_that_told_nothing_says_so(
    bench: Bench, window: StationWindow
) -> None:
    take_in(bench, track("2026-11-10T05:00", 7.0, 7.0, 7.0), "morning.csv")
    opened(window, "store-back")
    form = the(window, BackDialog)
    assert [button.action_model.label for button in form.file.buttons] == ["morning.csv", "night.csv"]
    assert form.file.buttons[1].action_model.hint == "Mon 9 Nov 22:00 to 23:00, clock in UTC; taken in 08:00"
    form.file.choose(form.file.buttons[0].action_model.id)
    assert form.preview.text().startswith("No excursion rests on this file alone.")


def test_containers_charged_by_a_file_taken_back_are_named_each_with_its_way_to_a_lead(qtbot: QtBot) -> None:
    bench = Bench(plant(Policy.CHARGE), "2026-11-09T12:00")
    jars = [bench.cold() for _ in range(7)]
    bench.at("2026-11-10T08:00")
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR), "night.csv")
    window = StationWindow(DeskWork(bench.station), None)
    qtbot.addWidget(window)
    window.resize(1024, 768)
    window.show()
    opened(window, "store-back")
    form = the(window, BackDialog)
    form.file.choose(form.file.buttons[0].action_model.id)
    for jar in jars:
        assert jar.replace("-", " ") in form.preview.text()
    form.mistake.choose("STORE")
    signed(form)
    opened(window, "excursions")
    shown = the(window, ReadDialog)
    assert "K7 007: 30 min charged" in words(shown)
    (way,) = shown.acts
    way.click()
    the(window, MoreDialog).offered.emit(f"minutes-back:{jars[6]}")
    signed(the(window, LeadDialog))
    assert bench.container(jars[6]).charged == ()
    assert bench.container(jars[5]).charged != ()
    window.close()


def test_where_no_file_counts_the_form_says_so(bench: Bench, window: StationWindow) -> None:
    (fact,) = bench.station.ledger.cold.files("FRIDGE")
    assert isinstance(fact.body, f.ReadingsImported)
    back = f.ReadingsWithdrawn(
        "FRIDGE", "night.csv", fact.body.digest, fact.body.series, (fact.key,), Mistake.OTHER, "test", (), ()
    )
    bench.tell(back)
    opened(window, "store-back")
    assert "there is none to take back" in words(the(window, ReadDialog))


def test_the_day_list_leads_to_what_a_lead_has_to_see(bench: Bench, window: StationWindow) -> None:
    opened(window, "excursions")
    first = the(window, ReadDialog)
    assert "no shift lead has seen it yet" in words(first)
    assert first.hand_in.action_model.label == "Close"
    (way,) = first.acts
    way.click()
    form = the(window, LeadDialog)
    assert (form.title, form.hand_in.action_model.label) == ("Refrigerator: excursions", "Record as seen")
    form.leave()
    opened(window, "day-list")
    the(window, RowsDialog).offered.emit("excursions-seen:FRIDGE")
    form = the(window, LeadDialog)
    assert "peak 13.5 °C" in "\n".join(part.text() for part in form.findChildren(QLabel))
    signed(form)
    assert bench.station.ledger.cold.unseen("FRIDGE") == ()
    (told,) = [(fact.who, fact.body) for fact in bench.journal.facts() if isinstance(fact.body, f.ExcursionSeen)]
    assert (told[0], told[1].note) == ("P20", "the door stood open")
    opened(window, "excursions-seen", "FRIDGE")
    assert [one for one in window.findChildren(LeadDialog) if one.isVisible()] == []


def test_more_than_a_form_holds_is_seen_in_turn(bench: Bench, window: StationWindow) -> None:
    for hour in range(12, 22):
        take_in(bench, track(f"2026-11-09T{hour}:00", *WARM_HALF_AN_HOUR[:9]), f"{hour}.csv")
    before = len(bench.station.ledger.cold.unseen("FRIDGE"))
    opened(window, "excursions-seen", "FRIDGE")
    form = the(window, LeadDialog)
    assert "5 earlier ones come after these." in [part.text() for part in form.findChildren(QLabel)]
    signed(form)
    assert (before, len(bench.station.ledger.cold.unseen("FRIDGE"))) == (11, 5)


def test_minutes_charged_by_a_file_that_was_taken_back_are_given_back_at_the_desk(qtbot: QtBot) -> None:
    bench = Bench(plant(Policy.CHARGE), "2026-11-09T12:00")
    jar = bench.cold()
    bench.at("2026-11-10T08:00")
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR), "night.csv")
    shown = StationWindow(DeskWork(bench.station), None)
    qtbot.addWidget(shown)
    shown.show()
    give = f"minutes-back:{jar}"
    assert give not in [offer.id for offer in lead_offers(bench.floor, bench.container(jar))]
    opened(shown, "minutes-back", jar)
    assert [one for one in shown.findChildren(LeadDialog) if one.isVisible()] == []
    (file,) = bench.station.ledger.cold.files("FRIDGE")
    take_back_readings(bench.station, TakeBack("FRIDGE", file.key, Mistake.ZONE, "summer time"), PROOF)
    assert give in [offer.id for offer in lead_offers(bench.floor, bench.container(jar))]
    opened(shown, "minutes-back", jar)
    form = the(shown, LeadDialog)
    said = [part.text() for part in form.findChildren(QLabel)]
    assert "30 min were charged to it by a file that was taken back." in said
    signed(form)
    assert bench.container(jar).charged == ()
    shown.close()
