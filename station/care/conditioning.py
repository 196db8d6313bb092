"""How long a container must warm before it may be opened.

Three waits begin at thaw-start, and the last of them to end gives earliest-use: the supplier's minimum, the warm-up
of the container kind until 2 K are left to the room, and the time it takes to be 2 K over the dew point. What is
reckoned here can only add to what the supplier asks. Warming is first order with dead time, by accepted figures.
"""

import math
from dataclasses import dataclass
from datetime import timedelta

from station.care.specification import Kind

CLOSE_TO_ROOM_K = 2.0
ABOVE_DEW_POINT_K = 2.0
# Magnus form over water, -45..60 C; coefficients of Sonntag 1990 as in the WMO guide (WMO No. 8).
MAGNUS_B = 17.62
MAGNUS_C = 243.12
# The same over ice: below freezing, what settles on a cold jar is frost, a little sooner than dew would.
FROST_B = 22.46
FROST_C = 272.62


class RoomTooCold(Exception):
    """The room is below the lowest temperature at which this paste may be used."""


class RoomTooHumid(Exception):
    """The paste can never get 2 K above the dew point of this room."""


@dataclass(frozen=True, slots=True)
class Wait:
    """The parts of a conditioning time; `longest` is the one that counts."""

    supplier_minimum: timedelta
    warm_up: timedelta
    dew_point: timedelta

    @property
    def longest(self) -> timedelta:
        """What has to pass before earliest-use."""
        return max(self.supplier_minimum, self.warm_up, self.dew_point)


def dew_point_c(temperature_c: float, humidity: float) -> float:
    """Dew point in degrees Celsius of air at `temperature_c` and relative humidity in percent (0 < RH <= 100).

    Below freezing it is the frost point, as psychrometric tables have it.
    """
    load = math.log(humidity / 100) + MAGNUS_B * temperature_c / (MAGNUS_C + temperature_c)
    return MAGNUS_C * load / (MAGNUS_B - load) if load >= 0 else FROST_C * load / (FROST_B - load)


def dry_c(temperature_c: float, humidity: float) -> float:
    """The temperature at which paste is safely above the dew point of this air: 2 K above it, in degrees Celsius."""
    return dew_point_c(temperature_c, humidity) + ABOVE_DEW_POINT_K


def time_to_reach(target_c: float, cold_c: float, room_c: float, kind: Kind) -> timedelta:
    """How long paste from `cold_c` needs in a room of `room_c` until it is at `target_c`, below the room."""
    if cold_c >= target_c:
        return timedelta(0)
    decades = math.log((room_c - cold_c) / (room_c - target_c))
    return kind.dead_time + kind.time_constant * decades


def waiting(
    kind: Kind, supplier_minimum: timedelta, cold_c: float, room_c: float, humidity: float, floor_c: float
) -> Wait:
    """The parts of the conditioning time.

    Temperatures in degrees Celsius, humidity in percent. Raises RoomTooCold when the room is below the
    specification's floor, RoomTooHumid when the dew point is within 2 K of the room.
    """
    if room_c < floor_c:
        raise RoomTooCold
    dry = dry_c(room_c, humidity)
    if dry >= room_c:
        raise RoomTooHumid
    close_c = max(room_c - CLOSE_TO_ROOM_K, floor_c)
    if close_c >= room_c:  # the floor itself is the room: the approach has no end, so count to a tenth of a kelvin
        close_c = room_c - 0.1
    return Wait(
        supplier_minimum=supplier_minimum,
        warm_up=time_to_reach(close_c, cold_c, room_c, kind),
        dew_point=time_to_reach(dry, cold_c, room_c, kind),
    )
