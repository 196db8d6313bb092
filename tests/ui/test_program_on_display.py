"""The real program on a real X display, as the fridge door uses it: scanned at by key places, killed, started again."""

import os
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date, timedelta
from pathlib import Path

import pytest

from station.bootstrap import JOURNAL_NAME, NoPrinter, build_station, keys_in
from station.care.receiving import Arrival
from station.care.scans import ContainerScan
from station.clock import SystemClock
from station.journal.store import Journal
from station.journal.verify import verify
from station.labels.containercode import container_numbers, pack_container
from station.labels.keys import KeyRing
from station.rehearsal.clock import SetClock
from station.settings import load
from tests.scanning.display.server import ENTER, Display, key_names, missing_tools, running_display

pytestmark = pytest.mark.display
DEMO = Path(__file__).parents[2] / "demo_config"


@pytest.fixture
def display() -> Iterator[Display]:
    missing = missing_tools()
    if missing:
        pytest.skip(f"needs {', '.join(missing)}: apt install xvfb xdotool x11-xkb-utils")
    with running_display() as started:
        yield started


class Program:
    """The running station, with what it says on standard error."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        self.process = process
        ready = self.line(lambda text: " is ready at " in text)
        self.window = int(ready.split("window ")[1].split()[0])

    def line(self, wanted: Callable[[str], bool]) -> str:
        """The next line that is wanted; the test's time limit ends a wait for one that never comes."""
        assert self.process.stderr is not None
        seen: list[str] = []
        for text in self.process.stderr:
            seen.append(text)
            if wanted(text):
                return text
        raise AssertionError(f"the program ended ({self.process.poll()}); it said: {''.join(seen)}")


@contextmanager
def program(display: Display, data: Path) -> Iterator[Program]:
    command = [sys.executable, "-m", "station", "run", "--config", str(DEMO), "--data", str(data), "--verbose"]
    with subprocess.Popen(
        command, env=display.environment, stderr=subprocess.PIPE, text=True, cwd=Path(__file__).parents[2]
    ) as process:
        try:
            running = Program(process)
            display.focus(running.window)
            yield running
        finally:
            if process.poll() is None:
                process.kill()


def stocked(data: Path) -> tuple[str, KeyRing]:
    """A journal with one jar in the refrigerator since two days; gives the text of its identity label."""
    site, keys, now = load(DEMO), keys_in(data, create=True), SystemClock().read().wall
    clock = SetClock(now - timedelta(days=2))
    with Journal.open(data / JOURNAL_NAME) as journal:
        station = build_station(site, journal, clock, keys, NoPrinter())
        station.start("test")
        name = station.new_container()
        expires = date(now.year + 1, 12, 31)
        arrival = Arrival(name, "SN-4", "JAR-500", "26-118", expires, None, clock.wall, 8.0, "measured", leaking=False)
        station.receive([arrival], None)
        station.scanned(ContainerScan(name), "FRIDGE")
        station.stop("test")
    return pack_container(*container_numbers(name), keys), keys


def facts(data: Path) -> list[str]:
    with Journal.open(data / JOURNAL_NAME) as journal:
        return [fact.body.NAME for fact in journal.facts()]


def test_a_jar_is_taken_out_by_one_scan_and_the_record_outlives_a_kill(display: Display, tmp_path: Path) -> None:
    text, _ = stocked(tmp_path)
    with program(display, tmp_path) as running:
        display.press([*key_names(text), ENTER])
        said = running.line(lambda line: "FRIDGE DONE taken-out" in line)
        running.process.send_signal(signal.SIGKILL)
        running.process.wait()
    assert "taken-out,label-asked,label-sent" in said
    assert facts(tmp_path)[-3:] == ["taken-out", "label-asked", "label-sent"]
    assert verify(tmp_path / JOURNAL_NAME).ok
    assert sorted(found.suffix for found in (tmp_path / "labels").iterdir()) == [".pdf", ".png"]


def test_after_a_kill_it_starts_again_and_knows_what_it_said(display: Display, tmp_path: Path) -> None:
    text, _ = stocked(tmp_path)
    with program(display, tmp_path) as running:
        display.press([*key_names(text), ENTER])
        running.line(lambda line: "taken-out" in line)
        os.kill(running.process.pid, signal.SIGKILL)
        running.process.wait()
    with program(display, tmp_path) as running:
        display.press([*key_names(text), ENTER])
        assert "already-out" in running.line(lambda line: "FRIDGE DONE" in line)


def test_a_second_copy_on_the_same_folder_is_refused_with_a_sentence(display: Display, tmp_path: Path) -> None:
    stocked(tmp_path)
    with program(display, tmp_path):
        second = subprocess.run(
            [sys.executable, "-m", "station", "run", "--config", str(DEMO), "--data", str(tmp_path)],
            env=display.environment,
            capture_output=True,
            text=True,
            timeout=60,
            check=False,
            cwd=Path(__file__).parents[2],
        )
    assert second.returncode == 2
    assert second.stderr.strip().endswith(".")
    assert "Traceback" not in second.stderr
