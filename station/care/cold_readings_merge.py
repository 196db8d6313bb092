"""Readings of several files put together: a fault gives way to a figure, and of two figures the worse one counts."""

from array import array
from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from functools import reduce
from math import isnan

from station.care.cold_readings import Flat, Judged, look_through
from station.care.outside import Excursion, Limits, Side

BLOCK = 4096
Pick = Callable[[float, float], float]


@dataclass(frozen=True, slots=True)
class Merged:
    """All readings in order. Where files say two figures of one instant, `warmest` has the higher and `coldest` the
    lower; where they agree, both are one."""

    warmest: Flat
    coldest: Flat

    @property
    def agreed(self) -> bool:
        """Whether no two figures of one instant differ."""
        return self.warmest is self.coldest

    def furthest(self, middle_c: float) -> Flat:
        """One figure for each instant: the one further from the middle of the limits (Celsius)."""
        if self.agreed:
            return self.warmest
        pairs = zip(self.warmest.celsius, self.coldest.celsius, strict=True)
        worse = (warm if warm - middle_c > middle_c - cold else cold for warm, cold in pairs)
        return Flat(self.warmest.at, array("d", worse))


def merged(flats: Iterable[Flat]) -> Merged:
    """All of them together, in whatever order they are given."""
    nothing = Flat(array("q"), array("d"))
    return reduce(added, flats, Merged(nothing, nothing))


def added(readings: Merged, flat: Flat) -> Merged:
    """With another file's readings."""
    higher, differed = _joined(readings.warmest, flat, max)
    if readings.agreed and not differed:
        return Merged(higher, higher)
    return Merged(higher, _joined(readings.coldest, flat, min)[0])


def look_through_both(
    readings: Merged, limits: Limits, longest_step: timedelta, *, freezing: bool
) -> tuple[Judged, ...]:
    """As `look_through`; too warm is judged by the higher of two figures, too cold by the lower."""
    if readings.agreed:
        return look_through(readings.warmest, limits, longest_step, freezing=freezing)
    warm = look_through(readings.warmest, limits, longest_step, freezing=freezing)
    cold = look_through(readings.coldest, limits, longest_step, freezing=freezing)
    found = [
        *(one for one in warm if one.excursion.side is Side.HIGH),
        *(one for one in cold if one.excursion.side is Side.LOW),
    ]
    return tuple(sorted(found, key=lambda judged: judged.excursion.start))


def compared(others: Merged, flat: Flat) -> tuple[int, int]:
    """How many readings were here already, and how many figures say otherwise than every figure that was here.

    A fault adds nothing to a reading that is here; a figure in place of a fault is new.
    """
    known = conflicts = 0
    for here, there in _runs(others.warmest, flat):
        if others.warmest.at[here] and flat.at[there]:
            here_before = others.warmest.celsius[here], others.coldest.celsius[here], flat.celsius[there]
            for warm, cold, new in zip(*here_before, strict=True):
                known += isnan(new) or new in (warm, cold)
                conflicts += not (isnan(new) or isnan(warm) or new in (warm, cold))
    return known, conflicts


def with_sources(judged: Judged, sources: Sequence[tuple[str, Flat]], limits: Limits) -> Judged:
    """The excursion with the names of the series that have a reading outside in it."""
    names = (name for name, flat in sources if _outside(flat, judged.excursion, limits))
    return replace(judged, readings=tuple(dict.fromkeys(names)))


def _outside(flat: Flat, one: Excursion, limits: Limits) -> bool:
    return any(limits.beyond(one.side, celsius) > 0 for celsius in flat.celsius[flat.within(one.start, one.end)])


def _joined(one: Flat, other: Flat, worse: Pick) -> tuple[Flat, bool]:
    """Both in order, and whether two figures of one instant differed."""
    at, celsius = array("q"), array("d")
    differed = False
    for here, there in _runs(one, other):
        at.extend(one.at[here] or other.at[there])
        if one.at[here] and other.at[there] and one.celsius[here] != other.celsius[there]:
            for mine, theirs in zip(one.celsius[here], other.celsius[there], strict=True):
                figure, unlike = _figure(mine, theirs, worse)
                differed = differed or unlike
                celsius.append(figure)
        else:
            celsius.extend(one.celsius[here] or other.celsius[there])
    return Flat(at, celsius), differed


def _runs(one: Flat, other: Flat) -> Iterator[tuple[slice, slice]]:
    """Stretches that one of them has alone, the other's part empty, and stretches of the same instants in both."""
    here = there = 0
    while here < len(one) and there < len(other):
        begun = here, there
        if one.at[here] == other.at[there]:
            many = BLOCK if one.at[here : here + BLOCK] == other.at[there : there + BLOCK] else 1
            here, there = min(here + many, len(one)), min(there + many, len(other))
        elif one.at[here] < other.at[there]:
            here = bisect_left(one.at, other.at[there], here)
        else:
            there = bisect_left(other.at, one.at[here], there)
        yield slice(begun[0], here), slice(begun[1], there)
    if here < len(one):
        yield slice(here, len(one)), slice(there, there)
    if there < len(other):
        yield slice(here, here), slice(there, len(other))


def _figure(one: float, other: float, worse: Pick) -> tuple[float, bool]:
    if isnan(one):
        return other, False
    if isnan(other) or one == other:
        return one, False
    return worse(one, other), True
