"""What a store went through, from its readings: excursions, mean kinetic temperature, and what nobody knows.

A reading holds until the next one. Where the next is longer away than the series allows, or the reading is a sensor
fault, nothing is known of the time between: it is named, and never averaged, bridged or called in range.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

from station.care.kinetic import NoKineticMean, mean_kinetic_c
from station.care.outside import NONE, Excursion, Held, Limits, Span, excursions


@dataclass(frozen=True, slots=True)
class Reading:
    """A logger's reading: UTC, degrees Celsius, None for a sensor fault."""

    at: datetime
    temperature_c: float | None


@dataclass(frozen=True, slots=True)
class Survey:
    """A window of readings: what was outside, what is not known, and for how much of it anything is.

    Time before the first reading is never known, so begin the window with a reading.
    """

    window: Span
    excursions: tuple[Excursion, ...]
    gaps: tuple[Span, ...]
    faults: tuple[Span, ...]
    known: timedelta
    in_range: timedelta
    kinetic_c: float | None

    @property
    def covered(self) -> float:
        """The share of the window that readings cover, 0 to 1; `kinetic_c` speaks for that share only."""
        return self.known / self.window.length

    @property
    def all_in_range(self) -> bool:
        """True only where readings cover the whole window and none is outside or a fault, not even the last."""
        return self.in_range == self.window.length and not self.excursions and not self.faults


def survey(readings: Sequence[Reading], limits: Limits, longest_step: timedelta, window: Span) -> Survey:
    """Look through the readings of a window; those outside it are left alone.

    `longest_step` is how far apart readings may be before the time between is a gap. The mean kinetic temperature is
    None where nothing is known or the store froze. Raises ValueError for an empty window, a step of no length, and
    readings whose time does not rise.
    """
    if window.length <= NONE or longest_step <= NONE:
        raise ValueError("The window and the longest step must have a length.")
    inside = [reading for reading in readings if window.start <= reading.at <= window.end]
    _check_rising(inside)
    cuts = [window.start, *(reading.at for reading in inside), window.end]
    spans = [Span(start, end) for start, end in pairwise(cuts)]
    stands = [
        (reading, span if span.length <= longest_step else Span(span.start, span.start))
        for reading, span in zip(inside, spans[1:], strict=True)
    ]
    held = [Held(span, reading.temperature_c) for reading, span in stands if reading.temperature_c is not None]
    return Survey(
        window=window,
        excursions=excursions(held, limits, longest_step, window),
        gaps=tuple(span for span in spans if span.length > longest_step),
        faults=tuple(span for reading, span in stands if reading.temperature_c is None),
        known=_total(held),
        in_range=_total([piece for piece in held if limits.low_c <= piece.temperature_c <= limits.high_c]),
        kinetic_c=_kinetic(held),
    )


def _check_rising(readings: Sequence[Reading]) -> None:
    for earlier, later in pairwise(readings):
        if not earlier.at < later.at:
            raise ValueError(f"The reading of {later.at.isoformat()} does not come after {earlier.at.isoformat()}.")


def _total(held: Sequence[Held]) -> timedelta:
    return sum((piece.span.length for piece in held), NONE)


def _kinetic(held: Sequence[Held]) -> float | None:
    try:
        return mean_kinetic_c(
            [piece.temperature_c for piece in held], [piece.span.length.total_seconds() for piece in held]
        )
    except NoKineticMean:
        return None
