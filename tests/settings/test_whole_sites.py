"""A site without fault loads whole, with the figures as written."""

from datetime import timedelta
from zoneinfo import ZoneInfo

import argon2
import pytest

from station.care.specification import BestChoice, Near
from station.care.words import Alloy, Limit, Place, Role, Storage
from station.services.site import LabelSetting, Site
from station.settings import load
from tests.settings.folders import DEMO, PLANT_T, Folder

HOURS = timedelta(hours=1)
MINUTES = timedelta(minutes=1)
DAYS = timedelta(days=1)


@pytest.fixture(scope="module")
def demo_site() -> Site:
    return load(DEMO)


@pytest.fixture(scope="module")
def site_t() -> Site:
    return load(PLANT_T)


def test_the_demo_plant_has_two_lead_free_one_leaded_one_bismuth_and_one_never_cold(demo_site: Site) -> None:
    pastes = demo_site.plant.pastes
    assert {name: (paste.alloy, paste.storage) for name, paste in pastes.items()} == {
        "SN-4": (Alloy.SN_AG_CU, Storage.COLD),
        "SN-6": (Alloy.SN_AG_CU, Storage.COLD),
        "PB-1": (Alloy.SN_PB, Storage.COLD),
        "BI-2": (Alloy.SN_BI, Storage.COLD),
        "RT-3": (Alloy.SN_AG_CU, Storage.ROOM),
    }
    assert [specification.paste for specification in demo_site.specifications] == list(pastes)


def test_demo_figures_are_common_practice_without_a_source(demo_site: Site) -> None:
    sn_4 = demo_site.specifications[0]
    assert (sn_4.to_cold, sn_4.open_life, sn_4.stencil_life) == (4 * HOURS, 24 * HOURS, 8 * HOURS)
    assert (sn_4.pause_knead, sn_4.pause_replace) == (30 * MINUTES, 60 * MINUTES)
    assert (sn_4.arrival_warn_above_c, sn_4.arrival_hold_above_c, sn_4.arrival_hold_below_c) == (25, 37.8, 0)
    assert (sn_4.room_life, demo_site.specifications[1].room_life) == (7 * DAYS, 30 * DAYS)
    waits = [sn_4.minimum_for(kind) for kind in ("JAR-500", "JAR-500-BOXED", "CARTRIDGE-600", "SYRINGE-35")]
    assert waits == [4 * HOURS, 10 * HOURS, 4 * HOURS, None]
    assert demo_site.specifications[1].minimum_for("SYRINGE-35") == HOURS


def test_every_demo_limit_is_a_draft_so_that_nobody_works_by_invented_figures(demo_site: Site) -> None:
    assert demo_site.plant.rules.demo
    assert {specification.approved_by for specification in demo_site.specifications} == {None}


def test_paste_kept_at_room_temperature_is_sold_in_its_kinds_and_waits_for_nothing(demo_site: Site) -> None:
    rt_3 = demo_site.specifications[-1]
    assert rt_3.minimum_for("JAR-500") == timedelta(0)
    assert rt_3.minimum_for("SYRINGE-35") is None
    assert rt_3.cold_cycles == 0


def test_shelf_life_comes_from_the_label_or_counts_months(demo_site: Site) -> None:
    months = {found.paste: found.shelf_months for found in demo_site.specifications}
    assert months == {"SN-4": None, "SN-6": None, "PB-1": None, "BI-2": 6, "RT-3": None}


def test_cartridges_and_syringes_are_kept_tip_down_and_jars_are_not(demo_site: Site) -> None:
    assert {kind.id for kind in demo_site.plant.kinds.values() if kind.tip_down} == {"CARTRIDGE-600", "SYRINGE-35"}


def test_a_dual_lane_printer_has_two_positions(demo_site: Site) -> None:
    assert demo_site.place("LINE2").positions == ("2A", "2B")
    assert demo_site.plant.positions["2B"].line == "LINE2"


def test_each_near_prompt_of_the_table_is_its_own_fixed_time(demo_site: Site) -> None:
    specification = demo_site.specifications[0]
    before = {limit: specification.near_for(limit).before_end(365 * DAYS) for limit, _ in specification.near}
    assert before == {
        Limit.TO_COLD: HOURS,
        Limit.SHELF: 14 * DAYS,
        Limit.ROOM: 24 * HOURS,
        Limit.OPEN: 2 * HOURS,
        Limit.STENCIL: 30 * MINUTES,
        Limit.PAUSE: 10 * MINUTES,
    }


def test_one_near_rule_may_hold_for_every_limit(site_t: Site) -> None:
    rule = Near(share=0.2, at_least=30 * MINUTES, at_most=24 * HOURS)
    assert {near for specification in site_t.specifications for _, near in specification.near} == {rule}
    assert rule.before_end(8 * HOURS) == 96 * MINUTES


def test_plant_t_has_the_figures_of_the_whole_day_scripts(site_t: Site) -> None:
    rules, jar, fridge = site_t.plant.rules, site_t.plant.kinds["JAR-500"], site_t.plant.stores["FRIDGE"]
    assert site_t.zone == ZoneInfo("Europe/Berlin")
    assert (jar.time_constant, jar.dead_time, fridge.low_c) == (45 * MINUTES, 10 * MINUTES, 5)
    assert (rules.assumed_room_c, rules.assumed_humidity) == (23, 40)
    assert (rules.best_choice, rules.work_order_required, rules.demo) == (BestChoice.OFF, False, False)
    for specification in site_t.specifications:
        assert specification.minimum_for("JAR-500") == 3 * HOURS
        assert (specification.room_life, specification.open_extension) == (7 * DAYS, 12 * HOURS)
        assert (specification.cold_cycles, specification.approved_by) == (1, "P30")
    assert {product.pastes for product in site_t.plant.products.values()} == {("SN-4",), ("PB-1",)}
    assert set(site_t.plant.positions) == {"1", "2", "2A", "2B", "P1", "P2"}


def test_a_shift_lead_outside_a_demo_has_a_hash_that_checks_the_pin(site_t: Site) -> None:
    lead = next(person for person in site_t.people if Role.LEAD in person.roles)
    assert lead.pin is not None
    assert argon2.PasswordHasher().verify(lead.pin, "2020")


def test_bins_are_told_apart_by_metal_and_one_is_for_held_containers(demo_site: Site) -> None:
    bins = {bin_.id: (bin_.leaded, bin_.hold) for bin_ in demo_site.plant.stores["FRIDGE"].bins}
    assert bins["A1"] == (False, False)
    assert bins["B1"] == (True, False)
    assert bins["H1"] == (False, True)


def test_the_rest_of_the_demo_site(demo_site: Site) -> None:
    assert (demo_site.station, demo_site.home_place, demo_site.home_after) == (
        1,
        "FRIDGE",
        60 * timedelta(seconds=1),
    )
    assert demo_site.label == LabelSetting("60x40", 203)
    assert demo_site.templates == {name: {"built_in": name} for name in ("60x40", "50x25", "40x20")}
    assert [(shift.starts, shift.length, shift.days[0]) for shift in demo_site.shifts] == [
        ("06:00", 8 * HOURS, "MO"),
        ("14:00", 8 * HOURS, "MO"),
        ("22:00", 8 * HOURS, "MO"),
    ]
    assert demo_site.place("FRIDGE").kind is Place.FRIDGE
    assert demo_site.place("FRIDGE").store == "FRIDGE"
    with pytest.raises(KeyError, match="LINE9"):
        demo_site.place("LINE9")


def test_a_frozen_store_and_paste_can_be_set_up(plant_t: Folder) -> None:
    plant_t.edit("stores.toml", 'storage = "cold"', 'storage = "frozen"')
    plant_t.edit("stores.toml", 'low = "5 C"\nhigh = "10 C"', 'low = "-25 °C"\nhigh = "-15 C"')
    for _ in range(2):
        plant_t.edit("pastes.toml", 'storage = "cold"', 'storage = "frozen"')
        plant_t.edit("pastes.toml", 'arrival_hold_below = "0 C"', 'arrival_hold_below = "-60 C" ')
        plant_t.edit("pastes.toml", "mixings = 1\n", 'mixings =  1\nthaw_at_least = "0 h"\nthaw_at_most = "0 h"\n')
    assert plant_t.faults() == ()
    assert load(plant_t.path).plant.stores["FRIDGE"].low_c == -25


def test_a_site_may_draw_a_label_of_its_own(plant_t: Folder) -> None:
    items = 'items = [{ kind = "code", x_mm = 1, y_mm = 1, side_mm = 18 }]'
    own = f"[template.FLAG]\nwidth_mm = 40\nheight_mm = 20\n{items}\n"
    plant_t.edit("labels.toml", "[template", f"{own}[template")
    assert load(plant_t.path).templates["FLAG"]["width_mm"] == 40


def test_labels_go_to_a_folder_until_a_printer_queue_is_named(plant_t: Folder) -> None:
    assert load(plant_t.path).label.queue == ""
    plant_t.edit("site.toml", "dpi = 203", 'dpi = 203\nqueue = "labels-door"\ntaken_back_after = "2 min"')
    label = load(plant_t.path).label
    assert (label.queue, label.taken_back_after) == ("labels-door", timedelta(minutes=2))
    plant_t.edit("site.toml", 'taken_back_after = "2 min"', "")
    assert load(plant_t.path).label.taken_back_after == timedelta(minutes=1)
