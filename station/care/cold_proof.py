"""When a container is proved to have been cold: what was put away or counted, and not seen outside before that.

Two stations tell of one container in any order, so a proof and a sighting go by their times. Of one journal the order
is certain; between two, a proof counts only where their clocks cannot have exchanged the two.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

# two stations' clocks may differ by this much and are reckoned with; beyond it nobody knows which one is right
SKEW_ALLOWED = timedelta(minutes=5)
NOTHING = timedelta(0)

Dated = Callable[[str, datetime], datetime]


@dataclass(frozen=True, slots=True)
class Proof:
    """It was cold at an instant (aware UTC), by the fact `key`; `counted` proves where it lay, not its store cold."""

    key: str
    at: datetime
    counted: bool = False


@dataclass(frozen=True, slots=True)
class Seen:
    """It was seen outside at an instant (aware UTC), by the fact `key`."""

    key: str
    at: datetime


@dataclass(frozen=True, slots=True)
class Stretch:
    """A closed time out of the cold, from the fact `begun` to the fact `ended`.

    `length` is by the clocks that dated the two and may be negative; at least `least` counts."""

    begun: str
    ended: str
    length: timedelta
    least: timedelta = NOTHING

    @property
    def spent(self) -> timedelta:
        """What of it counts as time out of the cold."""
        return max(self.least, self.length, NOTHING)


def journal_of(key: str) -> str:
    """The journal a fact was written into, by the fact's key."""
    return key.partition("-")[0]


def as_told(_key: str, at: datetime) -> datetime:
    """A time as it was written down."""
    return at


def before(key: str, at: datetime, seen: Seen) -> bool:
    """Whether what the fact `key` tells of `at` was surely no later than `seen`, which is told after it."""
    return at <= seen.at if journal_of(key) == journal_of(seen.key) else at <= seen.at - SKEW_ALLOWED


def last_before(proofs: Sequence[Proof], outside: Iterable[Seen], dated: Dated = as_told) -> Proof | None:
    """The last proof of cold before it was seen outside, by the times as `dated` takes them. None where there is none:
    then nobody knows that it was ever cold."""
    seen = [Seen(one.key, dated(one.key, one.at)) for one in outside]
    told = (Proof(proof.key, dated(proof.key, proof.at), proof.counted) for proof in proofs)
    counting = (proof for proof in told if all(before(proof.key, proof.at, one) for one in seen))
    return max(counting, key=lambda proof: proof.at, default=None)
