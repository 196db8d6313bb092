"""What is on record of the stores' temperatures: files that came in, the last figure, the excursions that stand."""

from bisect import insort
from datetime import datetime

from station.care import facts as f


class ColdRecord:
    """Grows with the ledger; the same facts in any order give the same record."""

    def __init__(self) -> None:
        """Nothing was read yet."""
        self._facts: dict[str, list[f.Fact]] = {}

    def note(self, fact: f.Fact) -> None:
        """Take in a fact; what says nothing of a store's temperature changes nothing."""
        if isinstance(fact.body, f.ReadingsImported | f.StoreRead | f.ExcursionFound):
            insort(self._facts.setdefault(fact.body.store, []), fact, key=lambda told: told.order)

    def copied(self) -> "ColdRecord":
        """A record of its own with all that this one has heard."""
        twin = ColdRecord()
        twin._facts = {store: facts.copy() for store, facts in self._facts.items()}
        return twin

    def imports(self, store: str) -> tuple[f.ReadingsImported, ...]:
        """The files of a store, the first to come in first."""
        return tuple(told.body for told in self._of(store) if isinstance(told.body, f.ReadingsImported))

    def with_file(self, digest: str) -> tuple[f.Fact, ...]:
        """Every import of a file, by its digest."""
        every = (told for facts in self._facts.values() for told in facts)
        return tuple(told for told in every if isinstance(told.body, f.ReadingsImported) and told.body.digest == digest)

    def excursions(self, store: str) -> tuple[f.ExcursionFound, ...]:
        """Those that stand, the newest first: each as it was last told, without those another one replaced."""
        found: dict[str, f.ExcursionFound] = {}
        for told in self._of(store):
            if isinstance(told.body, f.ExcursionFound):
                for name in told.body.replaces:
                    found.pop(name, None)
                found[told.body.excursion] = told.body
        return tuple(sorted(found.values(), key=lambda one: one.start, reverse=True))

    def last_reading(self, store: str) -> tuple[datetime, float | None] | None:
        """The newest figure of a store and when it was measured; None in its place for a sensor fault."""
        found: list[tuple[datetime, float | None]] = []
        for told in self._of(store):
            if isinstance(told.body, f.ReadingsImported):
                found.append((told.body.ends, told.body.last_c))
            elif isinstance(told.body, f.StoreRead):
                found.append((told.at, told.body.temperature_c))
        return max(found, key=lambda read: read[0], default=None)

    def _of(self, store: str) -> list[f.Fact]:
        return self._facts.get(store, [])
