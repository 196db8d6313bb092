"""The exact transient series of a body put into a room of another temperature.

What is reckoned is the share of the starting difference that is left: 1 at the start, 0 at room temperature. The
sum of C(n) f(l(n) x) exp(-l(n)^2 Fo), Fo = a t / L^2, takes as many terms as the earliest time asked for needs, so it
also holds before Fo 0.2, where the usual single term is wrong. Coefficients as in the textbooks of heat transfer
(Incropera and DeWitt, chapter 5; Cengel and Ghajar, chapter 4).
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy
from scipy.special import j0, j1

from station.care.warmup.faults import Unreckonable
from station.care.warmup.roots import Body, Values, roots

# Earlier than this not even a hundredth of the depth has noticed anything; the number of terms would only grow.
EARLIEST_FOURIER = 1e-5
# exp(-40) is 4e-18: what is left out cannot show in a double.
_SPENT = 40.0


@dataclass(frozen=True, slots=True)
class Series:
    """The terms of one body at one Biot number, enough of them for Fourier numbers from `earliest` on."""

    body: Body
    roots: Values
    weights: Values
    earliest: float

    def left(self, fourier: float, place: float = 0.0) -> float:
        """The share of the starting difference left at `place`: 0 is the middle, 1 the surface.

        Raises Unreckonable between the start itself and `earliest`, and for a place outside the body.
        """
        if not 0 <= place <= 1:
            raise Unreckonable(f"Place {place:g} is not in the body. Give 0 for its middle up to 1 for its surface.")
        return self._sum(fourier, _PROFILES[self.body](self.roots * place))

    def mean_left(self, fourier: float) -> float:
        """The same as the mean over the whole body."""
        return self._sum(fourier, _MEANS[self.body](self.roots))

    def first_term(self, fourier: float) -> float:
        """The middle by the first term alone: the usual approximation, sound only from Fo 0.2 on."""
        return float(self.weights[0] * math.exp(-(self.roots[0] ** 2) * fourier))

    def _sum(self, fourier: float, profile: Values) -> float:
        if fourier == 0:
            return 1.0
        if not fourier >= self.earliest:
            raise Unreckonable(
                f"Fourier number {fourier:g} is too early for this series. Ask for {self.earliest:g} or later."
            )
        return float(numpy.sum(self.weights * profile * numpy.exp(-(self.roots**2) * fourier)))


def series(body: Body, biot: float, earliest: float = EARLIEST_FOURIER) -> Series:
    """The series of a body; `biot` over its half thickness or outer radius, infinity allowed.

    Good to 1e-6 relative and better for Fourier numbers from `earliest` on, itself 1e-5 or more.
    Raises Unreckonable for an earlier one or a Biot number outside 1e-6 to 1e6.
    """
    if not earliest >= EARLIEST_FOURIER:
        raise Unreckonable(f"Fourier number {earliest:g} is too early. Ask for {EARLIEST_FOURIER:g} or later.")
    found = roots(body, biot, _count(earliest))
    return Series(body, found, _WEIGHTS[body](found), earliest)


def _count(earliest: float) -> int:
    """Roots lie about pi apart, so this many reach to where a term is spent; two more for the uneven first ones."""
    return math.ceil(math.sqrt(_SPENT / earliest) / math.pi) + 2


def _sine_less_cosine(root: Values) -> Values:
    return numpy.sin(root) - root * numpy.cos(root)


def _wall_weight(root: Values) -> Values:
    return 4 * numpy.sin(root) / (2 * root + numpy.sin(2 * root))


def _cylinder_weight(root: Values) -> Values:
    return numpy.asarray(2 * j1(root) / (root * (j0(root) ** 2 + j1(root) ** 2)))


def _sphere_weight(root: Values) -> Values:
    return 4 * _sine_less_cosine(root) / (2 * root - numpy.sin(2 * root))


Shape = Callable[[Values], Values]
_WEIGHTS: dict[Body, Shape] = {
    Body.WALL: _wall_weight,
    Body.CYLINDER: _cylinder_weight,
    Body.SPHERE: _sphere_weight,
}
_PROFILES: dict[Body, Shape] = {
    Body.WALL: numpy.cos,
    Body.CYLINDER: lambda depth: numpy.asarray(j0(depth)),
    Body.SPHERE: lambda depth: numpy.sinc(depth / math.pi),
}
_MEANS: dict[Body, Shape] = {
    Body.WALL: lambda root: numpy.sin(root) / root,
    Body.CYLINDER: lambda root: numpy.asarray(2 * j1(root) / root),
    Body.SPHERE: lambda root: 3 * _sine_less_cosine(root) / root**3,
}
