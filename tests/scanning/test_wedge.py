"""What of the wedge needs no real display: how it reads Qt's events. Focus and shortcuts are tested on a display."""

from collections.abc import Iterable, Iterator

import pytest
from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QInputMethodEvent, QKeyEvent
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit, QPlainTextEdit, QPushButton, QSpinBox, QWidget
from pytestqt.qtbot import QtBot

from station.scanning.heard import HeardScan
from station.scanning.places import place_for
from station.scanning.stream import WedgeTiming
from station.scanning.wedge import WedgeFilter

NONE, SHIFT = Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ShiftModifier
CONTROL, ALT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.AltModifier
CODE = "V1C7K2M9"
ENTER_CODE = 36
GROUP_SEPARATOR_CODE = 35


class Keys:
    """Presses keys at a widget, 2 ms apart by their stamps, as the window system would."""

    def __init__(self, receiver: QObject) -> None:
        self._receiver = receiver
        self._now_ms = 1000

    def press(
        self, text: str, key: int, scan_code: int, held: Qt.KeyboardModifier = NONE, *, after_ms: int = 2
    ) -> bool:
        """Press one key; True if nobody but the filter saw it (or a widget accepted it)."""
        self._now_ms += after_ms
        event = QKeyEvent(QEvent.Type.KeyPress, key, held, scan_code, 0, 0, text)
        event.setTimestamp(self._now_ms)
        return QApplication.sendEvent(self._receiver, event)

    def type(self, text: str, *, after_ms: int = 2) -> None:
        """Press the keys of a US keyboard that write `text`."""
        for character in text:
            where = place_for(character)
            assert where is not None
            self.press(character, ord(character.upper()), where[0] + 8, SHIFT if where[1] else NONE, after_ms=after_ms)

    def enter(self) -> None:
        """Press Enter."""
        self.press("\r", Qt.Key.Key_Return, ENTER_CODE)


@pytest.fixture
def wedge(qapp: QApplication) -> Iterator[WedgeFilter]:
    installed = WedgeFilter(WedgeTiming(), qapp)
    qapp.installEventFilter(installed)
    yield installed
    qapp.removeEventFilter(installed)
    installed.deleteLater()


@pytest.fixture
def heard(wedge: WedgeFilter) -> list[HeardScan | str]:
    """Everything the wedge tells, in order."""
    told: list[HeardScan | str] = []
    wedge.scanned.connect(told.append)
    wedge.incomplete.connect(told.append)
    return told


def shown(qtbot: QtBot, part: QWidget) -> Keys:
    """A widget in a window that has the keyboard, and hands on it."""
    qtbot.addWidget(part)
    part.show()
    part.activateWindow()
    part.setFocus()
    qtbot.waitUntil(part.hasFocus)
    return Keys(part)


def commit(part: QWidget, texts: Iterable[str]) -> None:
    """What an input method does with the texts it has composed."""
    for text in texts:
        event = QInputMethodEvent()
        event.setCommitString(text)
        QApplication.sendEvent(part, event)


def test_a_scan_is_told_on_the_next_turn_of_the_loop(
    qtbot: QtBot, wedge: WedgeFilter, heard: list[HeardScan | str]
) -> None:
    """A slot may open a dialog: it must not do so inside the key event."""
    keys = shown(qtbot, QPushButton())
    keys.type(CODE)
    keys.enter()
    assert heard == []
    qtbot.waitUntil(lambda: bool(heard))
    assert heard == [HeardScan(CODE, CODE)]
    assert not wedge.is_waiting


def test_a_scan_without_an_end_key_is_told_after_silence(qtbot: QtBot, heard: list[HeardScan | str]) -> None:
    keys = shown(qtbot, QPushButton())
    keys.type(CODE)
    qtbot.waitUntil(lambda: bool(heard))
    assert heard == [HeardScan(CODE, CODE)]


def test_a_timer_that_runs_out_before_queued_keys_are_handled_is_not_believed_br_04(
    qtbot: QtBot, wedge: WedgeFilter, heard: list[HeardScan | str]
) -> None:
    """Else the late Enter would be a key of its own, and enter what the field holds."""
    line = QLineEdit()
    entered: list[bool] = []
    line.returnPressed.connect(lambda: entered.append(True))
    keys = shown(qtbot, line)
    keys.type(CODE)
    wedge._timer.timeout.emit()
    keys.enter()
    qtbot.waitUntil(lambda: bool(heard) and not wedge.is_waiting)
    assert (heard, entered) == ([HeardScan(CODE, CODE)], [])


def test_nothing_sees_the_keys_of_a_scan_come_up(qtbot: QtBot, wedge: WedgeFilter) -> None:
    seen: list[QEvent.Type] = []

    class Listener(QWidget):
        def keyReleaseEvent(self, event: QKeyEvent) -> None:  # noqa: N802  as Qt calls it
            seen.append(event.type())

    listener = Listener(focusPolicy=Qt.FocusPolicy.StrongFocus)
    shown(qtbot, listener)
    QApplication.sendEvent(listener, QKeyEvent(QEvent.Type.KeyRelease, Qt.Key.Key_Space, NONE))
    assert seen == []


def test_a_broken_scan_is_told_as_incomplete_br_05(qtbot: QtBot, heard: list[HeardScan | str]) -> None:
    keys = shown(qtbot, QPushButton())
    keys.type(CODE[:7])
    keys.press(CODE[7], ord(CODE[7]), 18, after_ms=300)
    keys.enter()
    qtbot.waitUntil(lambda: bool(heard))
    assert heard == [CODE]


@pytest.mark.parametrize("make", [QLineEdit, QPlainTextEdit, QSpinBox], ids=lambda make: str(make.__name__))
def test_typed_keys_reach_fields_that_can_be_edited(
    qtbot: QtBot, wedge: WedgeFilter, make: type[QLineEdit] | type[QPlainTextEdit] | type[QSpinBox]
) -> None:
    field = make()
    if isinstance(field, QSpinBox):
        field.clear()
    keys = shown(qtbot, field)
    keys.type("12", after_ms=90)
    qtbot.waitUntil(lambda: not wedge.is_waiting)
    assert (field.toPlainText() if isinstance(field, QPlainTextEdit) else field.text()) == "12"


def test_typed_keys_reach_an_editable_list_and_move_no_other(qtbot: QtBot, wedge: WedgeFilter) -> None:
    for editable, expected in ((True, "21"), (False, "1")):
        combo = QComboBox()
        combo.addItems(["1", "2"])
        combo.setEditable(editable)
        if editable:
            combo.clearEditText()
        keys = shown(qtbot, combo)
        keys.type("21", after_ms=90)
        qtbot.waitUntil(lambda: not wedge.is_waiting)
        assert combo.currentText() == expected


def test_a_field_that_can_not_be_edited_gets_nothing(qtbot: QtBot, wedge: WedgeFilter) -> None:
    line = QLineEdit()
    line.setReadOnly(True)
    returned: list[bool] = []
    line.returnPressed.connect(lambda: returned.append(True))
    keys = shown(qtbot, line)
    keys.type("7")
    keys.enter()
    qtbot.waitUntil(lambda: not wedge.is_waiting)
    assert not returned


def test_the_separator_is_known_by_its_key_on_any_layout_br_13(qtbot: QtBot, heard: list[HeardScan | str]) -> None:
    keys = shown(qtbot, QPushButton())
    for text, key in (("\x1d", Qt.Key.Key_BracketRight), ("", Qt.Key.Key_Plus), ("", Qt.Key.Key_Dollar)):
        keys.press(text, key, GROUP_SEPARATOR_CODE, CONTROL)
    keys.type(CODE)
    keys.enter()
    qtbot.waitUntil(lambda: bool(heard))
    assert heard == [HeardScan("\x1d\x1d\x1d" + CODE, "\x1d\x1d\x1d" + CODE)]


def test_a_character_written_with_altgr_is_a_character(qtbot: QtBot, wedge: WedgeFilter) -> None:
    """Windows reports AltGr as Ctrl and Alt together (from memory)."""
    line = QLineEdit()
    shown(qtbot, line).press("@", Qt.Key.Key_At, 24, CONTROL | ALT)
    qtbot.waitUntil(lambda: not wedge.is_waiting)
    assert line.text() == "@"


def test_keys_with_alt_add_nothing_to_a_scan(qtbot: QtBot, heard: list[HeardScan | str]) -> None:
    keys = shown(qtbot, QPushButton())
    keys.type(CODE)
    keys.press("d", Qt.Key.Key_D, 40, ALT)
    keys.enter()
    qtbot.waitUntil(lambda: bool(heard))
    assert heard == [HeardScan(CODE, CODE)]


def test_commits_of_an_input_method_are_heard_or_given_back_br_06(
    qtbot: QtBot, wedge: WedgeFilter, heard: list[HeardScan | str]
) -> None:
    line = QLineEdit()
    shown(qtbot, line)
    commit(line, ["焊膏"])
    qtbot.waitUntil(lambda: not wedge.is_waiting)
    assert (line.text(), heard) == ("焊膏", [])
    commit(line, CODE)
    qtbot.waitUntil(lambda: bool(heard))
    assert (line.text(), heard) == ("焊膏", [HeardScan(CODE, None)])


def test_composing_is_left_to_the_field(qtbot: QtBot, wedge: WedgeFilter) -> None:
    line = QLineEdit()
    shown(qtbot, line)
    QApplication.sendEvent(line, QInputMethodEvent("han", []))
    assert not wedge.is_waiting
    assert line.text() == ""


def test_no_bare_key_can_be_a_shortcut(qtbot: QtBot, wedge: WedgeFilter) -> None:
    """An accepted override is how Qt is told that a key is no shortcut."""
    line = QLineEdit()
    shown(qtbot, line)
    for key, held, allowed in (
        (Qt.Key.Key_D, NONE, False),
        (Qt.Key.Key_Return, NONE, False),
        (Qt.Key.Key_Plus, CONTROL, False),
        (Qt.Key.Key_K, CONTROL, True),
        (Qt.Key.Key_F, ALT, True),
        (Qt.Key.Key_Q, CONTROL | ALT, False),
        (Qt.Key.Key_F5, NONE, True),
    ):
        event = QKeyEvent(QEvent.Type.ShortcutOverride, key, held)
        event.ignore()
        assert wedge.eventFilter(line, event) is not allowed
        assert event.isAccepted() is not allowed
