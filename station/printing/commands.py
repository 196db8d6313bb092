"""Runs the print service's own programs, each in a process of its own and none longer than its time limit.

A print service that hangs answers nobody, and a call into its library can't be given up. A process can be ended.
"""

import os
import subprocess
import threading
from collections.abc import Mapping
from dataclasses import dataclass

WITHIN_S = 8.0


class NoAnswer(Exception):
    """A program was ended because it took longer than its limit."""


@dataclass(frozen=True, slots=True)
class Answer:
    """How a program ended and what it wrote."""

    code: int
    out: str
    err: str


class Commands:
    """Runs programs one after another. `within_s` seconds is the limit of each."""

    def __init__(self, within_s: float = WITHIN_S, environment: Mapping[str, str] | None = None) -> None:
        """`environment` is added to the one of this process; messages are always asked for in plain English."""
        self.within_s = within_s
        self._environment = {**os.environ, **(environment or {}), "LC_ALL": "C", "LANGUAGE": ""}
        self._lock = threading.Lock()
        self._child: subprocess.Popen[bytes] | None = None
        self._closed = False

    def run(self, *command: str, data: bytes = b"") -> Answer:
        """Run a program with `data` on its standard input. NoAnswer at the limit; OSError where there is none."""
        with self._begun(command) as child:
            try:
                out, err = child.communicate(data, timeout=self.within_s)
            except subprocess.TimeoutExpired:
                child.kill()
                child.communicate()
                raise NoAnswer(command[0]) from None
            finally:
                with self._lock:
                    self._child = None
        return Answer(child.returncode, out.decode("utf-8", "replace"), err.decode("utf-8", "replace"))

    def close(self) -> None:
        """End the program that runs now, and start no other."""
        with self._lock:
            self._closed = True
            if self._child is not None:
                self._child.kill()

    def _begun(self, command: tuple[str, ...]) -> subprocess.Popen[bytes]:
        pipe = subprocess.PIPE
        with self._lock:
            if self._closed:
                raise NoAnswer(command[0])
            self._child = subprocess.Popen(command, stdin=pipe, stdout=pipe, stderr=pipe, env=self._environment)
            return self._child
