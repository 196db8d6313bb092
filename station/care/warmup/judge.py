"""Whether a thermocouple run may count, and if not why: a stable code and a sentence for each reason."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from statistics import median

from station.care.warmup.runs import Trimmed, smoothed

FEWEST_READINGS = 20
"""Three figures are fitted; with fewer readings their interval says more of the formula than of the paste."""
SHARE_OF_THE_WAY = 0.8
"""Of the way to the room. Up to there a slow and a quick curve with another room can't be told apart."""
COLD_BY_K = 8.0
"""Below the room at the start: with 8 K a thermocouple's error of 0.5 K already shifts the time constant by 6 %."""
HEATED_K = 0.5
"""Above the room: more than two thermocouples differ by, so something warmer than the room was at work."""
ROOM_MOVED_K = 2.0
"""Between the room's coldest and warmest: as much as the distance from the room that counts as warm."""
FELL_K = 1.0
"""Below the highest before it: no draught does that to a mass of paste, a refrigerator does."""
SETTLED_WITHIN_K = 1.0
"""A run that levels off further than this below the room has another room than it was told."""
SLOWED_BY = 2.5
"""How much slower than at its start it may come nearer: still air cools less at small differences, by up to 1.5."""
GAP_STEPS, GAP_S = 3.0, 300.0
"""A hole is longer than three usual steps and five minutes: the dead time of a small syringe fits in that."""
LONGEST_COLD_S = 1800.0
"""Cold for longer after the first reading: then that reading was in the store, and the take-out is not known."""
WORST_RMS_K, LEAST_R_SQUARED = 0.7, 0.985
"""A curve further off describes another thing than paste warming in still air."""


class Doubt(StrEnum):
    """Why a run does not count."""

    TOO_FEW = "too-few-readings"
    NOT_COLD = "start-not-cold"
    TAKE_OUT_UNKNOWN = "take-out-unknown"
    TOO_SHORT = "too-short"
    HEATED = "heated"
    FELL = "cooled-again"
    NOT_SETTLING = "not-settling"
    ROOM_MOVED = "room-moved"
    GAP = "gap"
    POOR_FIT = "poor-fit"


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason against a run."""

    code: Doubt
    sentence: str


def judge(part: Trimmed) -> tuple[Reason, ...]:
    """Every reason against a run, none where it may be fitted."""
    count = len(part.seconds)
    if count and part.room_c - part.cold_c < COLD_BY_K:
        told = (
            f"It starts at {part.cold_c:.1f} C in a room of {part.room_c:.1f} C. Start at least {COLD_BY_K:g} K "
            "below the room, straight from the cold."
        )
        return (Reason(Doubt.NOT_COLD, told), *_heated(part))
    if count < FEWEST_READINGS:
        told = f"It has {count} readings from the take-out on; at least {FEWEST_READINGS} are needed. Log more often."
        return (Reason(Doubt.TOO_FEW, told),)
    return tuple(_against(part))


def judge_fit(rms_k: float, r_squared: float) -> tuple[Reason, ...]:
    """The reason against a curve that does not describe its run: `rms_k` is what it misses the readings by."""
    if rms_k <= WORST_RMS_K and r_squared >= LEAST_R_SQUARED:
        return ()
    told = f"No warming curve fits it: the best one misses the readings by {rms_k:.2f} K (R2 {r_squared:.3f})."
    return (Reason(Doubt.POOR_FIT, f"{told} Look at the plot for a loose sensor or a second container."),)


def _against(part: Trimmed) -> Iterator[Reason]:
    smooth = smoothed(part.temperatures_c)
    if part.run.taken_out_s is None and part.cold_for_s > LONGEST_COLD_S:
        told = f"It lies cold for {part.cold_for_s / 60:.0f} min before it warms. Say when it was taken out."
        yield Reason(Doubt.TAKE_OUT_UNKNOWN, told)
    reached = (max(smooth) - part.cold_c) / (part.room_c - part.cold_c)
    if reached < SHARE_OF_THE_WAY:
        told = f"It ends {reached:.0%} of the way to the room; it has to come to {SHARE_OF_THE_WAY:.0%}. Log longer."
        yield Reason(Doubt.TOO_SHORT, told)
    yield from _heated(part)
    yield from _fell(smooth)
    yield from _levels_off(part, smooth)
    yield from _room(part)
    yield from _gap(part.seconds)


def _heated(part: Trimmed) -> Iterator[Reason]:
    """Looked for to the end of the file, so that a warm place after the run is not overlooked."""
    paste = smoothed(part.run.temperatures_c[part.start :])
    over = max(warm - room for warm, room in zip(paste, part.run.room_c[part.start :], strict=True))
    if over > HEATED_K:
        told = f"The paste went {over:.1f} K above the room. Never heat paste; measure it in still room air."
        yield Reason(Doubt.HEATED, f"{told} If nothing warm was near, the room's temperature is wrong.")


def _fell(smooth: Sequence[float]) -> Iterator[Reason]:
    highest, deepest = smooth[0], 0.0
    for value in smooth:
        highest = max(highest, value)
        deepest = max(deepest, highest - value)
    if deepest > FELL_K:
        told = f"It fell by {deepest:.1f} K before it had warmed: it was put back into the cold, or the sensor slipped."
        yield Reason(Doubt.FELL, told)


def _levels_off(part: Trimmed, smooth: Sequence[float]) -> Iterator[Reason]:
    """Compare how fast the last third comes nearer the room with how fast the first half of the way did."""
    left = [part.room_c - value for value in smooth]
    early, middle = (_first_below(left, share * left[0]) for share in (0.8, 0.5))
    if middle is None or early is None or middle == early or left[-1] <= SETTLED_WITHIN_K:
        return
    seconds = part.seconds
    time_constant = (seconds[middle] - seconds[early]) / math.log(left[early] / left[middle])
    third = next(i for i, second in enumerate(seconds) if second >= seconds[-1] - (seconds[-1] - seconds[0]) / 3)
    slowest = math.exp(-(seconds[-1] - seconds[third]) / (SLOWED_BY * time_constant))
    if left[-1] > left[third] * slowest:
        told = (
            f"It levels off {left[-1]:.1f} K below the room of {part.room_c:.1f} C. Give the temperature of the air "
            "beside the container."
        )
        yield Reason(Doubt.NOT_SETTLING, told)


def _first_below(values: Sequence[float], bound: float) -> int | None:
    return next((index for index, value in enumerate(values) if value <= bound), None)


def _room(part: Trimmed) -> Iterator[Reason]:
    rooms = smoothed(part.rooms_c)
    moved = max(rooms) - min(rooms)
    if moved > ROOM_MOVED_K:
        told = f"The room moved by {moved:.1f} K during the run; up to {ROOM_MOVED_K:g} K is allowed."
        yield Reason(Doubt.ROOM_MOVED, told)


def _gap(seconds: Sequence[float]) -> Iterator[Reason]:
    steps = [later - earlier for earlier, later in pairwise(seconds)]
    longest = max(steps)
    if longest > GAP_STEPS * median(steps) and longest > GAP_S:
        told = f"Nothing was measured for {longest / 60:.0f} min of it. Measure again without a gap."
        yield Reason(Doubt.GAP, told)
