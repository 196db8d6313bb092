"""An estimate of a container kind's time constant and dead time, from what it is made of.

It is an estimate: sizes are nominal, the air of a room is never quite still, and neighbours or a carton keep a
container cold. It errs to the slow side. A thermocouple in the paste knows better.
"""

import math
from dataclasses import dataclass
from datetime import timedelta

import numpy

from station.care.warmup.detail import Container, Curve, warm_up
from station.care.warmup.faults import Unreckonable
from station.care.warmup.film import Film
from station.care.warmup.first_order import FirstOrder
from station.care.warmup.lumped import biot_of
from station.care.warmup.safe_line import Point, never_ahead, points
from station.care.warmup.short_cylinder import surface, volume

# A container that starts out warmer has less of the lively draught of the beginning, so its figures are slower: the
# pair has to hold from there too.
STARTS = (1.0, 0.75, 0.5)
TIGHT_AT_K = 2.0
LEAST_DIFFERENCE_K = 8.0
MOST_DIFFERENCE_K = 80.0
_MINUTE = 60.0


@dataclass(frozen=True, slots=True)
class Estimate:
    """The pair for the floor in whole minutes, the detailed curve it was drawn over, and the largest Biot number."""

    figures: FirstOrder
    curve: Curve
    difference: float
    biot: float

    @property
    def time_constant(self) -> timedelta:
        """For `time_constant` of the container kind."""
        return timedelta(seconds=self.figures.time_constant)

    @property
    def dead_time(self) -> timedelta:
        """For `dead_time` of the container kind."""
        return timedelta(seconds=self.figures.dead_time)

    def promised(self, kelvin: float) -> timedelta:
        """When the pair says the paste is within `kelvin` of the room: never earlier than `reckoned`."""
        return timedelta(seconds=self.figures.seconds_until(kelvin / self.difference))

    def reckoned(self, kelvin: float) -> timedelta:
        """When the detailed model says its coldest spot is within `kelvin` of the room."""
        return timedelta(seconds=self.curve.seconds_until_within(kelvin))


def estimate(container: Container, film: Film, start_c: float, room_c: float) -> Estimate:
    """The estimate for a container at `start_c` put into a room (or a bath) of `room_c`, degrees Celsius.

    The pair is never warmer than the detailed curve from 2 K off the start to half a kelvin from the room, for this
    start and for starts up to half way to the room. Give the coolest room it is for: radiation is slower there.
    Raises Unreckonable for a room less than 8 K or more than 80 K warmer than the start, and for endless warming.
    """
    difference = room_c - start_c
    if not LEAST_DIFFERENCE_K <= difference <= MOST_DIFFERENCE_K:
        raise Unreckonable(
            f"The room is {difference:g} K warmer than the paste at its start. "
            f"Give temperatures {LEAST_DIFFERENCE_K:g} to {MOST_DIFFERENCE_K:g} K apart."
        )
    curves = {share * difference: warm_up(container, film, room_c - share * difference, room_c) for share in STARTS}
    above: list[Point] = [point for below, curve in curves.items() for point in points(curve, below)]
    return Estimate(
        figures=_in_minutes(never_ahead(above, math.log(difference / TIGHT_AT_K))),
        curve=curves[difference],
        difference=difference,
        biot=largest_biot(container, film, start_c, room_c),
    )


def largest_biot(container: Container, film: Film, start_c: float, room_c: float) -> float:
    """Over V/A, with wall and film in series at the start, where the film is at its best."""
    best = float(film(numpy.array([start_c]), room_c)[0])
    coefficient = 1 / (1 / best + container.wall.resistance)
    area = surface(container.diameter, container.fill, on_bench=container.on_bench)
    return biot_of(coefficient, volume(container.diameter, container.fill), area, container.paste.conductivity)


def _in_minutes(figures: FirstOrder) -> FirstOrder:
    """Both rounded up, so the pair stays on the slow side."""
    return FirstOrder(_up(figures.time_constant), _up(figures.dead_time))


def _up(seconds: float) -> float:
    return math.ceil(seconds / _MINUTE) * _MINUTE
