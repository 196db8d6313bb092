"""The roots of the three bodies against the textbooks' one-term table and against plain halving of the equations."""

import math
from collections.abc import Callable
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import j0, j1

from station.care.warmup.faults import Unreckonable
from station.care.warmup.roots import Body, roots
from station.care.warmup.series import series

# One-term coefficients l1 and A1 of plane wall, cylinder and sphere. Tables of this kind stand in every textbook of
# heat transfer (Incropera and DeWitt table 5.1, Cengel and Ghajar table 4-2), also Bi 0.01 as here; the other
# figures are from memory and were derived anew.
ONE_TERM = {
    0.01: (0.0998, 1.0017, 0.1412, 1.0025, 0.1730, 1.0030),
    0.02: (0.1410, 1.0033, 0.1995, 1.0050, 0.2445, 1.0060),
    0.04: (0.1987, 1.0066, 0.2814, 1.0099, 0.3450, 1.0120),
    0.06: (0.2425, 1.0098, 0.3438, 1.0148, 0.4217, 1.0179),
    0.08: (0.2791, 1.0130, 0.3960, 1.0197, 0.4860, 1.0239),
    0.1: (0.3111, 1.0161, 0.4417, 1.0246, 0.5423, 1.0298),
    0.2: (0.4328, 1.0311, 0.6170, 1.0483, 0.7593, 1.0592),
    0.3: (0.5218, 1.0450, 0.7465, 1.0712, 0.9208, 1.0880),
    0.4: (0.5932, 1.0580, 0.8516, 1.0931, 1.0528, 1.1164),
    0.5: (0.6533, 1.0701, 0.9408, 1.1143, 1.1656, 1.1441),
    0.6: (0.7051, 1.0814, 1.0184, 1.1345, 1.2644, 1.1713),
    0.7: (0.7506, 1.0918, 1.0873, 1.1539, 1.3525, 1.1978),
    0.8: (0.7910, 1.1016, 1.1490, 1.1724, 1.4320, 1.2236),
    0.9: (0.8274, 1.1107, 1.2048, 1.1902, 1.5044, 1.2488),
    1.0: (0.8603, 1.1191, 1.2558, 1.2071, 1.5708, 1.2732),
    2.0: (1.0769, 1.1785, 1.5994, 1.3384, 2.0288, 1.4793),
    3.0: (1.1925, 1.2102, 1.7887, 1.4191, 2.2889, 1.6227),
    5.0: (1.3138, 1.2402, 1.9898, 1.5029, 2.5704, 1.7870),
    10.0: (1.4289, 1.2620, 2.1795, 1.5677, 2.8363, 1.9249),
    20.0: (1.4961, 1.2699, 2.2880, 1.5919, 2.9857, 1.9781),
    50.0: (1.5400, 1.2727, 2.3572, 1.6002, 3.0788, 1.9962),
    100.0: (1.5552, 1.2731, 2.3809, 1.6015, 3.1102, 1.9990),
    math.inf: (math.pi / 2, 4 / math.pi, 2.4048, 1.6020, math.pi, 2.0),
}
BODIES = list(Body)
SURFACE: dict[Body, Callable[[float], float]] = {
    Body.WALL: lambda root: root * math.tan(root),
    Body.CYLINDER: lambda root: float(root * j1(root) / j0(root)),
    Body.SPHERE: lambda root: 1 - root / math.tan(root),
}
FIRST_POLE = {Body.WALL: math.pi / 2, Body.CYLINDER: 2.404825557695773, Body.SPHERE: math.pi}


def first_root_by_halving(body: Body, biot: float) -> float:
    """On the equation as it stands in the books, which climbs from 0 to infinity below its first pole."""
    low, high = 1e-9, FIRST_POLE[body] - 1e-12
    for _ in range(200):
        middle = (low + high) / 2
        low, high = (middle, high) if SURFACE[body](middle) < biot else (low, middle)
    return low


@pytest.mark.parametrize("biot", ONE_TERM)
@pytest.mark.parametrize("body", BODIES)
def test_first_root_and_weight_are_those_of_the_table_to_four_digits(body: Body, biot: float) -> None:
    root, weight = ONE_TERM[biot][2 * BODIES.index(body) :][:2]
    found = series(body, biot, earliest=0.1)
    assert found.roots[0] == pytest.approx(root, abs=5.001e-5)
    assert found.weights[0] == pytest.approx(weight, abs=5.001e-5)


@pytest.mark.parametrize("biot", [biot for biot in ONE_TERM if math.isfinite(biot)])
@pytest.mark.parametrize("body", BODIES)
def test_first_root_by_halving_the_bare_equation(body: Body, biot: float) -> None:
    assert roots(body, biot, 1)[0] == pytest.approx(first_root_by_halving(body, biot), rel=1e-9)


@given(st.sampled_from(BODIES), st.floats(-6, 6).map(lambda power: float(10**power)))
def test_no_root_is_missed_and_each_solves_its_equation(body: Body, biot: float) -> None:
    """One root between each two poles: they rise, about pi apart, and the surface condition holds at each."""
    found = [float(root) for root in roots(body, biot, 60)]
    assert all(2.3 < later - earlier < 2 * math.pi for earlier, later in pairwise(found[1:]))
    assert found[0] < FIRST_POLE[body] < found[1] < FIRST_POLE[body] + 1.05 * math.pi
    residue: Callable[[float], float] = {
        Body.WALL: lambda root: root * math.sin(root) - biot * math.cos(root),
        Body.CYLINDER: lambda root: float(root * j1(root) - biot * j0(root)) * math.sqrt(root),
        Body.SPHERE: lambda root: root * math.cos(root) + (biot - 1) * math.sin(root),
    }[body]
    assert all(abs(residue(root)) <= 1e-11 * (root + biot + 1) for root in found)


@pytest.mark.parametrize(
    ("body", "first_three"),
    # zeros of cos, of J0 (Abramowitz and Stegun table 9.5) and of sin
    [
        (Body.WALL, [math.pi / 2, 3 * math.pi / 2, 5 * math.pi / 2]),
        (Body.CYLINDER, [2.4048255577, 5.5200781103, 8.6537279129]),
        (Body.SPHERE, [math.pi, 2 * math.pi, 3 * math.pi]),
    ],
)
def test_a_surface_held_at_room_temperature_has_the_poles_for_roots(body: Body, first_three: list[float]) -> None:
    assert roots(body, math.inf, 3) == pytest.approx(first_three, abs=1e-9)


@pytest.mark.parametrize("biot", [0, -1, 1e-7, 1e7, math.nan, -math.inf])
def test_a_biot_number_outside_the_range_is_refused(biot: float) -> None:
    with pytest.raises(Unreckonable, match="the series is reckoned from 1e-06 to 1e"):
        roots(Body.WALL, biot, 1)
