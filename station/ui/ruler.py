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


# Of a story; the last of its names stands for the first thing told.
STORY_TICKS = ((30, "30 min"), (4 * 60, "4 h"), (24 * 60, "1 day"), (7 * 24 * 60, "1 week"), (30 * 24 * 60, "1 month"))
LONGER_TICKS = ((182 * 24 * 60, "6 months"), (730 * 24 * 60, "2 years"))


@dataclass(frozen=True)
class Reach:
    """How far a ruler goes to both sides of its line, which share of the width lies left of it, and its names."""

    past: timedelta = PAST_REACH
    future: timedelta = FUTURE_REACH
    now_share: float = NOW_SHARE
    ticks: tuple[Tick, ...] = TICKS


LIVE = Reach()


def story_reach(length: timedelta, *, goes_on: bool) -> Reach:
    """The reach of a story of this length: its past wide, and some room for what is still to come if it goes on."""
    word = "ago" if goes_on else "before"
    named = (*STORY_TICKS, *LONGER_TICKS)
    past = tuple(Tick(f"{name} {word}", -timedelta(minutes=minutes)) for minutes, name in named)
    line = Tick("NOW" if goes_on else "END", timedelta(0))
    future = tuple(tick for tick in TICKS if tick.offset > timedelta(0)) if goes_on else ()
    share = 0.7 if goes_on else 0.97
    return Reach(max(length, PAST_REACH), FUTURE_REACH if goes_on else BEND, share, (line, *past, *future))


@dataclass(frozen=True)
class TimeRuler:
    """Maps instants to positions 0 .. width (in the caller's pixels) and back."""

    now: datetime
    width: float
    reach: Reach = LIVE

    @property
    def now_position(self) -> float:
        """Where the now line stands."""
        return self.width * self.reach.now_share

    def position(self, instant: datetime) -> float:
        """Position of an instant; what lies beyond the ruler's reach is held at its end."""
        return self.position_of_offset(instant - self.now)

    def position_of_offset(self, offset: timedelta) -> float:
        """Position of a span from now, negative for the past, held at the ends."""
        if offset < timedelta(0):
            share = _bent(min(-offset, self.reach.past)) / _bent(self.reach.past)
            return self.now_position * (1 - share)
        share = _bent(min(offset, self.reach.future)) / _bent(self.reach.future)
        return self.now_position + (self.width - self.now_position) * share

    def instant_at(self, position: float) -> datetime:
        """The instant at a position; the inverse of `position` inside the ruler's reach."""
        place = min(max(position, 0.0), self.width)
        if place < self.now_position:
            share = 1 - place / self.now_position
            return self.now - BEND * math.expm1(share * _bent(self.reach.past))
        share = (place - self.now_position) / (self.width - self.now_position)
        return self.now + BEND * math.expm1(share * _bent(self.reach.future))

    def reaches(self, instant: datetime) -> bool:
        """True where the instant lies on the ruler itself, not held at one of its ends."""
        return self._reaches(instant - self.now)

    def _reaches(self, offset: timedelta) -> bool:
        return -self.reach.past <= offset <= self.reach.future

    def legible_ticks(self, width_of: Callable[[str], float], gap: float) -> tuple[Tick, ...]:
        """Ticks whose centred names fit on the ruler without touching, most telling names first.

        `width_of` measures a name and `gap` is the least room between two, both in the ruler's pixels.
        """
        kept: list[tuple[float, float, Tick]] = []
        for tick in filter(lambda tick: self._reaches(tick.offset), self.reach.ticks):
            half = width_of(tick.label) / 2
            place = self.position_of_offset(tick.offset)
            left, right = place - half, place + half
            clear = all(right + gap <= other_left or left >= other_right + gap for other_left, other_right, _ in kept)
            if clear and right <= self.width + half and left >= -half:
                kept.append((left, right, tick))
        return tuple(tick for _, _, tick in sorted(kept, key=lambda entry: entry[0]))
