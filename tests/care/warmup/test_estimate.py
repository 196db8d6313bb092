"""The pair for the floor: never ahead of the detailed curve, whatever the container."""

import math
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.care.warmup.detail import warm_up
from station.care.warmup.estimate import Estimate, estimate
from station.care.warmup.faults import Unreckonable
from station.care.warmup.film import constant
from station.care.warmup.first_order import FirstOrder
from station.care.warmup.materials import ALLOYS, paste
from station.care.warmup.matter import Matter
from station.care.warmup.package import Package
from station.care.warmup.safe_line import never_ahead
from station.care.words import Alloy

MINUTE = timedelta(minutes=1)
PASTE = paste(ALLOYS[Alloy.SN_AG_CU], 0.885)
JAR = Package(mass=0.5, diameter=0.066, paste=Matter(4300, 420, 1.0), wall_mass=0.040)


def of(package: Package, start_c: float = 5, room_c: float = 23) -> Estimate:
    return estimate(package.container(), package.still_air(), start_c, room_c)


def test_a_500_g_jar() -> None:
    """The pair gives a few minutes more than the detailed 1.86 h, 2.52 h and 3.21 h, never less."""
    found = of(JAR)
    for kelvin, hours in ((2, 1.86), (1, 2.52), (0.5, 3.21)):
        assert found.reckoned(kelvin) / (60 * MINUTE) == pytest.approx(hours, rel=0.03)
        assert timedelta(0) <= found.promised(kelvin) - found.reckoned(kelvin) < 15 * MINUTE
    assert found.biot == pytest.approx(0.111, abs=0.003)


def test_the_figures_are_whole_minutes() -> None:
    found = of(JAR)
    assert (found.time_constant % MINUTE, found.dead_time % MINUTE) == (timedelta(0), timedelta(0))


@settings(max_examples=15, deadline=None)
@given(
    st.sampled_from([(0.035, 0.0155), (0.25, 0.060), (0.5, 0.066), (0.6, 0.045), (1.0, 0.085), (1.3, 0.0585)]),
    st.booleans(),
    st.floats(0.5, 4),
    st.floats(2, 10),
    st.floats(18, 28),
    st.floats(0, 1),
)
def test_the_pair_is_never_ahead_of_the_curve(
    size: tuple[float, float], on_bench: bool, wall_mm: float, start_c: float, room_c: float, warmer: float
) -> None:
    """From 2 K off the start to half a kelvin from the room; also for paste that starts up to half way warmer."""
    package = Package(size[0], size[1], PASTE, wall_thickness=wall_mm / 1000, on_bench=on_bench)
    found = of(package, start_c, room_c)
    difference = (room_c - start_c) * (1 - warmer / 2)
    curve = warm_up(package.container(), package.still_air(), room_c - difference, room_c)
    for seconds, below in zip(curve.seconds, curve.below, strict=True):
        if 0.5 <= below <= difference - 2:
            assert difference * found.figures.left(float(seconds)) >= below - 0.02


def test_a_constant_film_leaves_little_to_be_safe_about() -> None:
    """First order is then right but for the first minutes: tau and lag of the slowest term, rounded up."""
    package = Package(0.5, 0.066, Matter(4300, 420, 1.0), on_bench=False, wall_thickness=0.0001, wall_mass=0.0001)
    found = estimate(package.container(), constant(9), 5, 23)
    slowest = 1 / (5.537099e-7 * ((0.381388 / 0.01699393) ** 2 + (0.742990 / 0.033) ** 2))
    assert 0 <= found.time_constant.total_seconds() - slowest < 90
    assert found.promised(1) - found.reckoned(1) < 4 * MINUTE


def test_a_line_over_a_bulge_touches_it_where_it_should_be_tight() -> None:
    assert never_ahead([(1, 10), (2, 21), (3, 30), (4, 35)], tight_at=2.5) == FirstOrder(9, 3)


def test_a_line_over_a_hollow_is_its_chord() -> None:
    assert never_ahead([(1, 30), (2, 32), (3, 40), (4, 60)], tight_at=2) == FirstOrder(10, 20)


def test_a_line_never_starts_before_the_paste_is_taken_out() -> None:
    """The chord would begin at minus 10 s, so the steepest ray from the start is taken instead."""
    found = never_ahead([(1, 10), (2, 20), (3, 50)], tight_at=2)
    assert found.time_constant == pytest.approx(50 / 3)
    assert found.dead_time == 0


@given(
    st.lists(st.tuples(st.floats(0.1, 4), st.floats(0, 100)), min_size=1, max_size=20),
    st.floats(0.1, 4),
)
def test_no_point_lies_above_the_line(between: list[tuple[float, float]], tight_at: float) -> None:
    points = [(0.05, 1.0), *between, (4.05, 101.0)]
    found = never_ahead(points, tight_at)
    assert found.dead_time >= 0
    assert all(found.dead_time + found.time_constant * x >= y - 1e-6 for x, y in points)


@pytest.mark.parametrize(("start_c", "room_c"), [(5, 12.9), (23, 5), (-60, 23), (math.nan, 23)])
def test_temperatures_too_close_or_too_far_apart_are_refused(start_c: float, room_c: float) -> None:
    with pytest.raises(Unreckonable, match="Give temperatures 8 to 80 K apart"):
        of(JAR, start_c, room_c)


def test_frozen_paste_is_reckoned_too() -> None:
    assert of(JAR, -20, 23).promised(2) > of(JAR).promised(2)
