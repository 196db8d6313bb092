"""What is on record of the stores' temperatures: files that count, the last figure, the excursions that stand.

A file that was taken back counts no more, and neither does an excursion that only such files tell of.
"""

from bisect import insort
from collections.abc import Collection, Iterator
from dataclasses import replace
from datetime import datetime

from station.care import facts as f
from station.care.cold_readings_joined import as_far, together

KEPT = (
    f.ReadingsImported | f.ReadingsWithdrawn | f.StoreRead | f.ExcursionFound | f.ExcursionConfirmed | f.ExcursionSeen
)


class ColdRecord:
    """Grows with the ledger; the same facts in any order give the same record."""

    def __init__(self) -> None:
        """Nothing was read yet."""
        self._facts: dict[str, list[f.Fact]] = {}
        self._standing: dict[str, tuple[f.ExcursionFound, ...]] = {}
        self._counting: dict[str, tuple[f.Fact, ...]] = {}

    def note(self, fact: f.Fact) -> None:
        """Take in a fact; what says nothing of a store's temperature changes nothing."""
        if isinstance(fact.body, KEPT):
            insort(self._facts.setdefault(fact.body.store, []), fact, key=lambda told: told.order)
            self._standing.pop(fact.body.store, None)
            self._counting.pop(fact.body.store, None)

    def copied(self) -> "ColdRecord":
        """A record of its own with all that this one has heard."""
        twin = ColdRecord()
        twin._facts = {store: facts.copy() for store, facts in self._facts.items()}
        return twin

    # ------------------------------------------------------------------ files

    def files(self, store: str) -> tuple[f.Fact, ...]:
        """The imports that count, the first to come in first."""
        if store not in self._counting:
            back = self._taken_back(store)
            files = (told for told in self._of(store) if isinstance(told.body, f.ReadingsImported))
            self._counting[store] = tuple(told for told in files if told.key not in back)
        return self._counting[store]

    def imports(self, store: str) -> tuple[f.ReadingsImported, ...]:
        """The files that count, the first to come in first."""
        return tuple(told.body for told in self.files(store) if isinstance(told.body, f.ReadingsImported))

    def every_file(self) -> tuple[f.Fact, ...]:
        """The imports of all stores that count."""
        return tuple(told for store in sorted(self._facts) for told in self.files(store))

    def last_reading(self, store: str) -> tuple[datetime, float | None] | None:
        """The newest figure of a store and when it was measured; None in its place for a sensor fault."""
        found = [(one.ends, one.last_c) for one in self.imports(store)]
        read = ((told.at, told.body.temperature_c) for told in self._of(store) if isinstance(told.body, f.StoreRead))
        return max([*found, *read], key=lambda one: one[0], default=None)

    # ------------------------------------------------------------------ excursions

    def excursions(self, store: str) -> tuple[f.ExcursionFound, ...]:
        """Those that stand, the newest first: each at its worst, without those another one replaced."""
        if store not in self._standing:
            self._standing[store] = self.without(store, ())
        return self._standing[store]

    def without(self, store: str, imports: Collection[str]) -> tuple[f.ExcursionFound, ...]:
        """Those that would stand if these imports, named by their facts, were taken back too."""
        back = self._taken_back(store) | frozenset(imports)
        found: dict[str, f.ExcursionFound] = {}
        for told in self._told(store):
            if not self._only_from(store, told, back):
                before = (found.pop(name, None) for name in (*told.replaces, told.excursion))
                for older in [one for one in before if one is not None]:
                    told = together(told, older)  # noqa: PLW2901  grows by each
                found[told.excursion] = told
        return tuple(sorted(found.values(), key=lambda one: one.start, reverse=True))

    def taken_back(self, store: str) -> tuple[f.ExcursionFound, ...]:
        """Those that stood only by files that were taken back, as they were told last, the newest first."""
        back = self._taken_back(store)
        found = {told.excursion: told for told in self._told(store) if self._only_from(store, told, back)}
        standing = {one.excursion for one in self.excursions(store)}
        replaced = {name for one in self.excursions(store) for name in one.replaces}
        gone = (one for name, one in found.items() if name not in standing | replaced)
        return tuple(sorted(gone, key=lambda one: one.start, reverse=True))

    def unseen(self, store: str) -> tuple[f.ExcursionFound, ...]:
        """Those that stand and that no lead has seen as far as they go, the newest first."""
        seen = [told.body for told in self._of(store) if isinstance(told.body, f.ExcursionSeen)]
        return tuple(
            one
            for one in self.excursions(store)
            if not any(told.excursion == one.excursion and as_far(told, one) for told in seen)
        )

    # ------------------------------------------------------------------ inside

    def _told(self, store: str) -> Iterator[f.ExcursionFound]:
        """As they were told, each with every series that was found to tell of it since."""
        confirmed: dict[str, tuple[str, ...]] = {}
        for told in self._of(store):
            if isinstance(told.body, f.ExcursionConfirmed):
                before = confirmed.get(told.body.excursion, ())
                confirmed[told.body.excursion] = tuple(dict.fromkeys((*before, *told.body.readings)))
        for told in self._of(store):
            if isinstance(told.body, f.ExcursionFound):
                further = confirmed.get(told.body.excursion, ()) if told.body.readings else ()
                yield replace(told.body, readings=tuple(dict.fromkeys((*told.body.readings, *further))))

    def _taken_back(self, store: str) -> frozenset[str]:
        bodies = (told.body for told in self._of(store))
        return frozenset(key for body in bodies if isinstance(body, f.ReadingsWithdrawn) for key in body.imports)

    def _only_from(self, store: str, one: f.ExcursionFound, back: frozenset[str]) -> bool:
        """Whether every file that tells of it was taken back."""
        if not back:
            return False
        files = ((told.key, told.body) for told in self._of(store))
        telling = [key for key, body in files if isinstance(body, f.ReadingsImported) and _tells(body, one)]
        return bool(telling) and all(key in back for key in telling)

    def _of(self, store: str) -> list[f.Fact]:
        return self._facts.get(store, [])


def _tells(body: f.ReadingsImported, one: f.ExcursionFound) -> bool:
    """By the series it names; where none was noted, any file of its logger that speaks of this time."""
    if one.readings:
        return body.series in one.readings
    return body.logger == one.logger and body.begins <= one.end and one.start <= body.ends
