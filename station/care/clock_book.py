"""Every clock's story as a ledger has heard it, and by how much each other station's clock shows more than ours."""

from bisect import insort
from collections.abc import Callable, Iterator
from datetime import timedelta

from station.care import facts as f
from station.care.clock_story import Corrections, Doubt, Drift, Order, OtherClock, drift, other_clock, trust
from station.care.moments import NOTHING
from station.care.state import ClockTrust


class ClockBook:
    """Clock facts in fold order, and comparisons of clocks."""

    def __init__(self) -> None:
        """Nothing heard yet."""
        self._story: list[f.Fact] = []
        self._ahead: dict[int, timedelta] = {}
        self._corrections = Corrections(())

    def copied(self) -> "ClockBook":
        """A book of its own with all that this one has heard."""
        twin = ClockBook()
        twin._story, twin._ahead, twin._corrections = self._story.copy(), self._ahead.copy(), self._corrections
        return twin

    def note(self, fact: f.Fact) -> bool:
        """Add a clock fact; whether it comes before one that was heard already."""
        late = bool(self._story) and fact.order < self._story[-1].order
        insort(self._story, fact, key=lambda told: told.order)
        if late or not isinstance(fact.body, f.StationStarted):  # a start settles nothing
            self._corrections = Corrections(self._story)
        return late

    def compared(self, told: f.ClockCompared) -> None:
        """Two stations met, and this one compared the other's clock with its own."""
        self._ahead[int(told.other, 16)] = told.by

    def settled(self) -> Iterator[f.Fact]:
        """Every confirmation, in fold order."""
        return (told for told in self._story if isinstance(told.body, f.ClockConfirmed))

    def trust(self, own: Callable[[f.Fact], bool]) -> ClockTrust:
        """The standing of our own clock."""
        return trust([told for told in self._story if own(told)])

    def drift(self, confirmed: f.Fact) -> Drift:
        """What a confirmation settles."""
        return drift(self._story, confirmed)

    def other(self, fact: f.Fact) -> OtherClock:
        """The clock of another station that dated a fact."""
        story = [told for told in self._story if told.journal == fact.journal]
        return other_clock(story, self._ahead_of(fact.journal), fact.order)

    def unsettled(self, order: Order) -> Doubt:
        """How far an instant that the fact at `order` gave a container may lie from what stands there, by our clock."""
        return self._corrections.unsettled(order, self._ahead_of(order[1]))

    def of(self, fact: f.Fact) -> Doubt:
        """How far an instant as a fact has it may lie from the truth, by our clock: confirmed steps count too."""
        return self._corrections.of(fact.order, self._ahead_of(fact.journal))

    def _ahead_of(self, journal: int) -> timedelta:
        return self._ahead.get(journal, NOTHING)
