"""The program as it is started from a terminal."""

import os
import subprocess
import sys

import pytest

from tests.cli.answers import DEMO, PLAIN_DAY, PLANT_T, ROOT, as_a_program
from tests.cli.conftest import Say

COMMANDS = (
    "demo",
    "run",
    "doctor",
    "check-config",
    "rehearse",
    "times",
    "warmup",
    "read",
    "read-image",
    "sheet",
    "answers",
    "import-stock",
    "import-readings",
    "verify",
    "backup",
    "report",
    "restore",
    "digest",
    "export",
    "specs",
)


def test_help_names_every_command_and_the_exit_codes() -> None:
    answer = as_a_program("--help")
    assert answer.code == 0
    assert [name for name in COMMANDS if f"\n    {name}" not in answer.out] == []
    assert "2  it cannot be done as told" in answer.out


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_explains_itself(station: Say, command: str) -> None:
    answer = station(command, "--help")
    assert (answer.code, answer.err) == (0, "")
    assert answer.out.startswith(f"usage: station {command}")


@pytest.mark.parametrize("words", [(), ("dance",), ("times", "--config", "x"), ("verify", "--data")])
def test_a_command_that_is_not_understood_is_code_2_and_says_why(words: tuple[str, ...]) -> None:
    answer = as_a_program(*words)
    assert answer.code == 2
    assert "error:" in answer.err
    assert "Traceback" not in answer.err


def test_text_is_utf_8_even_where_the_terminal_says_it_knows_only_ascii() -> None:
    words = ("read", "Lötpaste-µ", "--json")
    answer = as_a_program(*words, LC_ALL="C.UTF-8", PYTHONIOENCODING="ascii")
    assert answer.json["fields"] == {"text": "Lötpaste-µ"}


def test_a_reader_that_has_enough_is_no_error() -> None:
    command = [sys.executable, "-m", "station", "rehearse", str(PLAIN_DAY), "--config", str(PLANT_T)]
    reading, writing = os.pipe()
    os.close(reading)  # as `| head -0` does
    done = subprocess.run(command, stdout=writing, stderr=subprocess.PIPE, cwd=ROOT, timeout=60, check=False)
    os.close(writing)
    assert done.stderr == b""


def test_the_way_to_a_window_loads_no_command_it_does_not_need() -> None:
    asked = "import sys, station.cli.parser; print([m for m in ('PIL', 'PySide6', 'sqlite3') if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, cwd=ROOT, check=True)
    assert done.stdout.strip() == "[]"


def test_a_whole_rehearsal_runs_from_the_terminal() -> None:
    answer = as_a_program("rehearse", PLAIN_DAY, "--config", PLANT_T, "--json")
    assert (answer.code, answer.err) == (0, "")
    assert len(answer.out.splitlines()) == 23


def test_settings_that_are_not_there_stop_every_command_alike(station: Say) -> None:
    asked = ("--config", ROOT / "nowhere")
    for words in (
        ("times", *asked, "--paste", "SN-4", "--kind", "JAR-500", "--out-at", "2026-11-09T06:00"),
        ("read", "X", *asked),
        ("rehearse", PLAIN_DAY, *asked),
        ("run", *asked),
    ):
        answer = station(*words)
        assert (answer.code, answer.out) == (2, "")
        assert "there is no such folder" in answer.err


def test_the_demo_settings_are_the_ones_in_the_repository(station: Say) -> None:
    assert station("check-config", DEMO).code == 0
