"""How fast alarms are answered, and whether there are more of them than people can answer.

A flood begins with more than 10 alarms in 10 minutes and is over at fewer than 5 (ANSI/ISA-18.2, as quoted by
public texts on alarm floods). About one alarm in 10 minutes for each operator is acceptable (EEMUA 191). Floods should
take less than about 1 % of the time (the same texts); an alarm that stands for 24 h is called stale (the same).
"""

from collections import deque
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import ceil

TEN_MINUTES = timedelta(minutes=10)
FLOOD_ABOVE = 10
FLOOD_OVER_BELOW = 5
ACCEPTABLE_IN_TEN_MINUTES = 1.0
FLOOD_SHARE_BELOW = 0.01
STALE_AFTER = timedelta(hours=24)


@dataclass(frozen=True, slots=True)
class Spread:
    """Of some lengths: how many, their median, the 90th percentile by nearest rank, and the worst."""

    count: int
    median: timedelta
    p90: timedelta
    worst: timedelta


def spread(lengths: Iterable[timedelta]) -> Spread | None:
    """The spread of lengths; None of none. The median of an even count is the mean of the middle two."""
    told = sorted(lengths)
    if not told:
        return None
    middle = (told[(len(told) - 1) // 2] + told[len(told) // 2]) / 2
    return Spread(len(told), middle, told[ceil(0.9 * len(told)) - 1], told[-1])


def rate(alarms: int, period: timedelta, operators: int) -> float:
    """Alarms per operator in 10 minutes. ValueError for an empty period or no operator."""
    if period <= timedelta(0) or operators < 1:
        raise ValueError("A rate needs a period and at least one operator.")
    return alarms * (TEN_MINUTES / period) / operators


@dataclass(frozen=True, slots=True)
class Flood:
    """From the alarm that was one too many, until fewer than 5 lay in the 10 minutes before (None: still on)."""

    start: datetime
    end: datetime | None


def floods(raised: Sequence[datetime], until: datetime) -> tuple[Flood, ...]:
    """Every flood among instants up to `until`; an alarm counts from its instant up to, not at, 10 minutes later."""
    found: list[Flood] = []
    window: deque[datetime] = deque()
    start: datetime | None = None
    for at in sorted(raised):
        ended = _run_out(window, at, flooding=start is not None)
        if start is not None and ended is not None:
            found.append(Flood(start, ended))
            start = None
        window.append(at)
        if start is None and len(window) > FLOOD_ABOVE:
            start = at
    ended = _run_out(window, until, flooding=start is not None)
    return (*found, Flood(start, ended)) if start is not None else tuple(found)


def peak(raised: Iterable[datetime]) -> int:
    """The most alarms there were in any 10 minutes; an alarm counts as in `floods`."""
    window: deque[datetime] = deque()
    most = 0
    for at in sorted(raised):
        _run_out(window, at, flooding=False)
        window.append(at)
        most = max(most, len(window))
    return most


def flooded(found: Iterable[Flood], since: datetime, until: datetime) -> float:
    """The part of a period that was flood, 0 to 1. ValueError for an empty period."""
    if until <= since:
        raise ValueError("A share needs a period.")
    lengths = (min(one.end or until, until) - max(one.start, since) for one in found)
    return sum(lengths, timedelta(0)) / (until - since)


def stale(alarms: Iterable[tuple[datetime, datetime | None]], until: datetime) -> int:
    """How many alarms, raised and cleared (None: not yet), stood for 24 h or longer up to `until`."""
    return sum((cleared or until) - raised >= STALE_AFTER for raised, cleared in alarms)


def _run_out(window: deque[datetime], at: datetime, *, flooding: bool) -> datetime | None:
    """Let what is 10 minutes old go; when that ended a flood, its instant."""
    ended: datetime | None = None
    while window and window[0] + TEN_MINUTES <= at:
        gone = window.popleft()
        if flooding and ended is None and len(window) < FLOOD_OVER_BELOW:
            ended = gone + TEN_MINUTES
    return ended
