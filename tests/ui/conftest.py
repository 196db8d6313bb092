"""Screens are tried without a display where there is none, always with the letters that are shipped."""

import os
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

from station.ui.theme import load_fonts

if "DISPLAY" not in os.environ:
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

FONTS = Path(__file__).parents[2] / "resources" / "fonts"


@pytest.fixture(autouse=True)
def shipped_letters(qapp: QApplication) -> None:
    """Load the shipped font, as the station does when it starts."""
    load_fonts(FONTS)
