"""A container recorded in one refrigerator and scanned at the door of another: kept there, taken out, or refused."""

from dataclasses import replace
from datetime import timedelta

import pytest

from station.care import facts as f
from station.care.specification import BestChoice, Store
from station.care.words import Card, HoldReason, Place, Stage, Storage
from station.services.site import PlaceSetting, Site
from tests.care.bench import Bench, berlin, site_f, with_rules
from tests.care.test_stores import two_stores
from tests.care.told import kept

QUARTER = timedelta(minutes=15)


def lain(site: Site | None = None, **told: object) -> tuple[Bench, str]:
    """A jar that has lain in the first refrigerator overnight."""
    bench = Bench(site or two_stores())
    jar = bench.cold(**told)  # type: ignore[arg-type]
    bench.at("2026-11-10T09:00")
    return bench, jar


def test_at_another_door_it_waits_and_asks_which_it_was() -> None:
    bench, jar = lain()
    said = bench.scan(jar, "SECOND")
    assert (said.word, said.code, said.asks) == ("WAIT", "other-store", (Card.MOVED_HERE, Card.TAKEN_OUT))
    assert "recorded in Refrigerator, bin A1" in said.why
    assert bench.container(jar).store == "FRIDGE"


def test_moved_here_gives_a_bin_and_counts_the_way_as_time_out_of_the_cold() -> None:
    bench, jar = lain()
    bench.scan(jar, "SECOND")
    said = bench.card(Card.MOVED_HERE, "SECOND")
    assert (said.word, said.code, said.headline) == ("DONE", "moved-here", "BIN C1")
    assert "15 min count as time out of the cold" in said.why
    found = bench.container(jar)
    assert (found.store, found.bin, found.warm_spent, found.has_been_out) == ("SECOND", "C1", QUARTER, False)
    (moved,) = kept(bench, f.Transferred)
    assert (moved.from_store, moved.out_since, moved.reason) == ("FRIDGE", berlin("2026-11-10T08:45"), "")


def test_the_site_says_how_long_such_a_way_counts() -> None:
    bench, jar = lain(with_rules(two_stores(), transfer_minutes=timedelta(minutes=40)))
    bench.scan(jar, "SECOND")
    bench.card(Card.MOVED_HERE, "SECOND")
    assert bench.container(jar).warm_spent == timedelta(minutes=40)


def test_said_twice_it_is_recorded_once() -> None:
    bench, jar = lain()
    bench.scan(jar, "SECOND")
    bench.card(Card.MOVED_HERE, "SECOND")
    bench.later(0.1)
    assert bench.card(Card.MOVED_HERE, "SECOND").code == "card-alone"
    assert bench.container(jar).warm_spent == QUARTER


def test_a_held_one_goes_to_the_hold_bin_and_stays_on_hold() -> None:
    bench, jar = lain(leaking=True)
    bench.scan(jar, "SECOND")
    said = bench.card(Card.MOVED_HERE, "SECOND")
    assert said.headline == "BIN C9"
    assert "It stays on hold." in said.why


def test_moving_is_no_act_that_undo_takes_back_and_undo_is_not_offered() -> None:
    bench, jar = lain()
    bench.scan(jar, "SECOND")
    bench.card(Card.MOVED_HERE, "SECOND")
    again = bench.later(1).scan(jar, "SECOND")
    assert (again.code, again.asks) == ("already-away", ())
    assert "UNDO" not in again.todo
    assert bench.card(Card.UNDO, "SECOND").code == "nothing-to-undo"
    assert bench.container(jar).store == "SECOND"


def test_after_a_put_away_undo_is_still_offered() -> None:
    bench = Bench(two_stores())
    again = (jar := bench.cold(), bench.later(1))[1].scan(jar, "FRIDGE")
    assert again.asks == (Card.UNDO,)
    assert "scan UNDO" in again.todo


def test_where_no_bin_is_free_nothing_moves() -> None:
    bench = Bench(two_stores(capacity=1))
    bench.scan(bench.receive(), "SECOND")
    jar = bench.cold()
    bench.later(60).scan(jar, "SECOND")
    said = bench.card(Card.MOVED_HERE, "SECOND")
    assert (said.word, said.code) == ("STOP", "store-full")
    assert bench.container(jar).store == "FRIDGE"


def test_seen_outside_before_it_is_not_moved_but_its_take_out_is_offered() -> None:
    bench, jar = lain()
    bench.scan(jar, "LINE1")
    bench.later(90)
    said = bench.scan(jar, "SECOND")
    assert said.asks == (Card.TAKEN_OUT,)
    refused = bench.card(Card.MOVED_HERE, "SECOND")
    assert (refused.word, refused.code) == ("STOP", "moved-warm")
    assert bench.container(jar).store == "FRIDGE"
    bench.later(0.1).scan(jar, "SECOND")
    assert bench.card(Card.TAKEN_OUT, "SECOND").code == "taken-out"
    found = bench.container(jar)
    assert found.out_from == berlin("2026-11-08T12:00")  # since it was last proved cold
    assert HoldReason.SEEN_WARM in {hold.reason for hold in found.holds}


def test_taken_out_warms_from_now_and_lives_from_when_it_may_have_left() -> None:
    bench, jar = lain()
    bench.scan(jar, "SECOND")
    said = bench.card(Card.TAKEN_OUT, "SECOND")
    # plant T: minimum 180 min, room life 168 h
    assert (said.code, said.headline) == ("taken-out", "NOT BEFORE 12:00")
    assert said.note.startswith("It counts as out of Refrigerator since 08:45.")
    found = bench.container(jar)
    assert (found.out_from, found.out_to) == (berlin("2026-11-10T08:45"), berlin("2026-11-10T09:00"))
    assert found.room_end == berlin("2026-11-17T08:45")
    assert (found.print_number, found.store) == (1, None)
    assert bench.card(Card.UNDO, "SECOND").code == "undone"
    assert bench.container(jar).store == "FRIDGE"


def test_put_away_a_moment_ago_it_can_not_have_been_out_longer() -> None:
    bench = Bench(two_stores())
    jar = bench.cold()
    bench.later(5).scan(jar, "SECOND")
    bench.card(Card.TAKEN_OUT, "SECOND")
    assert bench.container(jar).out_from == berlin("2026-11-08T12:00")


def test_paste_on_hold_is_not_taken_out_by_a_card() -> None:
    bench, jar = lain(leaking=True)
    bench.scan(jar, "SECOND")
    said = bench.card(Card.TAKEN_OUT, "SECOND")
    assert (said.word, said.code) == ("STOP", "held")
    assert bench.container(jar).store == "FRIDGE"


def test_in_a_room_where_it_would_never_be_ready_it_is_not_taken_out() -> None:
    bench, jar = lain()
    bench.station.read_room(15, 40, None)
    bench.scan(jar, "SECOND")
    assert bench.card(Card.TAKEN_OUT, "SECOND").code == "room-too-cold"
    assert bench.container(jar).store == "FRIDGE"


@pytest.mark.parametrize("card", [Card.MOVED_HERE, Card.TAKEN_OUT])
@pytest.mark.parametrize("place", ["FRIDGE", "DESK", "LINE1"])
def test_where_it_is_recorded_or_elsewhere_the_cards_only_explain_themselves(card: Card, place: str) -> None:
    bench, jar = lain()
    bench.scan(jar, "DESK")
    said = bench.card(card, place)
    assert (said.word, said.code) == ("WAIT", "card-alone")
    bench.scan(bench.receive(), "DESK")
    assert "not recorded in a store" in bench.card(card, "DESK").why
    assert bench.container(jar).store == "FRIDGE"


@pytest.mark.parametrize("card", [Card.MOVED_HERE, Card.TAKEN_OUT])
def test_a_store_of_another_kind_is_no_place_for_it(card: Card) -> None:
    bench, jar = lain()
    said = bench.scan(jar, "SHELF")
    assert (said.word, said.code, said.asks) == ("STOP", "other-store", ())
    assert bench.card(card, "SHELF").code == "card-alone"
    assert bench.container(jar).store == "FRIDGE"


def test_opened_paste_is_a_leads_to_explain() -> None:
    bench, jar = lain()
    now = bench.clock.wall
    bench.tell(f.Opened(jar, "1", early=False, open_end=now + timedelta(hours=24)))
    assert bench.scan(jar, "SECOND").asks == ()


def with_second_shelf() -> Site:
    site = two_stores()
    shelf = site.plant.stores["SHELF"]
    bins = tuple(replace(bin_, id=f"T{bin_.id}") for bin_ in shelf.bins)
    second = Store("SHELF2", "Second shelf", Storage.ROOM, 18, 28, bins)
    place = PlaceSetting("SHELF2", Place.FRIDGE, "Second shelf", "SHELF2", ())
    plant = replace(site.plant, stores={**site.plant.stores, "SHELF2": second})
    return replace(site, plant=plant, places=(*site.places, place))


def test_from_shelf_to_shelf_no_time_counts_and_nothing_is_taken_out() -> None:
    bench = Bench(with_second_shelf())
    tube = bench.receive("BI-9", "CART-600")
    bench.scan(tube, "SHELF")
    bench.later(60)
    assert bench.scan(tube, "SHELF2").asks == (Card.MOVED_HERE,)
    said = bench.card(Card.MOVED_HERE, "SHELF2")
    assert (said.headline, "count as" in said.why, "tip down" in said.todo) == ("BIN TS1", False, True)
    assert bench.container(tube).store == "SHELF2"


def test_a_take_out_is_reckoned_from_the_colder_of_both_stores() -> None:
    site = two_stores()
    stores = {**site.plant.stores, "FRIDGE": replace(site.plant.stores["FRIDGE"], low_c=2)}
    bench, jar = lain(replace(site, plant=replace(site.plant, stores=stores)))
    bench.scan(jar, "SECOND")
    bench.card(Card.TAKEN_OUT, "SECOND")
    (fact,) = kept(bench, f.TakenOut)
    assert (fact.cold_c, fact.store) == (2, "SECOND")


def test_frozen_paste_moves_between_freezers_and_begins_its_thaw_only_where_it_is_recorded() -> None:
    site = site_f()
    freezer = next(store for store in site.plant.stores.values() if store.storage is Storage.FROZEN)
    bins = tuple(replace(bin_, id=f"Z{bin_.id}") for bin_ in freezer.bins)
    second = replace(freezer, id="FREEZER2", title="Second freezer", bins=bins)
    place = PlaceSetting("FREEZER2", Place.FRIDGE, "Second freezer", "FREEZER2", ())
    plant = replace(site.plant, stores={**site.plant.stores, "FREEZER2": second})
    bench = Bench(replace(site, plant=plant, places=(*site.places, place)))
    paste = next(one.id for one in site.plant.pastes.values() if one.storage is Storage.FROZEN)
    jar = bench.receive(paste, next(iter(site.plant.kinds)), temperature_c=-20)
    bench.release_all(jar)
    bench.scan(jar, freezer.id)
    bench.later(60)
    assert bench.scan(jar, "FREEZER2").asks == (Card.MOVED_HERE,)
    assert bench.card(Card.MOVED_HERE, "FREEZER2").code == "moved-here"
    assert bench.floor.stage(bench.container(jar)) is Stage.COLD
    assert bench.container(jar).store == "FREEZER2"


def test_what_was_seen_outside_is_not_offered_as_the_better_one() -> None:
    bench = Bench(with_rules(two_stores(), best_choice=BestChoice.WARN))
    older = bench.cold(expires=berlin("2027-01-31T12:00").date())
    newer = bench.cold()
    bench.later(11)
    assert bench.scan(newer, "FRIDGE").instead == older
    bench.scan(older, "LINE1")
    bench.later(1)
    assert bench.scan(newer, "FRIDGE").code == "taken-out"
