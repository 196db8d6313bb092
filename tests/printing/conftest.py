"""PDF needs Qt; offscreen will do, as nothing is shown."""

import os

import pytest
from PySide6.QtGui import QGuiApplication

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")


@pytest.fixture(autouse=True)
def application(qapp: QGuiApplication) -> QGuiApplication:
    """Every test here may write PDF."""
    return qapp
