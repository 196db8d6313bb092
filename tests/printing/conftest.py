"""PDF needs Qt; offscreen will do, as nothing is shown. The print service is a real one, started for one test."""

import os
from collections.abc import Iterator

import pytest
from PySide6.QtGui import QGuiApplication

from tests.printing.service import Printer, Service, missing_tools, printer, running_service

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")


@pytest.fixture(autouse=True)
def application(qapp: QGuiApplication) -> QGuiApplication:
    """Every test here may write PDF."""
    return qapp


@pytest.fixture
def service() -> Iterator[Service]:
    """A running cupsd without queues; where it is not installed the test is skipped, or fails where all must run."""
    missing = missing_tools()
    if missing:
        told = f"needs {', '.join(missing)}: apt install --no-install-recommends cups poppler-utils"
        pytest.fail(told) if os.environ.get("STATION_TOOLS_REQUIRED") else pytest.skip(told)
    with running_service() as running:
        yield running


@pytest.fixture
def label_printer() -> Iterator[Printer]:
    """A printer that is switched on."""
    with printer() as on:
        yield on
