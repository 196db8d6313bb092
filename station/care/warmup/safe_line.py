"""Time constant and dead time that are never ahead of a warming curve.

With d the kelvin still missing of D at the start, first order with dead time is a straight line over x = ln(D / d):
t = dead time + time constant x. A line on or above all of a curve's points (x, t) promises nothing too early.
"""

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy

from station.care.warmup.detail import Curve
from station.care.warmup.first_order import FirstOrder

Point = tuple[float, float]
# Where first order must not be ahead: from 2 K off the start to half a kelvin from the room.
OFF_THE_START_K = 2.0
CLOSE_K = 0.5
_POINTS = 120


def points(curve: Curve, difference: float) -> list[Point]:
    """The curve as (ln(D / d), seconds) over the range that matters; `difference` is D in kelvin."""
    missing = numpy.geomspace(difference - OFF_THE_START_K, CLOSE_K, _POINTS)
    return [(math.log(difference / kelvin), curve.seconds_until_within(kelvin)) for kelvin in missing]


def never_ahead(above: Sequence[Point], tight_at: float) -> FirstOrder:
    """The first order with dead time on or above every point, as low as that allows at x = `tight_at`.

    There must be points on both sides of it. The dead time is never negative.
    """
    hull = _upper_hull(sorted(above))
    (left, low), (right, high) = next(edge for edge in pairwise(hull) if edge[1][0] >= tight_at)
    steep = (high - low) / (right - left)
    dead = low - steep * left
    if dead < 0:
        return FirstOrder(max(seconds / x for x, seconds in hull), 0.0)
    return FirstOrder(steep, dead)


def _upper_hull(rising: Sequence[Point]) -> list[Point]:
    """The points no straight line between two others passes over, from left to right."""
    hull: list[Point] = []
    for point in rising:
        while len(hull) > 1 and not _under(hull[-1], hull[-2], point):
            hull.pop()
        hull.append(point)
    return hull


def _under(middle: Point, left: Point, right: Point) -> bool:
    """Whether the straight line from `left` to `right` passes under `middle`."""
    (x0, y0), (x1, y1), (x2, y2) = left, middle, right
    return (y1 - y0) * (x2 - x0) > (y2 - y0) * (x1 - x0)
