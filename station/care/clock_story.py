"""What the steps of a PC's clock add up to, and how far facts written before them were dated wrong.

A step puts every readiness in doubt until a shift lead confirms the time. The lead's word settles all steps since
the last such word: a fact written before a step of `by` was dated by a clock that was off by `-by`.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import timedelta

from station.care import facts as f
from station.care.cold_proof import SKEW_ALLOWED
from station.care.moments import NOTHING
from station.care.state import ClockTrust

Order = tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class OtherClock:
    """Another station's clock when it dated a fact, as this one knows it: its standing, by how much it shows more than
    ours, and whether the fact was written after a step that nobody has confirmed yet (`moved`)."""

    trust: ClockTrust
    ahead: timedelta
    moved: bool

    @property
    def beyond(self) -> bool:
        """Whether it is too far from ours to reckon with."""
        return abs(self.ahead) > SKEW_ALLOWED

    @property
    def slow(self) -> timedelta:
        """How much too early it dates, so that readiness by it comes later."""
        return max(NOTHING, -self.ahead)

    @property
    def fast(self) -> timedelta:
        """How much too late it dates, so that ends by it come earlier."""
        steps = max(NOTHING, self.trust.stepped_by) if self.moved else NOTHING
        return max(NOTHING, self.ahead) + self.trust.set_back + steps


@dataclass(frozen=True, slots=True)
class Drift:
    """The steps one confirmation settles, and where the stretch of clock it speaks of began.

    It speaks of what was written into one journal: other stations have clocks of their own.
    """

    journal: int
    steps: tuple[tuple[Order, timedelta], ...]
    began: Order

    def since(self, order: Order) -> timedelta:
        """How much the clock was moved after a fact; ahead if positive, so that the fact was dated too early."""
        if order[1] != self.journal:
            return NOTHING
        return sum((by for at, by in self.steps if at > order), NOTHING)

    def too_late(self, order: Order) -> timedelta:
        """How much too late the ends given by a fact are, as a negative shift; nothing for an earlier stretch."""
        return min(NOTHING, self.since(order)) if order >= self.began else NOTHING

    def wrong_by(self, order: Order) -> timedelta:
        """How much too early a fact is dated (negative: too late); nothing for an earlier stretch."""
        return self.since(order) if order >= self.began else NOTHING


@dataclass(frozen=True, slots=True)
class Doubt:
    """By how much an instant may lie earlier (never positive) and later (never negative) than it was written."""

    earlier: timedelta = NOTHING
    later: timedelta = NOTHING

    def and_also(self, by: timedelta) -> "Doubt":
        """With one more error, which may be either way."""
        return Doubt(self.earlier + min(NOTHING, by), self.later + max(NOTHING, by))


class Corrections:
    """What a clock's whole story makes of the times of facts: steps that were settled, and those since."""

    def __init__(self, story: Sequence[f.Fact]) -> None:
        """Of these clock facts, which come in fold order."""
        settled = [fact for fact in story if isinstance(fact.body, f.ClockConfirmed)]
        self._settled = [(fact.order, drift(story, fact)) for fact in settled]
        last = {fact.journal: fact.order for fact in settled}
        self._open = [
            (fact.order, fact.body.by)
            for fact in story
            if isinstance(fact.body, f.ClockStepped) and fact.order > last.get(fact.journal, (0, 0, 0))
        ]

    def unsettled(self, order: Order, ahead: timedelta = NOTHING) -> Doubt:
        """Of a time, corrected by every confirmation, against the clock as it goes now; `ahead` is by how much the
        clock of its journal shows more than ours."""
        moved = (by for at, by in self._open if at[1] == order[1] and at > order)
        return Doubt().and_also(sum(moved, NOTHING)).and_also(-ahead)

    def of(self, order: Order, ahead: timedelta = NOTHING) -> Doubt:
        """Of a time as it was written, every confirmation since counted too."""
        doubt = self.unsettled(order, ahead)
        for at, settled in self._settled:
            if at > order:
                doubt = doubt.and_also(settled.wrong_by(order))
        return doubt


def is_clock_fact(fact: f.Fact) -> bool:
    """Whether a fact belongs to the story of the clock; a PC that slept kept the right time."""
    if isinstance(fact.body, f.ClockStepped):
        return not fact.body.suspended
    return isinstance(fact.body, f.ClockConfirmed | f.StationStarted)


def trust(story: Sequence[f.Fact]) -> ClockTrust:
    """The clock's standing after these clock facts, which come in fold order."""
    standing = ClockTrust()
    for fact in story:
        body = fact.body
        if isinstance(body, f.ClockConfirmed):
            standing = ClockTrust(segment_from=fact.at)
        elif isinstance(body, f.ClockStepped):
            before = standing.trusted_until
            standing = replace(
                standing,
                trusted_until=body.trusted_until if before is None else min(before, body.trusted_until),
                stepped_by=standing.stepped_by + body.by,
                set_back=max(NOTHING, standing.set_back - body.by),
            )
        elif standing.trusted_until is None:  # a new start in doubt settles nothing
            standing = replace(standing, segment_from=fact.at)
    return standing


def other_clock(story: Sequence[f.Fact], ahead: timedelta, order: Order) -> OtherClock:
    """The clock that dated the fact at `order`, from the clock facts of its journal, which come in fold order."""
    unsettled: list[Order] = []
    for fact in story:
        if isinstance(fact.body, f.ClockConfirmed):
            unsettled = []
        elif isinstance(fact.body, f.ClockStepped):
            unsettled.append(fact.order)
    return OtherClock(trust(story), ahead, moved=bool(unsettled) and order > unsettled[0])


def drift(story: Sequence[f.Fact], confirmed: f.Fact) -> Drift:
    """What a confirmation settles: the steps since the confirmation before it."""
    steps: list[tuple[Order, timedelta]] = []
    began: Order = (0, 0, 0)
    for fact in story:
        if fact.journal != confirmed.journal:
            continue
        if fact.order >= confirmed.order:
            break
        if isinstance(fact.body, f.ClockStepped):
            steps.append((fact.order, fact.body.by))
        elif isinstance(fact.body, f.ClockConfirmed) or not steps:
            steps, began = [], fact.order
    return Drift(confirmed.journal, tuple(steps), began)
