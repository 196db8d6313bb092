"""A store's readings looked through, however many: only the stretches round what is outside become single readings."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from math import isnan

from station.care.cold_readings_rules import FREEZING_C
from station.care.excursions import Reading, survey
from station.care.outside import NONE, Excursion, Limits, Side, Span

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_MICROSECOND = timedelta(microseconds=1)


@dataclass(frozen=True, slots=True)
class Flat:
    """Readings of one logger: microseconds since 1970 in UTC, strictly rising, and Celsius, NaN for a sensor fault."""

    at: Sequence[int]
    celsius: Sequence[float]

    def __len__(self) -> int:
        """How many readings, faults among them."""
        return len(self.at)

    def instant(self, index: int) -> datetime:
        """When a reading was made (aware UTC)."""
        return EPOCH + timedelta(microseconds=self.at[index])

    def within(self, start: datetime, end: datetime) -> slice:
        """Where the readings of a time stand, both ends included."""
        return slice(bisect_left(self.at, counted(start)), bisect_right(self.at, counted(end)))

    def between(self, first: int, last: int) -> list[Reading]:
        """The readings from one index to another, both included."""
        return [
            Reading(self.instant(index), None if isnan(self.celsius[index]) else self.celsius[index])
            for index in range(first, last + 1)
        ]


@dataclass(frozen=True, slots=True)
class Judged:
    """An excursion, the mean kinetic temperature over it, and the longest time without a reading in or beside it.

    `readings` names the series that have a reading outside in it.
    """

    excursion: Excursion
    kinetic_c: float | None
    longest_gap: timedelta
    readings: tuple[str, ...] = ()


def counted(instant: datetime) -> int:
    """An aware instant as whole microseconds since the beginning of 1970 in UTC."""
    return (instant - EPOCH) // _MICROSECOND


def look_through(readings: Flat, limits: Limits, longest_step: timedelta, *, freezing: bool) -> tuple[Judged, ...]:
    """The excursions of a series. `freezing`: anything below 0 C is one, however short (a refrigerator).

    `longest_step` is how far apart readings may be before nothing is known of the time between.
    """
    found: list[Judged] = []
    for first, last in _stretches(readings, limits, longest_step):
        around = readings.between(first, last)
        window = Span(around[0].at, around[-1].at)
        if window.length <= NONE:  # a single reading, so nothing was proved
            continue
        seen = survey(around, limits, longest_step, window)
        excursions = [*seen.excursions, *_froze(around, limits, longest_step, window, freezing=freezing)]
        found += [_judged(around, one, limits, longest_step, seen.gaps) for one in _apart(excursions)]
    return tuple(sorted(found, key=lambda judged: judged.excursion.start))


def _froze(
    around: Sequence[Reading], limits: Limits, longest_step: timedelta, window: Span, *, freezing: bool
) -> Iterator[Excursion]:
    """Times below freezing, even those too short to be an excursion."""
    if not freezing or all(one.temperature_c is None or one.temperature_c >= FREEZING_C for one in around):
        return
    at_once = survey(around, replace(limits, delay=NONE), longest_step, window)
    yield from (one for one in at_once.excursions if one.side is Side.LOW and one.peak_c < FREEZING_C)


def _apart(excursions: Sequence[Excursion]) -> Iterator[Excursion]:
    """Each side's excursions once: of two that overlap the one told first."""
    kept: list[Excursion] = []
    for one in excursions:
        if not any(one.side is other.side and one.start <= other.end and other.start <= one.end for other in kept):
            kept.append(one)
            yield one


def _judged(
    around: Sequence[Reading], one: Excursion, limits: Limits, longest_step: timedelta, gaps: Sequence[Span]
) -> Judged:
    beside = [gap.length for gap in gaps if gap.start <= one.end and one.start <= gap.end]
    window = Span(one.start, one.end)
    kinetic = survey(around, limits, longest_step, window).kinetic_c if window.length > NONE else None
    return Judged(one, kinetic, max(beside, default=NONE))


def _stretches(readings: Flat, limits: Limits, longest_step: timedelta) -> Iterator[tuple[int, int]]:
    """First and last index round each time outside: a good reading before it, and enough after it to see it end."""
    low, high = limits.low_c, limits.high_c
    outside = [index for index, celsius in enumerate(readings.celsius) if celsius > high or celsius < low]
    until = -1
    for index in outside:
        if index <= until:
            continue
        first, until = max(until, _before(readings, index)), _after(readings, index, limits, longest_step)
        yield first, until


def _before(readings: Flat, index: int) -> int:
    """The nearest reading before that is no fault; the first of all where there is none."""
    at = index - 1
    while at > 0 and isnan(readings.celsius[at]):
        at -= 1
    return max(at, 0)


def _after(readings: Flat, index: int, limits: Limits, longest_step: timedelta) -> int:
    """Where it is over: inside by the dead band for the delay, the first reading inside after a gap, or the last."""
    least, most = limits.low_c + limits.dead_band_k, limits.high_c - limits.dead_band_k
    delay, step = limits.delay // _MICROSECOND, longest_step // _MICROSECOND
    back, last = -1, index
    for at in range(index + 1, len(readings)):
        celsius = readings.celsius[at]
        if isnan(celsius):
            continue
        if readings.at[at] - readings.at[last] > step and limits.low_c <= celsius <= limits.high_c:
            return at
        last = at
        back = (at if back < 0 else back) if least <= celsius <= most else -1
        if back >= 0 and readings.at[at] - readings.at[back] > delay + step:
            return at
    return len(readings) - 1
