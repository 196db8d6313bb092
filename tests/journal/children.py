"""Starting and ending the second process of the drills."""

import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).parents[2]


class Child:
    """A running `tests.journal.child`, spoken to line by line."""

    def __init__(self, task: str, path: Path) -> None:
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.journal.child", task, str(path)],
            cwd=ROOT,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            encoding="ascii",
        )
        assert self.hear() == "begin"

    def say(self, line: str) -> None:
        assert self._process.stdin
        self._process.stdin.write(f"{line}\n")
        self._process.stdin.flush()

    def hear(self) -> str:
        assert self._process.stdout
        return self._process.stdout.readline().strip()

    def kill(self) -> list[str]:
        """End it as a power switch would; gives the whole lines it had told but nobody had heard."""
        self._process.kill()
        assert self._process.stdout
        assert self._process.stdin
        rest = self._process.stdout.read()
        self._process.stdout.close()
        self._process.stdin.close()
        self._process.wait()
        return rest[: rest.rfind("\n") + 1].split()


@contextmanager
def running(task: str, path: Path) -> Iterator[Child]:
    child = Child(task, path)
    try:
        yield child
    finally:
        child.kill()


def killed_after(told: int, path: Path) -> list[int]:
    """Let a child append until it told that many numbers, kill it, and give all it told."""
    child = Child("append", path)
    heard = [child.hear() for _ in range(told)]
    return [int(number) for number in heard + child.kill()]
