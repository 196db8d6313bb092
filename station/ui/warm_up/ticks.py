"""Round figures for the axes of a plot, and how the time along it is written."""

import math

TIME_STEPS_MIN = (1, 2, 5, 10, 15, 30, 60, 120, 180, 240, 360, 720, 1440)
STEPS = (1.0, 2.0, 5.0)


def time_ticks(low_s: float, high_s: float, most: int) -> tuple[tuple[float, str], ...]:
    """At most `most` round times from `low_s` to `high_s` (seconds), each as people write it."""
    step = next((s for s in TIME_STEPS_MIN if (high_s - low_s) / 60 / s <= most), TIME_STEPS_MIN[-1]) * 60
    first = math.ceil(low_s / step)
    return tuple((number * step, minutes_text(number * step)) for number in range(first, int(high_s // step) + 1))


def minutes_text(seconds: float) -> str:
    """`45 min`, `2 h`, `2 h 30`."""
    minutes = round(seconds / 60)
    hours, rest = divmod(abs(minutes), 60)
    sign = "\N{MINUS SIGN}" if minutes < 0 else ""
    if not hours:
        return f"{sign}{rest} min" if rest else "0"
    return f"{sign}{hours} h {rest:02d}" if rest else f"{sign}{hours} h"


def ticks(low: float, high: float, most: int) -> tuple[float, ...]:
    """At most `most` round figures from `low` to `high`."""
    rough = max((high - low) / most, 1e-9)
    power = 10.0 ** math.floor(math.log10(rough))
    step = next((share * power for share in STEPS if share * power >= rough), 10 * power)
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return tuple(number * step for number in range(first, last + 1))
