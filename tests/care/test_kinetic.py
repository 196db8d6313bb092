"""Mean kinetic temperature against the pharmacopoeia's rule, by hand, and by what any such mean must do."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.care.kinetic import NoKineticMean, mean_kinetic_c

# Gas constant of the SI (CODATA 2018, exact) with the 83.144 kJ/mol of USP <1160>.
SI_ACTIVATION_K = 83.144 / 8.314462618e-3
FRIDGE = st.floats(0, 40)


def by_the_letter(temperatures_c: list[float], weights: list[float], activation_k: float) -> float:
    """USP <1160> written out: (dH/R) / -ln(sum of t exp(-dH/RT) over sum of t)."""
    mean = sum(
        weight * math.exp(-activation_k / (celsius + 273.15))
        for celsius, weight in zip(temperatures_c, weights, strict=True)
    ) / sum(weights)
    return activation_k / -math.log(mean) - 273.15


@pytest.mark.parametrize(
    ("temperatures_c", "weights", "expected", "with_the_si_constant"),
    # USP <1160> publishes the rule with dH/R = 10000 K but no raw data; reckoned by hand from the rule
    [
        ([25.0] * 12, None, 25.000000, 25.000000),
        ([20, 30], None, 26.259887, 26.259878),
        ([20, 25, 30], None, 25.858208, 25.858202),
        ([15, 20, 25, 30], None, 24.104053, 24.104042),
        ([5, 25], None, 19.697721, 19.697695),
        ([2, 8], None, 5.536425, 5.536420),
        ([5, 23], [20, 4], 11.650721, 11.650686),
        ([5, 25], [23, 1], 7.756422, 7.756396),
        ([5, 23], [167, 1], 5.355619, 5.355615),
        ([4, 4, 4, 4, 16], None, 8.108857, 8.108842),
    ],
)
def test_hand_worked_means(
    temperatures_c: list[float], weights: list[float] | None, expected: float, with_the_si_constant: float
) -> None:
    assert mean_kinetic_c(temperatures_c, weights) == pytest.approx(expected, abs=1e-6)
    assert mean_kinetic_c(temperatures_c, weights, SI_ACTIVATION_K) == pytest.approx(with_the_si_constant, abs=1e-6)


def test_four_hours_in_the_room_age_a_day_in_the_fridge_far_more_than_the_plain_mean_says() -> None:
    assert mean_kinetic_c([5, 23], [20, 4]) > (20 * 5 + 4 * 23) / 24 + 3


@given(st.lists(st.tuples(FRIDGE, st.floats(0.1, 100)), min_size=1, max_size=20))
def test_it_agrees_with_the_rule_written_out(series: list[tuple[float, float]]) -> None:
    temperatures, weights = [celsius for celsius, _ in series], [weight for _, weight in series]
    expected = by_the_letter(temperatures, weights, 10_000)
    assert mean_kinetic_c(temperatures, weights) == pytest.approx(expected, abs=1e-8)


@given(st.lists(FRIDGE, min_size=1, max_size=20))
def test_it_is_never_below_the_plain_mean_nor_above_the_warmest(temperatures: list[float]) -> None:
    mean = mean_kinetic_c(temperatures)
    assert math.fsum(temperatures) / len(temperatures) - 1e-9 <= mean <= max(temperatures) + 1e-9


@given(st.lists(st.tuples(FRIDGE, st.floats(0.1, 100)), min_size=2, max_size=12), st.randoms())
def test_the_order_does_not_matter(series: list[tuple[float, float]], random: object) -> None:
    shuffled = series.copy()
    random.shuffle(shuffled)  # type: ignore[attr-defined]
    one = mean_kinetic_c([celsius for celsius, _ in series], [weight for _, weight in series])
    other = mean_kinetic_c([celsius for celsius, _ in shuffled], [weight for _, weight in shuffled])
    assert one == other


@given(FRIDGE, st.integers(1, 50))
def test_a_steady_temperature_returns_itself(celsius: float, count: int) -> None:
    assert mean_kinetic_c([celsius] * count) == pytest.approx(celsius, abs=1e-9)


@given(st.lists(st.tuples(FRIDGE, st.integers(1, 5)), min_size=1, max_size=8))
def test_a_weight_counts_like_repeating_the_reading(series: list[tuple[float, int]]) -> None:
    weighted = mean_kinetic_c([celsius for celsius, _ in series], [count for _, count in series])
    repeated = mean_kinetic_c([celsius for celsius, count in series for _ in range(count)])
    assert weighted == pytest.approx(repeated, abs=1e-9)


def test_a_reading_without_weight_counts_nothing_even_as_the_warmest() -> None:
    assert mean_kinetic_c([5, 30], [1, 0]) == pytest.approx(5, abs=1e-9)


def test_frozen_goods_have_none_and_melting_ice_still_has() -> None:
    assert mean_kinetic_c([0, 0]) == pytest.approx(0, abs=1e-9)
    with pytest.raises(NoKineticMean, match=r"falls to -0\.1 C\. Frozen goods"):
        mean_kinetic_c([5, -0.1])


@pytest.mark.parametrize(
    ("temperatures_c", "weights", "activation_k", "why"),
    [
        ([], None, 10_000, "no temperatures"),
        ([5, 6], [1], 10_000, "2 temperatures have 1 weights"),
        ([5, 6], [1, -1], 10_000, "not be negative"),
        ([5, 6], [0, 0], 10_000, "above zero"),
        ([5, math.nan], None, 10_000, "no usable number"),
        ([5, 6], [1, math.inf], 10_000, "no usable number"),
        ([5, 6], None, 0, "no usable number"),
        ([5, 6], None, math.nan, "no usable number"),
    ],
)
def test_what_has_no_mean_is_refused_with_the_reason(
    temperatures_c: list[float], weights: list[float] | None, activation_k: float, why: str
) -> None:
    with pytest.raises(NoKineticMean, match=why):
        mean_kinetic_c(temperatures_c, weights, activation_k)
