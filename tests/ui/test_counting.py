"""A count at the window: the screen says edge to edge that nothing is taken out, and its differences are seen to."""

from collections.abc import Iterator
from datetime import timedelta

import pytest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from station.care import counting
from station.care.counting_fold import Count
from station.care.scans import ContainerScan
from station.care.words import Ending, Settling
from station.labels.plaincodes import TagKind, badge_text, tag_text
from station.scanning.heard import HeardScan
from station.services.counting import begin_count
from station.ui.count_forms import GONE
from station.ui.desk_work import DeskWork
from station.ui.dialogs.lead_dialog import LeadDialog
from station.ui.dialogs.note_dialog import NoteDialog
from station.ui.dialogs.sheet import MoreDialog, ReadDialog
from station.ui.view_models import CountModel
from station.ui.widgets.touch_button import TouchButton
from station.ui.window import StationWindow
from tests.care.bench import LEAD, LEAD_PIN, Bench
from tests.ui.test_lead_forms import the


@pytest.fixture
def bench() -> Bench:
    return Bench()


@pytest.fixture
def window(bench: Bench, qtbot: QtBot) -> Iterator[StationWindow]:
    shown = StationWindow(DeskWork(bench.station), None)
    qtbot.addWidget(shown)
    shown.resize(1024, 768)
    shown.show()
    shown.hear(HeardScan(tag_text(TagKind.PLACE, "FRIDGE"), ""))
    yield shown
    shown.close()


def touch(window: StationWindow, label: str) -> None:
    """Touch what says this, on the screen or on the form over it."""
    form = next((found for found in window.findChildren(MoreDialog) if found.isVisible()), None)
    buttons = (form or window.view).findChildren(TouchButton)
    next(found for found in buttons if found.action_model.label == label and found.isVisible()).click()


def model(work: DeskWork) -> CountModel:
    shown = work.screen().count
    assert shown is not None
    return shown


def newest(bench: Bench) -> Count:
    return max(bench.station.ledger.counts.values(), key=lambda found: found.begun_at)


def test_while_a_count_runs_the_panel_covers_all_but_the_bar_and_the_foot_line(
    bench: Bench, window: StationWindow
) -> None:
    bench.cold()
    bench.later(1)
    window.refresh()
    touch(window, "Count")
    view = window.view
    assert view.count.isVisible()
    assert (view.count.geometry().left(), view.count.width()) == (0, view.width())
    assert view.count.geometry().top() == view.bar.geometry().bottom() + 1
    assert view.count.geometry().bottom() == view.bottom.geometry().top() - 1
    assert not view.board.isVisible()
    view.grab()
    said = " ".join(record.text for _, record in view.lettered())
    assert "COUNTING" in said
    assert "Nothing is taken out." in said
    touch(window, "Stop counting")
    assert not view.count.isVisible()
    assert view.board.isVisible()


def test_it_shows_how_far_it_is_and_the_answer_of_the_newest_scan(bench: Bench) -> None:
    seen, _unseen = bench.cold(), bench.cold()
    bench.later(60)
    begin_count(bench.station, "FRIDGE")
    work = DeskWork(bench.station)
    bench.station.place = "FRIDGE"
    assert (model(work).progress, model(work).last) == ("0 of 2", None)
    work.scanned(ContainerScan(seen))
    shown = model(work)
    assert (shown.progress, shown.note) == ("1 of 2", "")
    assert shown.last is not None
    assert shown.last.headline == "1 OF 2"
    assert [action.hint for action in shown.actions] == ["1 not seen", "claims nothing missing"]
    work.scanned(ContainerScan("K7-999"))
    assert model(work).note == "1 more seen that is not recorded here"
    work.scanned(ContainerScan("K7-998"))
    assert model(work).note == "2 more seen that are not recorded here"
    assert work.screen().strips == ()
    bench.later(1)
    work.tick()
    last = model(work).last
    assert last is not None
    assert last.headline == "K7 998: no record here"


def test_the_last_thirty_seconds_are_counted_down(bench: Bench) -> None:
    begin_count(bench.station, "FRIDGE")
    bench.station.place = "FRIDGE"
    work = DeskWork(bench.station)
    bench.later(1.4)
    assert model(work).countdown == ""
    bench.later(0.1)
    assert model(work).countdown == "Ends by itself in 30 s. Scan on."
    bench.later(0.5)
    work.tick()
    assert work.screen().count is None


def test_a_count_that_ends_by_itself_says_so_and_may_be_said_to_have_been_all(bench: Bench) -> None:
    bench.cold()
    bench.later(60)
    begin_count(bench.station, "FRIDGE")
    bench.station.place = "FRIDGE"
    work = DeskWork(bench.station)
    bench.clock.go_on(timedelta(minutes=2))
    work.tick()
    shown = work.screen()
    assert shown.count is None
    assert shown.verdict is not None
    assert shown.verdict.headline == "THE COUNT ENDED BY ITSELF"
    assert "1 recorded, 0 of them seen" in shown.verdict.why
    offered = {action.label: action.id for action in shown.actions}
    work.count(*offered["It was all"].split(":"))
    labels = [action.label for action in work.screen().actions]
    assert "1 difference" in labels
    assert "It was all" not in labels


def test_whoever_counts_is_not_sent_home_meanwhile(bench: Bench, window: StationWindow) -> None:
    bench.cold()
    window.act("count-begin:FRIDGE")
    for _ in range(3):
        bench.clock.go_on(timedelta(seconds=50))
        bench.station.scanned(ContainerScan("K7-001"))
        window.tick()
    assert bench.station.place == "FRIDGE"


def test_a_count_that_goes_on_already_is_said_and_not_begun_twice(bench: Bench) -> None:
    work = DeskWork(bench.station)
    work.count("count-begin", "FRIDGE")
    again = work.count("count-begin", "FRIDGE")
    assert again is not None
    assert again.verdict is not None
    assert (again.verdict.word, again.verdict.code, again.facts) == ("STOP", "count-refused", ())


def test_alarms_can_be_silenced_in_a_count(bench: Bench) -> None:
    bench.receive()
    begin_count(bench.station, "FRIDGE")
    bench.station.place = "FRIDGE"
    bench.at("2026-11-10T20:00")
    begin_count(bench.station, "FRIDGE")
    assert "Silence" in [action.label for action in model(DeskWork(bench.station)).actions]


# ------------------------------------------------------------------ differences


@pytest.fixture
def missing(bench: Bench, window: StationWindow) -> str:
    """Two containers are recorded in the store, none was scanned, and somebody says that this was all."""
    jar, _other = bench.cold(), bench.cold()
    bench.later(60)
    window.refresh()
    touch(window, "Count")
    touch(window, "That was all")
    return jar


def test_what_is_missing_is_listed_and_found_by_anybody_who_says_where(
    bench: Bench, window: StationWindow, missing: str
) -> None:
    touch(window, "2 differences")
    listed = the(window, MoreDialog)
    assert [found.action_model.label for found in listed.buttons] == ["K7 001", "K7 002"]
    touch(window, "K7 001")
    touch(window, "Found")
    form = the(window, NoteDialog)
    form.hand_in.click()
    assert form.isVisible()
    form.note.fill("behind the tray")
    form.hand_in.click()
    assert newest(bench).settled == ((missing, Settling.FOUND),)
    assert bench.container(missing).ended is None
    touch(window, "K7 002")
    touch(window, "The others")
    assert [found.action_model.label for found in the(window, MoreDialog).buttons] == ["K7 002"]


def test_what_is_not_found_ends_only_by_a_shift_lead(bench: Bench, window: StationWindow, missing: str) -> None:
    window.act(f"settle:{newest(bench).id}:{missing}:NOT_FOUND")
    form = the(window, LeadDialog)
    form.reason.fill("searched twice")
    window.hear(HeardScan(badge_text(LEAD), ""))
    form.pin.fill("1")
    form.hand_in.click()
    assert form.isVisible()
    assert bench.container(missing).ended is None
    form.pin.fill(LEAD_PIN)
    form.hand_in.click()
    assert bench.container(missing).ended is Ending.NOT_FOUND


def test_a_scan_over_the_open_list_changes_nothing(bench: Bench, window: StationWindow, missing: str) -> None:
    touch(window, "2 differences")
    window.hear(HeardScan(tag_text(TagKind.PLACE, "DESK"), ""))
    assert bench.station.place == "FRIDGE"
    assert bench.container(missing).store == "FRIDGE"


def test_a_difference_that_stands_no_more_leads_back_to_the_list(
    bench: Bench, window: StationWindow, missing: str
) -> None:
    name = newest(bench).id
    bench.scan(missing, "FRIDGE")
    window.act(f"difference:{name}:{missing}")
    assert [found.action_model.label for found in the(window, MoreDialog).buttons] == ["K7 002"]
    the(window, MoreDialog).leave()
    window.act("differences:K7-C999")
    assert any(GONE in text for text in texts(window))


def texts(window: StationWindow) -> list[str]:
    return [part.text() for part in the(window, ReadDialog).findChildren(QLabel)]


def test_the_desk_counts_a_store_and_hears_afterwards_that_it_was_all(bench: Bench, window: StationWindow) -> None:
    bench.cold()
    bench.later(60)
    forms = window.dialogs
    window.hear(HeardScan(tag_text(TagKind.PLACE, "DESK"), ""))
    forms.open("count", "")
    touch(window, f"Count: {bench.station.site.place('FRIDGE').title}")
    assert bench.station.place == "FRIDGE"
    assert counting.running(bench.floor, "FRIDGE") is not None
    bench.later(2)
    forms.open("count", "")
    offer = next(found for found in the(window, MoreDialog).buttons if found.action_model.label == "It was all")
    assert "1 not seen" in offer.action_model.hint
    offer.click()
    assert [found.action_model.label for found in the(window, MoreDialog).buttons] == ["K7 001"]
