"""The fridge door: put away, take out, the better choice, and never back."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from station.care.choice import take_next
from station.care.facts import PutAway, Sighted
from station.care.specification import BestChoice, Bin
from station.care.words import Card
from tests.care.bench import Bench, berlin, site_t, with_limits, with_room_paste, with_rules


def test_leaded_paste_goes_to_its_own_bin_and_held_paste_to_the_hold_bin() -> None:
    bench = Bench()
    assert bench.scan(bench.receive("PB-1"), "FRIDGE").headline == "BIN B1"
    assert bench.scan(bench.receive("SN-4"), "FRIDGE").headline == "BIN A1"
    assert bench.scan(bench.receive("SN-4", leaking=True), "FRIDGE").headline == "BIN H1"


def test_a_full_store_says_so_and_takes_nothing() -> None:
    site = site_t()
    small = replace(site.plant.stores["FRIDGE"], bins=(Bin("A1", 1, leaded=False, hold=False),))
    bench = Bench(replace(site, plant=replace(site.plant, stores={"FRIDGE": small})))
    bench.cold()
    jar = bench.receive()
    verdict = bench.scan(jar, "FRIDGE")
    assert (verdict.word, verdict.code) == ("STOP", "store-full")
    assert verdict.why == "No bin of Refrigerator is free for LEAD-FREE paste."
    assert bench.container(jar).store is None


def test_paste_is_not_put_into_a_store_of_another_class() -> None:
    bench = Bench(with_room_paste(site_t()))
    verdict = bench.scan(bench.receive("BI-9"), "FRIDGE")
    assert verdict.code == "wrong-store"
    assert verdict.why == "BI-9 is kept at room temperature; Refrigerator is for cold storage."


def test_cartridges_are_put_away_and_warmed_tip_down() -> None:
    # common practice, no source: cartridges are stored tip down
    bench = Bench(with_room_paste(site_t()))
    cartridge = bench.receive(kind="CART-600")
    assert "Put it in bin A1 tip down." in bench.scan(cartridge, "FRIDGE").todo
    assert "Stand it tip down" in bench.later(11).scan(cartridge, "FRIDGE").todo


def test_a_jar_is_stirred_by_hand_with_a_plastic_spatula_and_a_cartridge_is_not() -> None:
    # common practice, no source
    bench = Bench(with_room_paste(site_t()))
    jar, cartridge = bench.ready(), bench.ready(kind="CART-600")
    assert "Stir slowly once, with a plastic spatula" in bench.scan(jar, "LINE1").todo
    assert "Does it flow evenly" in bench.scan(cartridge, "LINE2").todo


def test_open_paste_of_the_room_class_is_only_looked_at_by_its_shelf() -> None:
    bench = Bench(with_room_paste(site_t()))
    jar = bench.receive("BI-9")
    bench.scan(jar, "SHELF")
    bench.later(1).scan(jar, "LINE1")
    verdict = bench.later(1).scan(jar, "SHELF")
    assert verdict.code == "look"
    assert "ALREADY AWAY" not in verdict.headline


def test_room_class_paste_is_taken_from_its_shelf_without_warming() -> None:
    bench = Bench(with_room_paste(site_t()))
    jar = bench.receive("BI-9")
    bench.scan(jar, "SHELF")
    verdict = bench.later(11).scan(jar, "SHELF")
    assert (verdict.word, verdict.code, verdict.headline) == ("DONE", "room-shelf", "SHELF S1")
    assert bench.container(jar).earliest_use is None
    bench.scan(jar, "LINE1")
    assert bench.card(Card.LOOKS_GOOD, "LINE1").word == "USE"


def test_a_container_recorded_in_another_store_is_taken_out_there() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.tell(PutAway(jar, "FRIDGE-2", "C1", returning=False))
    verdict = bench.later(11).scan(jar, "FRIDGE")
    assert (verdict.code, verdict.why) == ("other-store", "K7 001 is recorded in FRIDGE-2, bin C1.")


def test_an_older_one_is_named_first_and_a_second_scan_takes_the_newer_all_the_same() -> None:
    bench = Bench(with_rules(site_t(), best_choice=BestChoice.WARN))
    old, new = bench.cold(expires=date(2027, 1, 31)), bench.cold()
    bench.later(11)
    verdict = bench.scan(new, "FRIDGE")
    assert (verdict.word, verdict.headline, verdict.instead) == ("WAIT", "K7 001 FIRST", old)
    assert verdict.why == "K7 001 is in bin A1, 84 d 11 h left."
    assert bench.later(0.1).scan(new, "FRIDGE").code == "taken-out"


def test_where_the_site_blocks_a_second_scan_changes_nothing() -> None:
    bench = Bench(with_rules(site_t(), best_choice=BestChoice.BLOCK))
    bench.cold(expires=date(2027, 1, 31))
    new = bench.cold()
    bench.later(11)
    for _ in range(2):
        verdict = bench.later(0.1).scan(new, "FRIDGE")
        assert (verdict.word, verdict.code) == ("STOP", "better-choice")


def test_what_is_already_warm_comes_before_anything_cold() -> None:
    bench = Bench(with_rules(site_t(), best_choice=BestChoice.WARN))
    jar = bench.on_line()
    cold = bench.cold()
    verdict = bench.later(11).scan(cold, "FRIDGE")
    assert verdict.headline == "K7 001 FIRST"
    assert verdict.why.startswith("K7 001 is open at line 1, 23 h")
    assert verdict.instead == jar


def test_the_newest_may_be_taken_when_it_is_the_only_one() -> None:
    bench = Bench(with_rules(site_t(), best_choice=BestChoice.WARN))
    jar = bench.cold()
    assert bench.later(11).scan(jar, "FRIDGE").code == "taken-out"


def test_the_next_to_take_are_the_first_to_expire_of_each_kind_of_paste() -> None:
    bench = Bench()
    late, soon, leaded = bench.cold(), bench.cold(expires=date(2027, 1, 31)), bench.cold("PB-1")
    bench.cold(expires=date(2027, 1, 1), leaking=True)
    assert [found.id for found in take_next(bench.floor, "FRIDGE", 5)] == [soon, leaded]
    assert [found.id for found in take_next(bench.floor, "FRIDGE", 1)] == [soon]
    assert late not in [found.id for found in take_next(bench.floor, "FRIDGE", 5)]


def test_common_practice_once_out_never_back_in() -> None:
    # common practice, no source
    bench = Bench()
    jar = bench.ready()
    verdict = bench.scan(jar, "FRIDGE")
    assert (verdict.word, verdict.code) == ("STOP", "never-back")
    assert bench.container(jar).store is None


def test_a_specification_with_a_second_cycle_lets_a_closed_one_back_and_counts_the_time_out() -> None:
    bench = Bench(with_limits(site_t(), "SN-4", cold_cycles=2, return_within=timedelta(hours=4)))
    jar = bench.ready()
    verdict = bench.later(60).scan(jar, "FRIDGE")
    assert (verdict.word, verdict.headline) == ("DONE", "BIN A1")
    assert "Time out of cold so far 4 h." in verdict.why
    assert bench.container(jar).warm_spent.total_seconds() == 4 * 3600
    start = bench.clock.wall
    bench.later(24 * 60).scan(jar, "FRIDGE")
    room_end = bench.container(jar).room_end
    assert room_end is not None
    assert (room_end - start).total_seconds() == (8 * 24 - 4) * 3600
    assert bench.later(10).scan(jar, "FRIDGE").code == "never-back"


def test_an_open_one_never_goes_back_whatever_its_cycles() -> None:
    bench = Bench(with_limits(site_t(), "SN-4", cold_cycles=9))
    assert bench.scan(bench.on_line(), "FRIDGE").code == "never-back"


def test_an_expired_one_is_not_taken_out() -> None:
    bench = Bench()
    jar = bench.cold(expires=date(2026, 11, 9))
    verdict = bench.at("2026-11-10T00:00").scan(jar, "FRIDGE")
    assert (verdict.word, verdict.code) == ("STOP", "shelf-life")
    assert "Mon 9 Nov 23:59" in verdict.why


def test_a_container_seen_warm_counts_its_room_life_from_the_last_proof_of_cold() -> None:
    bench = Bench(start="2026-11-08T12:00")
    jar = bench.cold()
    bench.at("2026-11-09T06:00").scan(jar, "LINE1")
    bench.at("2026-11-09T08:00").scan(jar, "FRIDGE")
    container = bench.container(jar)
    assert container.earliest_use == berlin("2026-11-09T11:00")
    assert container.room_end == berlin("2026-11-15T12:00")
    assert container.held


def test_a_second_sighting_does_not_make_the_first_younger() -> None:
    bench = Bench()
    jar = bench.cold()
    first, _ = bench.tell(Sighted(jar, "1", warm=True), Sighted(jar, "1", warm=True))
    bench.later(30)
    bench.tell(Sighted(jar, "2", warm=True))
    assert bench.container(jar).sighted_warm_at == first.at


def test_just_put_away_is_no_take_out() -> None:
    bench = Bench()
    jar = bench.cold()
    assert bench.later(10).scan(jar, "FRIDGE").code == "already-away"
    assert bench.later(0.1).scan(jar, "FRIDGE").code == "taken-out"


@pytest.mark.parametrize("place", ["FRIDGE", "LINE1"])
def test_nothing_is_left_to_do_with_what_has_ended(place: str) -> None:
    bench = Bench()
    jar = bench.ready()
    bench.scan(jar, "DESK")
    bench.card(Card.DISCARD, "DESK")
    verdict = bench.scan(jar, place)
    assert (verdict.word, verdict.code) == ("STOP", "ended")
