"""Facts that disagree, come late or come twice: whatever their delivery, they add up to the safe side."""

from dataclasses import replace
from datetime import timedelta
from functools import cache
from random import Random

import pytest

from station.care import facts as f
from station.care.ledger import Ledger
from station.care.limits import stage
from station.care.state import Hold
from station.care.words import Boards, Card, Disposition, Ending, HoldReason, Limit, Stage, Storage
from tests.care.bench import LEAD, LEAD_PIN, Bench

HOUR = timedelta(hours=1)


def picture(ledger: Ledger) -> tuple[object, ...]:
    """Everything a ledger says, histories included."""
    subjects = (("container", ledger.containers), ("position", ledger.positions), ("alarm", ledger.alarms))
    told = {(kind, name): ledger.history(kind, name) for kind, table in subjects for name in table}
    return (
        ledger.containers,
        ledger.positions,
        ledger.alarms,
        ledger.people,
        ledger.lots,
        ledger.figures,
        ledger.versions,
        ledger.specifications,
        ledger.clock,
        ledger.room,
        ledger.latest_at,
        ledger.tick,
        told,
    )


def replayed(facts: list[f.Fact]) -> Ledger:
    ledger = Ledger()
    for fact in facts:
        ledger.apply(fact)
    return ledger


def test_what_was_added_up_step_by_step_equals_the_sum_of_all_facts_and_a_difference_is_named() -> None:
    ledger = replayed(list(eventful().journal.facts()))
    assert ledger.added_up_again() == ()
    name = next(iter(ledger.containers))
    ledger.containers[name] = replace(ledger.containers[name], lot="another")
    assert ledger.added_up_again() == (("container", name),)


@cache
def eventful() -> Bench:
    """A day with everything in it: top-ups, ends taken back, holds, clock steps, restarts."""
    bench = Bench()
    first = bench.on_line()
    second = bench.ready()
    bench.scan(second, "LINE1")
    bench.card(Card.LOOKS_GOOD, "LINE1")
    bench.tag_card("1", Card.PAUSE, "LINE1")
    bench.step(-30)
    bench.tag_card("1", Card.RESUME, "LINE1")
    bench.later(1).scan(first, "LINE1")
    bench.card(Card.EMPTY, "LINE1")
    bench.card(Card.UNDO, "LINE1")
    bench.station.confirm_clock(LEAD, LEAD_PIN)
    bench.tag_card("1", Card.REMOVE, "LINE1")
    bench.tag_card("1", Card.UNDO, "LINE1")
    bench.later(1).scan(second, "LINE2")
    bench.later(1).scan(second, "DESK")
    bench.card(Card.EMPTY, "DESK")
    third = bench.cold()
    bench.later(11).scan(third, "FRIDGE")
    bench.step(90)
    bench.restart()
    bench.station.read_room(22, 45, None)
    bench.station.confirm_clock(LEAD, LEAD_PIN)
    bench.station.read_room(24, 35, None)
    bench.later(9 * 60)
    alarm = bench.alarms()[0]
    bench.station.acknowledge((alarm,), "P12")
    bench.tag_card("1", Card.REMOVE, "LINE1")
    return bench


@pytest.mark.parametrize("seed", range(25))
def test_the_same_facts_give_the_same_picture_in_any_order_of_delivery(seed: int) -> None:
    facts = list(eventful().journal.facts())
    shuffled = list(facts)
    Random(seed).shuffle(shuffled)
    assert picture(replayed(shuffled)) == picture(replayed(facts))


def test_the_reverse_order_gives_it_too() -> None:
    facts = list(eventful().journal.facts())
    assert picture(replayed(facts[::-1])) == picture(replayed(facts))


def test_a_fact_delivered_twice_counts_once() -> None:
    bench = eventful()
    before = picture(bench.station.ledger)
    for fact in bench.journal.facts():
        assert bench.station.ledger.apply(fact) == ()
    assert picture(bench.station.ledger) == before


def test_a_fact_is_found_by_its_key() -> None:
    bench = Bench()
    fact = next(iter(bench.journal.facts()))
    assert bench.station.ledger.fact(fact.key) is fact
    assert bench.station.ledger.fact("no such key") is None


def taken_out(bench: Bench, jar: str, minutes: float, earliest_in: float | None) -> f.TakenOut:
    at = bench.clock.wall + timedelta(minutes=minutes)
    earliest = None if earliest_in is None else at + timedelta(minutes=earliest_in)
    return f.TakenOut(
        jar, "FRIDGE", at, at, earliest, at + 168 * HOUR, 3 * HOUR, None, None, 23, 40, 5, "SN-4 version 1", "UTC"
    )


def test_two_stations_that_took_it_out_condition_from_the_latest_and_age_from_the_earliest() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.tell(taken_out(bench, jar, 0, 180), taken_out(bench, jar, -20, 180), taken_out(bench, jar, 10, 180))
    container, now = bench.container(jar), bench.clock.wall
    assert container.out_from == now - timedelta(minutes=20)
    assert container.out_to == now + timedelta(minutes=10)
    assert container.earliest_use == now + timedelta(minutes=190)
    assert container.room_end == now - timedelta(minutes=20) + 168 * HOUR


def test_a_take_out_without_a_time_makes_it_wait_without_one() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.tell(taken_out(bench, jar, 0, 180), taken_out(bench, jar, 0, None))
    bench.later(300)
    verdict = bench.scan(jar, "LINE1")
    assert (verdict.word, verdict.code, verdict.headline) == ("WAIT", "no-time", "ROOM UNSUITABLE")


def test_a_plain_put_away_told_late_does_not_bring_back_what_is_out() -> None:
    bench = Bench()
    jar = bench.ready()
    bench.tell(f.PutAway(jar, "FRIDGE", "A1", returning=False))
    assert bench.container(jar).has_been_out
    assert bench.container(jar).store is None


def test_a_return_told_of_an_open_jar_is_no_return() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.tell(f.PutAway(jar, "FRIDGE", "A1", returning=True))
    assert bench.container(jar).room_end is not None
    assert bench.container(jar).store is None


def test_a_jar_opened_but_never_taken_out_as_far_as_is_known_is_no_paste_to_use() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.tell(f.Opened(jar, "1", early=False, open_end=bench.clock.wall + 24 * HOUR), f.Inspected(jar, "1", good=True))
    assert bench.scan(jar, "LINE1").code == "not-taken-out"


def test_opened_twice_the_earlier_end_holds() -> None:
    bench = Bench()
    jar = bench.on_line()
    first = bench.container(jar).open_end
    assert first is not None
    bench.tell(f.Opened(jar, "2", early=False, open_end=first + HOUR))
    assert bench.container(jar).open_end == first
    bench.tell(f.Opened(jar, "2", early=False, open_end=first - HOUR))
    assert bench.container(jar).open_end == first - HOUR


def test_a_bead_started_by_two_stations_ends_with_the_earlier() -> None:
    bench = Bench()
    jar = bench.on_line()
    bead = bench.position("1").bead
    assert bead is not None
    bench.tell(f.Loaded(jar, "1", "SN-4", "101", None, True, bead.stencil_end - HOUR, (), False))
    assert bench.position("1").bead.stencil_end == bead.stencil_end - HOUR  # type: ignore[union-attr]


def test_two_pastes_told_on_one_bead_must_be_replaced() -> None:
    bench = Bench()
    jar = bench.on_line()
    leaded = bench.ready("PB-1")
    bench.tell(f.Loaded(leaded, "1", "PB-1", "9", None, True, bench.clock.wall + 8 * HOUR, (), False))
    verdict = bench.scan(jar, "LINE1")
    assert (verdict.word, verdict.code) == ("STOP", "bead-replace")


def test_what_is_said_of_an_earlier_bead_does_not_touch_this_one() -> None:
    bench = Bench()
    jar = bench.on_line()
    old = bench.position("1").bead
    assert old is not None
    bench.tag_card("1", Card.REMOVE, "LINE1")
    bench.later(1).scan(jar, "LINE1")
    before = bench.position("1").bead
    bench.tell(f.Paused("1", old.key), f.Removed("1", old.key, replaced_earlier=False), f.Sighted("", "1", warm=True))
    assert bench.position("1").bead == before


def test_cleaning_told_of_a_stencil_with_a_bead_on_it_cleans_nothing() -> None:
    bench = Bench()
    bench.on_line()
    bench.tell(f.Cleaned("1"))
    bench.tag_card("1", Card.REMOVE, "LINE1")
    assert bench.scan(bench.ready("PB-1"), "LINE1").code == "needs-cleaning"


def test_facts_about_a_container_nobody_received_make_none() -> None:
    bench = Bench()
    bench.tell(f.Held("K7-900", HoldReason.PERSON, ""))
    assert "K7-900" not in bench.station.ledger.containers


def test_a_hold_is_released_by_its_own_name_only() -> None:
    bench = Bench()
    jar = bench.cold()
    one, other = bench.tell(f.Held(jar, HoldReason.PERSON, ""), f.Held(jar, HoldReason.LOT, "recall"))
    bench.tell(f.Released(jar, one.key, "a mistake"))
    assert bench.container(jar).holds == (Hold(other.key, HoldReason.LOT, other.at, "recall"),)


def test_extending_a_limit_that_is_nobodys_to_move_moves_nothing() -> None:
    bench = Bench()
    jar = bench.on_line()
    before = bench.container(jar)
    bench.tell(f.LimitExtended(jar, Limit.SHELF, HOUR, "C-1"))
    after = bench.container(jar)
    assert (after.shelf_end, after.open_extension) == (before.shelf_end, before.open_extension)


def test_an_alarm_raised_by_two_stations_is_one_from_the_earlier_instant() -> None:
    bench = Bench()
    at = bench.clock.wall
    bench.tell(
        f.AlarmAcknowledged("x"),
        f.AlarmRaised("x", "1", Limit.STENCIL, at, in_use=False),
        f.AlarmRaised("x", "1", Limit.STENCIL, at - HOUR, in_use=True),
    )
    alarm = bench.station.ledger.alarms["x"]
    assert (alarm.since, alarm.in_use, alarm.acknowledged_at) == (at - HOUR, True, None)


def test_an_alarm_cleared_twice_keeps_the_first_word() -> None:
    bench = Bench()
    bench.tell(f.AlarmRaised("x", "1", Limit.STENCIL, bench.clock.wall, in_use=True))
    for said in ("first", "second"):
        bench.tell(f.AlarmCleared("x", Disposition.BEAD_OFF, Boards.NONE, "", said))
    assert bench.station.ledger.alarms["x"].reason == "first"


def test_a_person_set_by_mistake_is_taken_back() -> None:
    bench = Bench()
    (set_,) = bench.tell(f.PersonSet("P77", "Kim Elm", (), None, left=False))
    bench.tell(f.Undone(set_.key, "wrong badge"))
    assert "P77" not in bench.station.ledger.people
    assert bench.station.ledger.is_undone(set_.key)


def test_an_end_told_before_the_load_still_stops_the_feeding() -> None:
    bench = Bench()
    jar = bench.ready()
    bench.tell(
        f.Ended(jar, Ending.USED_UP, "", "2", None),
        f.Loaded(jar, "2", "SN-4", "101", None, True, bench.clock.wall + 8 * HOUR, (), False),
    )
    facts = list(bench.journal.facts())
    assert picture(replayed(facts[::-1])) == picture(replayed(facts))


def test_an_end_taken_back_is_none_for_a_position_that_hears_of_it_later() -> None:
    bench = Bench()
    jar = bench.ready()
    (ended,) = bench.tell(f.Ended(jar, Ending.USED_UP, "", "2", None))
    bench.tell(
        f.Undone(ended.key, "a slip"),
        f.Loaded(jar, "2", "SN-4", "101", None, True, bench.clock.wall + 8 * HOUR, (), False),
    )
    assert bench.position("2").bead.feeding == jar  # type: ignore[union-attr]


def test_a_ready_room_paste_is_ready_once_it_lies_on_its_shelf() -> None:
    bench = Bench()
    received = bench.container(bench.receive())
    assert stage(received, Storage.ROOM, bench.floor.moment) is Stage.RECEIVED
