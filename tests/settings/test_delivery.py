"""What a site says of deliveries: the usual where it says nothing, and every slip with its key."""

import pytest

from station.care.delivery_rules import Consequence, DeliveryRules
from station.settings import load
from tests.settings.folders import DEMO, Folder

PACKS = 'packs_melted = "warn"'


def test_the_demo_shows_the_table_and_means_the_usual() -> None:
    assert "[delivery]\n" in (DEMO / "site.toml").read_text(encoding="utf-8")
    assert load(DEMO).plant.rules.delivery == DeliveryRules()


def test_a_site_may_say_nothing_of_deliveries(plant_t: Folder) -> None:
    site = plant_t.path / "site.toml"
    before, _, after = site.read_text(encoding="utf-8").partition("[delivery]")
    site.write_text(before + after[after.index("[near]") :], encoding="utf-8")
    assert load(plant_t.path).plant.rules.delivery == DeliveryRules()


def test_a_site_may_be_stricter(plant_t: Folder) -> None:
    rules = load(plant_t.edit("site.toml", PACKS, 'packs_melted = "hold"').path).plant.rules.delivery
    assert rules == DeliveryRules(packs_melted=Consequence.HOLD)


@pytest.mark.parametrize(
    ("written", "key", "reason"),
    [
        ('packs_melted = "wran"', "packs_melted", "no such choice"),
        ("packs_melted = true", "packs_melted", ""),
        ('pack_melted = "warn"', "pack_melted", "no setting has this name"),
        ('indicator = "warn"', "indicator", "always puts on hold"),
    ],
)
def test_a_slip_in_the_table_is_one_fault(plant_t: Folder, written: str, key: str, reason: str) -> None:
    fault = plant_t.edit("site.toml", PACKS, written).only_fault()
    assert key in fault.key
    assert reason in fault.reason


def test_a_paste_may_await_its_test_and_want_some_shelf_life(plant_t: Folder) -> None:
    told = 'storage = "cold"\nincoming_test = true\nleast_shelf_at_receipt = "3 months"'
    pastes = load(plant_t.edit("pastes.toml", 'storage = "cold"', told).path).plant.pastes
    assert (pastes["SN-4"].incoming_test, pastes["SN-4"].least_shelf_months) == (True, 3)
    assert (pastes["PB-1"].incoming_test, pastes["PB-1"].least_shelf_months) == (False, None)


def test_what_paste_costs_may_be_said_with_the_currency_and_need_not(plant_t: Folder) -> None:
    assert (load(plant_t.path).currency, load(plant_t.path).plant.pastes["SN-4"].price_per_kg) == ("", None)
    priced = plant_t.edit("pastes.toml", 'storage = "cold"', 'storage = "cold"\nprice_per_kg = 82')
    site = load(priced.edit("site.toml", "\n[home]", '\ncurrency = "EUR"\n[home]').path)
    assert (site.currency, site.plant.pastes["SN-4"].price_per_kg) == ("EUR", 82)


@pytest.mark.parametrize(
    "told", ['incoming_test = "yes"', 'least_shelf_at_receipt = "0 months"', "least_shelf_at_receipt = 3"]
)
def test_a_slip_in_a_paste_is_one_fault(plant_t: Folder, told: str) -> None:
    fault = plant_t.edit("pastes.toml", 'storage = "cold"', f'storage = "cold"\n{told}').only_fault()
    assert told.partition(" ")[0] in fault.key
