"""The Qt binding itself: a fault in it would end the program in the middle of a shift."""

import sys
from collections.abc import Callable

import pytest
from PySide6.QtGui import QColor, QFont, QImage, QPainter
from pytestqt.qtbot import QtBot

CALLS = 400


def lost(act: Callable[[], object]) -> int:
    before = sys.getrefcount(None)
    for _ in range(CALLS):
        act()
    return before - sys.getrefcount(None)


@pytest.mark.skipif(sys.version_info >= (3, 12), reason="None cannot be lost from Python 3.12 on (PEP 683)")
def test_painting_for_a_long_time_does_not_use_up_none(qtbot: QtBot) -> None:
    font, image = QFont(), QImage(10, 10, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    losses = {
        "setPixelSize": lost(lambda: font.setPixelSize(12)),
        "setFont": lost(lambda: painter.setFont(font)),
        "setPen": lost(lambda: painter.setPen(QColor("black"))),
    }
    painter.end()
    assert {name: count for name, count in losses.items() if count > CALLS // 4} == {}
