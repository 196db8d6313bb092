"""Checks a journal file: every chain is computed again over the bytes as stored.

What this proves: each journal is consistent in itself, and every digest that was printed, mailed or held elsewhere
and is given here is still in it. It does not prove who wrote a row: the chain has no key, so whoever owns the file
can compute a whole new one. That is what the digests kept elsewhere are for.
"""

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from operator import attrgetter
from pathlib import Path

from station.journal.contents import Row, read_rows
from station.journal.database import NO_HASH, Step
from station.journal.store import chained
from station.journal.upgrade import STEPS

NOT_THERE = "If it was copied without a slip, rows were taken out or replaced since it was noted."
LEAST_DIGITS = 16  # of a shortened digest; 64 bits cannot be met by chance


@dataclass(frozen=True, slots=True)
class Chain:
    """One journal in the file: its number, how many rows it has and the chain hash of the last."""

    journal: int
    rows: int
    head: str


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that is wrong. `journal` is as stored, `seq` the row it shows at; both None for a lost digest."""

    journal: str | None
    seq: int | None
    sentence: str


@dataclass(frozen=True, slots=True)
class Verification:
    """What a check found; `ok` when nothing is wrong."""

    chains: tuple[Chain, ...]
    findings: tuple[Finding, ...]

    @property
    def ok(self) -> bool:
        """True when every chain holds and every given digest is there."""
        return not self.findings


def verify(path: Path, digests: Sequence[str] = (), steps: Sequence[Step] = STEPS) -> Verification:
    """Check the journal file at `path`, which is not changed and may be in use.

    `digests` are chain hashes seen earlier, whole or their first 16 or more hex digits, blanks allowed. Raises
    JournalRefusal or JournalEnvironment if the file cannot be read as a journal at all.
    """
    return check(read_rows(path, steps), digests)


def check(rows: Sequence[Row], digests: Sequence[str] = ()) -> Verification:
    """Check rows already read, all those of a file by journal and seq."""
    chains: list[Chain] = []
    findings: list[Finding] = []
    for journal, members in groupby(rows, attrgetter("journal")):
        chain = list(members)
        findings += _check(chain)
        chains.append(Chain(_number(journal), len(chain), chain[-1].hash))
    findings += _lost(digests, [row.hash for row in rows])
    return Verification(tuple(chains), tuple(findings))


def _number(journal: str) -> int:
    """The number of a journal; -1 for a text that is none, which is among the findings."""
    try:
        return int(journal, 16)
    except ValueError:
        return -1


def _check(rows: Sequence[Row]) -> Iterator[Finding]:
    expected, possible = 1, {NO_HASH}
    for row in rows:
        if row.seq != expected:
            yield _finding(row, f"rows {expected} to {row.seq - 1} are missing before it")
            possible = set()
        yield from _check_envelope(row)
        computed = {chained(before, row.stored) for before in possible}
        if possible and row.hash not in computed:
            yield _finding(row, "its content and its hash do not belong together, one of them was changed")
        # Of a changed row either the content or the hash is still true; the next row shows which, without blame.
        possible = computed | ({row.hash} if _is_hash(row.hash) else set())
        expected = row.seq + 1


def _check_envelope(row: Row) -> Iterator[Finding]:
    """The columns beside the stored text only serve to find it; they must say the same."""
    try:
        stored = json.loads(row.stored)
        told_twice = (stored["journal"], stored["seq"], stored["tick"])
    except (LookupError, TypeError, ValueError) as error:
        yield _finding(row, f"it cannot be read ({type(error).__name__})")
        return
    if told_twice != (row.journal, row.seq, row.tick):
        yield _finding(row, "its place in the order is not the one it was stored with")


def _is_hash(text: str) -> bool:
    return len(text) == len(NO_HASH) and all(digit in "0123456789abcdef" for digit in text)


def _finding(row: Row, what: str) -> Finding:
    return Finding(row.journal, row.seq, f"Journal {row.journal}, row {row.seq}: {what}.")


def _lost(digests: Sequence[str], known: Sequence[str]) -> Iterator[Finding]:
    for given in digests:
        digest = "".join(given.split()).lower()
        if len(digest) < LEAST_DIGITS:
            yield Finding(None, None, f"Digest '{given}' is too short to prove anything; give {LEAST_DIGITS} digits.")
        elif not any(held.startswith(digest) for held in known):
            yield Finding(None, None, f"Digest '{given}' is not in the journal. {NOT_THERE}")
