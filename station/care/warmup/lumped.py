"""A body that has one temperature throughout: allowed only where its Biot number over V/A is under 0.1."""

from station.care.warmup.faults import Unreckonable
from station.care.warmup.first_order import FirstOrder
from station.care.warmup.matter import Matter

MOST_LUMPED_BIOT = 0.1


def biot_of(coefficient: float, volume: float, area: float, conductivity: float) -> float:
    """h (V/A) / k: coefficient in W/(m2 K), volume in m3, area in m2, conductivity in W/(m K)."""
    return coefficient * volume / area / conductivity


def lumped(matter: Matter, volume: float, area: float, coefficient: float) -> FirstOrder:
    """Its warming, tau = rho V c / (h A), without dead time.

    Raises Unreckonable from Biot 0.1 on (the rule of the textbooks): there its middle lags and the series is needed.
    """
    biot = biot_of(coefficient, volume, area, matter.conductivity)
    if not biot < MOST_LUMPED_BIOT:
        raise Unreckonable(f"Biot number {biot:.3g} over V/A: not one temperature throughout. Use the series from 0.1.")
    return FirstOrder(matter.density * volume * matter.heat_capacity / (coefficient * area), 0.0)
