"""What of the wedge needs no real display: how it reads Qt's events. Focus and shortcuts are tested on a display."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QEvent, Qt
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


@pytest.fixture
def wedge(qapp: QApplication) -> Iterator[WedgeFilter]:
    installed = WedgeFilter(WedgeTiming(), qapp)
    qapp.installEventFilter(installed)
    yield installed
    qapp.removeEventFilter(installed)
    installed.deleteLater()


@pytest.fixture
def line(qtbot: QtBot) -> QLineEdit:
    return shown(qtbot, QLineEdit())


def shown[Part: QWidget](qtbot: QtBot, part: Part) -> Part:
    """The widget in a window that has the keyboard."""
    qtbot.addWidget(part)
    part.show()
    part.activateWindow()
    part.setFocus()
    qtbot.waitUntil(part.hasFocus)
    return part
