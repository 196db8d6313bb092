"""A journal that lives in memory, for rehearsals: the same promises as the file, except that it is gone after."""

from collections.abc import Iterator, Sequence

from station.care.facts import Fact
from station.services.ports import Draft


class MemoryJournal:
    """Keeps facts in order. The journal id is fixed, so a rehearsal gives the same keys every time."""

    JOURNAL = 1

    def __init__(self) -> None:
        """An empty journal."""
        self._facts: list[Fact] = []

    def append(self, drafts: Sequence[Draft]) -> tuple[Fact, ...]:
        """Store all drafts and give them their place in the order."""
        first = len(self._facts) + 1
        placed = tuple(
            Fact(self.JOURNAL, seq, seq, draft.at, draft.station, draft.who, draft.segment, draft.body)
            for seq, draft in enumerate(drafts, start=first)
        )
        self._facts.extend(placed)
        return placed

    def facts(self) -> Iterator[Fact]:
        """Every fact so far."""
        return iter(tuple(self._facts))

    def head(self) -> tuple[int, str]:
        """Number of the last fact; a journal in memory is not chained."""
        return len(self._facts), "0" * 64
