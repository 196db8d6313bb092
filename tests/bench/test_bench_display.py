"""On a real display: how soon a scan's answer is painted, and whether a busy program loses a key."""

import json
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from random import Random
from statistics import quantiles

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from station.scanning.stream import WedgeTiming
from tests.scanning.display.server import ENTER, MARK, Display, key_names, missing_tools, running_display

ROOT = Path(__file__).parents[2]
BURSTS, LENGTH, BETWEEN_MS = 1000, 60, 20
CHARACTERS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@pytest.fixture
def display() -> Iterator[Display]:
    """An Xvfb with a keyboard."""
    missing = missing_tools()
    if missing:
        pytest.skip(f"needs {', '.join(missing)}: apt install xvfb xdotool x11-xkb-utils")
    with running_display() as started:
        yield started


def p95(milliseconds: list[float]) -> float:
    """The 95th percentile."""
    return quantiles(milliseconds, n=20)[-1]


@pytest.mark.benchmark(group="scan to painted verdict")
@pytest.mark.timeout(300)
def test_from_the_last_key_to_the_painted_verdict(benchmark: BenchmarkFixture, display: Display) -> None:
    """Both windows in one run: the ratio is what counts on a strange machine."""
    command = [sys.executable, "-m", "tests.bench.painting"]

    def run() -> dict[str, list[float]]:
        done = subprocess.run(
            command, cwd=ROOT, env=display.environment, check=True, capture_output=True, text=True, timeout=280
        )
        found: dict[str, list[float]] = json.loads(done.stdout)
        return found

    found = benchmark.pedantic(run, rounds=1)  # type: ignore[no-untyped-call]  # ships half its types
    bare, crowded = p95(found["bare"]), p95(found["crowded"])
    benchmark.extra_info["p95"] = f"{crowded:.1f} ms with 2,000 containers, bare window {bare:.1f} ms"
    benchmark.extra_info["ratio"] = f"{crowded / bare:.1f}"
    assert len(found["bare"]) == len(found["crowded"])


@pytest.mark.benchmark(group="bursts into a busy program")
@pytest.mark.timeout(900)
def test_no_burst_is_lost_while_the_program_works(
    benchmark: BenchmarkFixture, display: Display, tmp_path: Path
) -> None:
    """BR-04: sixty characters, a millisecond apart, a thousand times, while labels and reports are made.

    On a machine too busy for the display server itself, the server pauses in mid-burst as a bad scanner would; what
    it broke so, by its own stamps, is told incomplete and counted apart.
    """
    random = Random(4)
    sent = ["".join(random.choices(CHARACTERS, k=LENGTH)) for _ in range(BURSTS)]
    target = tmp_path / "heard.json"

    def run() -> None:
        command = [sys.executable, "-m", "tests.bench.bursts", str(target)]
        with subprocess.Popen(command, cwd=ROOT, env=display.environment, stdout=subprocess.PIPE, text=True) as program:
            assert program.stdout is not None
            display.focus(int(program.stdout.readline()))
            for text in sent:
                display.press_in_parts([[], [*key_names(text), ENTER]], between_ms=BETWEEN_MS, pause_ms=1)
            display.press([MARK])
            program.wait(timeout=300)

    benchmark.pedantic(run, rounds=1)  # type: ignore[no-untyped-call]  # ships half its types
    found = json.loads(target.read_text(encoding="utf-8"))
    scans, timing = set(found["scans"]), WedgeTiming()
    missed = [pauses for text, pauses in zip(sent, found["longest_ms"], strict=True) if text not in scans]
    lost = sum(head <= timing.gap_ms and whole <= timing.inside_ms for head, whole in missed)
    broken = len(missed) - lost
    benchmark.extra_info["lost"] = f"{lost} of {BURSTS} bursts; {broken} more were broken by the display itself"
    benchmark.extra_info["reports"] = f"{found['reports']} built meanwhile"
    assert found["reports"] > 0
    assert len(found["scans"]) + len(found["incomplete"]) >= BURSTS
    assert lost == 0
