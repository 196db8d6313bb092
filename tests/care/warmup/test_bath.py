"""A sealed container in water of room temperature."""

import math
from dataclasses import replace

import pytest

from station.care.warmup.bath import bath_estimate, overall
from station.care.warmup.detail import Container
from station.care.warmup.faults import Unreckonable
from station.care.warmup.matter import Matter
from station.care.warmup.package import Package

IN_WATER = Package(mass=0.5, diameter=0.066, paste=Matter(4300, 420, 1.0), on_bench=False).container()


def minutes(coefficient: float, container: Container = IN_WATER, bath_c: float = 23) -> list[float]:
    found = bath_estimate(container, 5, bath_c, 23, coefficient)
    return [found.reckoned(kelvin).total_seconds() / 60 for kelvin in (2, 1, 0.5)]


def test_the_wall_caps_what_water_can_do() -> None:
    assert overall(200, 0.01) == pytest.approx(66.7, abs=0.05)
    assert overall(500, 0.01) == pytest.approx(83.3, abs=0.05)


@pytest.mark.parametrize(("coefficient", "expected"), [(200, (14.9, 18.8, 22.8)), (500, (13.3, 16.7, 20.2))])
def test_a_500_g_jar_takes_about_twenty_minutes(coefficient: float, expected: tuple[float, float, float]) -> None:
    """The exact series with wall and film in series; the wall's own 40 g make it a little longer here."""
    found = minutes(coefficient)
    assert found == pytest.approx(expected, rel=0.05)
    assert all(detailed >= bare - 0.1 for detailed, bare in zip(found, expected, strict=True))


def test_the_pair_for_the_bath_is_never_ahead_either() -> None:
    found = bath_estimate(IN_WATER, 5, 22, 23)
    assert all(found.promised(kelvin) >= found.reckoned(kelvin) for kelvin in (15, 8, 4, 2, 1, 0.5))
    assert found.biot > 0.1  # far from one temperature throughout


def test_the_times_are_to_within_a_little_of_the_bath() -> None:
    assert minutes(200, bath_c=20)[1] < minutes(200, bath_c=23)[1]


@pytest.mark.parametrize("bath_c", [23.1, 40, math.nan])
def test_a_bath_over_the_temperature_of_the_room_is_turned_down(bath_c: float) -> None:
    with pytest.raises(Unreckonable, match="Never heat paste"):
        bath_estimate(IN_WATER, 5, bath_c, 23)


def test_water_over_3_k_colder_than_the_room_is_refused() -> None:
    bath_estimate(IN_WATER, 5, 20, 23)
    with pytest.raises(Unreckonable, match="within 3 K"):
        bath_estimate(IN_WATER, 5, 19.9, 23)


def test_a_bench_under_water_and_a_film_that_is_none_are_refused() -> None:
    with pytest.raises(Unreckonable, match="without a bench"):
        bath_estimate(replace(IN_WATER, on_bench=True), 5, 23, 23)
    with pytest.raises(Unreckonable, match="coefficient of the water is 10"):
        bath_estimate(IN_WATER, 5, 23, 23, coefficient=10)
