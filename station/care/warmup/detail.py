"""A container warming in detail: paste, wall and a surface coefficient that falls, reckoned numerically.

The paste is cut into rings and layers between which heat flows by conduction (finite volumes; the stiff system of
ordinary equations in time is left to an implicit solver). From the outermost paste heat comes through the wall's
resistance; the wall's own heat sits at its outer face, where the film of air or water meets it, and the
coefficient is taken from that face's temperature, each spot its own. A bench lets no heat through. Without a bench
the lower half is the mirror of the upper, so only half is reckoned.
"""

import math
from dataclasses import dataclass

import numpy
from scipy.integrate import solve_ivp

from station.care.warmup.faults import Unreckonable
from station.care.warmup.film import Film
from station.care.warmup.matter import Matter
from station.care.warmup.roots import Values
from station.care.warmup.short_cylinder import surface

RINGS = LAYERS = 10
NEAR_ENOUGH_K = 0.25
LONGEST = 20 * 86_400.0
_POINTS = 600


@dataclass(frozen=True, slots=True)
class Wall:
    """What the paste stands in: resistance in m2 K/W, mass in kg, specific heat capacity in J/(kg K)."""

    resistance: float
    mass: float
    heat_capacity: float

    @property
    def heat(self) -> float:
        """In J/K."""
        return self.mass * self.heat_capacity


@dataclass(frozen=True, slots=True)
class Container:
    """A filled container: inner diameter and fill height in metres, the paste, the wall, and whether it is on a bench.

    The wall's mass must be above zero; a bare cylinder has one of next to nothing.
    """

    diameter: float
    fill: float
    paste: Matter
    wall: Wall
    on_bench: bool


@dataclass(frozen=True, slots=True)
class Curve:
    """How the coldest spot of the paste comes up to the room: instants in seconds, and how many K it is below."""

    seconds: Values
    below: Values

    def seconds_until_within(self, kelvin: float) -> float:
        """When the coldest spot is `kelvin` below the room; never less than the range reckoned allows."""
        return float(numpy.interp(-math.log(kelvin), -numpy.log(self.below), self.seconds))


def warm_up(container: Container, film: Film, start_c: float, room_c: float) -> Curve:
    """The curve from `start_c` in a room of `room_c` until within 0.25 K.

    Raises Unreckonable where that takes more than twenty days.
    """
    grid = _grid(container)

    def slope(_seconds: float, state: Values) -> Values:
        return _slope(grid, film, room_c, state)

    there = _There(grid.cells, room_c - NEAR_ENOUGH_K)
    start = numpy.full(grid.cells + RINGS + LAYERS, start_c)
    span = (0, LONGEST)
    # its table of differences begins as whatever lay in memory; the part it has not filled yet may be no number
    with numpy.errstate(invalid="ignore", over="ignore"):
        found = solve_ivp(slope, span, start, method="BDF", rtol=1e-6, atol=1e-7, events=there, dense_output=True)
    if found.status != 1 or found.sol is None:
        raise Unreckonable("The paste takes more than twenty days. Check mass, size and surface coefficient.")
    seconds = numpy.linspace(0, found.t[-1], _POINTS)
    return Curve(seconds, room_c - found.sol(seconds)[: grid.cells].min(axis=0))


@dataclass(frozen=True)
class _There:
    """Ends the reckoning once even the coldest cell is warm enough."""

    cells: int
    warm_c: float
    terminal = True

    def __call__(self, _seconds: float, state: Values) -> float:
        """Falls through zero at the end."""
        return self.warm_c - float(state[: self.cells].min())


@dataclass(frozen=True, slots=True)
class _Grid:
    """Heats in J/K, conductances in W/K, areas in m2, resistances in m2 K/W, by ring and layer."""

    heats: Values
    between_rings: Values
    between_layers: Values
    side: Values
    top: Values
    side_resistance: float
    top_resistance: float
    wall_heat_per_area: float

    @property
    def cells(self) -> int:
        return self.heats.size


def _grid(container: Container) -> _Grid:
    paste, wall = container.paste, container.wall
    height = container.fill if container.on_bench else container.fill / 2
    ring, layer = container.diameter / 2 / RINGS, height / LAYERS
    edges: Values = numpy.linspace(0, container.diameter / 2, RINGS + 1)
    rings = math.pi * numpy.diff(edges**2)
    reached = surface(container.diameter, container.fill, on_bench=container.on_bench)
    return _Grid(
        heats=paste.density * paste.heat_capacity * numpy.outer(rings, numpy.full(LAYERS, layer)),
        between_rings=edges[1:-1].reshape(-1, 1) * (2 * math.pi * paste.conductivity * layer / ring),
        between_layers=rings.reshape(-1, 1) * (paste.conductivity / layer),
        side=numpy.full(LAYERS, math.pi * container.diameter * layer),
        top=rings,
        side_resistance=ring / 2 / paste.conductivity + wall.resistance,
        top_resistance=layer / 2 / paste.conductivity + wall.resistance,
        wall_heat_per_area=wall.heat / reached,
    )


def _slope(grid: _Grid, film: Film, room: float, state: Values) -> Values:
    """How fast every cell and every spot of the wall's face warms, in K/s."""
    paste = state[: grid.cells].reshape(RINGS, LAYERS)
    side, top = state[grid.cells : grid.cells + LAYERS], state[grid.cells + LAYERS :]
    gain = numpy.zeros_like(paste)
    outward, upward = grid.between_rings * numpy.diff(paste, axis=0), grid.between_layers * numpy.diff(paste, axis=1)
    gain[:-1] += outward
    gain[1:] -= outward
    gain[:, :-1] += upward
    gain[:, 1:] -= upward
    through_side, through_top = (side - paste[-1]) / grid.side_resistance, (top - paste[:, -1]) / grid.top_resistance
    gain[-1] += grid.side * through_side
    gain[:, -1] += grid.top * through_top
    faces, through = numpy.concatenate((side, top)), numpy.concatenate((through_side, through_top))
    wall = (film(faces, room) * (room - faces) - through) / grid.wall_heat_per_area
    return numpy.concatenate(((gain / grid.heats).ravel(), wall))
