"""Worked examples of the textbooks: the published answer as the book rounds it, and the exact one.

The books read charts or one-term tables and round on the way, so theirs are wide; the exact figures were derived
with full series. Where the books' answers can be read: companion code of the editions, as said beside each.
"""

import math

import pytest
from scipy.optimize import brentq

from station.care.warmup.faults import Unreckonable
from station.care.warmup.first_order import FirstOrder
from station.care.warmup.lumped import biot_of, lumped
from station.care.warmup.matter import Matter
from station.care.warmup.roots import Body
from station.care.warmup.series import series
from station.care.warmup.short_cylinder import short_cylinder

MINUTE = 60.0


def test_a_short_brass_cylinder_of_120_c_in_the_air() -> None:
    """Cengel, Heat Transfer, example 4-8, in the public Scilab companion: charts give .8 x .5, so 63 C and 62 C."""
    brass = Matter(density=110 / 3.39e-5 / 380, heat_capacity=380, conductivity=110)
    cylinder = short_cylinder(0.10, 0.12, brass, coefficient=60)
    left, top = cylinder.left(15 * MINUTE), cylinder.left(15 * MINUTE, along=1.0)
    assert cylinder.upright.left(brass.diffusivity * 900 / 0.06**2) == pytest.approx(0.76415, abs=5e-6)
    assert cylinder.across.left(brass.diffusivity * 900 / 0.05**2) == pytest.approx(0.51976, abs=5e-6)
    assert 25 + 95 * left == pytest.approx(63, abs=1.0)
    assert 25 + 95 * top == pytest.approx(62, abs=1.0)
    assert 25 + 95 * left == pytest.approx(62.732, abs=5e-4)
    assert 25 + 95 * top == pytest.approx(62.123, abs=5e-4)


def test_a_long_steel_shaft_in_an_oven() -> None:
    """Cengel, Heat Transfer, example 4-5, in the public Scilab companion: chart .40, so 360 C."""
    shaft = series(Body.CYLINDER, 80 * 0.1 / 14.9)
    left = shaft.left(3.95e-6 * 45 * MINUTE / 0.1**2)
    assert shaft.roots[0] == pytest.approx(0.97062, abs=1e-5)
    assert shaft.weights[0] == pytest.approx(1.12183, abs=1e-5)
    assert left == pytest.approx(0.41074, abs=1e-4)
    assert 200 + 400 * left == pytest.approx(360, abs=8)
    assert 200 + 400 * left == pytest.approx(364.298, abs=0.005)


def test_an_egg_in_boiling_water() -> None:
    """Cengel, Heat Transfer, example 4-3: Scilab companion l1 3.0754 and A1 1.9959; the 14.4 min from memory."""
    egg = series(Body.SPHERE, 1200 * 0.025 / 0.627)
    assert [egg.roots[0], egg.weights[0]] == pytest.approx([3.07603, 1.99588], abs=5e-6)
    assert [egg.roots[0], egg.weights[0]] == pytest.approx([3.0754, 1.9959], abs=1e-3)
    fourier = brentq(lambda fourier: egg.first_term(fourier) - 25 / 90, 0.05, 1)
    assert fourier == pytest.approx(0.20842, abs=5e-6)
    minutes = fourier * 0.025**2 / 0.151e-6 / MINUTE
    assert minutes == pytest.approx(14.377, abs=0.001)
    assert minutes == pytest.approx(14.4, abs=0.1)
    # All terms, just past Fo 0.2, differ by less than the book's last digit.
    assert egg.left(fourier) == pytest.approx(25 / 90, rel=0.003)


def test_a_pipe_wall_that_hot_oil_runs_past() -> None:
    """Incropera and DeWitt, example 5.4, in FOSSEE's Python companion (C1 1.047): 42.92 C insulated, -7362 W/m2."""
    wall = series(Body.WALL, 500 * 0.04 / 63.9)
    fourier = 63.9 / (7832 * 434) * 8 * MINUTE / 0.04**2
    assert fourier == pytest.approx(5.64, abs=0.005)
    assert [wall.roots[0], wall.weights[0]] == pytest.approx([0.531885, 1.046788], abs=5e-7)
    insulated, wet = 60 - 80 * wall.left(fourier), 60 - 80 * wall.left(fourier, 1.0)
    assert insulated == pytest.approx(42.92, abs=0.15)
    assert 500 * (wet - 60) == pytest.approx(-7362, rel=0.01)
    assert [insulated, wet] == pytest.approx([43.016, 45.363], abs=5e-4)
    assert 500 * (wet - 60) == pytest.approx(-7318.7, abs=0.1)


def test_a_ball_cooled_in_air_and_then_in_a_bath() -> None:
    """Incropera and DeWitt, example 5.5, in FOSSEE's Python companion: 93.7 s in air, 3.08 s in the bath.

    The bath's figure there uses C1 1.367, a slip of digits for 1.376 (the right one from memory).
    """
    ball = Matter(density=3000, heat_capacity=1000, conductivity=20)
    size, skin = 4 / 3 * math.pi * 0.005**3, 4 * math.pi * 0.005**2
    in_air = lumped(ball, size, skin, coefficient=10).seconds_until((335 - 20) / (400 - 20))
    assert in_air == pytest.approx(93.7, abs=0.2)
    assert in_air == pytest.approx(93.799, abs=5e-4)
    with pytest.raises(Unreckonable, match="not one temperature throughout"):
        lumped(ball, size, skin, coefficient=6000)
    in_bath = series(Body.SPHERE, 6000 * 0.005 / 20)
    assert [in_bath.roots[0], in_bath.weights[0]] == pytest.approx([1.83660, 1.38496], abs=5e-6)
    fourier = brentq(lambda fourier: in_bath.left(fourier) - (50 - 20) / (335 - 20), 0.05, 3)
    seconds = fourier * 0.005**2 / ball.diffusivity
    assert seconds == pytest.approx(3.08, rel=0.04)
    assert seconds == pytest.approx(2.976, abs=5e-4)
    assert fourier * 0.005**2 / 6.66e-6 == pytest.approx(2.979, abs=5e-4)  # with the book's cut-off diffusivity


def test_the_bead_of_a_thermocouple() -> None:
    """Incropera and DeWitt, example 5.1, in FOSSEE's Python companion: 0.706 mm for 1 s; 5.16 s to 199 of 200 C."""
    metal, diameter = Matter(density=8500, heat_capacity=400, conductivity=20), 7.0588e-4
    size, skin = math.pi * diameter**3 / 6, math.pi * diameter**2
    bead = lumped(metal, size, skin, coefficient=400)
    assert biot_of(400, size, skin, 20) == pytest.approx(2.353e-3, rel=1e-3)
    assert bead.time_constant == pytest.approx(1, abs=1e-5)
    assert bead.seconds_until((200 - 199) / (200 - 25)) == pytest.approx(5.16, abs=0.01)
    assert FirstOrder(1, 0).seconds_until(1 / 175) == pytest.approx(5.16479, abs=5e-6)


def test_lumped_ends_where_the_books_rule_ends() -> None:
    stuff = Matter(density=1000, heat_capacity=1000, conductivity=1)
    assert lumped(stuff, 0.0099, 1, coefficient=10).time_constant == pytest.approx(990)
    with pytest.raises(Unreckonable, match=r"Biot number 0\.1 over V/A"):
        lumped(stuff, 0.01, 1, coefficient=10)
