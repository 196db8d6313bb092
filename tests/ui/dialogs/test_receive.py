"""Receiving: what can be said of a delivery, and what is noticed before it stands in the record."""

from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from station.care.delivery_rules import Box, Packs
from station.ui.dialogs.delivery_dialog import DeliveryDialog, DeliveryWord
from station.ui.dialogs.receive_dialog import ReceiveDialog, ReceiveWord
from tests.ui.dialogs import samples
from tests.ui.dialogs.test_dialogs import opened, sentences, settle

# The platform without a display says so of every window that is shown; it is no fault of a form.
pytestmark = pytest.mark.qt_log_ignore("does not support propagateSizeHints")


@pytest.fixture
def form(qtbot: QtBot) -> ReceiveDialog:
    host = samples.host_of(1024, 768)
    qtbot.addWidget(host)
    host.show()
    return samples.receive(host)


def filled(form: ReceiveDialog) -> list[object]:
    words = opened(form)
    form.fill("SN-4", "JAR-500", "26-118", date(2027, 3, 31))
    form.temperature.measured.fill("5,5")
    form.tight.choose("tight")
    return words


def handed_in(form: ReceiveDialog, words: list[object]) -> ReceiveWord:
    form.hand_in.click()
    assert sentences(form) == []
    word = words[-1]
    assert isinstance(word, ReceiveWord)
    return word


def test_a_plain_delivery(form: ReceiveDialog) -> None:
    words = filled(form)
    form.count.more.click()
    form.count.more.click()
    assert handed_in(form, words) == ReceiveWord(
        paste="SN-4",
        kind="JAR-500",
        lot="26-118",
        expires=date(2027, 3, 31),
        made=None,
        count=3,
        arrived_at=datetime(2026, 11, 24, 13, 5, tzinfo=UTC),
        temperature_c=5.5,
        temperature_answer="measured",
        leaking=False,
    )


def test_nothing_but_the_arrival_and_one_container_is_filled_in_beforehand(form: ReceiveDialog) -> None:
    words = opened(form)
    assert (form.arrived_day.text, form.arrived_clock.text, form.count.text) == ("2026-11-24", "14:05", "1")
    form.hand_in.click()
    assert words == []
    assert len(sentences(form)) == 5


def test_only_kinds_the_paste_is_bought_in_are_offered(form: ReceiveDialog) -> None:
    opened(form)
    form.paste.choose("SN-4")
    form.kind.choose("JAR-500-BOXED")
    form.paste.choose("SN-6")
    offered = [button.action_model.id for button in form.kind.buttons]
    assert offered == ["JAR-500", "CARTRIDGE-600", "SYRINGE-35"]
    assert form.kind.chosen is None


def test_an_only_kind_needs_no_touch_and_a_kind_both_pastes_have_stays(form: ReceiveDialog) -> None:
    opened(form)
    form.paste.choose("PB-1")
    assert form.kind.chosen == "JAR-500"
    form.paste.choose("SN-4")
    assert form.kind.chosen == "JAR-500"


def test_leaded_paste_is_told_loudly_and_only_leaded_paste(form: ReceiveDialog) -> None:
    opened(form)
    assert not form.leaded.isVisibleTo(form)
    form.paste.choose("PB-1")
    assert form.leaded.isVisibleTo(form)
    assert "LEADED (Pb)" in form.leaded.text()
    form.paste.choose("BI-2")
    assert not form.leaded.isVisibleTo(form)


def test_the_leaded_caution_needs_no_scroll_bar_at_1024_x_768(form: ReceiveDialog) -> None:
    filled(form)
    form.paste.choose("PB-1")
    settle()
    for part in (form.leaded, form.cautions, form.expires.remark):
        assert part.visibleRegion().boundingRect() == part.rect()
    assert form.cautions.width() == form.leaded.width() == form.tight.width()
    assert form.cautions.heightForWidth(form.cautions.width()) <= form.cautions.height()


def test_the_cautions_are_always_there(form: ReceiveDialog) -> None:
    opened(form)
    said = form.cautions.text()
    assert form.cautions.isVisibleTo(form)
    for caution in ("safety data sheet", "gloves and eye protection", "maker's label"):
        assert caution in said


@pytest.mark.parametrize("typed", ["12.07.2027", "07/06/2027", "2027", "1A2B", "26 s", "2027-02-30", ""])
def test_an_expiry_that_is_no_iso_date_is_not_taken(form: ReceiveDialog, typed: str) -> None:
    """BR-37, BR-38."""
    words = filled(form)
    form.expires.fill(typed)
    form.hand_in.click()
    assert words == []
    assert len(sentences(form)) == 1


def test_a_date_is_said_back_in_words_while_it_is_typed(form: ReceiveDialog) -> None:
    filled(form)
    assert form.expires.remark.text() == "31 Mar 2027"
    form.expires.fill("2026-03-31")
    assert "Is the year right?" in form.expires.remark.text()
    form.expires.fill("2026-03")
    assert not form.expires.remark.isVisibleTo(form)


def test_a_paste_counted_in_months_may_be_dated_by_its_manufacture(form: ReceiveDialog) -> None:
    words = filled(form)
    assert not form.made.isVisibleTo(form)
    form.paste.choose("BI-2")
    form.expires.fill("")
    form.made.fill("2026-11-02")
    word = handed_in(form, words)
    assert (word.expires, word.made) == (None, date(2026, 11, 2))
    form.paste.choose("SN-4")
    form.kind.choose("JAR-500")
    form.hand_in.click()
    assert len(words) == 1


@pytest.mark.parametrize(
    ("unit", "typed", "celsius"), [("C", "5.5", 5.5), ("C", "5,5", 5.5), ("F", "41", 5.0), ("F", "99,5", 37.5)]
)
def test_a_temperature_with_its_unit(form: ReceiveDialog, unit: str, typed: str, celsius: float) -> None:
    """BR-66."""
    words = filled(form)
    form.temperature.unit.choose(unit)
    form.temperature.measured.fill(typed)
    assert form.temperature.measured.remark.text() == ("" if unit == "C" else f"{celsius:.1f} °C")
    assert handed_in(form, words).temperature_c == celsius


def test_fahrenheit_taken_for_celsius_is_noticed(form: ReceiveDialog) -> None:
    words = filled(form)
    form.temperature.measured.fill("72")
    form.hand_in.click()
    assert words == []
    assert "°F" in sentences(form)[0]


@pytest.mark.parametrize("answer", ["not measured", "indicator tripped"])
def test_the_two_other_answers_take_the_place_of_a_figure(form: ReceiveDialog, answer: str) -> None:
    words = filled(form)
    form.temperature.other.choose(answer)
    assert form.temperature.measured.text == ""
    word = handed_in(form, words)
    assert (word.temperature_c, word.temperature_answer) == (None, answer)
    form.temperature.measured.fill("6")
    assert form.temperature.other.chosen is None


def test_a_leak_is_said(form: ReceiveDialog) -> None:
    words = filled(form)
    form.tight.choose("leaking")
    assert handed_in(form, words).leaking is True


@pytest.mark.parametrize("typed", ["0", "51", "1,5", ""])
def test_a_count_out_of_range_is_refused(form: ReceiveDialog, typed: str) -> None:
    words = filled(form)
    form.count.fill(typed)
    form.hand_in.click()
    assert words == []
    assert sentences(form) == ["Write a whole number from 1 to 50."]


def test_the_count_stays_between_one_and_fifty_by_touch(form: ReceiveDialog) -> None:
    opened(form)
    form.count.fewer.click()
    assert form.count.text == "1"
    form.count.fill("50")
    form.count.more.click()
    assert form.count.text == "50"
    form.count.fill("rubbish")
    form.count.more.click()
    assert form.count.text == "2"


def test_an_earlier_arrival_in_the_plants_zone(form: ReceiveDialog) -> None:
    words = filled(form)
    form.arrived_day.fill("2026-10-25")
    form.arrived_clock.fill("2:30")
    assert "came twice" in form.arrived_day.remark.text()
    assert handed_in(form, words).arrived_at == datetime(2026, 10, 25, 0, 30, tzinfo=UTC)
    form.arrived_day.fill("2026-03-29")
    form.hand_in.click()
    assert "skipped" in sentences(form)[0]
    assert len(words) == 1


def test_a_refusal_from_the_record_stands_in_the_form(form: ReceiveDialog) -> None:
    filled(form)
    form.hand_in.click()
    form.refuse("The arrival lies in the future. Give the time it came to the dock.")
    assert form.isVisible()
    assert form.lot.text == "26-118"
    assert "future" in sentences(form)[0]


def test_a_sentence_out_of_sight_is_brought_into_sight(qtbot: QtBot) -> None:
    """At 1024 x 768 and a scale of 200 % the form is longer than the window."""
    host: QWidget = samples.host_of(512, 384)
    qtbot.addWidget(host)
    host.show()
    small = samples.receive(host)
    filled(small)
    small.tight.clear()
    QApplication.processEvents()
    assert small.tight.visibleRegion().isEmpty()
    small.hand_in.click()
    QApplication.processEvents()
    assert not small.tight.complaint.visibleRegion().isEmpty()


def test_of_several_only_those_that_leak_are_said_to(form: ReceiveDialog) -> None:
    words = filled(form)
    form.tight.choose("leaking")
    assert not form.leaks.isVisibleTo(form)
    assert "Gloves on" in form.tight.remark.text()
    form.count.fill("4")
    assert form.leaks.isVisibleTo(form)
    form.leaks.fill("5")
    form.hand_in.click()
    assert words == []
    assert sentences(form) == ["More leak than came. Check both numbers."]
    form.leaks.fill("1")
    assert (handed_in(form, words).count, handed_in(form, words).leaking_count) == (4, 1)


def test_lots_of_one_truck_are_told_one_after_another(form: ReceiveDialog) -> None:
    words = filled(form)
    form.count.fill("3")
    form.another.click()
    assert words == []
    assert [button.action_model.hint for button in form.told.buttons] == ["3 x SN-4 lot 26-118"]
    assert (form.lot.text, form.expires.text, form.count.text, form.tight.chosen) == ("", "", "1", None)
    form.prefill("PB-1", "JAR-500", "77", date(2027, 2, 28), count=2)
    form.tight.choose("tight")
    word = handed_in(form, words)
    assert [(lot.paste, lot.lot, lot.count) for lot in (*word.before, word)] == [
        ("SN-4", "26-118", 3),
        ("PB-1", "77", 2),
    ]


def test_a_lot_kept_by_another_lot_is_enough_when_no_more_came(form: ReceiveDialog) -> None:
    words = filled(form)
    form.another.click()
    word = handed_in(form, words)
    assert (word.lot, word.before) == ("26-118", ())


@pytest.mark.parametrize("second", [True, False], ids=["with a second lot", "with one lot"])
def test_the_time_at_the_dock_put_right_afterwards_is_that_of_the_whole_truck(
    form: ReceiveDialog, *, second: bool
) -> None:
    words = filled(form)
    form.another.click()
    if second:
        form.prefill("PB-1", "JAR-500", "77", date(2027, 2, 28))
        form.tight.choose("tight")
    form.arrived_clock.fill("08:30")
    form.temperature.measured.fill("39")
    word = handed_in(form, words)
    came = datetime(2026, 11, 24, 7, 30, tzinfo=UTC)
    assert {lot.arrived_at for lot in (*word.before, word)} == {came}
    assert word.temperature_c == 39.0


def test_a_lot_that_does_not_read_well_is_not_kept(form: ReceiveDialog) -> None:
    filled(form)
    form.lot.fill("")
    form.another.click()
    assert form.before == ()
    assert len(sentences(form)) == 1


def test_what_was_said_of_the_box_goes_with_the_delivery(form: ReceiveDialog, tmp_path: Path) -> None:
    words = filled(form)
    over = DeliveryDialog(form.about, form)
    told: list[object] = []
    over.offered.connect(told.append)
    over.packs.choose("melted")
    over.box.choose("wet")
    over.days.fill("two")
    over.hand_in.click()
    assert told == []
    over.days.fill("2")
    file = tmp_path / "logger.csv"
    over.files.take((file,))
    over.files.chosen.emit()
    over.hand_in.click()
    word = told[0]
    assert word == DeliveryWord(Packs.MELTED, Box.WET, 2, logger_in_box=True, loggers=(file,))
    assert isinstance(word, DeliveryWord)
    form.take_about(word)
    assert form.arrived_clock.remark.text() == "cold packs melted, box wet, logger in the box"
    assert handed_in(form, words).about == word
    assert DeliveryDialog(word, form).collect() == word


def test_a_temperature_typed_with_its_unit_is_understood(form: ReceiveDialog) -> None:
    """39.2 F is 4 C by definition of the scales."""
    words = filled(form)
    form.temperature.measured.fill("")
    form.temperature.measured.line.insert("39.2 F")
    assert handed_in(form, words).temperature_c == pytest.approx(4.0)
