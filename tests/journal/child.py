"""A second process for the drills: `python -m tests.journal.child TASK FILE`, driven by lines on its streams."""

import sys
from itertools import count
from pathlib import Path

from station.journal.store import Journal
from station.services.ports import JournalRefusal
from tests.journal.material import cleaning


def tell(text: str) -> None:
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


def append(path: Path) -> None:
    """Append pairs for ever; tell a number only after its pair is committed."""
    tell("begin")
    with Journal.open(path) as journal:
        for number in count(journal.head()[0] // 2):
            journal.append([cleaning(number), cleaning(number)])
            tell(str(number))


def race(path: Path) -> None:
    """For each line heard try to open, tell how it went, and hold the journal until the next line."""
    tell("begin")
    while sys.stdin.readline():
        try:
            journal = Journal.open(path)
        except JournalRefusal as refusal:
            tell(refusal.code)
            sys.stdin.readline()
        else:
            tell("open")
            sys.stdin.readline()
            journal.close()
        tell("closed")


if __name__ == "__main__":
    {"append": append, "race": race}[sys.argv[1]](Path(sys.argv[2]))
