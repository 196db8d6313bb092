"""Writing to the terminal, and the exit codes."""

import io
import json
import sys
from collections.abc import Iterable

YES = 0
NO = 1
CANNOT = 2
STOPPED = 130  # as shells say it of a program that was ended by Ctrl-C


def use_utf8() -> None:
    """Write UTF-8 whatever the terminal's own character set is; what it cannot show is still written."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")


def say(line: str = "") -> None:
    """One line of the answer."""
    sys.stdout.write(f"{line}\n")


def say_json(answer: object) -> None:
    """The answer as one line of JSON."""
    say(json.dumps(answer, ensure_ascii=False))


def complain(sentences: Iterable[str]) -> None:
    """What is wrong, one sentence a line."""
    for sentence in sentences:
        sys.stderr.write(f"{sentence}\n")


def progress(what: str, done: int, whole: int) -> None:
    """How far long work is, on one line of a terminal; nothing where nobody looks at one."""
    if sys.stderr.isatty():
        sys.stderr.write(f"\r\x1b[K{what}: {100 * done // max(1, whole)} %")
        sys.stderr.flush()


def progress_over() -> None:
    """The line of a terminal is free again."""
    if sys.stderr.isatty():
        sys.stderr.write("\r\x1b[K")


def refuse(*sentences: str) -> int:
    """Say why it cannot be done as told; gives the exit code for that."""
    complain(sentences)
    return CANNOT


def table(rows: Iterable[tuple[str, ...]]) -> None:
    """Rows in columns as wide as their widest entry; the last column is left as it is."""
    kept = list(rows)
    widths = [max(map(len, column)) for column in zip(*kept, strict=True)]
    for row in kept:
        cells = [cell.ljust(width) for cell, width in zip(row, widths, strict=True)]
        say("  ".join([*cells[:-1], row[-1]]).rstrip())
