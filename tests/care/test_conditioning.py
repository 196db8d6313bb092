"""How long paste must warm, against outside sources and by hand."""

import math
from datetime import timedelta
from itertools import product

import psychrolib  # type: ignore[import-untyped]
import pytest

from station.care.conditioning import RoomTooCold, RoomTooHumid, dew_point_c, time_to_reach, waiting
from station.care.specification import Kind
from station.care.words import Shape

MINUTE = timedelta(minutes=1)
JAR = Kind("JAR-500", Shape.JAR, 500, False, 45 * MINUTE, 10 * MINUTE, False, False, "jar 500 g")


@pytest.fixture(autouse=True)
def _si_units() -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)


@pytest.mark.parametrize(
    ("room_c", "humidity"), list(product((18, 20, 22, 23, 25, 28, 30, 35), (20, 30, 40, 50, 60, 70, 80, 90)))
)
def test_dew_point_agrees_with_the_ashrae_handbook_to_a_twentieth_of_a_kelvin(room_c: float, humidity: float) -> None:
    # ASHRAE Handbook Fundamentals 2017, as computed by psychrolib
    outside = psychrolib.GetTDewPointFromRelHum(room_c, humidity / 100)
    assert dew_point_c(room_c, humidity) == pytest.approx(outside, abs=0.05)


@pytest.mark.parametrize(
    ("room_c", "humidity", "expected"),
    # Magnus form with 17.62 and 243.12 C: Sonntag 1990, WMO No. 8 annex 4.B
    [(25, 50, 13.8516), (23, 40, 8.6676), (20, 30, 1.8819), (30, 80, 26.1688), (25, 20, 0.4629)],
)
def test_dew_point_has_the_coefficients_of_the_wmo_guide(room_c: float, humidity: float, expected: float) -> None:
    assert dew_point_c(room_c, humidity) == pytest.approx(expected, abs=0.0001)


def test_saturated_air_is_at_its_dew_point() -> None:
    assert dew_point_c(21.5, 100) == pytest.approx(21.5)


def test_a_jar_from_5_c_is_within_2_k_of_a_23_c_room_after_109_min() -> None:
    # first order by hand: 10 min + 45 min x ln(18 / 2)
    assert time_to_reach(21, 5, 23, JAR) / MINUTE == pytest.approx(108.9, abs=0.05)


def test_it_is_2_k_above_the_dew_point_of_40_percent_air_after_27_min() -> None:
    wait = waiting(JAR, 180 * MINUTE, 5, 23, 40, 19)
    assert wait.dew_point / MINUTE == pytest.approx(27.1, abs=0.1)
    assert wait.warm_up / MINUTE == pytest.approx(108.9, abs=0.05)


def test_the_suppliers_figure_is_never_shortened() -> None:
    assert waiting(JAR, 180 * MINUTE, 5, 23, 40, 19).longest == 180 * MINUTE


def test_a_short_suppliers_figure_is_lengthened_to_the_warm_up() -> None:
    wait = waiting(JAR, 60 * MINUTE, 5, 23, 40, 19)
    assert wait.longest == wait.warm_up > 60 * MINUTE


def test_humid_air_makes_the_dew_point_the_longest_wait() -> None:
    wait = waiting(JAR, 60 * MINUTE, 5, 23, 87, 19)
    assert wait.longest == wait.dew_point > wait.warm_up


def test_paste_as_warm_as_it_has_to_be_need_not_wait_for_it() -> None:
    assert time_to_reach(8, 10, 23, JAR) == timedelta(0)


def test_paste_must_reach_its_floor_even_where_that_is_closer_to_the_room_than_2_k() -> None:
    wait = waiting(JAR, timedelta(0), 5, 20, 40, 19)
    assert wait.warm_up == time_to_reach(19, 5, 20, JAR) > time_to_reach(18, 5, 20, JAR)


def test_a_room_just_at_the_floor_counts_to_a_tenth_of_a_kelvin_and_stays_finite() -> None:
    wait = waiting(JAR, timedelta(0), 5, 19, 40, 19)
    assert wait.warm_up / MINUTE == pytest.approx(10 + 45 * math.log(14 / 0.1), abs=0.01)


def test_a_room_below_the_floor_is_too_cold() -> None:
    with pytest.raises(RoomTooCold):
        waiting(JAR, timedelta(0), 5, 18.9, 40, 19)


@pytest.mark.parametrize("humidity", [89, 95, 100])
def test_a_room_within_2_k_of_its_dew_point_is_too_humid(humidity: float) -> None:
    with pytest.raises(RoomTooHumid):
        waiting(JAR, timedelta(0), 5, 23, humidity, 19)


def test_a_500_g_jar_takes_the_2_to_3_hours_of_the_trade_at_most() -> None:
    # common practice, no source: 500-600 g jars need 2-3 h out of the refrigerator to reach room temperature
    assert time_to_reach(22, 5, 23, JAR) < timedelta(hours=3)
    assert time_to_reach(22.5, 5, 23, JAR) > timedelta(hours=2)
