"""A container kind by the measures a person can take: scales, a rule, the data sheet."""

import math
from dataclasses import dataclass

from station.care.warmup.detail import Container, Wall
from station.care.warmup.faults import Unreckonable, within
from station.care.warmup.film import EMISSIVITY, Film, still_air
from station.care.warmup.matter import Matter
from station.care.warmup.short_cylinder import surface, volume

# Plastics for packing: conductivity 0.2 W/(m K), density 950 kg/m3; heat capacity from 1200 J/(kg K) (polycarbonate)
# over 1570 (polypropylene at 0 C, Springer Handbook of Condensed Matter and Materials Data) to 1900 (polyethylene).
PLASTIC = Matter(density=950, heat_capacity=1500, conductivity=0.2)
# Lid, thread and rim weigh about half as much again as the plain wall; common practice, no source.
LID_AND_RIM = 1.5
# What a container is taller than its filling: headspace and lid; common practice, no source.
HEADSPACE = 0.016
# How far mass and size may disagree: headspace, curved bottoms and nominal sizes.
_TOLERANCE = 0.25


@dataclass(frozen=True, slots=True)
class Package:
    """Net mass in kg; inner diameter, fill height and wall thickness in m; None is reckoned from the rest."""

    mass: float
    diameter: float
    paste: Matter
    fill: float | None = None
    wall_thickness: float = 0.002
    wall_mass: float | None = None
    on_bench: bool = True

    @property
    def fill_height(self) -> float:
        """As given, or as high as this mass of this paste stands in this diameter."""
        if self.fill is not None:
            return self.fill
        return self.mass / self.paste.density / volume(self.diameter, 1)

    def still_air(self) -> Film:
        """The film of still air round a container of this height."""
        return still_air(self.fill_height + HEADSPACE, EMISSIVITY)

    def container(self) -> Container:
        """What the detailed model reckons with; where the height is given, mass and size count, not the density.

        Raises Unreckonable for measures no container of paste has, or that contradict each other.
        """
        self._check()
        given = self.mass / volume(self.diameter, self.fill_height)
        return Container(
            diameter=self.diameter,
            fill=self.fill_height,
            paste=Matter(given, self.paste.heat_capacity, self.paste.conductivity),
            wall=Wall(self.wall_thickness / PLASTIC.conductivity, self._wall_mass(), PLASTIC.heat_capacity),
            on_bench=self.on_bench,
        )

    def _wall_mass(self) -> float:
        if self.wall_mass is not None:
            return self.wall_mass
        plain = surface(self.diameter, self.fill_height) * self.wall_thickness * PLASTIC.density
        return plain * LID_AND_RIM

    def _check(self) -> None:
        within("The net mass", self.mass * 1000, 1, 5000, "g")
        within("The diameter", self.diameter * 1000, 5, 200, "mm")
        within("The fill height", self.fill_height * 1000, 5, 500, "mm")
        within("The wall", self.wall_thickness * 1000, 0.1, 10, "mm")
        within("The mass of the wall", self._wall_mass() * 1000, 0.1, 2000, "g")
        within("Conductivity", self.paste.conductivity, 0.1, 20, "W/mK")
        self._check_density()

    def _check_density(self) -> None:
        given = self.mass / volume(self.diameter, self.fill_height)
        if not math.isclose(given, self.paste.density, rel_tol=_TOLERANCE):
            raise Unreckonable(
                f"{self.mass * 1000:g} g in {self.diameter * 1000:g} x {self.fill_height * 1000:g} mm is "
                f"{given / 1000:.1f} g/cm3, but this paste has {self.paste.density / 1000:.1f}. "
                "Measure the filling, not the container, or leave its height out."
            )
