"""What a site says of its stock: how long a carried way counts, and how much of each paste it wants to have."""

from datetime import timedelta

import pytest

from station.settings import load
from tests.settings.folders import DEMO, Folder

WAY = 'transfer_minutes = "15 min"'


def test_the_demo_shows_both() -> None:
    plant = load(DEMO).plant
    assert WAY in (DEMO / "site.toml").read_text(encoding="utf-8")
    assert plant.rules.transfer_minutes == timedelta(minutes=15)
    assert {paste.id: paste.minimum_stock for paste in plant.pastes.values() if paste.minimum_stock} == {
        "SN-4": 4,
        "PB-1": 2,
    }


def test_a_site_that_says_nothing_of_the_way_means_a_quarter_of_an_hour(plant_t: Folder) -> None:
    path = plant_t.edit("site.toml", WAY, "").path
    assert load(path).plant.rules.transfer_minutes == timedelta(minutes=15)


def test_a_site_may_count_more(plant_t: Folder) -> None:
    path = plant_t.edit("site.toml", WAY, 'transfer_minutes = "40 min"').path
    assert load(path).plant.rules.transfer_minutes == timedelta(minutes=40)


@pytest.mark.parametrize("written", ['transfer_minutes = "0 min"', 'transfer_minutes = "3 h"', "transfer_minutes = 15"])
def test_a_way_that_takes_no_time_or_no_unit_is_one_fault(plant_t: Folder, written: str) -> None:
    assert "transfer_minutes" in plant_t.edit("site.toml", WAY, written).only_fault().key


WITHIN = 'move_within = "60 min"'


@pytest.mark.parametrize(("written", "minutes"), [("", 60), ('move_within = "25 min"', 25)])
def test_a_site_may_say_how_long_a_move_may_take_and_else_it_is_an_hour(
    plant_t: Folder, written: str, minutes: int
) -> None:
    path = plant_t.edit("site.toml", WITHIN, written).path
    assert load(path).plant.rules.move_within == timedelta(minutes=minutes)


@pytest.mark.parametrize("written", ['move_within = "4 min"', 'move_within = "5 h"', "move_within = 60"])
def test_a_move_that_nobody_can_make_or_that_takes_half_a_day_is_one_fault(plant_t: Folder, written: str) -> None:
    assert "move_within" in plant_t.edit("site.toml", WITHIN, written).only_fault().key


@pytest.mark.parametrize("written", ["-1", '"4"', "2.5"])
def test_a_minimum_stock_is_a_whole_number_of_containers(plant_t: Folder, written: str) -> None:
    folder = plant_t.edit("pastes.toml", 'storage = "cold"', f'storage = "cold"\nminimum_stock = {written}')
    assert "minimum_stock" in folder.only_fault().key
