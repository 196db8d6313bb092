"""What a person notices at a form: who may hand it in, what it says, and that a scanner can't work it."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QPoint, QRect, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QLineEdit, QPushButton, QWidget
from pytestqt.qtbot import QtBot
from shiboken6 import isValid

from station.care.words import Boards, Disposition
from station.ui.dialogs.choices import ChoiceButton
from station.ui.dialogs.clear_dialog import AlarmToClear, ClearDialog, ClearWord, DispositionOffer
from station.ui.dialogs.lead_dialog import LeadDialog, LeadWord
from station.ui.dialogs.paper_dialog import PaperDialog
from station.ui.dialogs.room_dialog import ReadBefore, RoomDialog, RoomWord
from station.ui.screen import PlaceScreen
from station.ui.theme import DARK, LIGHT, Theme
from station.ui.widgets.touch_button import TouchButton
from tests.ui import gallery
from tests.ui.dialogs import samples
from tests.ui.test_theme import contrast, luminance

# The platform without a display says so of every window that is shown; it is no fault of a form.
pytestmark = pytest.mark.qt_log_ignore("does not support propagateSizeHints")
MAKERS = {
    "receive": samples.receive,
    "clear": samples.clear_bead,
    "lead": samples.lead,
    "room": samples.room,
    "room-file": samples.room_file,
    "late": samples.late,
    "correct": samples.correct,
    "take-back": samples.take_back,
    "version": samples.version,
    "hold-lot": samples.hold_lot,
    "release-lot": samples.release_lot,
    "recertify": samples.recertify,
    "more": samples.more,
}
MILLIMETRES_15 = 15 / 25.4 * 96


@pytest.fixture
def host(qtbot: QtBot) -> QWidget:
    window = samples.host_of(1024, 768)
    qtbot.addWidget(window)
    window.show()
    return window


def opened(dialog: PaperDialog) -> list[object]:
    """Open a form; what it hands over gathers in the list."""
    words: list[object] = []
    dialog.offered.connect(words.append)
    dialog.open()
    settle()
    return words


def settle() -> None:
    for _ in range(3):
        QApplication.processEvents()


def sentences(dialog: PaperDialog) -> list[str]:
    shown = [part for part in dialog.findChildren(QLabel) if part.property("role") == "complaint"]
    return [part.text() for part in shown if part.isVisibleTo(dialog)]


def in_host(part: QWidget, host: QWidget) -> QRect:
    return QRect(part.mapTo(host, QPoint(0, 0)), part.size())


def checked(dialog: PaperDialog) -> list[str]:
    return [button.accessibleName() for button in dialog.findChildren(QAbstractButton) if button.isChecked()]


# ---------------------------------------------------------------------- every form


@pytest.mark.parametrize("name", MAKERS)
def test_an_enter_from_a_scanner_presses_nothing(name: str, host: QWidget) -> None:
    """BR-07: neither a field with the focus nor a button that has it answers Enter."""
    dialog = MAKERS[name](host)
    words = opened(dialog)
    left: list[bool] = []
    dialog.left.connect(lambda: left.append(True))
    for part in (*dialog.findChildren(QLineEdit), *dialog.findChildren(QAbstractButton), dialog):
        if not part.isVisibleTo(dialog) and part is not dialog:
            continue
        part.setFocus()
        before = checked(dialog)
        QTest.keyClick(part, Qt.Key.Key_Return)
        QTest.keyClick(part, Qt.Key.Key_Enter)
        assert checked(dialog) == before
    assert (words, left, sentences(dialog)) == ([], [], [])
    assert dialog.isVisible()


@pytest.mark.parametrize("name", MAKERS)
def test_no_letter_is_a_shortcut_and_no_button_waits_for_enter(name: str, host: QWidget) -> None:
    dialog = MAKERS[name](host)
    opened(dialog)
    assert dialog.findChildren(QPushButton) == []
    buttons = dialog.findChildren(QAbstractButton)
    assert [button.accessibleName() for button in buttons if not button.shortcut().isEmpty()] == []
    assert not [label.text() for label in dialog.findChildren(QLabel) if "&" in label.text()]


@pytest.mark.parametrize("size", [(1024, 768), (1366, 768), (1920, 1080), (3840, 2160), (512, 384)])
@pytest.mark.parametrize("name", MAKERS)
def test_everything_to_be_touched_is_fifteen_millimetres(name: str, size: tuple[int, int], qtbot: QtBot) -> None:
    """Also where the window is only half as large, as 1024 x 768 is at a scale of 200 %."""
    host = samples.host_of(*size)
    qtbot.addWidget(host)
    host.show()
    dialog = MAKERS[name](host)
    opened(dialog)
    small = [
        (part.accessibleName(), part.width(), part.height())
        for part in (*dialog.findChildren(QAbstractButton), *dialog.findChildren(QLineEdit))
        if part.isVisibleTo(dialog) and min(part.width(), part.height()) < MILLIMETRES_15 - 0.5
    ]
    assert small == []


@pytest.mark.parametrize("name", MAKERS)
def test_all_of_it_is_seen_at_once_at_1024_x_768(name: str, host: QWidget) -> None:
    dialog = MAKERS[name](host)
    opened(dialog)
    seen = QRect(0, 0, 1024, 768)
    parts = (*dialog.findChildren(QAbstractButton), *dialog.findChildren(QLineEdit), *dialog.findChildren(QLabel))
    shown = [part for part in parts if part.isVisibleTo(dialog)]
    assert [part for part in shown if not seen.contains(in_host(part, host))] == []
    assert [part for part in shown if part.visibleRegion().boundingRect() != part.rect()] == []
    assert len(shown) > 6


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
@pytest.mark.parametrize("name", MAKERS)
def test_words_reach_seven_to_one(name: str, theme: Theme, host: QWidget) -> None:
    """WCAG 2.2, success criterion 1.4.6, measured on what was painted: darkest against lightest of each part."""
    dialog = MAKERS[name](host, theme)
    opened(dialog)
    dialog.hand_in.click()
    settle()
    picture = host.grab().toImage()
    labels = [part for part in dialog.findChildren(QLabel) if part.isVisibleTo(dialog) and part.text()]
    for part in (*labels, *dialog.findChildren(QAbstractButton)):
        if not part.isVisibleTo(dialog) or part.visibleRegion().boundingRect() != part.rect():
            continue
        area = in_host(part, host).adjusted(4, 2, -4, -2)
        colours = {
            picture.pixelColor(x, y).name()
            for x in range(area.left(), area.right())
            for y in range(area.top(), area.bottom())
        }
        by_light = sorted(colours, key=luminance)
        assert contrast(by_light[0], by_light[-1]) >= 7, part.accessibleName()


@pytest.mark.parametrize("name", MAKERS)
def test_nothing_painted_is_cut_or_too_small(name: str, host: QWidget) -> None:
    dialog = MAKERS[name](host)
    opened(dialog)
    host.grab()
    touched = [record for part in dialog.findChildren(TouchButton) for record in part.lettered]
    chosen = [record for part in dialog.findChildren(ChoiceButton) for record in part.lettered]
    records = [*dialog.lettered, *touched, *chosen]
    assert len(records) > 3
    for record in records:
        assert record.fits, record.text
        assert record.box.adjusted(-1, -1, 1, 1).contains(record.ink), record.text


def test_the_bar_and_the_line_below_stay_in_sight(qtbot: QtBot) -> None:
    screen = PlaceScreen()
    qtbot.addWidget(screen)
    screen.resize(1024, 768)
    screen.show_model(gallery.GALLERY["fridge-done"]())
    screen.show()
    dialog = samples.receive(screen)
    opened(dialog)
    assert dialog.geometry().top() == screen.bar.geometry().bottom() + 1
    assert dialog.geometry().bottom() < screen.bottom.geometry().top()


def test_it_follows_the_window(host: QWidget) -> None:
    dialog = samples.room(host)
    opened(dialog)
    host.resize(1600, 900)
    settle()
    assert dialog.size() == host.size()


def test_what_lies_below_cannot_be_touched_or_tabbed_to(host: QWidget) -> None:
    below = QPushButton("below", host)
    below.setGeometry(0, 0, 1024, 768)
    below.show()
    pressed: list[bool] = []
    below.clicked.connect(lambda: pressed.append(True))
    dialog = samples.lead(host)
    opened(dialog)
    under = host.childAt(QPoint(5, 5))
    assert under is not None
    QTest.mouseClick(under, Qt.MouseButton.LeftButton, pos=QPoint(5, 5))
    visited = []
    for _ in range(40):
        dialog.focusNextPrevChild(True)
        visited.append(host.focusWidget())
    assert pressed == []
    assert below not in visited
    assert {dialog.badge.line, dialog.pin.line, dialog.reason.line, dialog.hand_in, dialog.cancel} <= set(visited)


@pytest.mark.parametrize("way", ["cancel", "escape", "told"])
def test_it_goes_once_and_gives_the_focus_back(way: str, host: QWidget) -> None:
    field = QLineEdit(host)
    field.show()
    host.activateWindow()
    field.setFocus()
    dialog = samples.room(host)
    words = opened(dialog)
    left: list[bool] = []
    dialog.left.connect(lambda: left.append(True))
    act: dict[str, Callable[[], object]] = {
        "cancel": dialog.cancel.click,
        "escape": lambda: QTest.keyClick(dialog.temperature.line, Qt.Key.Key_Escape),
        "told": dialog.leave,
    }
    act[way]()
    dialog.leave()
    assert (left, words) == ([True], [])
    assert host.focusWidget() is field
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    assert not isValid(dialog)


def test_it_goes_although_the_button_that_opened_it_is_gone(host: QWidget, qtbot: QtBot) -> None:
    """The screen below lives on: a minute later its buttons are others. A form that stayed would swallow every scan."""
    button = QPushButton("More", host)
    button.show()
    host.activateWindow()
    button.setFocus()
    assert host.focusWidget() is button
    dialog = samples.room(host)
    opened(dialog)
    button.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    with qtbot.waitSignal(dialog.left, timeout=0):
        dialog.leave()
    assert not dialog.isVisible()


def test_a_sentence_that_comes_moves_no_field_from_under_a_finger(host: QWidget) -> None:
    dialog = samples.receive(host)
    opened(dialog)
    before = in_host(dialog.paste, host).topLeft()
    dialog.refuse("A scan came in; nothing was recorded.")
    settle()
    dialog.hand_in.click()
    settle()
    assert len(sentences(dialog)) > 2
    assert in_host(dialog.paste, host).topLeft() == before


def test_no_key_of_the_pad_reads_like_a_button_of_the_form(host: QWidget) -> None:
    dialog = samples.clear_bead(host)
    dialog.name_leaving("Back")
    opened(dialog)
    buttons = {dialog.cancel.action_model.label, dialog.hand_in.action_model.label}
    assert buttons == {"Back", "Clear the alarm"}
    assert not {"Back", "Clear"} & {button.action_model.label for button in dialog.pad.buttons}


def test_a_stray_scan_is_told_and_takes_nothing_that_was_typed(host: QWidget) -> None:
    dialog = samples.lead(host)
    opened(dialog)
    dialog.take_badge("P20")
    touched(dialog, "20")
    dialog.reason.line.setFocus()
    dialog.remark("A scan came in; nothing was recorded.")
    assert sentences(dialog) == ["A scan came in; nothing was recorded."]
    assert (dialog.badge.text, dialog.pin.text) == ("P20", "20")
    assert host.focusWidget() is dialog.reason.line


def test_space_works_the_button_that_has_the_focus(host: QWidget) -> None:
    dialog = samples.room(host)
    words = opened(dialog)
    dialog.temperature.fill("21,5")
    dialog.humidity.fill("45")
    dialog.hand_in.setFocus()
    QTest.keyClick(dialog.hand_in, Qt.Key.Key_Space)
    assert words == [RoomWord(21.5, 45.0)]


# ---------------------------------------------------------------------- shift lead


def touched(dialog: LeadDialog, pin: str) -> None:
    for digit in pin:
        dialog.pad.touch(digit)


def test_a_scanned_badge_fills_its_field_wherever_the_focus_is(host: QWidget) -> None:
    dialog = samples.lead(host)
    words = opened(dialog)
    dialog.reason.line.setFocus()
    dialog.take_badge("P20")
    assert dialog.badge.text == "P20"
    assert dialog.reason.text == ""
    assert dialog.badge.remark.text() == "Toni Rowan"
    touched(dialog, "2020")
    dialog.reason.fill("moved by hand, sensor read 6 °C")
    dialog.hand_in.click()
    assert words == [LeadWord("P20", "2020", "moved by hand, sensor read 6 °C")]


def test_another_badge_keeps_no_pin_and_no_sentence_of_the_one_before(host: QWidget) -> None:
    dialog = samples.lead(host)
    opened(dialog)
    dialog.pin.fill("4040")
    dialog.take_badge("P20")
    assert dialog.pin.text == "4040", "a PIN typed before its badge is scanned stays"
    dialog.refuse("This needs a process engineer's badge.")
    dialog.take_badge("P20")
    assert dialog.sentence.text() == ""
    dialog.pin.fill("2020")
    dialog.refuse("This needs a process engineer's badge.")
    dialog.pin.fill("2020")
    dialog.take_badge("P30")
    assert (dialog.badge.text, dialog.pin.text, dialog.sentence.text()) == ("P30", "", "")
    dialog.pin.fill("3030")
    dialog.badge.fill("P20")
    assert dialog.pin.text == ""


def test_the_pin_is_never_seen_nor_printed(host: QWidget) -> None:
    dialog = samples.lead(host)
    opened(dialog)
    touched(dialog, "2020")
    assert dialog.pin.line.displayText() != "2020"
    assert "2020" not in repr(LeadWord("P20", "2020", "why"))
    assert "2020" not in repr(ClearWord("P20", "2020", "why", Disposition.DISCARDED, None, "", None))


def test_a_refused_pin_leaves_the_form_open_with_the_sentence_and_all_but_the_pin(host: QWidget) -> None:
    dialog = samples.lead(host)
    words = opened(dialog)
    dialog.take_badge("P20")
    touched(dialog, "1111")
    dialog.reason.fill("moved by hand")
    dialog.hand_in.click()
    dialog.refuse("That PIN is not right. Type it again.")
    assert dialog.isVisible()
    assert sentences(dialog) == ["That PIN is not right. Type it again."]
    assert (dialog.badge.text, dialog.pin.text, dialog.reason.text) == ("P20", "", "moved by hand")
    touched(dialog, "2020")
    dialog.hand_in.click()
    assert sentences(dialog) == []
    assert words == [LeadWord("P20", "1111", "moved by hand"), LeadWord("P20", "2020", "moved by hand")]


def test_each_empty_field_gets_its_sentence_and_nothing_is_handed_over(host: QWidget) -> None:
    dialog = samples.lead(host)
    words = opened(dialog)
    dialog.reason.fill("   ")
    dialog.hand_in.click()
    assert words == []
    assert len(sentences(dialog)) == 3
    dialog.reason.fill("a reason")
    assert len(sentences(dialog)) == 2


def test_the_pad_takes_back_one_digit_or_all(host: QWidget) -> None:
    dialog = samples.lead(host)
    opened(dialog)
    touched(dialog, "1234")
    dialog.pad.touch("back")
    assert dialog.pin.text == "123"
    dialog.pad.touch("clear")
    assert dialog.pin.text == ""


def test_a_badge_typed_in_small_letters_is_the_same_badge(host: QWidget) -> None:
    dialog = samples.lead(host)
    words = opened(dialog)
    dialog.badge.fill("p20")
    dialog.pin.fill("2020")
    dialog.reason.fill("why")
    dialog.hand_in.click()
    assert words == [LeadWord("P20", "2020", "why")]


def test_no_reason_is_asked_where_none_is_needed(host: QWidget) -> None:
    dialog = LeadDialog("The clock is right", host, ask_reason=False)
    words = opened(dialog)
    dialog.take_badge("P20")
    dialog.pin.fill("2020")
    dialog.hand_in.click()
    assert not dialog.reason.isVisibleTo(dialog)
    assert words == [LeadWord("P20", "2020", "")]


# ---------------------------------------------------------------------- clearing


def proven(dialog: ClearDialog) -> None:
    dialog.take_badge("P20")
    dialog.pin.fill("2020")
    dialog.reason.fill("forgotten over the break")


def test_a_container_is_cleared_with_its_grams(host: QWidget) -> None:
    dialog = samples.clear_container(host)
    words = opened(dialog)
    proven(dialog)
    dialog.dispositions.choose(Disposition.DISCARDED.value)
    dialog.grams.fill("180,5")
    dialog.hand_in.click()
    expected = ClearWord("P20", "2020", "forgotten over the break", Disposition.DISCARDED, None, "", 180.5)
    assert words == [expected]


def test_grams_may_stay_empty_and_are_refused_when_wrong(host: QWidget) -> None:
    dialog = samples.clear_container(host)
    words = opened(dialog)
    proven(dialog)
    dialog.dispositions.choose(Disposition.DISCARDED.value)
    dialog.grams.fill("a lot")
    dialog.hand_in.click()
    assert words == []
    assert len(sentences(dialog)) == 1
    dialog.grams.fill("")
    dialog.hand_in.click()
    assert [word.grams for word in words if isinstance(word, ClearWord)] == [None]


def test_an_extension_asks_for_its_concession_number_and_nothing_else_does(host: QWidget) -> None:
    dialog = samples.clear_container(host)
    words = opened(dialog)
    proven(dialog)
    assert not dialog.document.isVisibleTo(dialog)
    dialog.dispositions.choose(Disposition.EXTENDED.value)
    assert dialog.document.caption.text() == "Concession number"
    dialog.hand_in.click()
    assert words == []
    dialog.document.fill("CN-26-044")
    dialog.hand_in.click()
    dialog.dispositions.choose(Disposition.NOT_FOUND.value)
    dialog.hand_in.click()
    said = [(word.disposition, word.document) for word in words if isinstance(word, ClearWord)]
    assert said == [(Disposition.EXTENDED, "CN-26-044"), (Disposition.NOT_FOUND, "")]


@pytest.mark.parametrize(
    ("boards", "asks"), [(Boards.NONE, False), (Boards.QUARANTINED, False), (Boards.ACCEPTED, True)]
)
def test_a_bead_asks_for_its_boards_and_for_who_accepted_them(boards: Boards, asks: bool, host: QWidget) -> None:
    dialog = samples.clear_bead(host)
    words = opened(dialog)
    proven(dialog)
    dialog.dispositions.choose(Disposition.BEAD_OFF.value)
    dialog.hand_in.click()
    assert sentences(dialog) == ["Say what became of these boards."]
    dialog.boards.choose(boards.value)
    assert dialog.document.isVisibleTo(dialog) is asks
    assert not dialog.grams.isVisibleTo(dialog)
    dialog.document.fill("deviation 26-118, Alex Linden")
    dialog.hand_in.click()
    (word,) = words
    assert isinstance(word, ClearWord)
    assert (word.boards, word.document) == (boards, "deviation 26-118, Alex Linden" if asks else "")


def test_the_boards_question_names_the_time_between_limit_and_removal(host: QWidget) -> None:
    dialog = samples.clear_bead(host)
    opened(dialog)
    assert dialog.boards.caption.text() == "Boards printed between 10:05 and 10:25"
    container = samples.clear_container(host)
    opened(container)
    assert not container.boards.isVisibleTo(container)


def test_what_the_specification_forbids_cannot_be_chosen(host: QWidget) -> None:
    offers = (
        DispositionOffer(Disposition.DISCARDED),
        DispositionOffer(Disposition.EXTENDED, "specification allows 0 h", allowed=False),
    )
    dialog = ClearDialog(AlarmToClear("K7 298 is past its room life", (), offers), host)
    opened(dialog)
    forbidden = dialog.dispositions.buttons[1]
    forbidden.click()
    dialog.dispositions.choose(Disposition.EXTENDED.value)
    assert dialog.dispositions.chosen is None
    assert "specification allows 0 h" in forbidden.accessibleDescription()


def test_a_choice_is_told_by_its_square_not_by_colour_alone(host: QWidget) -> None:
    dialog = samples.clear_container(host)
    opened(dialog)
    button = dialog.dispositions.buttons[0]

    def lightness() -> list[list[bool]]:
        """The square's corner of the button as light and dark, whatever the colours."""
        picture = button.grab().toImage()
        middle = picture.height() // 2
        ground = picture.pixelColor(6, middle).lightness()
        return [
            [abs(picture.pixelColor(x, y).lightness() - ground) > 80 for x in range(8, 30)]
            for y in range(middle - 12, middle + 12)
        ]

    before = lightness()
    button.click()
    assert sum(map(sum, lightness())) > 1.4 * sum(map(sum, before))


# ---------------------------------------------------------------------- the room


def test_the_room_is_never_filled_in_beforehand(host: QWidget) -> None:
    dialog = samples.room(host)
    words = opened(dialog)
    assert (dialog.temperature.text, dialog.humidity.text) == ("", "")
    dialog.hand_in.click()
    assert words == []
    assert len(sentences(dialog)) == 2


def test_a_fahrenheit_reading_is_said_back_in_celsius(host: QWidget) -> None:
    dialog = RoomDialog(host, unit="F")
    words = opened(dialog)
    dialog.temperature.fill("71,6")
    dialog.humidity.fill("40.5")
    assert dialog.temperature.remark.text() == "22.0 °C"
    dialog.hand_in.click()
    assert words == [RoomWord(22.0, 40.5)]


def test_figures_that_repeat_the_reading_before_are_questioned_and_taken_all_the_same(host: QWidget) -> None:
    dialog = RoomDialog(host, before=ReadBefore(RoomWord(21.5, 45.0), "06:00"))
    words = opened(dialog)
    assert (dialog.temperature.text, dialog.humidity.text) == ("", "")
    dialog.temperature.fill("21,50")
    assert dialog.humidity.remark.text() == ""
    dialog.humidity.fill("45")
    assert dialog.humidity.remark.text() == "Same as 06:00: read it again?"
    dialog.hand_in.click()
    assert words == [RoomWord(21.5, 45.0)]


@pytest.mark.parametrize(("temperature", "humidity"), [("21.6", "45"), ("21.5", "46"), ("70", "45"), ("21.5", "0")])
def test_another_reading_or_none_is_not_questioned(temperature: str, humidity: str, host: QWidget) -> None:
    dialog = RoomDialog(host, before=ReadBefore(RoomWord(21.5, 45.0), "06:00"))
    opened(dialog)
    dialog.temperature.fill("21.5")
    dialog.humidity.fill("45")
    dialog.temperature.fill(temperature)
    dialog.humidity.fill(humidity)
    assert dialog.humidity.remark.text() == ""


@pytest.mark.parametrize(("temperature", "humidity"), [("72", "45"), ("21", "0"), ("21", "101"), ("-11", "45")])
def test_what_no_room_is_is_refused(temperature: str, humidity: str, host: QWidget) -> None:
    dialog = samples.room(host)
    words = opened(dialog)
    dialog.temperature.fill(temperature)
    dialog.humidity.fill(humidity)
    dialog.hand_in.click()
    assert words == []
    assert len(sentences(dialog)) == 1


def test_the_pad_writes_where_the_focus_is(host: QWidget, qtbot: QtBot) -> None:
    dialog = samples.room(host)
    words = opened(dialog)
    host.activateWindow()
    qtbot.waitUntil(lambda: QApplication.focusWindow() is not None)
    dialog.temperature.line.setFocus()
    for key in "21,5":
        dialog.pad.touch(key)
    dialog.humidity.line.setFocus()
    for key in ("4", "9", "back", "5"):
        dialog.pad.touch(key)
    dialog.hand_in.click()
    assert words == [RoomWord(21.5, 45.0)]
