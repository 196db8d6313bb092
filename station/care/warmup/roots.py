"""The eigenvalues of the three simple bodies: every root of their surface condition, one between each two poles.

With Bi = h L / k over the half thickness or the outer radius, a root l satisfies, for the plane wall
l tan l = Bi, for the infinite cylinder l J1(l) / J0(l) = Bi, for the sphere 1 - l cot l = Bi (Carslaw and Jaeger,
Conduction of Heat in Solids, chapters III, VII and IX). Between two neighbouring poles the left side climbs from
minus to plus infinity, so each such gap holds exactly one root. Multiplied by the pole's own factor the functions
below are smooth there.
"""

import math
from collections.abc import Callable
from enum import StrEnum
from itertools import pairwise

import numpy
from numpy.typing import NDArray
from scipy.optimize import brentq
from scipy.special import j0, j1, jn_zeros

from station.care.warmup.faults import Unreckonable

Values = NDArray[numpy.float64]
LEAST_BIOT = 1e-6
MOST_BIOT = 1e6
# The smallest relative step brentq allows; with it roots are good to the last digits of a double.
_FINEST = 4 * float(numpy.finfo(float).eps)


class Body(StrEnum):
    """A body heat enters from all of its surface: plane wall (two faces), long cylinder, sphere."""

    WALL = "plane wall"
    CYLINDER = "long cylinder"
    SPHERE = "sphere"


def roots(body: Body, biot: float, count: int) -> Values:
    """The first `count` roots in rising order.

    `biot` is over the half thickness or the outer radius; infinity is a surface held at the room's temperature.
    Raises Unreckonable outside 1e-6 to 1e6: below, the body has one temperature throughout; above, say infinity.
    """
    poles = _poles(body, count)
    if math.isinf(biot) and biot > 0:
        return poles[1:]
    if not LEAST_BIOT <= biot <= MOST_BIOT:
        raise Unreckonable(
            f"Biot number {biot:g}: the series is reckoned from {LEAST_BIOT:g} to {MOST_BIOT:g}, or for infinity."
        )
    condition = _CONDITIONS[body]
    return numpy.array(
        [brentq(condition, low, high, args=(biot,), xtol=1e-15, rtol=_FINEST) for low, high in pairwise(poles)]
    )


def _poles(body: Body, count: int) -> Values:
    """Zero and the first `count` poles; they are the roots themselves where the surface has the room's temperature."""
    if body is Body.CYLINDER:
        return numpy.concatenate(([0.0], jn_zeros(0, count)))
    first = 0.5 if body is Body.WALL else 1.0
    return numpy.concatenate(([0.0], (numpy.arange(count) + first) * math.pi))


def _wall(root: float, biot: float) -> float:
    return root * math.sin(root) - biot * math.cos(root)


def _cylinder(root: float, biot: float) -> float:
    return float(root * j1(root) - biot * j0(root))


def _sphere(root: float, biot: float) -> float:
    """Divided by the root, which takes away the idle solution at zero."""
    return math.cos(root) + (biot - 1) * (math.sin(root) / root if root else 1.0)


_CONDITIONS: dict[Body, Callable[[float, float], float]] = {
    Body.WALL: _wall,
    Body.CYLINDER: _cylinder,
    Body.SPHERE: _sphere,
}
