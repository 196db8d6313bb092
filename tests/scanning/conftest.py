"""One X display and one probe program for the whole session; each test starts over on a US layout."""

import os
from collections.abc import Iterator

import pytest

from .display.server import Display, Probe, missing_tools, running_display, running_probe

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")  # for the tests that need no display; the probe has its own


@pytest.fixture(scope="session")
def display() -> Iterator[Display]:
    """A real X server with a keyboard; skipped with the reason where its tools are not installed."""
    missing = missing_tools()
    if missing:
        pytest.skip(f"needs {', '.join(missing)}: apt install xvfb xdotool x11-xkb-utils")
    with running_display() as started:
        yield started


@pytest.fixture(scope="session")
def running(display: Display) -> Iterator[Probe]:
    """The probe program with the wedge installed."""
    with running_probe(display) as probe:
        yield probe


@pytest.fixture(scope="session")
def running_bare(display: Display) -> Iterator[Probe]:
    """The probe program without the wedge."""
    with running_probe(display, "--bare") as probe:
        yield probe


@pytest.fixture
def probe(running: Probe, display: Display) -> Iterator[Probe]:
    """The probe as at its start, a US layout, the keyboard on its main window."""
    display.layout("us")
    running.start_over()
    yield running
    running.ask("clear")  # an open menu would keep the keyboard from everybody else


@pytest.fixture
def bare_probe(running_bare: Probe, display: Display) -> Iterator[Probe]:
    """The same program without the wedge: what a scan does when nobody listens for it."""
    display.layout("us")
    running_bare.start_over()
    yield running_bare
    running_bare.ask("clear")
