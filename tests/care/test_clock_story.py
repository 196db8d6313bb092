"""Clocks that are moved: what is in doubt, what a lead's word settles, and which way every doubt falls."""

from datetime import timedelta

import pytest

from station.care import facts as f
from station.care.clock_story import drift, trust
from station.care.words import Card
from station.services.outcome import Refusal
from station.services.ports import Draft
from tests.care.bench import ELSEWHERE, LEAD, LEAD_PIN, Bench, berlin

HOUR = timedelta(hours=1)


def confirm(bench: Bench) -> None:
    bench.station.confirm_clock(LEAD, LEAD_PIN)


def room_end(bench: Bench, jar: str) -> object:
    return bench.container(jar).room_end


def test_a_pc_that_slept_is_in_no_doubt() -> None:
    bench = Bench()
    bench.clock.sleep(HOUR)
    bench.station.tick()
    assert bench.station.ledger.clock.trusted_until is None
    with pytest.raises(Refusal, match="not in doubt"):
        confirm(bench)


def test_doubt_reaches_back_to_the_last_instant_before_the_first_step() -> None:
    bench = Bench()
    first = bench.clock.wall
    bench.step(60)
    bench.later(5).step(-90)
    clock = bench.station.ledger.clock
    assert clock.trusted_until == min(first, bench.clock.wall + timedelta(minutes=90))
    assert clock.stepped_by == timedelta(minutes=-30)


def test_ahead_and_back_again_hides_nothing_that_was_dated_in_between() -> None:
    bench = Bench()
    bench.step(180)
    bench.step(-180)
    assert bench.floor.moment.ages == bench.clock.wall + 3 * HOUR


def test_back_and_ahead_again_leaves_ends_where_they_are() -> None:
    bench = Bench()
    bench.step(-180)
    assert bench.floor.moment.ages == bench.clock.wall + 3 * HOUR
    bench.step(180)
    assert bench.floor.moment.ages == bench.clock.wall


def test_a_restart_settles_no_doubt() -> None:
    bench = Bench()
    bench.step(60)
    before = bench.station.ledger.clock
    bench.restart()
    assert bench.station.ledger.clock == before


def test_a_clock_set_back_while_the_station_was_off_is_noticed_at_the_start() -> None:
    bench = Bench()
    jar = bench.on_line()
    end = bench.container(jar).room_end
    assert end is not None
    bench.clock.step(-2 * HOUR)
    bench.restart()
    assert bench.station.ledger.clock.trusted_until is not None
    confirm(bench)
    assert room_end(bench, jar) == end - 2 * HOUR


def test_ends_given_by_a_clock_two_hours_ahead_come_two_hours_earlier() -> None:
    bench = Bench()
    jar = bench.on_line()
    container, bead = bench.container(jar), bench.position("1").bead
    assert container.room_end is not None
    assert container.open_end is not None
    assert bead is not None
    bench.step(-120)
    confirm(bench)
    after = bench.position("1").bead
    assert after is not None
    assert room_end(bench, jar) == container.room_end - 2 * HOUR
    assert bench.container(jar).open_end == container.open_end - 2 * HOUR
    assert after.stencil_end == bead.stencil_end - 2 * HOUR


def test_ends_given_by_a_slow_clock_are_not_made_later() -> None:
    bench = Bench()
    jar = bench.on_line()
    before = bench.container(jar)
    bench.step(120)
    confirm(bench)
    assert bench.container(jar).open_end == before.open_end
    assert room_end(bench, jar) == before.room_end


def test_what_was_started_between_two_steps_is_taken_back_by_the_second_alone() -> None:
    bench = Bench()
    early = bench.cold()
    late = bench.cold()
    bench.later(11).scan(early, "FRIDGE")
    bench.step(180)
    bench.scan(late, "FRIDGE")
    ends = [room_end(bench, name) for name in (early, late)]
    bench.step(-180)
    confirm(bench)
    assert [room_end(bench, name) for name in (early, late)] == [ends[0], ends[1] - 3 * HOUR]  # type: ignore[operator]


def test_a_second_word_settles_only_what_came_after_the_first() -> None:
    bench = Bench()
    jar = bench.ready()
    bench.step(-60)
    confirm(bench)
    once = room_end(bench, jar)
    bench.step(-60)
    confirm(bench)
    assert room_end(bench, jar) == once


def test_a_slow_clock_put_right_makes_what_warms_ready_when_three_true_hours_have_passed() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(11).scan(jar, "FRIDGE")
    bench.later(60).step(360)
    assert bench.scan(jar, "LINE1").headline == "CLOCK IN DOUBT"
    confirm(bench)
    bench.later(119)
    assert bench.scan(jar, "LINE1").code == "conditioning"
    bench.later(1)
    assert bench.scan(jar, "LINE1").code == "opening-check"


def test_what_was_ready_before_the_step_stays_ready() -> None:
    bench = Bench()
    jar = bench.ready()
    bench.later(5).step(360)
    confirm(bench)
    assert bench.scan(jar, "LINE1").code == "opening-check"


def test_a_slow_clock_is_allowed_for_over_a_restart_too() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(11).scan(jar, "FRIDGE")
    bench.restart()
    bench.later(60).step(360)
    confirm(bench)
    assert bench.scan(jar, "LINE1").code == "conditioning"


def test_a_pause_over_a_clock_set_back_is_as_long_as_it_was() -> None:
    bench = Bench()
    bench.on_line()
    bench.tag_card("1", Card.PAUSE, "LINE1")
    bench.later(40).step(-120)
    confirm(bench)
    bench.later(25)
    assert bench.tag_card("1", Card.RESUME, "LINE1").code == "bead-replace"


def test_a_pause_that_ends_before_it_began_is_taken_for_too_long() -> None:
    bench = Bench()
    bench.on_line()
    bead = bench.position("1").bead
    assert bead is not None
    ahead = Draft(f.Paused("1", bead.key), bench.clock.wall + 5 * HOUR, 8, None, ELSEWHERE)
    for fact in bench.journal.append([ahead]):  # told by a station whose clock is five hours ahead
        bench.station.ledger.apply(fact)
    bench.tell(f.ClockConfirmed(timedelta(0), bench.clock.wall, bench.clock.wall))
    assert bench.tag_card("1", Card.RESUME, "LINE1").code == "bead-replace"


def test_br_42_no_age_is_negative_after_a_clock_was_set_back() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.later(8 * 60 - 5).step(-120)
    assert bench.scan(jar, "LINE1").headline == "ONLY 5 min LEFT"
    bench.later(5)
    assert bench.alarms() == []
    bench.later(0.02)
    assert len(bench.alarms()) == 1


def test_br_43_twenty_containers_of_a_slow_clock_are_judged_once_each() -> None:
    bench = Bench(start="2026-11-08T06:00")
    jars = [bench.cold() for _ in range(20)]
    bench.later(11)
    for jar in jars:
        bench.scan(jar, "FRIDGE")
    told = len(tuple(bench.journal.facts()))
    bench.step(360)
    new = [fact.body.NAME for fact in tuple(bench.journal.facts())[told:]]
    assert new == ["clock-stepped"]
    confirm(bench)
    assert {bench.scan(jar, "LINE1").code for jar in jars} == {"conditioning"}


def test_the_story_of_a_clock_nobody_touched_says_nothing() -> None:
    assert trust(()).trusted_until is None
    bench = Bench()
    (fact,) = bench.tell(f.ClockConfirmed(timedelta(0), berlin("2026-11-08T12:00"), berlin("2026-11-08T12:00")))
    assert drift((), fact).since((0, 0, 0)) == timedelta(0)
