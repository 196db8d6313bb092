"""Times outside a limit, found in temperatures that each hold for a while.

An excursion begins with the first reading outside a limit and ends with the first one back inside by the dead band
that stays so for the delay; being outside for less than the delay is none. A value that swings round the limit
therefore makes one excursion. Where a gap cuts one off, it is told up to the gap and always counts: for how long it
really lasted, nobody can say.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

NONE = timedelta(0)


class Side(StrEnum):
    """Which limit was passed."""

    LOW = "too cold"
    HIGH = "too warm"


@dataclass(frozen=True, slots=True)
class Limits:
    """Of a store, degrees Celsius, both still in range; how far back inside counts, and how long outside does."""

    low_c: float
    high_c: float
    dead_band_k: float
    delay: timedelta

    def __post_init__(self) -> None:
        """Raises ValueError for limits nothing can be inside of, and a negative dead band or delay."""
        if not self.low_c + self.dead_band_k < self.high_c:
            raise ValueError(f"Limits {self.low_c:g} and {self.high_c:g} C leave no room for the dead band.")
        if self.dead_band_k < 0 or self.delay < NONE:
            raise ValueError("Dead band and delay must not be negative.")

    def beyond(self, side: Side, temperature_c: float) -> float:
        """How many kelvin outside the limit of this side; negative inside."""
        return temperature_c - self.high_c if side is Side.HIGH else self.low_c - temperature_c


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of time, from one instant in UTC to another."""

    start: datetime
    end: datetime

    @property
    def length(self) -> timedelta:
        """From start to end."""
        return self.end - self.start


@dataclass(frozen=True, slots=True)
class Excursion:
    """One time outside: `outside` is how long readings prove it, from `start` to `end` or the last one known.

    `ended` is False where a gap or the end of the series cut it off; `peak_c` is the reading furthest outside.
    """

    side: Side
    start: datetime
    end: datetime
    peak_c: float
    outside: timedelta
    ended: bool


@dataclass(frozen=True, slots=True)
class Held:
    """A temperature from its reading for as long as it holds: no time at all where a gap follows."""

    span: Span
    temperature_c: float


def excursions(held: Sequence[Held], limits: Limits, longest_step: timedelta, window: Span) -> tuple[Excursion, ...]:
    """Of both sides, in the order of their beginning; a gap is over `longest_step`, at the window's ends too."""
    found: list[Excursion] = []
    known_until = window.start
    for run, after in _runs(held, longest_step, window.end):
        first, last = run[0].span.start, run[-1].span.start
        for side in Side:
            watch = _Watch(side, limits, after_gap=first - known_until > longest_step)
            found += watch.through(run, before_gap=after - last > longest_step)
        known_until = last
    return tuple(sorted(found, key=lambda excursion: excursion.start))


def _runs(held: Sequence[Held], longest_step: timedelta, end: datetime) -> list[tuple[list[Held], datetime]]:
    """Parted wherever two temperatures are further apart than the series allows; each with what comes after it."""
    runs: list[tuple[list[Held], datetime]] = []
    pieces: list[Held] = []
    ends = [*(later.span.start for later in held[1:]), end]
    for piece, after in zip(held, ends, strict=False):  # without readings an end is left over
        pieces.append(piece)
        if after - piece.span.start > longest_step:
            runs.append((pieces, after))
            pieces = []
    return [*runs, (pieces, end)] if pieces else runs


@dataclass(slots=True)
class _Open:
    """An excursion under way; `back` is since when the value is well inside again."""

    start: datetime
    last: datetime
    peak_c: float
    certain: bool
    outside: timedelta = NONE
    back: datetime | None = None


class _Watch:
    """Follows one limit through a run of readings without a gap."""

    def __init__(self, side: Side, limits: Limits, *, after_gap: bool) -> None:
        self._side, self._limits = side, limits
        self._unknown_before = after_gap
        self._open: _Open | None = None

    def through(self, run: Sequence[Held], *, before_gap: bool) -> Iterator[Excursion]:
        """The excursions of the run, the last perhaps cut off at its end."""
        for piece in run:
            if self._limits.beyond(self._side, piece.temperature_c) > 0:
                self._go_on(piece)
            elif self._open is not None:
                yield from self._perhaps_end(self._open, piece)
            self._unknown_before = False
        if self._open is not None:
            self._open.certain = self._open.certain or before_gap
            yield from self._told(self._open, ended=False)

    def _go_on(self, piece: Held) -> None:
        if self._open is None:
            self._open = _Open(piece.span.start, piece.span.end, piece.temperature_c, certain=self._unknown_before)
        now, furthest = self._open, max if self._side is Side.HIGH else min
        now.peak_c = furthest(now.peak_c, piece.temperature_c)
        now.outside += piece.span.length
        now.last, now.back = piece.span.end, None

    def _perhaps_end(self, now: _Open, piece: Held) -> Iterator[Excursion]:
        now.last = piece.span.end
        if now.back is None and self._well_inside(piece.temperature_c):
            now.back = piece.span.start
        if now.back is not None and now.last - now.back >= self._limits.delay:
            self._open = None
            yield from self._told(now, ended=True)

    def _well_inside(self, temperature_c: float) -> bool:
        # Limits and readings have a few decimals; 8.0 - 7.9 is a trifle under 0.1 in a double.
        return self._limits.beyond(self._side, temperature_c) <= 1e-9 - self._limits.dead_band_k

    def _told(self, now: _Open, *, ended: bool) -> Iterator[Excursion]:
        """The excursion, unless it was surely shorter than the delay."""
        end = now.back or now.last
        if now.certain or end - now.start >= self._limits.delay:
            yield Excursion(self._side, now.start, end, now.peak_c, now.outside, ended)
