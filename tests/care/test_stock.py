"""The stock list: what is there, what runs short, what ends soon, and where a container is."""

from dataclasses import replace
from datetime import date, timedelta

from station.care.stock import find, grams_of, lying, shortage, stock, where
from station.care.words import Card, Stage
from station.services.site import Site
from tests.care.bench import Bench, site_t, with_room_paste


def wanting(paste: str, minimum: int) -> Site:
    site = site_t()
    pastes = {**site.plant.pastes, paste: replace(site.plant.pastes[paste], minimum_stock=minimum)}
    return replace(site, plant=replace(site.plant, pastes=pastes))


def test_containers_of_one_lot_and_state_are_one_row_with_their_grams() -> None:
    bench = Bench()
    bench.cold()
    bench.cold()
    bench.receive(leaking=True)
    rows = stock(bench.station.floor()).rows
    assert [(row.lot, row.stage, row.count, row.held, row.grams) for row in rows] == [
        ("101", Stage.COLD, 2, 0, 1000),
        ("101", Stage.RECEIVED, 1, 1, 500),
    ]
    assert grams_of(rows) == 1500


def test_what_ends_first_comes_first_with_whole_days_left() -> None:
    bench = Bench()
    bench.cold(lot="202", expires=date(2027, 6, 30))
    bench.cold(lot="303", expires=date(2026, 11, 18))
    rows = stock(bench.station.floor()).rows
    assert [(row.lot, row.days_left) for row in rows] == [("303", 10), ("202", 234)]


def test_a_paste_below_its_minimum_is_named_and_held_or_open_ones_are_no_reserve() -> None:
    bench = Bench(wanting("SN-4", 2))
    bench.cold()
    bench.receive(leaking=True)
    (short,) = stock(bench.station.floor()).short
    assert shortage(short) == "SN-4: 1 usable, at least 2 wanted"
    bench.cold()
    assert stock(bench.station.floor()).short == ()


def test_a_container_in_its_last_thirty_days_is_listed_as_ending_soon() -> None:
    bench = Bench()
    bench.cold(expires=date(2027, 3, 31))
    soon = bench.cold(expires=date(2026, 12, 1))
    assert [one.container.id for one in stock(bench.station.floor()).soon] == [soon]


def test_what_is_past_its_shelf_life_is_listed_and_not_usable() -> None:
    bench = Bench()
    jar = bench.cold(expires=date(2026, 11, 9))
    bench.at("2026-11-10T06:00")
    (one,) = stock(bench.station.floor()).soon
    assert (one.container.id, one.usable) == (jar, False)


def test_paste_without_an_end_comes_last_and_ends_never_soon() -> None:
    bench = Bench(with_room_paste(site_t()))
    jar = bench.receive()
    floor = bench.station.floor()
    undated = replace(bench.container(jar), labelled_end=None)
    floor.ledger.containers[jar] = undated
    found = stock(floor)
    assert (found.rows[-1].first_end, found.rows[-1].days_left, found.soon) == (None, None, ())
    assert lying(floor, undated).left is None


def test_where_a_container_is_follows_it_from_bin_to_line_to_its_end() -> None:
    bench = Bench()
    jar = bench.receive()
    assert where(bench.station.floor(), bench.container(jar)) == "last seen at receiving"
    bench.scan(jar, "FRIDGE")
    assert where(bench.station.floor(), bench.container(jar)) == "Refrigerator, bin A1"
    bench.later(11).scan(jar, "FRIDGE")
    assert where(bench.station.floor(), bench.container(jar)) == "out of Refrigerator"
    unseen = replace(bench.container(jar), last_seen_where="")
    assert where(bench.station.floor(), unseen) == "not seen yet"
    gone = replace(bench.container(jar), store="OLD", bin="X1")
    assert where(bench.station.floor(), gone) == "OLD, bin X1"
    bench.later(181).scan(jar, "LINE1")
    bench.card(Card.LOOKS_GOOD, "LINE1")
    assert where(bench.station.floor(), bench.container(jar)) == "on line 1"
    bench.scan(jar, "LINE1")
    bench.card(Card.EMPTY, "LINE1")
    assert where(bench.station.floor(), bench.container(jar)) == "used up"


def test_a_container_is_found_by_its_number_or_the_end_of_it() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.cold()
    floor = bench.station.floor()
    assert [one.id for one in find(floor, "k7 001")] == [jar]
    assert [one.id for one in find(floor, "001")] == [jar]
    assert len(find(floor, "0")) == 0
    assert find(floor, " ") == ()
    assert timedelta(0) < (lying(floor, bench.container(jar)).left or timedelta(0))
