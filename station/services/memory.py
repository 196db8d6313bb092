"""A journal and its evidence in memory, for rehearsals: the same promises, except that they are gone after."""

from collections.abc import Iterable, Iterator, Sequence
from hashlib import sha256

from station.care.facts import Fact
from station.services.ports import Draft, JournalRefusal


class MemoryJournal:
    """Keeps facts in order. The journal id is fixed, so a rehearsal gives the same keys every time."""

    JOURNAL = 1

    def __init__(self, number: int = JOURNAL) -> None:
        """An empty journal."""
        self.number = number
        self._facts: list[Fact] = []
        self._counted, self._seq, self._tick = 0, 0, 0

    def append(self, drafts: Sequence[Draft]) -> tuple[Fact, ...]:
        """Store all drafts and give them their place in the order."""
        seq, tick = self.head()[0], self._tick
        placed = tuple(
            Fact(self.number, seq + place, tick + place, draft.at, draft.station, draft.who, draft.segment, draft.body)
            for place, draft in enumerate(drafts, start=1)
        )
        self._facts.extend(placed)
        return placed

    def take(self, facts: Iterable[Fact]) -> tuple[Fact, ...]:
        """Take in facts of other journals; those already here are left out of the answer."""
        known = {fact.key for fact in self._facts}
        new = tuple(fact for fact in facts if fact.key not in known)
        self._facts.extend(new)
        return new

    def facts(self) -> Iterator[Fact]:
        """Every fact so far, in fold order."""
        return iter(sorted(self._facts, key=lambda fact: fact.order))

    def head(self) -> tuple[int, str]:
        """Number of the last fact; a journal in memory is not chained."""
        for fact in self._facts[self._counted :]:
            self._seq += fact.journal == self.number
            self._tick = max(self._tick, fact.tick)
        self._counted = len(self._facts)
        return self._seq, "0" * 64


class MemoryEvidence:
    """Keeps files by their digest."""

    def __init__(self) -> None:
        """Nothing kept yet."""
        self._kept: dict[str, bytes] = {}

    def keep(self, content: bytes) -> str:
        """Store `content` under its digest."""
        digest = sha256(content).hexdigest()
        self._kept[digest] = content
        return digest

    def fetch(self, digest: str) -> bytes:
        """What was kept under this digest."""
        if digest not in self._kept:
            raise JournalRefusal("evidence-missing", f"The file {digest[:12]} is not kept here.")
        return self._kept[digest]

    def digests(self) -> Iterator[str]:
        """Every digest kept here."""
        return iter(sorted(self._kept))
