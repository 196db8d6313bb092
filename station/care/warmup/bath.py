"""A sealed container in water of room temperature: quicker than air, and slowed by the container's own wall.

Water warmer than the room is refused: nobody heats paste. Whether a bath is wise at all is disputed (leaks, wet
threads); a specification has to allow it.
"""

from station.care.warmup.detail import Container
from station.care.warmup.estimate import Estimate, estimate
from station.care.warmup.faults import Unreckonable, within
from station.care.warmup.film import constant

NEVER_HEAT = "Never heat paste: let the water stand until it has room temperature."
BELOW_ROOM_K = 3.0
# Still water against a wall, 200 to 500 W/(m2 K); from memory. The wall's resistance outweighs it anyway.
STILL_WATER = 200.0


def overall(coefficient: float, wall_resistance: float) -> float:
    """Film and wall in series: the coefficient in W/(m2 K) from the water to the paste."""
    return 1 / (1 / coefficient + wall_resistance)


def bath_estimate(
    container: Container, start_c: float, bath_c: float, room_c: float, coefficient: float = STILL_WATER
) -> Estimate:
    """The estimate for a container with water all round; its times are to within so many kelvin of the bath.

    Raises Unreckonable for a bath warmer than the room or over 3 K colder, a coefficient outside 50 to 2000 W/(m2 K),
    a container on a bench, and for what `estimate` refuses.
    """
    if not bath_c <= room_c:
        raise Unreckonable(f"The bath is {bath_c:g} C, warmer than the room of {room_c:g} C. {NEVER_HEAT}")
    if not bath_c >= room_c - BELOW_ROOM_K:
        raise Unreckonable(
            f"The bath is {bath_c:g} C in a room of {room_c:g} C. Let the water come within {BELOW_ROOM_K:g} K of it."
        )
    if container.on_bench:
        raise Unreckonable("In a bath water reaches all of the container. Describe it without a bench.")
    within("The coefficient of the water", coefficient, 50, 2000, "W/m2K")
    return estimate(container, constant(coefficient), start_c, bath_c)
