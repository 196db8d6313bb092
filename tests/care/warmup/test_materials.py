"""Paste from its composition, against hand-worked mixtures and the bounds of the literature."""

import math

import numpy
import pytest

from station.care.warmup.faults import Unreckonable
from station.care.warmup.film import constant, still_air
from station.care.warmup.materials import (
    ALLOYS,
    FLUX,
    WORKING_CONDUCTIVITY,
    conductivity_range,
    maxwell,
    metal_by_volume,
    paste,
)
from station.care.warmup.matter import Matter
from station.care.words import Alloy

SILVER, LEAD = ALLOYS[Alloy.SN_AG_CU], ALLOYS[Alloy.SN_PB]


@pytest.mark.parametrize(
    ("alloy", "metal", "density", "by_volume", "heat_capacity"),
    # mixture rule by hand: flux 1.00 to 1.05 g/cm3, and its middle 2000 J/(kg K)
    [
        (SILVER, 0.88, (4180, 4282), (0.498, 0.511), 444),
        (SILVER, 0.885, (4257, 4358), (0.510, 0.523), 435),
        (SILVER, 0.89, (4337, 4437), (0.523, 0.535), 426),
        (SILVER, 0.90, (4505, 4604), (0.550, 0.562), 409),
        (LEAD, 0.88, (4449, 4565), (0.466, 0.478), 390),
        (LEAD, 0.90, (4828, 4941), (0.517, 0.529), 353),
    ],
)
def test_mixtures(
    alloy: Matter, metal: float, density: tuple[float, float], by_volume: tuple[float, float], heat_capacity: float
) -> None:
    for flux_density, expected, share in zip((1000, 1050), density, by_volume, strict=True):
        flux = Matter(flux_density, 2000, 0.2)
        assert paste(alloy, metal, flux).density == pytest.approx(expected, abs=0.6)
        assert metal_by_volume(alloy, metal, flux) == pytest.approx(share, abs=6e-4)
    assert paste(alloy, metal).heat_capacity == pytest.approx(heat_capacity, abs=7)


def test_a_tenth_of_flux_holds_half_of_the_heat() -> None:
    """Why paste warms slower than its metal alone: 200 of 402 J/(kg K) are the flux's."""
    assert paste(SILVER, 0.9).heat_capacity - 0.9 * SILVER.heat_capacity == pytest.approx(0.1 * FLUX.heat_capacity)


def test_conductivity_lies_between_maxwells_bound_and_the_differential_rule() -> None:
    """Half metal by volume in flux of 0.15 to 0.25 W/(m K): Maxwell .59 to .98, differential rule up to 1.84."""
    assert maxwell(0.15, 58, 0.5) == pytest.approx(0.59, abs=0.006)
    assert maxwell(0.25, 58, 0.5) == pytest.approx(0.98, abs=0.006)
    low, high = conductivity_range(SILVER, 0.878)  # half of it by volume
    assert metal_by_volume(SILVER, 0.878) == pytest.approx(0.5, abs=0.001)
    assert [low, high] == pytest.approx([0.59, 2.0], abs=0.01)
    assert low < WORKING_CONDUCTIVITY < 1.84 < high


@pytest.mark.parametrize("share", [0.0, 1.0])
def test_maxwells_bound_ends_at_the_two_parts_themselves(share: float) -> None:
    assert maxwell(0.2, 58, share) == pytest.approx(0.2 if share == 0 else 58)


@pytest.mark.parametrize("metal", [0.74, 0.96, 88.5, math.nan])
def test_a_metal_content_no_paste_has_is_refused(metal: float) -> None:
    with pytest.raises(Unreckonable, match="Give 75 to 95 % by weight"):
        paste(SILVER, metal)


def test_still_air_takes_less_and_less_hold_as_the_jar_warms() -> None:
    """A jar 50 mm high in 23 C: 10.95, 10.26, 9.50, 8.42 W/(m2 K) at 18, 9, 4 and 1 K.

    Churchill and Chu 1975 plus grey radiation, reckoned once with another set of air properties: within 1 %.
    """
    found = still_air(0.05)(23 - numpy.array([18.0, 9.0, 4.0, 1.0]), 23)
    assert found == pytest.approx([10.95, 10.26, 9.50, 8.42], rel=0.01)


def test_without_any_difference_radiation_and_conduction_are_left() -> None:
    """4 eps sigma T^3 = 5.30 at 23 C, and 0.68 k / L of air at rest."""
    (rest,) = still_air(0.05)(numpy.array([23.0]), 23)
    assert rest == pytest.approx(0.9 * 4 * 5.670374e-8 * 296.15**3 + 0.68 * 0.0259 / 0.05, rel=0.01)


def test_a_taller_or_shinier_container_gets_less_from_the_air() -> None:
    cold = numpy.array([5.0])
    assert still_air(0.1)(cold, 23)[0] < still_air(0.05)(cold, 23)[0]
    assert still_air(0.05, emissivity=0.1)(cold, 23)[0] < still_air(0.05)(cold, 23)[0] - 4


def test_a_constant_film_does_not_care() -> None:
    assert list(constant(9)(numpy.array([5.0, 22.0]), 23)) == [9, 9]
