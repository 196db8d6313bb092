"""The answer to a scan: one huge word, one sentence why, one what to do, and the times that matter."""

from dataclasses import dataclass
from datetime import datetime

from station.care.facts import Body
from station.care.scans import SeenLabel
from station.care.words import Word


@dataclass(frozen=True, slots=True)
class Verdict:
    """What the screen says.

    `code` is stable and never shown; `headline` is the largest line under the word; `instead` names a container
    that may be used instead. `by_label` marks a judgement made from a label alone.
    """

    word: Word
    code: str
    headline: str
    why: str
    todo: str
    container: str | None = None
    position: str | None = None
    times: tuple[tuple[str, datetime], ...] = ()
    governing: str = ""
    instead: str | None = None
    note: str = ""
    asks: tuple[str, ...] = ()
    by_label: bool = False


@dataclass(frozen=True, slots=True)
class Armed:
    """What the scan before left ready for a card, for ten seconds at most.

    `label` is that of a container with no record here; `last` the container that fed the bead before this one,
    which EMPTY then speaks of. `quiet` after two labels that made no pair: the scan is no half of another one.
    `moves` after the MOVE card: what is scanned next leaves for another store.
    """

    at: datetime
    container: str | None = None
    position: str | None = None
    look: bool = False
    confirms: str | None = None
    label: SeenLabel | None = None
    last: str | None = None
    withdraws: tuple[str, ...] = ()
    quiet: bool = False
    moves: bool = False


@dataclass(frozen=True, slots=True)
class PrintLabel:
    """Print a time label for a container."""

    container: str


@dataclass(frozen=True, slots=True)
class PrintIdentity:
    """Print the identity label of a container once more."""

    container: str


@dataclass(frozen=True, slots=True)
class SignIn:
    """A badge was scanned: this person works here now."""

    person: str


@dataclass(frozen=True, slots=True)
class SwitchPlace:
    """A place card was scanned."""

    place: str


@dataclass(frozen=True, slots=True)
class Silence:
    """Acknowledge what sounds here."""


Effect = PrintLabel | PrintIdentity | SignIn | SwitchPlace | Silence


@dataclass(frozen=True, slots=True)
class Decision:
    """What a scan comes to: facts to write, the verdict, what to do after the facts are safe, what stays armed."""

    verdict: Verdict
    bodies: tuple[Body, ...] = ()
    effects: tuple[Effect, ...] = ()
    armed: Armed | None = None
