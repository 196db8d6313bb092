"""The warming time on paper is enough wherever the specification lets people print."""

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.care.by_hand import coldest_c, warming_by_hand
from station.care.specification import Band, Conditioning, Thaw
from station.care.takeout import wait_for
from station.care.words import Storage
from station.services.site import Site
from tests.care.bench import Bench, site_t, with_limits, with_room_paste

MINUTE = timedelta(minutes=1)
IN_ANY = Bench(with_limits(site_t(), "SN-4", printing_room_c=Band(19.5, 27.5), printing_humidity=Band(30, 70)))
ON_PAPER = warming_by_hand(IN_ANY.floor, "SN-4", "JAR-500")


@settings(max_examples=150, deadline=None)
@given(st.floats(19.5, 27.5), st.floats(30, 70))
def test_in_no_room_of_the_range_would_the_station_have_asked_for_more(room_c: float, humidity: float) -> None:
    IN_ANY.station.read_room(room_c, humidity, None)
    wait = wait_for(IN_ANY.floor, "SN-4", "JAR-500", coldest_c(IN_ANY.floor, "SN-4"))
    assert wait is not None
    assert ON_PAPER is not None
    assert wait.longest <= ON_PAPER


def test_it_is_never_under_the_suppliers_minimum_and_in_whole_five_minutes() -> None:
    floor = Bench().floor
    found = warming_by_hand(floor, "SN-4", "JAR-500")
    assert found is not None
    assert found >= (floor.specification("SN-4").minimum_for("JAR-500") or timedelta(0))
    assert found % (5 * MINUTE) == timedelta(0)


def test_the_room_as_it_is_counts_too() -> None:
    bench = Bench(with_limits(site_t(), "SN-4", conditioning=(Conditioning("JAR-500", timedelta(0)),)))
    before = warming_by_hand(bench.floor, "SN-4", "JAR-500")
    bench.station.read_room(19.01, 50, None)
    after = warming_by_hand(bench.floor, "SN-4", "JAR-500")
    assert before is not None
    assert after is not None
    assert after > before


def test_where_the_whole_range_forbids_use_there_is_no_time_to_print() -> None:
    bench = Bench(with_limits(site_t(), "SN-4", printing_room_c=Band(10, 12)))
    bench.station.read_room(11, 50, None)
    assert warming_by_hand(bench.floor, "SN-4", "JAR-500") is None


def test_paste_kept_at_room_temperature_need_not_warm() -> None:
    assert warming_by_hand(Bench(with_room_paste(site_t())).floor, "BI-9", "JAR-500") is None


@pytest.mark.parametrize(
    ("storage", "thaw", "coldest"),
    [
        (Storage.COLD, None, 5),
        (Storage.FROZEN, None, -22),
        (Storage.FROZEN, Thaw(timedelta(hours=12), timedelta(hours=48)), 5),
    ],
)
def test_it_warms_from_the_coldest_place_it_may_come_out_of(
    storage: Storage, thaw: Thaw | None, coldest: float
) -> None:
    site = _stored(with_limits(site_t(), "SN-4", thaw=thaw), storage)
    assert coldest_c(Bench(site).floor, "SN-4") == coldest


def test_without_such_a_store_it_counts_from_freezing() -> None:
    site = _stored(site_t(), Storage.FROZEN)
    stores = {name: store for name, store in site.plant.stores.items() if store.storage is not Storage.FROZEN}
    assert coldest_c(Bench(replace(site, plant=replace(site.plant, stores=stores))).floor, "SN-4") == 0


def _stored(site: Site, storage: Storage) -> Site:
    fridge = next(store for store in site.plant.stores.values() if store.storage is Storage.COLD)
    freezer = replace(fridge, id="FREEZER", storage=Storage.FROZEN, low_c=-22, high_c=-15)
    stores = {**site.plant.stores, fridge.id: replace(fridge, low_c=5), "FREEZER": freezer}
    pastes = {**site.plant.pastes, "SN-4": replace(site.plant.pastes["SN-4"], storage=storage)}
    return replace(site, plant=replace(site.plant, stores=stores, pastes=pastes))
