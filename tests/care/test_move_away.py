"""MOVE: paste on its way between two refrigerators has a clock of its own, and is never used from the trolley."""

from dataclasses import replace
from datetime import timedelta

import pytest

from station.care import facts as f
from station.care.choice import better_take_out, take_next
from station.care.closing_list import closing_list
from station.care.cold_readings_stays import stays
from station.care.counting_differences import differences
from station.care.late import Late, LateRefused, taken_out_late
from station.care.move_away import has_others
from station.care.stock import where
from station.care.words import Card, CountEnd, Finding, HoldReason, Limit, Place, Stage, Storage
from station.services.counting import begin_count, end_count
from station.services.site import PlaceSetting, Site
from tests.care.bench import LEAD, LEAD_PIN, Bench, berlin, site_f, with_limits, with_rules
from tests.care.fleet import Fleet
from tests.care.test_stores import two_stores
from tests.care.told import kept

HOUR = timedelta(hours=1)


def minutes(count: float) -> timedelta:
    return timedelta(minutes=count)


def lain(site: Site | None = None, **told: object) -> tuple[Bench, str]:
    """A jar that has lain in the first refrigerator overnight; it is Tuesday, 09:00."""
    bench = Bench(site or two_stores())
    jar = bench.cold(**told)  # type: ignore[arg-type]
    bench.at("2026-11-10T09:00")
    return bench, jar


def away(bench: Bench, jar: str, place: str = "FRIDGE") -> str:
    """MOVE, then the jar, at this door."""
    bench.card(Card.MOVE, place)
    bench.later(0.1)
    return bench.scan(jar, place).code


# ------------------------------------------------------------------ the way


def test_move_and_then_the_containers_one_scan_each_and_no_label_prints() -> None:
    bench, first = lain()
    second = bench.cold()
    bench.later(30)
    asked = bench.card(Card.MOVE, "FRIDGE")
    assert (asked.word, asked.code) == ("WAIT", "move-next")
    said = bench.later(0.1).scan(first, "FRIDGE")
    # common practice, no source: 60 min
    assert (said.word, said.code, said.headline) == ("DONE", "move-begun", "PUT AWAY BY 10:30")
    assert "Put it in Second refrigerator and scan it at that door." in said.todo
    assert bench.later(0.15).scan(second, "FRIDGE").code == "move-begun"  # 9 s later
    assert kept(bench, f.TakenOut) == []
    assert [told.print_number for told in kept(bench, f.LabelAsked) if told.print_number] == []
    found = bench.container(first)
    assert (found.store, found.bin, found.on_its_way) == (None, None, True)
    assert bench.floor.stage(found) is Stage.COLD
    assert where(bench.floor, found) == "on its way from Refrigerator"


def test_nothing_stays_ready_to_move_for_over_ten_seconds() -> None:
    bench, jar = lain()
    bench.card(Card.MOVE, "FRIDGE")
    bench.later(11 / 60)
    assert bench.scan(jar, "FRIDGE").code == "taken-out"


def test_put_away_at_the_other_door_its_minutes_are_time_out_of_the_cold() -> None:
    bench, jar = lain()
    away(bench, jar)
    said = bench.later(22.5).scan(jar, "SECOND")
    assert (said.word, said.code, said.headline) == ("DONE", "put-away", "BIN C1")
    assert "Time out of cold so far 23 min." in said.why
    found = bench.container(jar)
    assert (found.store, found.on_its_way, found.warm_spent) == ("SECOND", False, minutes(23))
    bench.later(11).scan(jar, "SECOND")
    # plant T: room life 168 h, of which 23 min are gone
    spent = bench.clock.wall + timedelta(hours=168) - minutes(23)
    assert timedelta(0) <= spent - (bench.container(jar).room_end or spent) < minutes(1)


def test_put_back_where_it_came_from_ends_the_way_too() -> None:
    bench, jar = lain()
    away(bench, jar)
    assert bench.later(10).scan(jar, "FRIDGE").headline == "BIN A1"
    assert bench.container(jar).warm_spent == minutes(10)


def test_after_a_scan_that_took_it_out_move_takes_that_back_and_counts_from_it() -> None:
    bench, jar = lain()
    assert bench.scan(jar, "FRIDGE").code == "taken-out"
    said = bench.later(0.1).card(Card.MOVE, "FRIDGE")
    assert (said.code, said.headline) == ("move-begun", "PUT AWAY BY 10:00")
    assert said.todo.startswith("Tear its new label off.")
    found = bench.container(jar)
    assert (found.has_been_out, found.room_end, found.move_by) == (False, None, berlin("2026-11-10T10:00"))
    assert bench.later(5.9).scan(jar, "SECOND").code == "put-away"
    assert minutes(6) <= bench.container(jar).warm_spent <= minutes(7)


def test_a_take_out_of_an_hour_ago_is_no_way_to_another_store() -> None:
    bench, jar = lain()
    bench.scan(jar, "FRIDGE")
    bench.later(60).scan(jar, "DESK")
    said = bench.card(Card.MOVE, "DESK")
    assert (said.word, said.code) == ("WAIT", "move-not")
    assert "not recorded in a store" in said.why
    assert bench.container(jar).has_been_out


def test_a_take_out_at_another_door_is_not_taken_back_by_move_here() -> None:
    bench, jar = lain()
    bench.scan(jar, "FRIDGE")
    bench.later(1).scan(jar, "SECOND")
    assert bench.card(Card.MOVE, "SECOND").code == "move-not"
    assert bench.container(jar).has_been_out


def test_at_the_desk_a_person_says_it_of_what_lies_in_any_store() -> None:
    bench, jar = lain()
    bench.scan(jar, "DESK")
    assert bench.card(Card.MOVE, "DESK").code == "move-begun"
    assert bench.container(jar).move_store == "FRIDGE"


@pytest.mark.parametrize("place", ["LINE1", "BENCH"])
def test_elsewhere_the_card_only_explains_itself(place: str) -> None:
    bench, jar = lain()
    assert bench.card(Card.MOVE, place).code == "card-alone"
    bench.scan(jar, "DESK")
    bench.later(0.1).scan(jar, place)
    assert bench.card(Card.MOVE, place).code == "move-not"
    assert bench.container(jar).store == "FRIDGE"


def test_at_the_other_door_it_is_said_of_what_lies_there_only() -> None:
    bench, jar = lain()
    assert away(bench, jar, "SECOND") == "move-not"
    assert bench.container(jar).store == "FRIDGE"


def test_one_just_received_is_put_away_and_then_may_go() -> None:
    bench, jar = Bench(two_stores()), ""
    jar = bench.receive()
    assert away(bench, jar) == "move-not"
    bench.later(1).scan(jar, "FRIDGE")
    assert bench.card(Card.MOVE, "FRIDGE").code == "move-begun"


def test_an_ended_one_is_told_so_after_move_as_ever() -> None:
    bench, jar = lain()
    bench.scan(jar, "DESK")
    bench.card(Card.DISCARD, "DESK")
    assert away(bench, jar) == "ended"


def test_said_twice_it_is_recorded_once() -> None:
    bench, jar = lain()
    away(bench, jar)
    said = bench.later(0.1).scan(jar, "FRIDGE")
    assert (said.word, said.code) == ("DONE", "move-already")
    assert bench.later(0.1).card(Card.MOVE, "FRIDGE").code == "move-already"
    assert len(kept(bench, f.MoveBegun)) == 1


def test_said_again_once_it_is_late_it_is_stop_as_its_hold_and_its_alarm_are() -> None:
    bench, jar = lain()
    away(bench, jar)
    bench.later(60.1)
    bench.scan(jar, "DESK")
    said = bench.card(Card.MOVE, "DESK")
    assert (said.word, said.code, said.headline) == ("STOP", "moved-long", "TOO LONG ON ITS WAY")
    assert "had to be put away by 10:00." in said.why
    assert said.todo == "Put it away now, then call the shift lead."
    assert len(kept(bench, f.MoveBegun)) == 1
    at_the_line = bench.later(0.1).scan(jar, "LINE1")
    assert (at_the_line.word, "too long on its way between stores" in at_the_line.why) == ("STOP", True)


def test_a_held_one_may_go_and_stays_on_hold() -> None:
    bench, jar = lain(leaking=True)
    bench.scan(jar, "FRIDGE")
    said = bench.card(Card.MOVE, "FRIDGE")
    assert (said.code, said.note) == ("move-begun", "It stays on hold.")
    assert bench.later(10).scan(jar, "SECOND").headline == "BIN C9"


def test_no_store_but_one_of_its_own_kind_takes_it() -> None:
    bench, jar = lain()
    away(bench, jar)
    said = bench.later(5).scan(jar, "SHELF")
    assert (said.word, said.code) == ("STOP", "wrong-store")
    assert bench.container(jar).on_its_way


def test_a_full_store_leaves_it_on_its_way() -> None:
    bench = Bench(two_stores(capacity=1))
    bench.scan(bench.receive(), "SECOND")
    jar = bench.cold()
    bench.later(60)
    away(bench, jar)
    assert bench.later(5).scan(jar, "SECOND").code == "store-full"
    assert bench.container(jar).on_its_way


def test_with_no_other_store_of_its_kind_it_stays() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(60)
    assert away(bench, jar) == "move-not"
    assert bench.container(jar).store == "FRIDGE"


def test_taken_out_by_the_scan_before_it_and_with_no_other_store_it_does_not_stay_and_undo_is_offered() -> None:
    """Left in the cold it would be called ready by the record while it is cold."""
    bench = Bench()
    jar = bench.cold()
    bench.later(60)
    assert bench.scan(jar, "FRIDGE").code == "taken-out"
    said = bench.later(0.1).card(Card.MOVE, "FRIDGE")
    assert (said.word, said.code, said.asks) == ("WAIT", "move-not", (Card.UNDO,))
    assert said.why == "There is no other store like Refrigerator here, and the take-out stands."
    assert said.todo == "Put it back, tear its new label off and scan UNDO; or leave it out to warm."
    assert bench.container(jar).has_been_out
    assert bench.later(0.1).card(Card.UNDO, "FRIDGE").code == "undone"
    found = bench.container(jar)
    assert (found.store, found.has_been_out, found.room_end) == ("FRIDGE", False, None)


def test_with_one_freezer_a_thaw_just_begun_goes_on_unless_it_is_undone() -> None:
    bench = Bench(site_f())
    jar = bench.receive("FZ-7", temperature_c=-18)
    bench.scan(jar, "FREEZER")
    bench.later(60)
    assert bench.scan(jar, "FREEZER").code == "thaw-begun"
    said = bench.later(0.1).card(Card.MOVE, "FREEZER")
    assert (said.code, said.asks) == ("move-not", (Card.UNDO,))
    assert said.todo == "Put it back and scan UNDO; or let it thaw."
    assert bench.container(jar).thaw_key is not None


def test_a_touch_for_it_is_offered_only_where_another_store_of_the_kind_is() -> None:
    floor = Bench(two_stores()).floor
    assert [name for name in ("FRIDGE", "SECOND", "SHELF", "NONE", None) if has_others(floor, name)] == [
        "FRIDGE",
        "SECOND",
    ]
    assert not has_others(Bench().floor, "FRIDGE")


def test_from_shelf_to_shelf_no_clock_is_needed() -> None:
    bench = Bench(two_stores())
    tube = bench.receive("BI-9", "CART-600")
    bench.scan(tube, "SHELF")
    bench.later(60).scan(tube, "SHELF")
    said = bench.card(Card.MOVE, "SHELF")
    assert (said.code, "no clock runs" in said.why) == ("move-not", True)


def test_seen_outside_before_it_is_a_leads_to_explain() -> None:
    bench, jar = lain()
    bench.scan(jar, "LINE1")
    bench.later(30)
    assert away(bench, jar) == "moved-warm"
    assert bench.container(jar).store == "FRIDGE"


# ------------------------------------------------------------------ never used from the trolley


def test_at_the_printer_it_is_stop_and_its_whole_way_counts() -> None:
    bench, jar = lain()
    away(bench, jar)
    said = bench.later(10).scan(jar, "LINE1")
    assert (said.word, said.code, said.headline) == ("STOP", "not-taken-out", "ON ITS WAY BETWEEN STORES")
    assert "left Refrigerator 09:00 for another store, where it must be by 10:00" in said.why
    bench.later(20).scan(jar, "SECOND")
    found = bench.container(jar)
    assert (found.sighted_warm_at, found.warm_spent) == (None, minutes(30))


def test_looks_good_said_of_it_opens_it_too_early_for_nobody() -> None:
    bench, jar = lain()
    away(bench, jar)
    bench.later(10).scan(jar, "LINE1")
    assert bench.card(Card.LOOKS_GOOD, "LINE1").word != "USE"
    assert bench.container(jar).opened_at is None


def test_the_other_cards_of_a_door_say_to_put_it_away_first() -> None:
    bench, jar = lain()
    away(bench, jar)
    bench.later(1).scan(jar, "DESK")
    said = bench.card(Card.TAKEN_OUT, "DESK")
    assert (said.code, "on its way from Refrigerator: put it away first" in said.why) == ("card-alone", True)


def test_nobody_is_sent_to_take_it() -> None:
    bench, sooner = lain(expires=berlin("2027-01-31T12:00").date())
    later_one = bench.cold()
    bench.later(11)
    assert better_take_out(bench.floor, bench.container(later_one)) == bench.container(sooner)
    away(bench, sooner)
    assert better_take_out(bench.floor, bench.container(later_one)) is None
    assert [one.id for one in take_next(bench.floor, "FRIDGE", 9)] == [later_one]


# ------------------------------------------------------------------ too long on its way


def test_on_its_minute_it_is_in_time_and_one_second_later_on_hold_with_an_alarm() -> None:
    bench, jar = lain()
    away(bench, jar)
    bench.at("2026-11-10T10:00")
    assert bench.alarms() == []
    bench.later(1 / 60)
    (name,) = bench.alarms()
    alarm = bench.station.ledger.alarms[name]
    assert (alarm.limit, alarm.since, alarm.subject) == (Limit.MOVE, berlin("2026-11-10T10:00"), jar)
    assert [hold.reason for hold in bench.container(jar).holds] == [HoldReason.LATE_TO_COLD]
    assert bench.container(jar).last_seen_at == berlin("2026-11-10T09:00") + minutes(0.1)  # nobody saw it since
    said = bench.later(10).scan(jar, "SECOND")
    assert (said.code, said.headline) == ("put-away", "BIN C9")
    bench.later(600)
    assert bench.container(jar).last_seen_at == berlin("2026-11-10T10:10") + minutes(1 / 60)
    assert bench.alarms() == [name]  # latched, and raised once
    assert [hold.reason for hold in bench.container(jar).holds] == [HoldReason.LATE_TO_COLD]


def test_released_while_it_is_still_on_its_way_it_is_stop_for_being_late() -> None:
    bench, jar = lain()
    away(bench, jar)
    bench.later(90)
    bench.release_all(jar)
    said = bench.scan(jar, "LINE1")
    assert (said.word, said.code) == ("STOP", "moved-long")
    assert "had to be put away by" in said.why


def test_it_may_take_no_longer_than_the_paste_may_take_to_the_cold() -> None:
    bench, jar = lain(with_limits(two_stores(), "SN-4", to_cold=minutes(40)))
    bench.card(Card.MOVE, "FRIDGE")
    assert bench.later(0.1).scan(jar, "FRIDGE").headline == "PUT AWAY BY 09:40"


def test_nor_longer_than_is_left_of_its_room_life() -> None:
    bench, jar = lain(with_limits(two_stores(), "SN-4", room_life=minutes(30)))
    away(bench, jar)
    bench.later(20).scan(jar, "SECOND")
    bench.later(30)
    away(bench, jar, "SECOND")
    (_, second) = kept(bench, f.MoveBegun)
    assert second.allowed == minutes(10)  # 30 min less 20


def test_the_site_says_how_long_a_way_may_take() -> None:
    bench, jar = lain(with_rules(two_stores(), move_within=minutes(20)))
    bench.card(Card.MOVE, "FRIDGE")
    assert bench.later(0.1).scan(jar, "FRIDGE").headline == "PUT AWAY BY 09:20"


def test_a_tighter_version_of_the_specification_shortens_a_way_that_goes_on() -> None:
    bench, jar = lain()
    away(bench, jar)
    tighter = replace(bench.limits(), version=2, to_cold=minutes(30))
    bench.tell_own(f.SpecificationSet(tighter, "a shorter way"))
    assert bench.container(jar).move_by == berlin("2026-11-10T09:30")


def test_it_stands_in_the_closing_list_with_its_time() -> None:
    bench, jar = lain()
    away(bench, jar)
    (passing,) = closing_list(bench.floor, berlin("2026-11-10T18:00")).containers
    assert (passing.limit, passing.at) == (Limit.MOVE, berlin("2026-11-10T10:00"))
    assert passing.todo == "Put it away in a store. On its way from Refrigerator."


def test_a_lead_enters_that_it_was_taken_out_since_its_way_began() -> None:
    bench, jar = lain()
    away(bench, jar)
    bench.later(30)
    now = bench.clock.wall
    decision = taken_out_late(bench.floor, Late(jar, now - minutes(10), now, "seen on the bench"), LEAD)
    (fact,) = (body for body in decision.bodies if isinstance(body, f.TakenOut))
    assert (fact.thaw_from, fact.store, fact.cold_c) == (berlin("2026-11-10T09:00"), "FRIDGE", 5)
    with pytest.raises(LateRefused, match="was put away"):
        taken_out_late(bench.floor, Late(jar, now - 99 * HOUR, now, "seen"), LEAD)


# ------------------------------------------------------------------ undo, restart, count, readings


def test_undo_puts_it_back_into_its_bin_and_its_minutes_outside_count() -> None:
    bench, jar = lain()
    away(bench, jar)
    said = bench.later(0.1).card(Card.UNDO, "FRIDGE")
    assert (said.code, said.todo) == ("undone", "Put it back into its bin now.")
    found = bench.container(jar)
    assert (found.store, found.bin, found.on_its_way, found.warm_spent) == ("FRIDGE", "A1", False, minutes(0.1))
    assert bench.later(200).alarms() == []


def test_after_five_minutes_undo_is_too_late_and_not_offered() -> None:
    bench, jar = lain()
    away(bench, jar)
    bench.later(6).scan(jar, "DESK")
    assert bench.card(Card.UNDO, "DESK").code == "undo-too-late"
    bench.later(0.1).scan(jar, "DESK")
    assert bench.card(Card.MOVE, "DESK").asks == ()


def test_undo_of_the_put_away_lets_the_way_go_on() -> None:
    bench, jar = lain()
    away(bench, jar)
    bench.later(10).scan(jar, "SECOND")
    said = bench.card(Card.UNDO, "SECOND")
    assert said.todo == "It is on its way again: put it away in time."
    assert bench.container(jar).move_from == berlin("2026-11-10T09:00") + minutes(0.1)
    assert bench.later(51).alarms() != []


def test_a_restart_gives_the_same_and_what_passed_while_off_has_its_true_time() -> None:
    bench, jar = lain()
    away(bench, jar)
    before = bench.container(jar)
    assert bench.restart().container(jar) == before
    bench.clock.go_on(minutes(180))
    bench.restart()
    bench.station.tick()
    (name,) = bench.alarms()
    assert bench.station.ledger.alarms[name].since == berlin("2026-11-10T10:00")


def test_a_count_does_not_put_it_away_and_names_the_difference_until_it_is() -> None:
    bench, jar = lain()
    away(bench, jar)
    begin_count(bench.station, "SECOND")
    said = bench.later(1).scan(jar, "SECOND")
    assert (said.word, said.headline) == ("STOP", "ON ITS WAY, NOT PUT AWAY")
    (begun,) = bench.station.ledger.counts
    end_count(bench.station, begun, CountEnd.WHOLE)
    (count,) = bench.station.ledger.counts.values()
    assert [found.finding for found in differences(bench.floor, count)] == [Finding.ON_ITS_WAY]
    assert bench.container(jar).on_its_way
    bench.later(1).scan(jar, "SECOND")
    assert differences(bench.floor, count) == ()


def test_it_lay_in_no_store_on_its_way() -> None:
    bench, jar = lain()
    away(bench, jar)
    left = bench.clock.wall
    bench.later(30).scan(jar, "SECOND")
    first, second = stays(bench.station.ledger, jar)
    assert (first.store, first.until, second.store, second.begins) == ("FRIDGE", left, "SECOND", bench.clock.wall)


# ------------------------------------------------------------------ clocks


def test_a_clock_that_ran_ahead_and_was_set_back_makes_the_way_no_shorter() -> None:
    bench, jar = lain()
    bench.step(120)
    away(bench, jar)
    bench.step(-120)
    bench.later(20).scan(jar, "SECOND")
    assert bench.container(jar).warm_spent >= minutes(20)


def test_once_the_time_is_confirmed_a_way_still_going_on_counts_from_the_right_one() -> None:
    bench, jar = lain()
    bench.step(120)
    away(bench, jar)
    bench.step(-120)
    bench.station.confirm_clock(LEAD, LEAD_PIN)
    found = bench.container(jar)
    assert (found.move_from, found.move_by) == (berlin("2026-11-10T09:00") + minutes(0.1), berlin("2026-11-10T10:00"))
    bench.at("2026-11-10T10:00")
    bench.later(0.1)
    assert HoldReason.LATE_TO_COLD in {hold.reason for hold in bench.container(jar).holds}


def test_a_way_that_two_clocks_made_too_short_gets_longer_once_the_time_is_confirmed() -> None:
    bench, jar = lain()
    bench.at("2026-11-10T11:00")
    away(bench, jar)
    bench.step(-30)  # the clock that dated the beginning was right, the one that dates the end is 30 min slow
    bench.later(40).scan(jar, "SECOND")
    bench.station.confirm_clock(LEAD, LEAD_PIN)
    assert bench.container(jar).warm_spent >= minutes(40)


# ------------------------------------------------------------------ two stations


def met(seed: int = 0) -> tuple[Fleet, str]:
    """Station A at the first door and B at the second both know the jar, in the cold since Sunday."""
    fleet = Fleet(site=two_stores())
    jar = fleet["A"].cold()
    fleet.at("2026-11-10T08:59")
    fleet.meet("A", "B", seed)
    fleet.at("2026-11-10T09:00")
    return fleet, jar


@pytest.mark.parametrize("seed", range(3))
def test_begun_at_one_door_and_put_away_at_the_other(seed: int) -> None:
    fleet, jar = met()
    away(fleet["A"], jar)
    fleet.later(10).meet("A", "B", seed)
    assert fleet["B"].scan(jar, "SECOND").code == "put-away"
    fleet.meet("A", "B", seed)
    assert fleet["A"].container(jar) == fleet["B"].container(jar)
    assert fleet["A"].container(jar).warm_spent == minutes(10)
    assert fleet.later(120)["A"].alarms() == []


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("busy", ["A", "B"])
def test_a_door_that_had_not_heard_of_it_counts_the_whole_way_when_they_meet(seed: int, busy: str) -> None:
    fleet, jar = met()
    for _ in range(9):  # whose facts come first in the common order must make no difference
        fleet[busy].scan(jar, "DESK")
        fleet[busy].later(0)
        fleet[busy].station.read_room(22, 45, None)
    away(fleet["A"], jar)
    fleet.later(40)
    fleet["B"].scan(jar, "SECOND")
    assert fleet["B"].card(Card.MOVED_HERE, "SECOND").code == "moved-here"
    fleet.meet("A", "B", seed)
    assert fleet["A"].container(jar) == fleet["B"].container(jar)
    found = fleet["A"].container(jar)
    assert (found.store, found.on_its_way) == ("SECOND", False)
    assert found.warm_spent >= minutes(40) - minutes(0.1)


@pytest.mark.parametrize("busy", ["A", "B"])
def test_too_long_on_its_way_is_on_hold_even_if_no_station_noticed(busy: str) -> None:
    fleet, jar = met()
    for _ in range(9):
        fleet[busy].station.read_room(22, 45, None)
    away(fleet["A"], jar)
    fleet["A"].clock.go_on(minutes(90))
    fleet["B"].later(90)
    fleet["B"].scan(jar, "SECOND")
    fleet["B"].card(Card.MOVED_HERE, "SECOND")
    fleet["B"].later(11)
    new = list(fleet["B"].journal.take(list(fleet["A"].journal.facts())))
    fleet["B"].station.learn(new)
    assert HoldReason.LATE_TO_COLD in {hold.reason for hold in fleet["B"].container(jar).holds}
    fleet["B"].release_all(jar)
    assert fleet["B"].container(jar).holds == ()


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("busy", ["A", "B"])
def test_taken_out_at_a_door_that_had_not_heard_its_life_runs_from_where_it_left(seed: int, busy: str) -> None:
    fleet, jar = met()
    for _ in range(9):
        fleet[busy].station.read_room(22, 45, None)
    away(fleet["A"], jar)
    fleet.later(40)
    fleet["B"].scan(jar, "SECOND")
    assert fleet["B"].card(Card.TAKEN_OUT, "SECOND").code == "taken-out"
    told = fleet["B"].container(jar).room_end
    fleet.meet("A", "B", seed)
    found = fleet["A"].container(jar)
    assert found == fleet["B"].container(jar)
    assert (found.on_its_way, found.has_been_out) == (False, True)
    assert found.out_from is not None
    assert found.out_from <= berlin("2026-11-10T09:01")
    assert told is not None
    assert found.room_end is not None
    assert minutes(24) <= told - found.room_end <= minutes(26)  # B gave it the usual 15 min of a way of 40


def test_two_stations_that_both_saw_it_leave_count_from_the_earlier() -> None:
    fleet, jar = met()
    away(fleet["A"], jar)
    fleet.later(10)
    fleet["B"].scan(jar, "DESK")
    fleet["B"].card(Card.MOVE, "DESK")
    fleet.meet("A", "B")
    found = fleet["A"].container(jar)
    assert found == fleet["B"].container(jar)
    assert found.move_by == berlin("2026-11-10T10:00")


def test_what_another_station_opened_stays_open() -> None:
    bench, jar = lain()
    now = bench.clock.wall
    bench.tell(f.Opened(jar, "1", early=False, open_end=now + 24 * HOUR))
    bench.tell(f.MoveBegun(jar, "FRIDGE", now, now + HOUR, HOUR, None))
    assert bench.floor.stage(bench.container(jar)) is Stage.OPEN
    assert not bench.container(jar).on_its_way


def test_seen_outside_before_it_left_it_was_warm_since_it_was_last_proved_cold() -> None:
    bench, jar = lain()
    bench.scan(jar, "LINE1")
    now = bench.clock.wall
    bench.later(1)
    bench.tell(f.MoveBegun(jar, "FRIDGE", now + minutes(1), now + HOUR, HOUR, bench.container(jar).put_away_at))
    assert bench.container(jar).move_from == berlin("2026-11-08T12:00")


# ------------------------------------------------------------------ frozen paste


def with_two_freezers() -> Site:
    site = site_f()
    freezer = next(store for store in site.plant.stores.values() if store.storage is Storage.FROZEN)
    bins = tuple(replace(bin_, id=f"Z{bin_.id}") for bin_ in freezer.bins)
    fridge = next(store for store in site.plant.stores.values() if store.storage is Storage.COLD)
    cold = tuple(replace(bin_, id=f"Y{bin_.id}") for bin_ in fridge.bins)
    stores = {
        "FREEZER2": replace(freezer, id="FREEZER2", title="Second freezer", bins=bins),
        "FRIDGE2": replace(fridge, id="FRIDGE2", title="Second refrigerator", bins=cold),
    }
    places = (PlaceSetting(name, Place.FRIDGE, store.title, name, ()) for name, store in stores.items())
    plant = replace(site.plant, stores={**site.plant.stores, **stores})
    return replace(site, plant=plant, places=(*site.places, *places))


def frozen() -> tuple[Bench, str, str, str]:
    """A frozen jar in its freezer, the freezer's name and the refrigerator's."""
    bench = Bench(with_two_freezers())
    paste = next(one.id for one in bench.plant.pastes.values() if one.storage is Storage.FROZEN)
    jar = bench.receive(paste, next(iter(bench.plant.kinds)), temperature_c=-20)
    bench.release_all(jar)
    stores = bench.plant.stores.values()
    freezer = next(store.id for store in stores if store.storage is Storage.FROZEN)
    fridge = next(store.id for store in stores if store.storage is Storage.COLD)
    bench.scan(jar, freezer)
    bench.later(60)
    return bench, jar, freezer, fridge


def test_frozen_paste_goes_from_freezer_to_freezer_and_begins_no_thaw() -> None:
    bench, jar, freezer, fridge = frozen()
    assert bench.scan(jar, freezer).code == "thaw-begun"
    said = bench.later(0.1).card(Card.MOVE, freezer)
    assert (said.code, "label" in said.todo) == ("move-begun", False)
    assert bench.container(jar).thaw_key is None
    assert bench.later(5).scan(jar, fridge).code == "wrong-store"
    assert bench.later(1).scan(jar, "FREEZER2").code == "put-away"
    assert minutes(6.1) <= bench.container(jar).warm_spent <= minutes(7)


def test_what_thaws_may_change_its_refrigerator_and_its_thaw_goes_on() -> None:
    bench, jar, freezer, fridge = frozen()
    bench.scan(jar, freezer)
    bench.later(1).scan(jar, fridge)
    until = bench.container(jar).thaw_not_after
    bench.later(60)
    assert away(bench, jar, fridge) == "move-begun"
    assert bench.later(10).scan(jar, freezer).code == "never-back"
    assert bench.later(1).scan(jar, "FRIDGE2").code == "put-away"
    found = bench.container(jar)
    assert (found.store, found.thaw_not_after, found.thaw_from) == ("FRIDGE2", until, None)


def test_a_thaw_that_another_station_began_counts_from_where_its_way_began() -> None:
    bench, jar, freezer, _ = frozen()
    away(bench, jar, freezer)
    since = bench.container(jar).move_from
    bench.later(30)
    now = bench.clock.wall
    bench.tell(f.ThawBegun(jar, freezer, now + HOUR, now + 24 * HOUR, "version 1"))
    found = bench.container(jar)
    assert (found.thaw_from, found.on_its_way) == (since, False)
