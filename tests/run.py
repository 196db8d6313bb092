"""The one door to every check: `python -m tests.run check|unit|ui|faults|screens|bench [more for the tool]`.

`check` is what a change must pass. Every step is named and timed, all are run whatever happens to the ones before,
and the end says which failed.
"""

import os
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter

ROOT = Path(__file__).parents[1]
# Branches included. The whole is measured and may only rise; the rules are covered without a gap.
RULES_PERCENT = 100
WHOLE_PERCENT = 97
RULES = "station/care/*"
# What must run on a PC where Qt was never installed; all of these load the rules, whose own tests need no second run.
WITHOUT_QT = ("labels", "services", "journal", "settings", "rehearsal", "cli", "test_clock.py")
BENCHMARKS = "bench"
# Files among them with a test that asks for Qt: these run once more, where Qt is.
ASK_FOR_QT = 'importorskip("PySide6")'
# As many at a time as there are cores, those of one group on one core; a plain run of pytest takes one after the other.
TOGETHER = ("-n", "auto", "--dist", "loadgroup")
MEASURED = ("--cov=station", "--cov-report=")


@dataclass(frozen=True, slots=True)
class Step:
    """One tool to run: a name people read, and its command line."""

    name: str
    command: tuple[str, ...]


def python(name: str, *words: str) -> Step:
    """A step that is a Python module, run with this very Python."""
    return Step(name, (sys.executable, "-m", *words))


def pytest(name: str, *words: str) -> Step:
    """A step of tests; benchmarks are left out unless they are asked for."""
    return python(name, "pytest", "-q", *words)


def tool(name: str, program: str, *words: str) -> Step:
    """A step that is a program installed beside this Python."""
    return Step(name, (str(Path(sys.executable).with_name(program)), *words))


def check() -> list[Step]:
    """Everything a change must pass."""
    return [
        python("lint", "ruff", "check", "."),
        python("format", "ruff", "format", "--check", "."),
        python("types", "mypy"),
        tool("import contracts", "lint-imports", "--no-logo"),
        without_qt(),
        with_qt(),
        _covered(f"coverage of the rules: {RULES_PERCENT} %", RULES_PERCENT, f"--include={RULES}"),
        _covered(f"coverage of the whole: {WHOLE_PERCENT} %", WHOLE_PERCENT),
    ]


def _covered(name: str, percent: int, *words: str) -> Step:
    return python(name, "coverage", "report", "--skip-covered", f"--fail-under={percent}", *words)


def with_qt() -> Step:
    """All other tests, and those of the core that ask for Qt; measured together with the core's. No benchmarks."""
    core = {ROOT / "tests" / name for name in (*WITHOUT_QT, BENCHMARKS)}
    others = [found for found in sorted((ROOT / "tests").iterdir()) if found not in core and _has_tests(found)]
    asking = [file for folder in sorted(core) for file in sorted(folder.rglob("test_*.py")) if _asks_for_qt(file)]
    words = ("--benchmark-skip", *MEASURED, "--cov-append")
    return pytest("tests with Qt, with coverage", *TOGETHER, *words, *map(str, (*others, *asking)))


def _has_tests(found: Path) -> bool:
    return any(found.rglob("test_*.py")) if found.is_dir() else found.match("test_*.py")


def _asks_for_qt(file: Path) -> bool:
    return ASK_FOR_QT in file.read_text(encoding="utf-8")


def without_qt() -> Step:
    """The core's tests in a Python that finds no Qt; pytest-qt, and its settings, have to stay away too."""
    folders = [str(found) for name in WITHOUT_QT if (found := ROOT / "tests" / name).exists()]
    refused = ("-p", "tests.without_qt", "-p", "no:pytest-qt", "-o", "addopts=--strict-markers -p no:cacheprovider")
    quiet = ("-W", "ignore::pytest.PytestConfigWarning", "--benchmark-skip")
    return pytest("tests without Qt, with coverage", *TOGETHER, *refused, *quiet, *MEASURED, *folders)


def unit() -> list[Step]:
    """Quick tests: no display, no drills."""
    return [pytest("unit", "--benchmark-skip", "--ignore=tests/ui", "-m", "not display and not faults")]


def ui() -> list[Step]:
    """Screens, printing and the scanner on a real display."""
    return [pytest("ui", "--benchmark-skip", "tests/ui", "tests/printing", "tests/scanning")]


def faults() -> list[Step]:
    """Kill, cut and full-disk drills."""
    return [pytest("faults", "--benchmark-skip", "-m", "faults")]


def screens() -> list[Step]:
    """Pictures to look at: every telling moment in every size, and the demo's day."""
    folder = Path(tempfile.gettempdir()) / "thawmark-screens"
    return [
        python(f"gallery into {folder}", "tests.ui.gallery", str(folder)),
        python(f"tour into {folder}", "station", "demo", "--tour", str(folder / "tour")),
    ]


def bench() -> list[Step]:
    """Benchmarks only: what they measure is judged here, and never by `check`."""
    return [pytest("benchmarks", str(ROOT / "tests" / BENCHMARKS))]


JOBS = {"check": check, "unit": unit, "ui": ui, "faults": faults, "screens": screens, "bench": bench}


def say(line: str) -> None:
    """One line, at once, so that it stands before what the tool writes."""
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


def run(step: Step, surroundings: dict[str, str]) -> tuple[bool, float]:
    """Run one step; whether it passed, and its seconds."""
    say(f"\n== {step.name}")
    began = perf_counter()
    passed = subprocess.run(step.command, cwd=ROOT, env=surroundings, check=False).returncode == 0
    return passed, perf_counter() - began


def surroundings_for(folder: Path) -> dict[str, str]:
    """No window may open on the desk of whoever runs this; tests that need a display start their own."""
    kept = {name: value for name, value in os.environ.items() if name not in ("DISPLAY", "WAYLAND_DISPLAY")}
    return {**kept, "QT_QPA_PLATFORM": "offscreen", "COVERAGE_FILE": str(folder / "coverage")}


def main(words: Sequence[str]) -> int:
    """Run one job; 0 when every step passed, 1 when one failed, 2 for a job there is not."""
    if not words or words[0] not in JOBS:
        say(f"Say which: python -m tests.run {'|'.join(JOBS)}")
        return 2
    steps = JOBS[words[0]]()
    if words[1:]:
        steps = [Step(step.name, (*step.command, *words[1:])) for step in steps]
    with tempfile.TemporaryDirectory() as folder:
        results = [(step, *run(step, surroundings_for(Path(folder)))) for step in steps]
    say(f"\n== {words[0]}")
    for step, passed, seconds in results:
        say(f"{'ok  ' if passed else 'FAIL'}  {seconds:6.1f} s  {step.name}")
    failed = sum(not passed for _, passed, _ in results)
    say(f"{failed} of {len(results)} steps failed." if failed else "All passed.")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
