"""A whole store at once: its containers moved to another, or out since the power went."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from station.care import facts as f
from station.care.specification import Bin, Store
from station.care.stores import StoreRefused, WholeStore, inside, move_all, moving_plan, out_since
from station.care.words import HoldReason, Place, Stage, Storage
from station.services.site import PlaceSetting, Site
from station.services.station import Proof
from station.services.stock import move_store, store_out_since
from tests.care.bench import LEAD, LEAD_PIN, Bench, berlin, site_t, with_room_paste

PROOF = Proof(LEAD, LEAD_PIN)


def two_stores(capacity: int = 5) -> Site:
    """Plant T with a second refrigerator, a freezer and a shelf."""
    site = with_room_paste(site_t())
    bins = (
        Bin("C1", capacity, leaded=False, hold=False),
        Bin("C2", 5, leaded=True, hold=False),
        Bin("C9", 5, leaded=False, hold=True),
    )
    second = Store("SECOND", "Second refrigerator", Storage.COLD, 5, 10, bins)
    stores = {**site.plant.stores, "SECOND": second}
    place = PlaceSetting("SECOND", Place.FRIDGE, "Second refrigerator", "SECOND", ())
    return replace(site, plant=replace(site.plant, stores=stores), places=(*site.places, place))


def told(since: str, to: str = "SECOND", reason: str = "compressor failed", store: str = "FRIDGE") -> WholeStore:
    return WholeStore(store, berlin(since), reason, to)


def test_all_of_a_store_moves_and_the_minutes_count_as_time_out_of_cold() -> None:
    bench = Bench(two_stores())
    bench.at("2026-11-09T06:00")
    jar, leaded, held = bench.cold(), bench.cold("PB-1"), bench.cold(leaking=True)
    bench.at("2026-11-10T09:00")
    outcome = move_store(bench.station, told("2026-11-10T07:30"), PROOF)
    assert outcome.verdict is not None
    assert (outcome.verdict.code, outcome.verdict.headline) == ("all-moved", "3 CONTAINERS TO SECOND REFRIGERATOR")
    found = {name: bench.container(name) for name in (jar, leaded, held)}
    assert [(one.store, one.bin) for one in found.values()] == [("SECOND", "C1"), ("SECOND", "C2"), ("SECOND", "C9")]
    assert {one.warm_spent for one in found.values()} == {timedelta(minutes=90)}
    assert bench.later(11).scan(jar, "SECOND").code == "taken-out"
    # plant T: room life 168 h, of which 90 min are gone
    spent = bench.clock.wall - timedelta(minutes=90) + timedelta(hours=168)
    assert timedelta(0) <= spent - (bench.container(jar).room_end or spent) < timedelta(minutes=1)


def test_what_came_in_after_the_failure_counts_from_its_own_put_away() -> None:
    bench = Bench(two_stores())
    bench.at("2026-11-10T08:00")
    jar = bench.cold()
    bench.at("2026-11-10T09:00")
    move_store(bench.station, told("2026-11-10T02:00"), PROOF)
    assert bench.container(jar).warm_spent == timedelta(hours=1)


def test_where_bins_are_full_nothing_moves_and_those_without_a_bin_are_named() -> None:
    bench = Bench(two_stores(capacity=1))
    bench.cold()
    second = bench.cold()
    assert [fit.bin is None for fit in moving_plan(bench.station.floor(), "FRIDGE", "SECOND")] == [False, True]
    with pytest.raises(StoreRefused, match=f"no free bin for {second.replace('-', ' ')}"):
        move_store(bench.station, told("2026-11-08T12:00"), PROOF)
    assert not any(isinstance(fact.body, f.Transferred) for fact in bench.journal.facts())


def test_bins_that_hold_something_already_take_that_much_less() -> None:
    bench = Bench(two_stores(capacity=1))
    bench.scan(bench.receive(), "SECOND")
    bench.cold()
    (fit,) = moving_plan(bench.station.floor(), "FRIDGE", "SECOND")
    assert fit.bin is None


def test_more_than_six_without_a_bin_are_counted_after_the_first_six() -> None:
    bench = Bench(two_stores(capacity=1))
    for _ in range(9):
        bench.cold()
    with pytest.raises(StoreRefused, match="K7 007 and 2 more"):
        move_store(bench.station, told("2026-11-08T12:00"), PROOF)


def test_after_a_power_cut_all_counts_as_out_life_from_then_and_warming_from_now() -> None:
    bench = Bench(two_stores())
    jar, other = bench.cold(), bench.cold()
    bench.at("2026-11-10T06:00")
    outcome = store_out_since(bench.station, told("2026-11-10T02:00", to=""), PROOF)
    assert outcome.verdict is not None
    assert (outcome.verdict.code, outcome.verdict.headline) == ("all-out", "2 CONTAINERS OUT")
    for name in (jar, other):
        found = bench.container(name)
        assert (found.out_from, found.out_to) == (berlin("2026-11-10T02:00"), berlin("2026-11-10T06:00"))
        assert bench.station.floor().stage(found) is Stage.CONDITIONING
        assert found.store is None


def test_one_seen_outside_was_out_by_then_at_the_latest_and_since_its_put_away_at_the_earliest() -> None:
    bench = Bench(two_stores())
    jar = bench.cold()
    bench.at("2026-11-10T01:00").scan(jar, "LINE1")
    bench.at("2026-11-10T06:00")
    store_out_since(bench.station, told("2026-11-10T02:00", to=""), PROOF)
    found = bench.container(jar)
    assert (found.out_from, found.out_to) == (berlin("2026-11-08T12:00"), berlin("2026-11-10T01:00"))
    assert [hold.reason for hold in found.holds] == [HoldReason.SEEN_WARM]


@pytest.mark.parametrize(
    ("word", "sentence"),
    [
        (told("2026-11-08T12:00", to="FRIDGE"), "Say which other store"),
        (told("2026-11-08T12:00", to="NOWHERE"), "Say which other store"),
        (told("2026-11-08T12:00", to="SHELF"), "Shelf is for room storage"),
        (told("2026-11-09T12:00"), "lies in the future"),
        (told("2026-11-08T12:00", reason=" "), "Say in a few words"),
        (told("2026-11-08T12:00", store="NOWHERE"), "There is no store NOWHERE"),
        (told("2026-11-08T12:00", store="SECOND", to="FRIDGE"), "Nothing is recorded in Second refrigerator"),
    ],
)
def test_what_cannot_be_moved_as_told_says_why(word: WholeStore, sentence: str) -> None:
    bench = Bench(two_stores())
    bench.cold()
    with pytest.raises(StoreRefused, match=sentence):
        move_store(bench.station, word, PROOF)


def test_only_a_shift_lead_says_it_of_a_whole_store() -> None:
    bench = Bench(two_stores())
    bench.cold()
    for act in (move_all, out_since):
        with pytest.raises(StoreRefused, match="Only a shift lead"):
            act(bench.station.floor(), told("2026-11-08T12:00"), None)


def test_what_was_seen_outside_is_not_moved_back_into_the_cold() -> None:
    bench = Bench(two_stores())
    jar = bench.cold()
    bench.later(60).scan(jar, "LINE1")
    with pytest.raises(StoreRefused, match="was seen outside"):
        move_store(bench.station, told("2026-11-08T12:00"), PROOF)


def test_a_shelf_moves_without_counting_and_nothing_is_taken_out_of_it() -> None:
    site = two_stores()
    bins = (Bin("R1", 5, leaded=False, hold=False), Bin("R9", 5, leaded=False, hold=True))
    shelf = Store("OTHER", "Other shelf", Storage.ROOM, 18, 28, bins)
    bench = Bench(replace(site, plant=replace(site.plant, stores={**site.plant.stores, "OTHER": shelf})))
    jar = bench.receive("BI-9")
    bench.scan(jar, "SHELF")
    spent = bench.later(60).container(jar).warm_spent
    with pytest.raises(StoreRefused, match="no cold storage"):
        store_out_since(bench.station, told("2026-11-08T12:00", to="", store="SHELF"), PROOF)
    move_store(bench.station, told("2026-11-08T12:00", to="OTHER", store="SHELF"), PROOF)
    assert (bench.container(jar).store, bench.container(jar).warm_spent) == ("OTHER", spent)
    assert [one.id for one in inside(bench.station.floor(), "OTHER")] == [jar]


def moved(jar: str, now: datetime) -> f.Transferred:
    return f.Transferred(jar, "FRIDGE", "SECOND", "C1", now, timedelta(minutes=5))


def test_a_transfer_told_late_brings_nothing_back_that_was_out() -> None:
    bench = Bench(two_stores())
    jar = bench.ready()
    before = bench.container(jar)
    bench.tell(moved(jar, bench.clock.wall))
    assert (bench.container(jar).store, bench.container(jar).room_end) == (None, before.room_end)


def test_a_transfer_of_one_seen_outside_counts_all_since_it_was_last_proved_cold() -> None:
    bench = Bench(two_stores())
    jar = bench.cold()
    bench.later(60).scan(jar, "LINE1")
    bench.later(60).tell(moved(jar, bench.clock.wall))
    found = bench.container(jar)
    assert (found.store, found.warm_spent) == ("SECOND", timedelta(minutes=120))
    assert found.sighted_warm_at is not None
