"""The numbers of containers: each is given once, also after a restore from a backup that lacks the newest ones.

The station a backup came from may go on counting, or the backup may be restored a second time, so a restored station
counts on in a stretch of its own, far from every number its record knows. A number has 20 bits: 64 such stretches.
"""

from collections.abc import Iterable

from station.care import facts as f
from station.care.facts import Fact
from station.care.ledger import Subject
from station.labels.containercode import COUNTER_MOST, container_id, container_numbers
from station.labels.faults import LabelFault

# more than a site numbers in years
STRETCH = 1 << 14
# so many restores of one backup are told apart by what is left over when their journals' numbers are divided by it
WAYS = 48
# what a restore left out before it took a stretch of its own; also where no stretch is free any more
LEFT_OUT_BY_A_RESTORE = 1000


class Numbering:
    """The counter of one station, kept by the facts it hears in their order."""

    def __init__(self, station: int, own: frozenset[int] | None = None) -> None:
        """Nothing numbered yet. `own` are the journals this station wrote; None for all of them."""
        self._station = station
        self._own = own
        self._last = 0
        self._known: set[int] = set()

    @property
    def upcoming(self) -> str:
        """The number that `give` would give."""
        return container_id(self._station, self._next())

    def give(self) -> str:
        """The next number; it is never given again."""
        self._last = self._next()
        return container_id(self._station, self._last)

    def _next(self) -> int:
        counter = self._last + 1
        while counter in self._known:
            counter += 1
        return counter

    def heard(self, fact: Fact, changed: Iterable[Subject]) -> None:
        """A fact and the subjects it changed. A number far from this station's own is known, but not counted on from:
        another PC that goes by this station's number, or did, gave it."""
        named = [name for kind, name in changed if kind == "container"]
        if isinstance(fact.body, f.NumbersReserved):
            named += fact.body.numbers
        for counter in sorted(filter(None, map(self._count, named))):
            self._known.add(counter)
            if self._last < counter < self._last + STRETCH:
                self._last = counter
        own = fact.station == self._station and (self._own is None or fact.journal in self._own)
        if own and isinstance(fact.body, f.StationStarted) and fact.body.continues:
            self._last = fact.body.numbers_from - 1 if fact.body.numbers_from else self._last + LEFT_OUT_BY_A_RESTORE

    def elsewhere(self, journal: int) -> int:
        """Where to count on from after a restore into the journal of this number: the first of a stretch of its own."""
        told = {counter // STRETCH for counter in (self._last, *self._known)}
        beside = {stretch + by for stretch in told for by in (-1, 0, 1)}
        free = [stretch for stretch in range(1, COUNTER_MOST // STRETCH) if stretch not in beside]
        if not free:
            return max(self._last, *self._known) + LEFT_OUT_BY_A_RESTORE + 1
        return free[journal % WAYS % len(free)] * STRETCH + 1

    def _count(self, name: str) -> int:
        try:
            numbered_by, counter = container_numbers(name)
        except LabelFault:  # what another station wrote may be no number at all, and must not stop this one
            return 0
        return counter if numbered_by == self._station else 0
