"""The numbers of containers: each is given once, also after a restore from a backup that lacks the newest ones."""

from collections.abc import Iterable

from station.care import facts as f
from station.care.facts import Fact
from station.care.ledger import Subject
from station.labels.containercode import container_id, container_numbers
from station.labels.faults import LabelFault

# more than a site numbers between two backups; of the 2^20 numbers a label has room for, each restore costs so many
LEFT_OUT_BY_A_RESTORE = 1000


class Numbering:
    """The counter of one station, kept by the facts it hears in their order."""

    def __init__(self, station: int) -> None:
        """Nothing numbered yet."""
        self._station = station
        self._last = 0

    @property
    def upcoming(self) -> str:
        """The number that `give` would give."""
        return container_id(self._station, self._last + 1)

    def give(self) -> str:
        """The next number; it is never given again."""
        number = self.upcoming
        self._last += 1
        return number

    def heard(self, fact: Fact, changed: Iterable[Subject]) -> None:
        """A fact and the subjects it changed. Labels printed after the backup carry numbers nobody here knows of."""
        named = [name for kind, name in changed if kind == "container"]
        if isinstance(fact.body, f.NumbersReserved):
            named += fact.body.numbers
        self._last = max((self._last, *map(self._count, named)))
        if fact.station == self._station and isinstance(fact.body, f.StationStarted) and fact.body.continues:
            self._last += LEFT_OUT_BY_A_RESTORE

    def _count(self, name: str) -> int:
        try:
            numbered_by, counter = container_numbers(name)
        except LabelFault:  # what another station wrote may be no number at all, and must not stop this one
            return 0
        return counter if numbered_by == self._station else 0
