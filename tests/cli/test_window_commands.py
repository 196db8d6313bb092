"""`station demo` and `station run`: what happens before any window opens."""

import logging
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from station import bootstrap
from station.cli.display import has_display, mend_qt
from tests.cli.answers import DEMO, PLANT_T
from tests.cli.conftest import Say

Calls = list[tuple[object, ...]]


@pytest.fixture
def calls(monkeypatch: pytest.MonkeyPatch) -> Calls:
    """What was asked of the part that shows windows, which is not started here."""
    made: Calls = []

    def noting(name: str) -> Callable[..., int]:
        def note(*told: object) -> int:
            made.append((name, *told))
            return 0

        return note

    for name in ("run_demo", "run_tour", "run_window"):
        monkeypatch.setattr(bootstrap, name, noting(name))
    monkeypatch.setenv("DISPLAY", ":99")
    return made


@pytest.fixture
def without_display(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """A Linux PC without a display, in an empty folder."""
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr("station.cli.display.sys.platform", "linux")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_the_demo_opens_on_the_demo_settings(station: Say, calls: Calls) -> None:
    assert station("demo").code == 0
    assert calls == [("run_demo", DEMO)]


def test_a_tour_goes_into_the_folder_given(station: Say, calls: Calls, tmp_path: Path) -> None:
    answer = station("demo", "--tour", tmp_path / "tour")
    assert answer.code == 0
    assert calls == [("run_tour", DEMO, tmp_path / "tour")]
    assert "summary.json" in answer.out


def test_without_a_display_the_demo_says_so_and_plays_the_tour(
    station: Say, calls: Calls, without_display: Path
) -> None:
    answer = station("demo")
    assert answer.code == 0
    assert "No display was found" in answer.out
    assert calls == [("run_tour", DEMO, without_display / "thawmark-tour")]
    assert str(without_display / "thawmark-tour") in answer.out


def test_a_station_opens_on_its_settings_and_data(station: Say, calls: Calls, tmp_path: Path) -> None:
    assert station("run", "--config", PLANT_T, "--data", tmp_path).code == 0
    assert calls == [("run_window", PLANT_T, tmp_path)]


def test_a_station_with_faulty_settings_does_not_open(station: Say, calls: Calls, tmp_path: Path) -> None:
    answer = station("run", "--config", tmp_path, "--data", tmp_path)
    assert answer.code == 2
    assert "faults" in answer.err
    assert calls == []


@pytest.mark.usefixtures("without_display")
def test_a_station_without_a_display_says_so(station: Say, calls: Calls) -> None:
    os.environ.pop("DISPLAY", None)
    answer = station("run", "--config", PLANT_T, "--data", "x")
    assert answer.code == 2
    assert "No display was found" in answer.err
    assert calls == []


@pytest.mark.parametrize(
    ("error", "says"),
    [
        (ImportError("libEGL.so.1: cannot open shared object file"), "libEGL.so.1"),
        (ModuleNotFoundError("No module named 'PySide6'", name="PySide6"), "PySide6"),
    ],
)
def test_a_qt_that_cannot_be_loaded_is_told_with_the_remedy(
    station: Say, calls: Calls, monkeypatch: pytest.MonkeyPatch, error: ImportError, says: str
) -> None:
    def fail(*_: object) -> int:
        raise error

    monkeypatch.setattr(bootstrap, "run_demo", fail)
    answer = station("demo")
    assert answer.code == 2
    assert says in answer.err
    assert "README.md" in answer.err or "pip install" in answer.err
    assert calls == []


def test_a_fault_of_the_program_is_not_taken_for_a_missing_qt(
    station: Say, calls: Calls, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> int:
        raise ModuleNotFoundError("No module named 'station.sound'", name="station.sound")

    monkeypatch.setattr(bootstrap, "run_demo", fail)
    with pytest.raises(ModuleNotFoundError):
        station("demo")
    assert calls == []


def test_on_windows_qt_is_mended_by_installing_again(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("station.cli.display.sys.platform", "win32")
    assert "pip install" in mend_qt()


def test_windows_always_has_a_display(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.setattr("station.cli.display.sys.platform", "win32")
    assert has_display()


def test_a_station_that_is_to_be_verbose_says_more_than_warnings(
    station: Say, calls: Calls, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    levels: list[object] = []
    monkeypatch.setattr(logging, "basicConfig", lambda **told: levels.append(told["level"]))
    assert station("run", "--config", PLANT_T, "--data", tmp_path, "--verbose").code == 0
    assert levels == [logging.INFO]
    assert len(calls) == 1
