"""The dew point of room air against two outside programs, over every room paste is kept or used in."""

from itertools import product

import psychrolib  # type: ignore[import-untyped]
import pytest
from CoolProp.HumidAirProp import HAPropsSI

from station.care.conditioning import dew_point_c

ROOMS = [(celsius, humidity) for celsius, humidity in product(range(5, 36), range(20, 91, 5))]
NORMAL_PRESSURE_PA = 101_325


@pytest.fixture(autouse=True)
def _si_units() -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)


def ashrae(celsius: float, humidity: float) -> float:
    """ASHRAE Handbook Fundamentals 2017, by psychrolib; below 0 C the frost point."""
    return float(psychrolib.GetTDewPointFromRelHum(celsius, humidity / 100))


def real_moist_air(celsius: float, humidity: float) -> float:
    """Real moist air with enhancement factor, by CoolProp; below 0 C the frost point."""
    found = HAPropsSI("D", "T", celsius + 273.15, "P", NORMAL_PRESSURE_PA, "R", humidity / 100)
    return float(found) - 273.15


def test_it_is_within_a_twentieth_of_a_kelvin_of_two_programs_in_every_room() -> None:
    assert len(ROOMS) == 465
    assert [room for room in ROOMS if abs(dew_point_c(*room) - ashrae(*room)) > 0.05] == []
    assert [room for room in ROOMS if abs(dew_point_c(*room) - real_moist_air(*room)) > 0.05] == []


@pytest.mark.parametrize(
    ("celsius", "humidity", "by_psychrolib", "by_coolprop"),
    # psychrolib 2.5.0 and CoolProp 8.0.0 at 101325 Pa
    [
        (25, 50, 13.8640, 13.8669),
        (23, 50, 12.0284, 12.0309),
        (23, 40, 8.6885, 8.6914),
        (23, 60, 14.8245, 14.8265),
        (20, 50, 9.2724, 9.2744),
        (20, 30, 1.9143, 1.9173),
        (26, 60, 17.6390, 17.6416),
        (30, 80, 26.1686, 26.1704),
        (22, 45, 9.5335, 9.5361),
        (25, 70, 19.1499, 19.1518),
        (18, 60, 10.1281, 10.1295),
        (25, 20, 0.5015, 0.5062),
    ],
)
def test_check_points(celsius: float, humidity: float, by_psychrolib: float, by_coolprop: float) -> None:
    assert ashrae(celsius, humidity) == pytest.approx(by_psychrolib, abs=1e-4)
    assert real_moist_air(celsius, humidity) == pytest.approx(by_coolprop, abs=1e-4)
    assert dew_point_c(celsius, humidity) == pytest.approx(by_psychrolib, abs=0.05)
    assert dew_point_c(celsius, humidity) == pytest.approx(by_coolprop, abs=0.05)


@pytest.mark.parametrize(
    ("room_c", "paste_c", "humidity"),
    # ASHRAE Handbook Fundamentals 2017 saturation pressures, ratio of the two
    [(20, 2, 30.18), (23, 5, 31.04), (25, 5, 27.53), (23, 15, 60.68), (28, 18, 54.58), (23, 20, 83.22)],
)
def test_a_cold_jar_turns_wet_above_this_humidity(room_c: float, paste_c: float, humidity: float) -> None:
    """A jar of 5 C in a room of 23 C is wetted above 31 %, so practically always."""
    assert dew_point_c(room_c, humidity) == pytest.approx(paste_c, abs=0.05)
