"""Two tellings of one excursion made one: never later, never shorter, never milder than either."""

from station.care import facts as f
from station.care.outside import Excursion, Side


def together(newer: f.ExcursionFound, older: f.ExcursionFound) -> f.ExcursionFound:
    """The worse of both in every figure, under the name of `newer`. What is not known to have ended has not."""
    furthest = max if newer.side is Side.HIGH else min
    last = max((newer, older), key=lambda one: (one.end, not one.ended))
    kinetic = [one.kinetic_c for one in (newer, older) if one.kinetic_c is not None]
    return f.ExcursionFound(
        excursion=newer.excursion,
        store=newer.store,
        logger=newer.logger,
        side=newer.side,
        start=min(newer.start, older.start),
        end=last.end,
        peak_c=furthest(newer.peak_c, older.peak_c),
        outside=max(newer.outside, older.outside),
        ended=last.ended,
        kinetic_c=max(kinetic, default=None),
        longest_gap=max(newer.longest_gap, older.longest_gap),
        containers=_once(older.containers, newer.containers),
        replaces=tuple(name for name in _once(older.replaces, newer.replaces) if name != newer.excursion),
        readings=_once(older.readings, newer.readings),
    )


def as_far(told: f.ExcursionFound | f.ExcursionSeen, one: f.ExcursionFound | Excursion) -> bool:
    """Whether `told` reaches as far: from so early on, until so late, and so far outside."""
    further = one.peak_c > told.peak_c if one.side is Side.HIGH else one.peak_c < told.peak_c
    return told.start <= one.start and one.end <= told.end and not further


def _once(*names: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name for some in names for name in some))
