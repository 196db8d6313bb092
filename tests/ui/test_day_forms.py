"""A shift lead's day at the window: the lists, what a touch on a row opens, and many alarms cleared by one word."""

from collections.abc import Iterator
from datetime import timedelta
from typing import TypeVar

import pytest
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot

from station.care.alarms import open_alarms
from station.care.closing_list import closing_list
from station.care.words import Card, Disposition, Priority
from station.labels.plaincodes import TagKind, card_text, tag_text
from station.scanning.heard import HeardScan
from station.ui.day_forms import FORMS
from station.ui.desk_work import DeskWork
from station.ui.dialogs.clear_dialog import ClearDialog, ClearWord
from station.ui.dialogs.lead_dialog import LeadDialog
from station.ui.dialogs.rows_dialog import RowsDialog
from station.ui.dialogs.shelve_dialog import ShelveDialog
from station.ui.present.alarm_cards import alarm_cards
from station.ui.present.day_rows import alarm_parts, closing_parts, day_parts
from station.ui.ringing import WHERE_MISSED
from station.ui.window import StationWindow
from tests.care.bench import LEAD, LEAD_PIN, Bench
from tests.care.test_alarm_floods import late_to_cold
from tests.ui.plants import Plant, mid_shift

pytestmark = pytest.mark.qt_log_ignore("does not support propagateSizeHints")
Dialog = TypeVar("Dialog", bound=QWidget)


@pytest.fixture
def flood() -> Bench:
    return late_to_cold(11)


@pytest.fixture
def desk(flood: Bench, qtbot: QtBot) -> Iterator[StationWindow]:
    shown = StationWindow(DeskWork(flood.station), None)
    qtbot.addWidget(shown)
    shown.resize(1024, 768)
    shown.show()
    shown.hear(HeardScan(tag_text(TagKind.PLACE, "DESK"), ""))
    yield shown
    shown.close()


def the(window: StationWindow, kind: type[Dialog]) -> Dialog:
    found = [dialog for dialog in window.findChildren(kind) if dialog.isVisible()]
    assert found, f"no {kind.__name__} is open"
    return found[-1]


def words(dialog: QWidget) -> str:
    return " | ".join(label.text() for label in dialog.findChildren(QLabel))


def test_every_form_of_the_day_opens_from_the_desk_and_every_touch_in_it_leads_somewhere(desk: StationWindow) -> None:
    assert set(desk.dialogs._openers) >= FORMS
    for kind, said in (("day-list", "Open alarms, the worst first (11)"), ("closing-list", "On hold (11)")):
        desk.act(kind)
        dialog = the(desk, RowsDialog)
        assert said in words(dialog)
        dialog.leave()


def test_a_row_of_the_day_list_opens_the_form_of_its_alarm(desk: StationWindow) -> None:
    desk.act("day-list")
    dialog = the(desk, RowsDialog)
    assert "K7 001: time to cold storage, past by 1 min" in words(dialog)
    dialog.buttons[0].click()
    assert the(desk, ClearDialog).title == "K7 001 is late to cold storage"


def test_the_alarms_of_a_flood_are_one_card_that_clears_them_by_one_word(desk: StationWindow, flood: Bench) -> None:
    (card,) = desk.work.screen().alarm_cards
    assert card.title == "11 of lot A15 of SN-4: time to cold storage"
    show, clear = card.actions
    desk.act(show.id)
    assert "K7 011: time to cold storage" in words(the(desk, RowsDialog))
    the(desk, RowsDialog).leave()
    desk.act(clear.id)
    form = the(desk, ClearDialog)
    form.offered.emit(ClearWord(LEAD, "0000", "on the dock", Disposition.DISCARDED, None, "", None))
    assert form.isVisible()
    assert len(open_alarms(flood.floor)) == 11
    form.offered.emit(ClearWord(LEAD, LEAD_PIN, "on the dock", Disposition.DISCARDED, None, "", None))
    assert open_alarms(flood.floor) == ()
    verdict = desk.work.screen().verdict
    assert verdict is not None
    assert "11 alarms: discarded." in verdict.why
    desk.act(clear.id)
    desk.act(show.id)
    assert not desk.dialogs.busy


def test_what_was_asked_for_has_a_card_of_its_own_in_a_flood(flood: Bench) -> None:
    first, group = alarm_cards(flood.floor, "K7-004")
    assert first.title == "K7 004 is late to cold storage"
    assert group.title.startswith("11 of lot")


def test_forty_limits_passed_in_two_days_off_are_one_summary_with_true_overruns_and_one_sound() -> None:
    """BR-78."""
    bench = Bench(start="2026-11-07T12:00")
    for _ in range(40):
        bench.receive(lot="A15")
    bench.clock.go_on(timedelta(days=2))
    again = Bench(journal=bench.journal, start="2026-11-09T12:00")
    assert open_alarms(again.floor)
    work = DeskWork(again.station)
    raised = [fact for fact in bench.journal.facts() if fact.body.NAME == "alarm-raised"]
    work.started(type(again.station.tick())(None, tuple(raised)))
    banner = work.screen().banner
    assert banner is not None
    assert banner.text.startswith("40 limits passed while this station was off: K7 001 Sat 7 Nov 16:00")
    assert banner.todo == WHERE_MISSED
    assert work.sounding() is Priority.MEDIUM
    (part,) = alarm_parts(again.floor, work.missed, FORMS)
    assert len(part.rows) == 40
    assert part.rows[0].what == "K7 001: time to cold storage, past by 1 d 20 h"
    work.heard([card_text(Card.SILENCE)])
    assert work.sounding() is None


def test_a_bead_that_still_lies_there_has_no_touch_in_the_list_and_sounds_again_on_its_card() -> None:
    bench = Bench()
    bench.on_line()
    bench.later(8 * 60 + 1)
    alarm = bench.alarms()[0]
    bench.station.acknowledge((alarm,), "P12")
    assert [row.act for row in day_parts(bench.floor, FORMS)[0].rows] == [None]
    silent = alarm_cards(bench.later(5).floor)[0]
    assert silent.lines[0].endswith("by P12. Sounds again at 23:22 until the paste is off.")
    again = alarm_cards(bench.later(5).floor)[0]
    assert again.lines[0].endswith("Sounds again until the paste is off.")
    assert again.actions[0].label == "Silence"


def test_what_was_dealt_with_in_time_stands_apart_and_waits_for_a_word() -> None:
    bench = Bench()
    bench.on_line()
    bench.later(8 * 60 + 5).tag_card("1", Card.REMOVE, "LINE1")
    first, waiting, *_ = day_parts(bench.floor, FORMS)
    assert (len(first.rows), len(waiting.rows)) == (0, 1)
    act = waiting.rows[0].act
    assert act is not None
    assert act.id == f"clear:{bench.alarms()[0]}"


def test_a_long_list_ends_with_how_many_more_there_are() -> None:
    bench = late_to_cold(42)
    assert day_parts(bench.floor, FORMS)[0].rows[-1].what == "and 2 more"


# ---------------------------------------------------------------------- closed by the calendar


@pytest.fixture
def plant() -> Plant:
    return mid_shift()


def test_on_a_weekend_alarms_make_no_sound_until_monday_and_the_screen_says_so(plant: Plant) -> None:
    plant.later(timedelta(days=3))  # Friday 14:05
    assert plant.work.sounding() is Priority.HIGH
    plant.later(timedelta(days=1))
    assert plant.work.sounding() is None
    banner = plant.work.screen().banner
    assert banner is not None
    assert banner.text == "No shift is on: alarms make no sound until Mon 30 Nov 06:00."
    plant.work.heard([tag_text(TagKind.PLACE, "DESK")])  # somebody works all the same
    assert plant.work.sounding() is Priority.HIGH
    plant.later(timedelta(hours=2))
    assert plant.work.sounding() is None
    plant.later(timedelta(days=1, hours=14))  # Monday 06:05
    assert plant.work.sounding() is Priority.HIGH
    after = plant.work.screen().banner
    assert after is None or "No shift" not in after.text


# ---------------------------------------------------------------------- shelving


def test_an_alarm_is_shelved_and_unshelved_at_the_desk_and_its_card_says_so(qtbot: QtBot) -> None:
    bench = late_to_cold(1)
    window = StationWindow(DeskWork(bench.station), None)
    qtbot.addWidget(window)
    window.resize(1024, 768)
    window.show()
    window.hear(HeardScan(tag_text(TagKind.PLACE, "DESK"), ""))
    window.act("shelving")
    the(window, RowsDialog).buttons[0].click()
    form = the(window, ShelveDialog)
    form.hand_in.click()
    assert form.isVisible()
    form.lengths.choose("60")
    form.badge.fill(LEAD)
    form.pin.fill(LEAD_PIN)
    form.reason.fill("being sorted")
    form.hand_in.click()
    card = window.work.screen().alarm_cards[0]
    assert card.lines[0] == "Since 16:00. Shelved until 17:01 by P20: being sorted."
    assert window.work.sounding() is None
    bench.later(10)
    window.act("shelving")
    dialog = the(window, RowsDialog)
    assert "Shelved until 17:01" in words(dialog)
    dialog.buttons[0].click()
    ending = the(window, LeadDialog)
    ending.badge.fill(LEAD)
    ending.pin.fill(LEAD_PIN)
    ending.hand_in.click()
    assert window.work.sounding() is Priority.MEDIUM
    window.act("shelve:no such alarm")
    window.act("unshelve:no such alarm")
    assert not window.dialogs.busy
    window.act("missed")
    assert "is still open" in words(the(window, RowsDialog))
    assert the(window, RowsDialog).collect() is None
    window.close()


def test_the_closing_list_names_what_passes_before_the_next_shift() -> None:
    bench = Bench()
    bench.on_line()
    found = closing_list(bench.floor, bench.floor.now + timedelta(hours=9), bench.floor.now + timedelta(hours=9))
    lines, *_ = closing_parts(bench.floor, found, FORMS)
    assert lines.rows[0].what == "Bead on line 1: stencil life ends 23:11"
