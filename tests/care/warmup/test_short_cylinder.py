"""Bare paste in the shape of its container: one worked case to 1e-4 K, and the sizes paste is sold in."""

import math

import pytest

from station.care.warmup.bath import overall
from station.care.warmup.faults import Unreckonable
from station.care.warmup.first_order import FirstOrder
from station.care.warmup.lumped import biot_of, lumped
from station.care.warmup.matter import Matter
from station.care.warmup.roots import Body
from station.care.warmup.series import series
from station.care.warmup.short_cylinder import ShortCylinder, short_cylinder, surface, volume

# Between the mixture rule's figures for 88 to 89 % tin-silver-copper.
PASTE = Matter(density=4300, heat_capacity=420, conductivity=1.0)
DIAMETER = 0.066
HOUR = 3600.0


def height(mass: float, diameter: float) -> float:
    return mass / PASTE.density / volume(diameter, 1)


HEIGHT = height(0.5, DIAMETER)


def jar(coefficient: float, **more: bool) -> ShortCylinder:
    return short_cylinder(DIAMETER, HEIGHT, PASTE, coefficient, **more)


def test_the_measures_of_the_worked_case() -> None:
    size, skin = volume(DIAMETER, HEIGHT), surface(DIAMETER, HEIGHT)
    assert [HEIGHT, size, skin] == pytest.approx([0.03398786, 1.162791e-4, 0.01388961], rel=1e-6)
    assert biot_of(9, size, skin, 1.0) == pytest.approx(0.0753, abs=5e-5)
    assert lumped(PASTE, size, skin, 9).time_constant == pytest.approx(1679.913, abs=5e-4)
    assert PASTE.diffusivity == pytest.approx(5.537099e-7, rel=1e-6)
    found = jar(9)
    assert [found.upright.roots[0], found.upright.weights[0]] == pytest.approx([0.381388, 1.024165], abs=5e-7)
    assert [found.across.roots[0], found.across.weights[0]] == pytest.approx([0.742990, 1.070489], abs=5e-7)


@pytest.mark.parametrize(
    ("seconds", "one_temperature", "middle", "mean", "one_term"),
    # 500 g from 5 C in 23 C, 9 W/(m2 K) all round; derived once with scipy's Bessel functions and brentq
    [
        (600, 10.4061, 8.9079, 10.1614, 8.8937),
        (1800, 16.8350, 15.7924, 16.4402, 15.7924),
        (3600, 20.8885, 20.3676, 20.6042, 20.3676),
        (5400, 22.2768, 22.0386, 22.1250, 22.0386),
        (7200, 22.7523, 22.6489, 22.6804, 22.6489),
        (10800, 22.9709, 22.9532, 22.9574, 22.9532),
        (14400, 22.9966, 22.9938, 22.9943, 22.9938),
    ],
)
def test_the_worked_case(seconds: float, one_temperature: float, middle: float, mean: float, one_term: float) -> None:
    found, simple = jar(9), lumped(PASTE, volume(DIAMETER, HEIGHT), surface(DIAMETER, HEIGHT), 9)
    spread = PASTE.diffusivity * seconds
    first = found.upright.first_term(spread / found.half_height**2) * found.across.first_term(spread / found.radius**2)
    assert 23 - 18 * simple.left(seconds) == pytest.approx(one_temperature, abs=1e-4)
    assert 23 - 18 * found.left(seconds) == pytest.approx(middle, abs=1e-4)
    assert 23 - 18 * found.mean_left(seconds) == pytest.approx(mean, abs=1e-4)
    assert 23 - 18 * first == pytest.approx(one_term, abs=1e-4)


Times = tuple[float, float, float]
SIZES: dict[tuple[float, float], tuple[Times, Times, Times, Times, float, float]] = {
    # nominal sizes of the trade, no source; hours from 5 C to within 2, 1 and 0.5 K of 23 C
    # grams, mm: one temperature at 8, middle at 8, one temperature at 10, middle at 10; middle within 1 K at 200, 500
    (30, 15.5): ((0.44, 0.58, 0.72), (0.46, 0.60, 0.74), (0.35, 0.46, 0.58), (0.37, 0.48, 0.60), 0.04, 0.03),
    (100, 22.5): ((0.65, 0.86, 1.06), (0.69, 0.90, 1.11), (0.52, 0.68, 0.85), (0.56, 0.73, 0.90), 0.07, 0.05),
    (250, 60): ((0.84, 1.11, 1.37), (0.90, 1.18, 1.45), (0.67, 0.88, 1.10), (0.73, 0.96, 1.18), 0.11, 0.08),
    (500, 66): ((1.15, 1.52, 1.88), (1.26, 1.65, 2.03), (0.92, 1.21, 1.51), (1.03, 1.35, 1.66), 0.19, 0.16),
    (600, 45): ((1.23, 1.62, 2.01), (1.36, 1.78, 2.19), (0.99, 1.30, 1.61), (1.12, 1.45, 1.79), 0.21, 0.17),
    (600, 66): ((1.26, 1.65, 2.05), (1.39, 1.81, 2.23), (1.01, 1.32, 1.64), (1.14, 1.48, 1.82), 0.23, 0.19),
    (1000, 85): ((1.44, 1.89, 2.34), (1.61, 2.10, 2.58), (1.15, 1.51, 1.88), (1.32, 1.72, 2.11), 0.28, 0.23),
    (1300, 58.5): ((1.60, 2.10, 2.61), (1.82, 2.36, 2.90), (1.28, 1.68, 2.09), (1.49, 1.94, 2.38), 0.32, 0.27),
}


@pytest.mark.parametrize(("grams", "millimetres"), SIZES)
def test_the_sizes_paste_is_sold_in(grams: float, millimetres: float) -> None:
    diameter = millimetres / 1000
    tall = height(grams / 1000, diameter)
    lumped_8, middle_8, lumped_10, middle_10, bath_200, bath_500 = SIZES[grams, millimetres]

    def middle(coefficient: float, kelvin: float) -> float:
        return short_cylinder(diameter, tall, PASTE, coefficient).seconds_until(kelvin / 18) / HOUR

    def uniform(coefficient: float, kelvin: float) -> float:
        # The rule Bi < 0.1 is set aside here: the table shows how far off one temperature throughout would be.
        area = surface(diameter, tall)
        tau = PASTE.density * volume(diameter, tall) * PASTE.heat_capacity / (coefficient * area)
        return FirstOrder(tau, 0).seconds_until(kelvin / 18) / HOUR

    kelvins = (2, 1, 0.5)
    assert [uniform(8, kelvin) for kelvin in kelvins] == pytest.approx(lumped_8, abs=0.0051)
    assert [uniform(10, kelvin) for kelvin in kelvins] == pytest.approx(lumped_10, abs=0.0051)
    assert [middle(8, kelvin) for kelvin in kelvins] == pytest.approx(middle_8, abs=0.0051)
    assert [middle(10, kelvin) for kelvin in kelvins] == pytest.approx(middle_10, abs=0.0051)
    assert (middle(200, 1), middle(500, 1)) == pytest.approx((bath_200, bath_500), abs=0.0051)


@pytest.mark.parametrize(
    ("cold_c", "room_c", "hours"),
    [(2, 25, 1.60), (5, 25, 1.53), (5, 20, 1.39), (8, 23, 1.39), (10, 23, 1.32), (-20, 23, 1.91)],
)
def test_other_starts_and_rooms_to_within_1_k(cold_c: float, room_c: float, hours: float) -> None:
    assert jar(9).seconds_until(1 / (room_c - cold_c)) / HOUR == pytest.approx(hours, abs=0.0051)


def test_standing_on_a_bench_takes_a_third_longer() -> None:
    on_bench = jar(9, on_bench=True)
    hours = [on_bench.seconds_until(kelvin / 18) / HOUR for kelvin in (2, 1, 0.5)]
    assert hours == pytest.approx((1.55, 2.02, 2.48), abs=0.0051)


def test_a_bench_is_the_middle_of_a_wall_twice_as_thick() -> None:
    doubled = short_cylinder(DIAMETER, 2 * HEIGHT, PASTE, 9)
    assert jar(9, on_bench=True).left(1800, along=0.5) == doubled.left(1800, along=0.5)


@pytest.mark.parametrize(
    ("coefficient", "minutes"),
    # film of 200 or 500 in series with 2 mm of plastic, 0.01 m2 K/W; then the bare film
    [
        (overall(200, 0.01), (14.9, 18.8, 22.8)),
        (overall(500, 0.01), (13.3, 16.7, 20.2)),
        (200, (9.3, 11.6, 13.8)),
        (500, (7.5, 9.3, 11.1)),
    ],
)
def test_in_a_bath_the_wall_halves_the_gain(coefficient: float, minutes: tuple[float, float, float]) -> None:
    found = [jar(coefficient).seconds_until(kelvin / 18) / 60 for kelvin in (2, 1, 0.5)]
    assert found == pytest.approx(minutes, abs=0.1)


@pytest.mark.parametrize(
    ("room_c", "dew_c", "minutes"),
    # 23 C with 50 % and 60 %, 26 C with 60 %, 28 C with 70 %: when one temperature, the middle, and the middle with
    # 2 K to spare pass the dew point
    [
        (23, 12.0284, (13.86, 17.48, 23.48)),
        (23, 14.8245, (22.10, 26.25, 34.60)),
        (26, 17.6390, (25.79, 30.17, 38.31)),
        (28, 22.02, (37.70, 42.85, 54.97)),
    ],
)
def test_when_a_jar_of_5_c_stops_drawing_water(room_c: float, dew_c: float, minutes: tuple[float, ...]) -> None:
    simple = lumped(PASTE, volume(DIAMETER, HEIGHT), surface(DIAMETER, HEIGHT), 9)

    def left(celsius: float) -> float:
        return (room_c - celsius) / (room_c - 5)

    passed = (
        simple.seconds_until(left(dew_c)),
        jar(9).seconds_until(left(dew_c)),
        jar(9).seconds_until(left(dew_c + 2)),
    )
    assert [seconds / 60 for seconds in passed] == pytest.approx(minutes, abs=0.02)


def test_a_far_edge_warms_before_the_middle() -> None:
    found = jar(9)
    assert found.left(600, 1, 1) < found.left(600, 1, 0) < found.left(600)
    assert found.left(600, 1, 1) < found.mean_left(600) < found.left(600)


@pytest.mark.parametrize("left", [0, 1, -0.1, 1.5, math.nan])
def test_a_share_that_is_never_reached_is_refused(left: float) -> None:
    with pytest.raises(Unreckonable, match="is never reached"):
        jar(9).seconds_until(left)
    with pytest.raises(Unreckonable, match="is never reached"):
        FirstOrder(60, 0).seconds_until(left)


def test_first_order_waits_out_its_dead_time() -> None:
    figures = FirstOrder(time_constant=2700, dead_time=600)
    assert (figures.left(0), figures.left(600)) == (1, 1)
    assert figures.left(figures.seconds_until(2 / 18)) == pytest.approx(2 / 18)
    assert figures.seconds_until(2 / 18) / 60 == pytest.approx(108.9, abs=0.05)  # 10 min + 45 min x ln 9


def test_the_middle_of_a_cylinder_is_the_product_of_wall_and_rod() -> None:
    """Against its own two parts, built apart (product solution: Newman 1936)."""
    seconds, half = 2400.0, HEIGHT / 2
    wall, rod = series(Body.WALL, 9 * half), series(Body.CYLINDER, 9 * DIAMETER / 2)
    spread = PASTE.diffusivity * seconds
    expected = wall.left(spread / half**2) * rod.left(spread / (DIAMETER / 2) ** 2)
    assert jar(9).left(seconds) == pytest.approx(expected, rel=1e-12)
