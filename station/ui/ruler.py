"""The shared time ruler: logarithmic around NOW, so minutes near now are wide and days far off narrow.

Right of NOW a span dt lies at log(1 + dt / bend); left of it the same, in a smaller share of the width. So the last
minutes of a bead can be told apart beside weeks of room life, and a mark moves faster the nearer it comes to NOW.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta

BEND = timedelta(minutes=12)
PAST_REACH = timedelta(hours=6)
FUTURE_REACH = timedelta(days=45)
NOW_SHARE = 0.21


@dataclass(frozen=True)
class Tick:
    """A named place on the ruler; `offset` is from now, negative for the past."""

    label: str
    offset: timedelta

    @property
    def is_now(self) -> bool:
        """True for the one tick that is the present."""
        return self.offset == timedelta(0)


# The order is the order in which a crowded ruler keeps its names.
TICKS = (
    Tick("NOW", timedelta(0)),
    Tick("1 day", timedelta(days=1)),
    Tick("30 min", timedelta(minutes=30)),
    Tick("1 week", timedelta(weeks=1)),
    Tick("2 h 30", timedelta(hours=2, minutes=30)),
    Tick("4 h ago", timedelta(hours=-4)),
    Tick("8 h", timedelta(hours=8)),
    Tick("1 month", timedelta(days=30)),
)


def _bent(span: timedelta) -> float:
    return math.log1p(span / BEND)


@dataclass(frozen=True)
class TimeRuler:
    """Maps instants to positions 0 .. width (in the caller's pixels) and back."""

    now: datetime
    width: float

    @property
    def now_position(self) -> float:
        """Where the now line stands."""
        return self.width * NOW_SHARE

    def position(self, instant: datetime) -> float:
        """Position of an instant; what lies beyond the ruler's reach is held at its end."""
        return self.position_of_offset(instant - self.now)

    def position_of_offset(self, offset: timedelta) -> float:
        """Position of a span from now, negative for the past, held at the ends."""
        if offset < timedelta(0):
            share = _bent(min(-offset, PAST_REACH)) / _bent(PAST_REACH)
            return self.now_position * (1 - share)
        share = _bent(min(offset, FUTURE_REACH)) / _bent(FUTURE_REACH)
        return self.now_position + (self.width - self.now_position) * share

    def instant_at(self, position: float) -> datetime:
        """The instant at a position; the inverse of `position` inside the ruler's reach."""
        place = min(max(position, 0.0), self.width)
        if place < self.now_position:
            share = 1 - place / self.now_position
            return self.now - BEND * math.expm1(share * _bent(PAST_REACH))
        share = (place - self.now_position) / (self.width - self.now_position)
        return self.now + BEND * math.expm1(share * _bent(FUTURE_REACH))

    def reaches(self, instant: datetime) -> bool:
        """True where the instant lies on the ruler itself, not held at one of its ends."""
        return -PAST_REACH <= instant - self.now <= FUTURE_REACH

    def legible_ticks(self, width_of: Callable[[str], float], gap: float) -> tuple[Tick, ...]:
        """Ticks whose centred names fit on the ruler without touching, most telling names first.

        `width_of` measures a name and `gap` is the least room between two, both in the ruler's pixels.
        """
        kept: list[tuple[float, float, Tick]] = []
        for tick in TICKS:
            half = width_of(tick.label) / 2
            place = self.position_of_offset(tick.offset)
            left, right = place - half, place + half
            clear = all(right + gap <= other_left or left >= other_right + gap for other_left, other_right, _ in kept)
            if clear and right <= self.width + half and left >= -half:
                kept.append((left, right, tick))
        return tuple(tick for _, _, tick in sorted(kept, key=lambda entry: entry[0]))
