"""Holes in a series: stretches without a reading, so that nothing is claimed for them."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

from station.readings.series import Noticed, Problem, Series

GAP_STEPS = 2.5
"""Two missing readings in a row make a gap; one alone is the jitter of a slow logger."""


@dataclass(frozen=True, slots=True)
class Gap:
    """A stretch without readings, from the last one before to the first one after (aware UTC)."""

    start: datetime
    end: datetime

    @property
    def length(self) -> timedelta:
        """How long nothing was measured."""
        return self.end - self.start


def interval(instants: Sequence[datetime]) -> timedelta | None:
    """The usual step of a series; None with fewer than two readings."""
    return usual([later - earlier for earlier, later in pairwise(instants)])


def usual(steps: Sequence[timedelta]) -> timedelta | None:
    """The middle one of some steps, None of none."""
    return sorted(steps)[len(steps) // 2] if steps else None


def gaps(instants: Sequence[datetime], step: timedelta | None = None) -> tuple[Gap, ...]:
    """The gaps between rising instants; `step` is the logger's interval, else the usual step of the series."""
    expected = step or interval(instants)
    if expected is None:
        return ()
    return tuple(Gap(earlier, later) for earlier, later in pairwise(instants) if later - earlier > expected * GAP_STEPS)


def sensor_gaps(series: Series, sensor: str) -> tuple[Gap, ...]:
    """The gaps of one sensor: rows that hold only a fault of it measure nothing."""
    return gaps([at for at, _ in series.points(sensor)], interval([row.at for row in series.rows]))


def gap_problems(series_rows: Sequence[tuple[int, datetime]]) -> list[Problem]:
    """One problem for each gap between rows, given as line numbers and instants in order of time."""
    numbers = {at: number for number, at in series_rows}
    return [
        Problem(
            Noticed.GAP,
            numbers[gap.start],
            numbers[gap.end],
            f"nothing was measured for {told_length(gap.length)}",
        )
        for gap in gaps([at for _, at in series_rows])
    ]


def told_length(length: timedelta) -> str:
    """A length of time without readings, in words."""
    seconds = round(length.total_seconds())
    if seconds < 120:
        return f"{seconds} s"
    hours, minutes = divmod(seconds // 60, 60)
    return f"{hours} h {minutes:02d} min" if hours else f"{minutes} min"
