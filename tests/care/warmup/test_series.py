"""The series against solutions of quite another form, at times when one term is not enough."""

import math
from functools import cache

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.special import erfcx

from station.care.warmup.faults import Unreckonable
from station.care.warmup.roots import Body
from station.care.warmup.series import Series, series

BODIES = list(Body)


@cache
def of(body: Body, biot: float) -> Series:
    return series(body, biot)


def first_moments(biot: float, fourier: float) -> float:
    """Surface of a half space that a film warms (Carslaw and Jaeger section 2.7): holds until the far side is felt."""
    return float(erfcx(biot * math.sqrt(fourier)))


@pytest.mark.parametrize("biot", [0.01, 0.3, 2.0, 50.0])
@pytest.mark.parametrize("fourier", [1e-5, 1e-4, 1e-3, 1e-2])
def test_at_first_the_surface_of_a_wall_warms_like_that_of_a_half_space(biot: float, fourier: float) -> None:
    """Far before Fo 0.2: two hundred terms and more have to be there, and right."""
    assert of(Body.WALL, biot).left(fourier, 1.0) == pytest.approx(first_moments(biot, fourier), rel=1e-9)


@pytest.mark.parametrize("biot", [0.01, 0.3, 2.0, 50.0])
@pytest.mark.parametrize("fourier", [1e-4, 1e-3, 1e-2])
def test_at_first_a_sphere_warms_like_a_half_space_with_a_film_one_poorer(biot: float, fourier: float) -> None:
    """r times the temperature obeys the wall's equation with Bi - 1 (Carslaw and Jaeger section 9.4)."""
    slack = biot - 1
    root = math.sqrt(fourier)
    # The same half space reckoned for a film of Bi - 1 and a source of Bi.
    expected = 1 - biot / slack * (1 - erfcx(slack * root))
    assert of(Body.SPHERE, biot).left(fourier, 1.0) == pytest.approx(float(expected), rel=1e-9)


@pytest.mark.parametrize("body", BODIES)
@pytest.mark.parametrize("biot", [1e-4, 0.3, 20.0, math.inf])
@pytest.mark.parametrize("fourier", [1e-3, 0.05, 0.3, 2.0])
def test_the_mean_is_the_integral_of_the_places(body: Body, biot: float, fourier: float) -> None:
    dimension = BODIES.index(body)
    found = of(body, biot)
    places, weights = numpy.polynomial.legendre.leggauss(120)
    inside = (places + 1) / 2
    integral = sum(
        weight / 2 * (dimension + 1) * place**dimension * found.left(fourier, place)
        for place, weight in zip(inside, weights, strict=True)
    )
    assert found.mean_left(fourier) == pytest.approx(integral, rel=1e-6)


@pytest.mark.parametrize("body", BODIES)
def test_what_the_surface_lets_in_is_what_the_body_gains(body: Body) -> None:
    """Heat balance over a stretch of time: film times surface difference, against the change of the mean."""
    found, biot, dimension = of(body, 0.8), 0.8, BODIES.index(body) + 1
    let_in, _ = quad(lambda fourier: biot * dimension * found.left(fourier, 1.0), 0.01, 0.6, epsabs=1e-12)
    assert found.mean_left(0.01) - found.mean_left(0.6) == pytest.approx(let_in, rel=1e-9)


@pytest.mark.parametrize("body", BODIES)
def test_one_term_is_wrong_before_fourier_a_fifth_and_right_after(body: Body) -> None:
    found = of(body, 1.0)
    assert found.first_term(0.05) - found.left(0.05) > 0.005
    assert found.first_term(0.25) == pytest.approx(found.left(0.25), rel=0.01)
    assert found.first_term(3) == pytest.approx(found.left(3), rel=1e-9)


@given(
    st.sampled_from(BODIES),
    st.sampled_from([0.01, 0.3, 2.0, 50.0, math.inf]),
    st.floats(1e-5, 3),
    st.floats(1e-5, 3),
    st.floats(0, 1),
)
def test_it_only_ever_warms_and_outside_before_inside(
    body: Body, biot: float, early: float, late: float, place: float
) -> None:
    found = of(body, biot)
    early, late = sorted((early, late))
    assert -1e-12 <= found.left(late, place) <= found.left(early, place) + 1e-12 <= 1 + 2e-12
    assert found.left(late, 1.0) - 1e-12 <= found.left(late, place) <= found.left(late) + 1e-12
    assert found.left(late, 1.0) - 1e-12 <= found.mean_left(late) <= found.left(late) + 1e-12


def test_nothing_has_happened_at_the_start() -> None:
    assert (of(Body.SPHERE, 2.0).left(0, 1.0), of(Body.SPHERE, 2.0).mean_left(0)) == (1.0, 1.0)


@pytest.mark.parametrize("fourier", [9e-6, 1e-30, -1, math.nan])
def test_a_time_too_early_for_the_terms_is_refused_not_guessed(fourier: float) -> None:
    with pytest.raises(Unreckonable, match=r"too early for this series\. Ask for 1e-05 or later"):
        of(Body.WALL, 2.0).left(fourier)


@pytest.mark.parametrize("earliest", [9e-6, 0, math.nan])
def test_a_series_for_earlier_times_is_not_built(earliest: float) -> None:
    with pytest.raises(Unreckonable, match=r"too early\. Ask for 1e-05 or later"):
        series(Body.WALL, 1, earliest)


@pytest.mark.parametrize("place", [-0.1, 1.01, math.nan])
def test_a_place_outside_the_body_is_refused(place: float) -> None:
    with pytest.raises(Unreckonable, match="is not in the body"):
        of(Body.WALL, 2.0).left(1, place)
