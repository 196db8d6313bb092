"""Solder paste from its composition: metal powder in flux vehicle.

Alloys: densities and conductivities as collected at alasir.com/reference/solder_alloys; heat capacities from
makeitfrom.com (high-tin alloys 220-230, tin-lead about 170 J/(kg K)). From memory: tin-bismuth, and the flux vehicle,
since rosin in glycol ethers behaves like other organic liquids (1.00-1.05 g/cm3, 1800-2200 J/(kg K) and
0.15-0.25 W/(m K)).
"""

from station.care.warmup.faults import within
from station.care.warmup.matter import Matter
from station.care.words import Alloy

ALLOYS = {
    Alloy.SN_AG_CU: Matter(density=7380, heat_capacity=225, conductivity=58),
    Alloy.SN_PB: Matter(density=8400, heat_capacity=170, conductivity=50),
    Alloy.SN_BI: Matter(density=8560, heat_capacity=167, conductivity=19),
}
FLUX = Matter(density=1025, heat_capacity=2000, conductivity=0.2)
FLUX_CONDUCTIVITIES = (0.15, 0.25)
# Between the two bounds below for half metal by volume. The time to room temperature hardly depends on it.
WORKING_CONDUCTIVITY = 1.0
LEAST_METAL, MOST_METAL = 0.75, 0.95


def paste(alloy: Matter, metal: float, flux: Matter = FLUX, conductivity: float = WORKING_CONDUCTIVITY) -> Matter:
    """Paste with the metal fraction `metal` by weight, by the mixture rule: volumes add up and so do heats.

    Raises Unreckonable for a fraction outside 0.75 to 0.95: printing and dispensing pastes lie within.
    """
    within("Metal", metal * 100, LEAST_METAL * 100, MOST_METAL * 100, "% by weight")
    return Matter(
        density=1 / (metal / alloy.density + (1 - metal) / flux.density),
        heat_capacity=metal * alloy.heat_capacity + (1 - metal) * flux.heat_capacity,
        conductivity=conductivity,
    )


def metal_by_volume(alloy: Matter, metal: float, flux: Matter = FLUX) -> float:
    """The metal's share of the paste's volume, from its share of the weight."""
    powder, vehicle = metal / alloy.density, (1 - metal) / flux.density
    return powder / (powder + vehicle)


def maxwell(flux: float, alloy: float, share: float) -> float:
    """Lower bound of a paste's conductivity (Maxwell 1873, Hashin and Shtrikman 1962): balls that do not touch.

    Conductivities in W/(m K), `share` of the metal by volume.
    """
    return flux * (2 * flux + alloy + 2 * share * (alloy - flux)) / (2 * flux + alloy - share * (alloy - flux))


def conductivity_range(alloy: Matter, metal: float, flux: Matter = FLUX) -> tuple[float, float]:
    """What paste with this metal fraction by weight may conduct, in W/(m K).

    From Maxwell's bound with the poorest flux to Bruggeman's differential rule (1935) with the best: powder of mixed
    sizes lies closer than Maxwell's lone balls, and for metal that conducts far better than flux that rule gives
    k_flux / (1 - share by volume)^3.
    """
    poor, good = FLUX_CONDUCTIVITIES
    share = metal_by_volume(alloy, metal, flux)
    return maxwell(poor, alloy.conductivity, share), good / (1 - share) ** 3
