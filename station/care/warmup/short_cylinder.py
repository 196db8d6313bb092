"""A short solid cylinder with one surface coefficient all round: paste as it stands in a jar, by exact solution.

The share left is that of a plane wall as thick as the cylinder is high, times that of a long cylinder of its
diameter (the product solution of the textbooks). A face that stands on a bench lets no heat through; that is the
middle of a wall of twice the height.
"""

import math
from dataclasses import dataclass

from scipy.optimize import brentq

from station.care.warmup.faults import Unreckonable
from station.care.warmup.matter import Matter
from station.care.warmup.roots import Body
from station.care.warmup.series import Series, series


@dataclass(frozen=True, slots=True)
class ShortCylinder:
    """Half height and radius in metres, diffusivity in m2/s, and the two series that are multiplied."""

    half_height: float
    radius: float
    diffusivity: float
    upright: Series
    across: Series

    def left(self, seconds: float, along: float = 0.0, outward: float = 0.0) -> float:
        """The share of the starting difference left: 0, 0 is the middle (or of the insulated face), 1 the surface.

        Raises Unreckonable for a time above 0 but before the series holds, some hundredths of a second here.
        """
        high, round_about = self._fourier(seconds)
        return self.upright.left(high, along) * self.across.left(round_about, outward)

    def mean_left(self, seconds: float) -> float:
        """The same as the mean over the whole cylinder."""
        high, round_about = self._fourier(seconds)
        return self.upright.mean_left(high) * self.across.mean_left(round_about)

    def seconds_until(self, left: float) -> float:
        """When the middle has this share of the starting difference left; raises Unreckonable outside 0 to 1."""
        if not 0 < left < 1:
            raise Unreckonable(f"A share of {left:g} is never reached. Ask for one between 0 and 1, neither included.")
        early = late = self._earliest()
        while self.left(late) > left:
            late *= 2
        return brentq(lambda seconds: self.left(seconds) - left, early, late, xtol=1e-6)

    def _fourier(self, seconds: float) -> tuple[float, float]:
        spread = self.diffusivity * seconds
        return spread / self.half_height**2, spread / self.radius**2

    def _earliest(self) -> float:
        return self.upright.earliest * max(self.half_height, self.radius) ** 2 / self.diffusivity * (1 + 1e-9)


def short_cylinder(
    diameter: float, height: float, matter: Matter, coefficient: float, *, on_bench: bool = False
) -> ShortCylinder:
    """A cylinder by its measures in metres and the surface coefficient in W/(m2 K), one face insulated `on_bench`.

    Raises Unreckonable where a Biot number falls outside 1e-6 to 1e6.
    """
    depth = height if on_bench else height / 2
    return ShortCylinder(
        half_height=depth,
        radius=diameter / 2,
        diffusivity=matter.diffusivity,
        upright=series(Body.WALL, coefficient * depth / matter.conductivity),
        across=series(Body.CYLINDER, coefficient * diameter / 2 / matter.conductivity),
    )


def surface(diameter: float, height: float, *, on_bench: bool = False) -> float:
    """The area in m2 that the room reaches."""
    ends = 1 if on_bench else 2
    return math.pi * diameter * (height + ends * diameter / 4)


def volume(diameter: float, height: float) -> float:
    """In m3."""
    return math.pi * diameter**2 / 4 * height
