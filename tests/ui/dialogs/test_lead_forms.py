"""What a lead notices at the forms for lots, late take-outs, corrections and versions, before anything is handed in."""

from datetime import UTC, date, datetime

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot

from station.ui.dialogs.correct_dialog import CorrectDialog, CorrectWord, RecordedReceipt
from station.ui.dialogs.late_dialog import LateDialog, LateWord
from station.ui.dialogs.lead_dialog import LeadDialog
from station.ui.dialogs.lot_dialogs import HoldLotWord, ReleaseLotWord
from station.ui.dialogs.recertify_dialog import Badged, RecertifyDialog, RecertifyWord
from station.ui.dialogs.take_back_dialog import TakeBackWord
from station.ui.dialogs.version_dialog import VersionWord
from tests.ui.dialogs import samples
from tests.ui.dialogs.test_dialogs import opened, sentences

# The platform without a display says so of every window that is shown; it is no fault of a form.
pytestmark = pytest.mark.qt_log_ignore("does not support propagateSizeHints")


@pytest.fixture
def host(qtbot: QtBot) -> QWidget:
    window = samples.host_of(1024, 768)
    qtbot.addWidget(window)
    window.show()
    return window


def proved(dialog: LeadDialog, reason: str = "seen by two people") -> None:
    """A lead's badge, PIN and reason, then handed in."""
    dialog.take_badge("P20")
    dialog.pin.fill("2020")
    dialog.reason.fill(reason)
    dialog.hand_in.click()


# ---------------------------------------------------------------------- taken out earlier


def told_late(dialog: LateDialog, earliest: tuple[str, str], latest: tuple[str, str]) -> None:
    for part, (day, clock) in ((dialog.earliest, earliest), (dialog.latest, latest)):
        part.day.fill(day)
        part.clock.fill(clock)


def test_the_interval_of_a_late_take_out_is_handed_over_as_instants(host: QWidget) -> None:
    dialog = samples.late(host)
    words = opened(dialog)
    told_late(dialog, ("2026-11-24", "06:10"), ("2026-11-24", "09:05"))
    assert dialog.latest.day.remark.text() == "Tue 24 Nov 09:05"
    proved(dialog, "the store's logger shows the door")
    at = (datetime(2026, 11, 24, 5, 10, tzinfo=UTC), datetime(2026, 11, 24, 8, 5, tzinfo=UTC))
    assert words == [LateWord("P20", "2020", "the store's logger shows the door", *at)]


def test_no_time_of_day_is_filled_in_for_the_lead(host: QWidget) -> None:
    dialog = samples.late(host)
    words = opened(dialog)
    assert (dialog.earliest.day.text, dialog.earliest.clock.text) == ("2026-11-24", "")
    proved(dialog)
    assert words == []
    assert len(sentences(dialog)) == 2


def test_in_the_doubled_hour_life_runs_from_its_first_pass_and_warming_from_its_second(host: QWidget) -> None:
    """Berlin's clocks went back at 03:00 on 25 October 2026 (IANA time zone database)."""
    dialog = samples.late(host)
    words = opened(dialog)
    told_late(dialog, ("2026-10-25", "02:30"), ("2026-10-25", "02:30"))
    assert "the first is taken" in dialog.earliest.day.remark.text()
    assert "the second is taken" in dialog.latest.day.remark.text()
    proved(dialog)
    (word,) = words
    assert isinstance(word, LateWord)
    assert (word.earliest.hour, word.latest.hour) == (0, 1)


def test_a_late_take_out_asks_how_its_time_is_known(host: QWidget) -> None:
    dialog = samples.late(host)
    opened(dialog)
    assert dialog.reason.caption.text() == "How is the time known? It stands in the record"


# ---------------------------------------------------------------------- correction


def corrected(dialog: CorrectDialog, words: list[object]) -> CorrectWord:
    proved(dialog)
    assert sentences(dialog) == []
    (word,) = words
    assert isinstance(word, CorrectWord)
    return word


def test_only_what_was_overwritten_is_corrected(host: QWidget) -> None:
    dialog = samples.correct(host)
    words = opened(dialog)
    assert (dialog.lot.text, dialog.expires.text, dialog.arrived.text) == ("26-118", "2027-03-31", "2026-11-20 07:12")
    dialog.lot.fill("26-181")
    word = corrected(dialog, words)
    assert (word.lot, word.expires, word.arrived_at, word.temperature_c) == ("26-181", None, None, None)


def test_expiry_arrival_and_temperature_are_put_right(host: QWidget) -> None:
    dialog = samples.correct(host)
    words = opened(dialog)
    dialog.expires.fill("2027-01-31")
    dialog.arrived.clock.fill("05:12")
    dialog.temperature.fill("48")
    dialog.unit.choose("F")
    word = corrected(dialog, words)
    assert word.expires == date(2027, 1, 31)
    assert word.arrived_at == datetime(2026, 11, 20, 4, 12, tzinfo=UTC)
    assert word.temperature_c == pytest.approx(8.89)
    assert word.lot is None


@pytest.mark.parametrize(("field", "wrong"), [("lot", ""), ("expires", "31.03.2027"), ("temperature", "warm")])
def test_a_field_that_cannot_be_read_keeps_the_form(host: QWidget, field: str, wrong: str) -> None:
    dialog = samples.correct(host)
    words = opened(dialog)
    getattr(dialog, field).fill(wrong)
    proved(dialog)
    assert words == []
    assert sentences(dialog)


def test_a_temperature_nobody_measured_may_stay_so_or_be_given(host: QWidget) -> None:
    at = datetime(2026, 11, 20, 6, 12, tzinfo=UTC)
    receipt = RecordedReceipt("Receipt of K7 313", "26-118", None, at, "recorded as not measured")
    dialog = samples.correct(host, receipt=receipt)
    words = opened(dialog)
    assert dialog.temperature.remark.text() == "recorded as not measured"
    dialog.lot.fill("26-119")
    assert corrected(dialog, words).temperature_c is None
    again = samples.correct(host, receipt=receipt)
    words = opened(again)
    again.temperature.fill("7,5")
    assert corrected(again, words).temperature_c == 7.5


# ---------------------------------------------------------------------- take back, version


def test_one_of_several_last_acts_is_named_before_it_is_taken_back(host: QWidget) -> None:
    dialog = samples.take_back(host)
    words = opened(dialog)
    proved(dialog)
    assert (words, sentences(dialog)) == ([], ["Say which act."])
    dialog.acts.choose("position:2A")
    proved(dialog)
    assert words == [TakeBackWord("P20", "2020", "seen by two people", "position:2A")]


def test_the_safe_version_stands_first_and_is_chosen_already(host: QWidget) -> None:
    dialog = samples.version(host)
    words = opened(dialog)
    assert [button.action_model.id for button in dialog.versions.buttons] == ["3", "4"]
    proved(dialog)
    assert words == [VersionWord("P20", "2020", "seen by two people", 3)]


# ---------------------------------------------------------------------- lots


def test_what_a_hold_reaches_is_said_before_it_is_said(host: QWidget) -> None:
    dialog = samples.hold_lot(host)
    words = opened(dialog)
    assert "line 2A" in dialog.which.lot.remark.text()
    dialog.which.lot.fill("26-119")
    assert "SN-4 26-119" in dialog.which.lot.remark.text()
    proved(dialog, "supplier's letter")
    assert words == [HoldLotWord("P20", "2020", "supplier's letter", "SN-4", "26-119")]


def test_without_a_scan_paste_and_lot_are_asked_for(host: QWidget) -> None:
    dialog = samples.hold_lot(host, paste="", lot="")
    words = opened(dialog)
    proved(dialog)
    assert words == []
    assert len(sentences(dialog)) == 2


def test_a_hold_is_released_by_name(host: QWidget) -> None:
    dialog = samples.release_lot(host)
    words = opened(dialog)
    dialog.holds.choose("PB-1/26-090#2")
    proved(dialog)
    assert words == [ReleaseLotWord("P20", "2020", "seen by two people", "PB-1/26-090#2")]


def test_each_scanned_badge_goes_to_the_person_it_can_be(host: QWidget) -> None:
    dialog = samples.recertify(host)
    opened(dialog)
    dialog.take_badge("P30")
    dialog.take_badge("P20")
    assert (dialog.lead.badge.text, dialog.engineer.badge.text) == ("P20", "P30")
    assert dialog.lead.badge.remark.text() == "Toni Rowan"


def test_somebody_who_is_both_goes_where_nobody_stands_yet(host: QWidget) -> None:
    dialog = samples.recertify(host)
    opened(dialog)
    dialog.take_badge("P20")
    touched(dialog, "2020")
    dialog.take_badge("P40")
    assert (dialog.lead.badge.text, dialog.engineer.badge.text) == ("P20", "P40")


def touched(dialog: RecertifyDialog, pin: str) -> None:
    for digit in pin:
        dialog.pad.touch(digit)


def test_the_pad_types_into_the_pin_of_the_badge_scanned_last(host: QWidget) -> None:
    dialog = samples.recertify(host)
    words = opened(dialog)
    dialog.expires.fill("2027-06-30")
    dialog.document.fill("letter 26-7")
    dialog.take_badge("P20")
    touched(dialog, "2021")
    dialog.pad.touch("back")
    touched(dialog, "0")
    dialog.take_badge("P30")
    touched(dialog, "3030")
    assert dialog.expires.remark.text() == "30 Jun 2027"
    dialog.hand_in.click()
    both = (Badged("P20", "2020"), Badged("P30", "3030"))
    assert words == [RecertifyWord("SN-4", "26-118", date(2027, 6, 30), "letter 26-7", *both)]


def test_a_refusal_empties_both_pins_and_keeps_the_rest(host: QWidget) -> None:
    dialog = samples.recertify(host)
    opened(dialog)
    dialog.take_badge("P20")
    touched(dialog, "2020")
    dialog.take_badge("P30")
    touched(dialog, "3131")
    dialog.refuse("That PIN is not right. Type it again.")
    assert (dialog.lead.pin.text, dialog.engineer.pin.text) == ("", "")
    assert (dialog.lead.badge.text, dialog.engineer.badge.text) == ("P20", "P30")


def test_neither_pin_is_printed(host: QWidget) -> None:
    assert "2020" not in repr(Badged("P20", "2020"))
    assert "2020" not in repr(HoldLotWord("P20", "2020", "why", "SN-4", "1"))
    assert "2020" not in repr(LateWord("P20", "2020", "why", samples.NOW, samples.NOW))


# ---------------------------------------------------------------------- sheets


def test_a_further_act_is_one_touch_away(host: QWidget) -> None:
    dialog = samples.more(host)
    words = opened(dialog)
    assert not dialog.hand_in.isVisibleTo(dialog)
    next(button for button in dialog.buttons if button.action_model.label == "Hold lot").click()
    assert words == ["hold-lot:K7-313"]


def test_what_a_lot_reached_is_read_and_goes_when_it_was_seen(host: QWidget) -> None:
    dialog = samples.reach(host)
    opened(dialog)
    said = [part.text() for part in dialog.findChildren(QLabel) if part.isVisibleTo(dialog)]
    assert "Line 2A since 06:06: STILL ON. Stop and scrape it off." in said
    assert "None that this station knows of." in said
    QTest.mouseClick(dialog.hand_in, Qt.MouseButton.LeftButton)
    assert not dialog.isVisible()
