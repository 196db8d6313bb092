"""Back into the cold, where a specification allows it: closed ones only, not for long, and the time out adds up."""

from dataclasses import replace
from datetime import timedelta
from functools import cache
from random import Random

import pytest

from station.care import facts as f
from station.care.scans import SeenLabel
from station.care.specification import Bin, Store
from station.care.words import Card, HoldReason, Place, Storage
from station.services.site import PlaceSetting, Site
from tests.care.bench import LEAD, LEAD_PIN, Bench, site_f, site_t, with_limits
from tests.care.test_folds import picture, replayed

HOUR, MINUTE = timedelta(hours=1), timedelta(minutes=1)


def with_shelf(site: Site) -> Site:
    """The site with a shelf for paste kept at room temperature."""
    shelf = Store("SHELF", "Shelf", Storage.ROOM, 18, 28, (Bin("S1", 9, leaded=False, hold=False),))
    place = PlaceSetting("SHELF", Place.FRIDGE, "Shelf", "SHELF", ())
    plant = replace(site.plant, stores={**site.plant.stores, "SHELF": shelf})
    return replace(site, plant=plant, places=(*site.places, place))


def out(bench: Bench, minutes: float, paste: str = "SN-6") -> str:
    """A container that was taken out some time ago."""
    name = bench.cold(paste)
    bench.later(11).scan(name, "FRIDGE")
    bench.later(minutes)
    return name


def test_a_closed_one_goes_back_and_is_told_how_often_more_and_to_tear_off_its_label() -> None:
    bench = Bench(site_f())
    jar = out(bench, 60)
    verdict = bench.scan(jar, "FRIDGE")
    assert (verdict.word, verdict.code, verdict.headline) == ("DONE", "returned", "BIN A1")
    assert "Time out of cold so far 1 h. Cold cycles left after this one: 1." in verdict.why
    assert verdict.todo.startswith("Tear its time label off. Put it in bin A1.")
    container = bench.container(jar)
    assert (container.store, container.cold_cycles, container.has_been_out) == ("FRIDGE", 1, False)


def test_the_last_return_says_that_it_is_the_last() -> None:
    bench = Bench(site_f())
    jar = out(bench, 60)
    bench.scan(jar, "FRIDGE")
    bench.later(60).scan(jar, "FRIDGE")
    verdict = bench.later(60).scan(jar, "FRIDGE")
    assert "Time out of cold so far 2 h. Once out again it may not come back." in verdict.why
    bench.later(60).scan(jar, "FRIDGE")
    refused = bench.later(60).scan(jar, "FRIDGE")
    assert (refused.word, refused.code) == ("STOP", "never-back")
    assert refused.why.startswith("K7 001 has no cold cycle left of the 3 its specification allows.")


def test_where_the_label_never_came_there_is_none_to_tear_off() -> None:
    bench = Bench(site_f())
    jar = bench.cold("SN-6")
    at = bench.later(11).clock.wall
    bench.tell(
        f.TakenOut(
            jar,
            "FRIDGE",
            at,
            at,
            at + 3 * HOUR,
            at + 168 * HOUR,
            3 * HOUR,
            None,
            None,
            23,
            40,
            5,
            "SN-6 version 1",
            "UTC",
        )
    )
    assert bench.later(60).scan(jar, "FRIDGE").todo.startswith("Put it in bin A1.")


def test_the_next_take_out_warms_anew_and_the_room_life_is_what_is_left_of_the_sum() -> None:
    bench = Bench(site_f())
    jar = out(bench, 3.5 * 60)
    bench.scan(jar, "FRIDGE")
    bench.later(24 * 60)
    now = bench.clock.wall
    bench.scan(jar, "FRIDGE")
    container = bench.container(jar)
    assert container.earliest_use == now + 3 * HOUR
    assert container.room_end == now + 168 * HOUR - 3.5 * HOUR
    assert container.print_sent == 2


@pytest.mark.parametrize(("minutes", "code"), [(239, "returned"), (240, "returned"), (240.02, "never-back")])
def test_the_last_minute_of_the_time_out_still_lets_it_back(minutes: float, code: str) -> None:
    bench = Bench(site_f())
    assert bench.scan(out(bench, minutes), "FRIDGE").code == code


def test_too_long_out_is_said_with_both_times() -> None:
    bench = Bench(site_f())
    verdict = bench.scan(out(bench, 241), "FRIDGE")
    assert verdict.why.startswith("K7 001 has been out for 4 h 01; its specification allows 4 h.")
    assert "draws water in" in verdict.why


def test_the_time_out_runs_from_the_earliest_it_can_have_left_the_cold() -> None:
    bench = Bench(site_f())
    jar = out(bench, 60)
    body = bench.station.ledger.fact(bench.container(jar).taken_out_key or "")
    assert body is not None
    assert isinstance(body.body, f.TakenOut)
    bench.tell(replace(body.body, thaw_from=body.body.thaw_from - 3.5 * HOUR))
    assert bench.scan(jar, "FRIDGE").code == "never-back"


def test_within_five_minutes_it_is_only_out_already() -> None:
    bench = Bench(site_f())
    assert bench.scan(out(bench, 5), "FRIDGE").code == "already-out"
    bench = Bench(site_f())
    assert bench.scan(out(bench, 5.02), "FRIDGE").code == "returned"


def test_just_returned_it_is_already_away() -> None:
    bench = Bench(site_f())
    jar = out(bench, 60)
    bench.scan(jar, "FRIDGE")
    assert bench.later(5).scan(jar, "FRIDGE").code == "already-away"


def test_the_label_of_the_take_out_before_is_no_leave_to_use() -> None:
    bench = Bench(site_f())
    jar = out(bench, 180)
    container = bench.container(jar)
    assert container.earliest_use is not None
    assert container.room_end is not None
    old = SeenLabel(
        1, bench.clock.wall - 3 * HOUR, container.earliest_use, container.room_end, 24 * HOUR, 6, leaded=False
    )
    bench.scan(jar, "FRIDGE")
    verdict = bench.later(1).scan(jar, "LINE1", old)
    assert (verdict.word, verdict.code) == ("STOP", "not-taken-out")


@pytest.mark.parametrize("cycles", [1, 3])
def test_an_opened_one_never_goes_back(cycles: int) -> None:
    bench = Bench(with_limits(site_f(), "SN-6", cold_cycles=cycles))
    jar = out(bench, 180)
    bench.scan(jar, "LINE1")
    verdict = bench.later(1).scan(jar, "FRIDGE")
    assert verdict.code == "never-back"
    assert ("only a closed one that was never used" in verdict.why) == (cycles > 1)


@pytest.mark.parametrize(
    "body",
    [
        lambda jar, at: f.Loaded(jar, "1", "SN-6", "101", None, True, at + 8 * HOUR, (), False),
        lambda jar, _at: f.Mounted(jar, "1", "SN-6", None),
        lambda jar, _at: f.Mixed(jar, "BENCH"),
        lambda jar, _at: f.Inspected(jar, "1", good=True),
    ],
)
def test_what_was_used_in_any_way_never_goes_back(body: object) -> None:
    bench = Bench(site_f())
    jar = out(bench, 60)
    told = body(jar, bench.clock.wall)  # type: ignore[operator]
    (fact,) = bench.tell(told)
    assert bench.scan(jar, "FRIDGE").code == "never-back"
    bench.tell(f.Undone(fact.key, "a slip"))
    assert bench.later(1).scan(jar, "FRIDGE").code == "returned"


def test_one_on_hold_stays_out_until_it_is_judged() -> None:
    bench = Bench(site_f())
    jar = bench.cold("SN-6")
    bench.later(11).scan(jar, "LINE1")
    bench.later(1).scan(jar, "FRIDGE")
    assert [hold.reason for hold in bench.container(jar).holds] == [HoldReason.SEEN_WARM]
    verdict = bench.later(20).scan(jar, "FRIDGE")
    assert verdict.code == "never-back"
    assert verdict.why.startswith("K7 001 is on hold: seen out of cold storage before take-out.")
    bench.release_all(jar)
    assert bench.later(1).scan(jar, "FRIDGE").code == "returned"


def test_what_has_passed_a_limit_does_not_go_back() -> None:
    bench = Bench(with_limits(site_f(), "SN-6", room_life=2 * HOUR))
    verdict = bench.scan(out(bench, 181), "FRIDGE")
    assert verdict.code == "never-back"
    assert "(room life)" in verdict.why


def test_while_the_clock_is_in_doubt_nobody_knows_how_long_it_was_out() -> None:
    bench = Bench(site_f())
    jar = out(bench, 60)
    bench.step(-30)
    verdict = bench.scan(jar, "FRIDGE")
    assert (verdict.word, verdict.code) == ("WAIT", "clock-doubt")
    bench.station.confirm_clock(LEAD, LEAD_PIN)
    assert bench.later(1).scan(jar, "FRIDGE").code == "returned"
    assert bench.container(jar).warm_spent == 61 * MINUTE


def test_a_return_is_taken_back_and_the_label_it_lost_is_printed_again() -> None:
    bench = Bench(site_f())
    jar = out(bench, 60)
    bench.scan(jar, "FRIDGE")
    verdict = bench.card(Card.UNDO, "FRIDGE")
    assert (verdict.code, verdict.todo) == (
        "undone",
        "It is out again. Scan it at the bench or the desk, then the REPRINT card, and put the new label on.",
    )
    assert bench.container(jar).has_been_out


def test_a_return_told_by_two_stations_counts_once_and_until_the_later_of_the_two() -> None:
    bench = Bench(site_f())
    jar = out(bench, 60)
    bench.scan(jar, "FRIDGE")
    bench.later(30)
    bench.tell(f.PutAway(jar, "FRIDGE", "A1", returning=True))
    container = bench.container(jar)
    assert (container.cold_cycles, container.warm_spent) == (1, HOUR + timedelta(minutes=30))


def test_what_was_never_proved_cold_has_been_warm_since_the_dock() -> None:
    bench = Bench(site_f())
    jar = bench.receive("SN-6")
    at = bench.later(60).clock.wall
    bench.tell(
        f.TakenOut(
            jar,
            "FRIDGE",
            at,
            at,
            at + 3 * HOUR,
            at + 168 * HOUR,
            3 * HOUR,
            None,
            None,
            23,
            40,
            5,
            "SN-6 version 1",
            "UTC",
        )
    )
    bench.later(60).scan(jar, "FRIDGE")
    assert bench.container(jar).warm_spent == 2 * HOUR


def test_it_goes_back_into_its_own_class_of_store() -> None:
    bench = Bench(site_f())
    verdict = bench.scan(out(bench, 60), "FREEZER")
    assert (verdict.word, verdict.code) == ("STOP", "wrong-store")


def test_a_specification_without_a_longest_time_out_lets_nothing_back() -> None:
    bench = Bench(with_limits(site_t(), "SN-4", cold_cycles=2))
    assert bench.scan(out(bench, 60, "SN-4"), "FRIDGE").code == "never-back"


def test_thawed_paste_goes_back_into_the_refrigerator_with_its_thaw_running_on_never_into_the_freezer() -> None:
    site = with_limits(site_f(), "FZ-7", cold_cycles=2, return_within=4 * HOUR)
    bench = Bench(site)
    jar = bench.receive("FZ-7", temperature_c=-18)
    bench.scan(jar, "FREEZER")
    bench.later(11).scan(jar, "FREEZER")
    bench.later(1).scan(jar, "FRIDGE")
    longest = bench.container(jar).thaw_not_after
    bench.later(13 * 60).scan(jar, "FRIDGE")
    refused = bench.later(60).scan(jar, "FREEZER")
    assert (refused.code, refused.why.partition(".")[0]) == ("never-back", "K7 001 has thawed")
    assert bench.scan(jar, "FRIDGE").code == "returned"
    assert bench.container(jar).thaw_not_after == longest
    bench.later(40 * 60)
    assert [alarm.split("/")[0] for alarm in bench.alarms()] == ["thaw in the refrigerator"]


@cache
def eventful() -> Bench:
    """Days with a thaw taken back and begun anew, returns, room readings and clocks that were moved."""
    bench = Bench(with_limits(site_f(), "FZ-7", cold_cycles=2, return_within=4 * HOUR))
    frozen, cold = bench.receive("FZ-7", temperature_c=-18), out(bench, 60)
    bench.scan(frozen, "FREEZER")
    bench.later(11).scan(frozen, "FREEZER")
    bench.scan(frozen, "FREEZER")
    bench.later(0.1).scan(frozen, "FREEZER")
    bench.card(Card.UNDO, "FREEZER")
    bench.station.read_room(22, 45, None)
    bench.later(20).scan(frozen, "FREEZER")
    bench.step(-30)
    bench.station.confirm_clock(LEAD, LEAD_PIN)
    bench.later(1).scan(frozen, "FRIDGE")
    bench.scan(cold, "FRIDGE")
    bench.later(14 * 60).scan(frozen, "FRIDGE")
    bench.station.read_room(22, 87, None, source="logger 3")
    bench.scan(cold, "FRIDGE")
    bench.later(90).scan(frozen, "FRIDGE")
    bench.scan(cold, "FRIDGE")
    bench.later(50 * 60)
    bench.release_all(frozen)
    bench.later(1).scan(frozen, "FRIDGE")
    return bench


@pytest.mark.parametrize("seed", range(10))
def test_thaws_returns_and_readings_give_the_same_picture_in_any_order_of_delivery(seed: int) -> None:
    facts = list(eventful().journal.facts())
    assert {"thaw-begun", "undone", "put-away", "taken-out", "released", "room-read"} <= {
        fact.body.NAME for fact in facts
    }
    shuffled = list(facts)
    Random(seed).shuffle(shuffled)
    told, live = replayed(shuffled), eventful().station.ledger
    assert picture(told) == picture(live)
    assert told.rooms == live.rooms
