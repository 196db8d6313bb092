"""A thermocouple run: the paste of one container from the cold to the room, cut to the part that warms.

Time counts from the take-out, because that is what the floor counts from. Where nobody says when that was, it is the
first cold reading: a logger started in the cold makes the dead time longer than it was, never shorter.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import fmean, median

SMOOTHED_OVER = 5
"""Readings in a running median: takes out single spikes of handling and leaves the curve as it is."""
STRAY_K = 2.0
"""How far from the middle of its neighbours a reading is a knock on the sensor and not the paste."""
COLD_BAND_K = 0.3
"""How far above its coldest the paste still counts as cold: below what a thermocouple and a store wander by."""
SETTLED_K = 0.3
"""How near the room the paste has to be to have settled."""
HELD_S = 600.0
"""For how long it has to stay that near: paste that is only passing on its way up does not."""


@dataclass(frozen=True, slots=True)
class Run:
    """One sensor in one container. `seconds` rise from any zero; `room_c` is the room's air at each reading.

    `taken_out_s` is when it left the cold, on the same count, None where nobody noted it. Raises ValueError for
    lists of different lengths, times that do not rise, and a take-out outside the run.
    """

    name: str
    seconds: tuple[float, ...]
    temperatures_c: tuple[float, ...]
    room_c: tuple[float, ...]
    taken_out_s: float | None = None

    def __post_init__(self) -> None:
        """Refuse what is no run."""
        if not len(self.seconds) == len(self.temperatures_c) == len(self.room_c):
            raise ValueError("every reading needs its time and its room temperature")
        if any(later <= earlier for earlier, later in pairwise(self.seconds)):
            raise ValueError("the times of a run rise")
        out = self.taken_out_s
        if out is not None and not (self.seconds and self.seconds[0] <= out <= self.seconds[-1]):
            raise ValueError("the take-out lies outside the run")


def steady_room(name: str, seconds: Sequence[float], temperatures_c: Sequence[float], room_c: float) -> Run:
    """A run in a room of one temperature, as read from a thermometer on the wall."""
    return Run(name, tuple(seconds), tuple(temperatures_c), (room_c,) * len(seconds))


@dataclass(frozen=True, slots=True)
class Trimmed:
    """The part of a run that counts: readings `start` up to but without `end`.

    `zero_s` is the take-out on the run's own count, `cold_c` the temperature it started from. `cold_for_s` is how
    long the paste lay cold after zero before it began to warm.
    """

    run: Run
    start: int
    end: int
    zero_s: float
    cold_c: float
    cold_for_s: float

    @property
    def seconds(self) -> tuple[float, ...]:
        """Seconds since the take-out; the reading just before it may be a little below zero."""
        return tuple(second - self.zero_s for second in self.run.seconds[self.start : self.end])

    @property
    def temperatures_c(self) -> tuple[float, ...]:
        """The paste, degrees Celsius."""
        return self.run.temperatures_c[self.start : self.end]

    @property
    def rooms_c(self) -> tuple[float, ...]:
        """The room at each of these readings, degrees Celsius."""
        return self.run.room_c[self.start : self.end]

    @property
    def room_c(self) -> float:
        """The room as one figure: the mean over the part that counts."""
        return fmean(self.rooms_c)


def smoothed(values: Sequence[float]) -> tuple[float, ...]:
    """The running median over a few readings."""
    reach = SMOOTHED_OVER // 2
    return tuple(median(values[max(0, index - reach) : index + reach + 1]) for index in range(len(values)))


def strays(values: Sequence[float]) -> tuple[bool, ...]:
    """Which readings stand out of their neighbours.

    At the ends, where neighbours are on one side only, warming itself takes the first ones below and the last ones
    above the middle, so there only the other way counts.
    """
    reach = SMOOTHED_OVER // 2
    found = []
    for index, (value, middle) in enumerate(zip(values, smoothed(values), strict=True)):
        over, under = value - middle > STRAY_K, middle - value > STRAY_K
        found.append((over and index < len(values) - reach) or (under and index >= reach))
    return tuple(found)


def trim(run: Run) -> Trimmed:
    """Cut away what comes before the paste is cold and after it has settled in the room.

    A run without readings gives a part without readings; whether the rest is fit to use is for `judge` to say.
    """
    if not run.seconds:
        return Trimmed(run, 0, 0, 0.0, 0.0, 0.0)
    smooth = smoothed(run.temperatures_c)
    coldest = _foot_of_the_rise(smooth)
    limit = smooth[coldest] + _band(run.temperatures_c)
    start = coldest
    while start > 0 and smooth[start - 1] <= limit:
        start -= 1
    last_cold = next((i for i in range(coldest, len(smooth)) if smooth[i] > limit), len(smooth)) - 1
    zero_s = run.seconds[start]
    if run.taken_out_s is not None:
        zero_s = run.taken_out_s
        start = max(index for index, second in enumerate(run.seconds) if second <= zero_s)
    cold_for_s = max(0.0, run.seconds[last_cold] - zero_s)
    return Trimmed(run, start, _settled(run, smooth, start), zero_s, smooth[start], cold_for_s)


def _foot_of_the_rise(smooth: Sequence[float]) -> int:
    """The reading from which the temperature rises most to any later one; the last of several equal ones."""
    lowest, foot, rise = 0, 0, 0.0
    for index, value in enumerate(smooth):
        if value <= smooth[lowest]:
            lowest = index
        elif value - smooth[lowest] > rise:
            foot, rise = lowest, value - smooth[lowest]
    return foot


def _band(temperatures_c: Sequence[float]) -> float:
    """How far cold readings scatter: three times their spread, as the median step between neighbours shows it."""
    steps = [abs(later - earlier) for earlier, later in pairwise(temperatures_c)]
    return max(COLD_BAND_K, 3 * median(steps)) if steps else COLD_BAND_K


def _settled(run: Run, smooth: Sequence[float], start: int) -> int:
    """One past the last reading that counts: the end of the first ten minutes spent at the room's temperature."""
    near_since: float | None = None
    for index in range(start, len(smooth)):
        if abs(smooth[index] - run.room_c[index]) > SETTLED_K:
            near_since = None
        elif near_since is None:
            near_since = run.seconds[index]
        elif run.seconds[index] - near_since >= HELD_S:
            return index + 1
    return len(smooth)
