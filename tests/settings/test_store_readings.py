"""What a site says of its stores' readings: it holds where nothing is said, and every slip is one fault."""

from datetime import date, timedelta

import pytest

from station.care.cold_readings_rules import Instrument, Policy, StoreCare
from station.settings import load
from tests.care.bench import site_f
from tests.settings.folders import DEMO, Folder

HIGH = 'high = "10 C"'
LOGGER = '[[instrument]]\nid = "L1"\nstore = "FRIDGE"\ncalibration_due = "2027-06-30"\n'


def test_a_site_that_says_nothing_holds_what_was_in_an_excursion(plant_t: Folder) -> None:
    plant = load(plant_t.path).plant
    assert plant.stores["FRIDGE"].care == StoreCare(Policy.HOLD)
    assert plant.instruments == {}


def test_a_store_may_be_told_otherwise() -> None:
    assert load(DEMO).plant.stores["FRIDGE"].care.policy is Policy.CHARGE
    assert site_f().plant.stores["FREEZER"].care == StoreCare(Policy.HOLD, 1.0, timedelta(minutes=30))


@pytest.mark.parametrize("day", ['"2027-06-30"', "2027-06-30"])
def test_an_instrument_has_its_store_and_its_day(plant_t: Folder, day: str) -> None:
    told = LOGGER.replace('"2027-06-30"', day)
    plant = load(plant_t.edit("stores.toml", "[[store]]", f"{told}\n[[store]]").path).plant
    assert plant.instruments == {"L1": Instrument("L1", "FRIDGE", date(2027, 6, 30))}


@pytest.mark.parametrize(
    ("told", "key", "reason"),
    [
        ('excursion = "hodl"', "excursion", "no such choice"),
        ('dead_band = "2.5 C"', "dead_band", "leaves nothing between 5 and 10 C"),
        ('dead_band = "-1 C"', "dead_band", ""),
        ('delay = "5 h"', "delay", ""),
    ],
)
def test_a_slip_in_a_store_is_one_fault(plant_t: Folder, told: str, key: str, reason: str) -> None:
    fault = plant_t.edit("stores.toml", HIGH, f"{HIGH}\n{told}").only_fault()
    assert key in fault.key
    assert reason in fault.reason


def test_a_refrigerator_whose_limits_all_lie_below_freezing_is_a_fault(plant_t: Folder) -> None:
    fault = plant_t.edit("stores.toml", 'low = "5 C"\nhigh = "10 C"', 'low = "-2 C"\nhigh = "0 C"').only_fault()
    assert fault.key.endswith("high")


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ('store = "FRIDGE"', 'store = "FRIGDE"', "store"),
        ('"2027-06-30"', '"2027-06-31"', "calibration_due"),
        ('"2027-06-30"', "7", "calibration_due"),
        ('id = "L1"', 'id = "L1"\nmaker = "us"', "maker"),
    ],
)
def test_a_slip_in_an_instrument_is_one_fault(plant_t: Folder, old: str, new: str, key: str) -> None:
    told = LOGGER.replace(old, new)
    fault = plant_t.edit("stores.toml", "[[store]]", f"{told}\n[[store]]").only_fault()
    assert key in fault.key


def test_two_instruments_of_one_name_are_a_fault(plant_t: Folder) -> None:
    fault = plant_t.edit("stores.toml", "[[store]]", f"{LOGGER}\n{LOGGER}\n[[store]]").only_fault()
    assert fault.key.endswith("id")


def test_a_shelf_has_no_time_out_of_the_cold_to_charge(demo: Folder) -> None:
    fault = demo.edit("stores.toml", 'high = "25 C"', 'high = "25 C"\nexcursion = "charge"').only_fault()
    assert "no time out of the cold" in fault.reason
