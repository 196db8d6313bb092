"""Times that other stations dated: their clocks may be slow, fast, moved or plainly wrong (BR-46)."""

from datetime import timedelta

import pytest

from station.care import facts as f
from station.care.words import Card, Word
from tests.care.bench import LEAD, LEAD_PIN, Bench
from tests.care.fleet import Fleet

MINUTE = timedelta(minutes=1)


def apart(ahead: float) -> tuple[Fleet, Bench, Bench, str]:
    """B's clock shows `ahead` minutes more than A's; B has just taken a jar out and A has heard of it."""
    fleet = Fleet()
    b = fleet["B"]
    b.clock.step(ahead * MINUTE)
    b.restart()  # a wrong clock from the start is no step that anybody notices
    b.station.confirm_clock(LEAD, LEAD_PIN) if b.station.ledger.clock.trusted_until else None
    jar = b.cold()
    fleet.later(11)
    assert b.scan(jar, "FRIDGE").code == "taken-out"
    fleet.meet("A", "B")
    a = fleet["A"]
    journal = f"{b.journal.number:016x}"
    a.tell_own(f.ClockCompared(journal, ahead * MINUTE))
    return fleet, a, b, jar


@pytest.mark.parametrize(("minutes", "word"), [(179, Word.WAIT), (182, Word.WAIT), (183, Word.DONE)])
def test_a_slow_clock_makes_the_paste_ready_later_by_as_much(minutes: float, word: Word) -> None:
    """B shows 3 min too little, so B's "ready 15:11" comes 3 min too early: ready after 180 + 3 minutes here."""
    fleet, a, _, jar = apart(-3)
    fleet.later(minutes - 3)
    assert a.scan(jar, "LINE1").word is (Word.WAIT if minutes < 183 else Word.DONE)
    assert word is (Word.WAIT if minutes < 183 else Word.DONE)


@pytest.mark.parametrize(("past", "code"), [(0, "opening-check"), (1, "room-life")])
def test_a_fast_clock_makes_its_lives_end_sooner_by_as_much(past: float, code: str) -> None:
    """B shows 4 min too much, so B's ends come 4 min too late."""
    fleet, a, _, jar = apart(4)
    end = a.container(jar).room_end
    assert end is not None
    fleet.later((end - 4 * MINUTE - a.clock.wall) / MINUTE + past)
    assert a.scan(jar, "LINE1").code == code


@pytest.mark.parametrize("ahead", [-7, 7])
def test_too_far_apart_nobody_judges_by_either(ahead: float) -> None:
    fleet, a, _, jar = apart(ahead)
    fleet.later(200)
    verdict = a.scan(jar, "LINE1")
    assert (verdict.word, verdict.code) == (Word.WAIT, "clocks-disagree")
    assert "time of both stations" in verdict.todo


@pytest.mark.parametrize("ahead", [-5, 5])
def test_five_minutes_are_still_reckoned_with(ahead: float) -> None:
    fleet, a, _, jar = apart(ahead)
    fleet.later(200)
    assert a.scan(jar, "LINE1").code == "opening-check"


def test_put_right_and_compared_again_it_is_judged_again() -> None:
    fleet, a, b, jar = apart(7)
    fleet.later(200)
    assert a.scan(jar, "LINE1").code == "clocks-disagree"
    a.tell_own(f.ClockCompared(f"{b.journal.number:016x}", timedelta(0)))
    assert a.later(1).scan(jar, "LINE1").code == "opening-check"


def test_a_clock_moved_elsewhere_and_not_confirmed_makes_nothing_ready_here() -> None:
    fleet = Fleet()
    a, b = fleet["A"], fleet["B"]
    jar = b.cold()
    fleet.later(11)
    b.step(-181)  # B is three hours slow from now on, and B knows its clock was moved
    assert b.scan(jar, "FRIDGE").code == "taken-out"
    fleet.later(1).meet("A", "B")
    verdict = a.scan(jar, "LINE1")
    assert (verdict.word, verdict.code) == (Word.WAIT, "clock-doubt")
    b.step(181)
    b.station.confirm_clock(LEAD, LEAD_PIN)
    fleet.later(1).meet("A", "B")
    assert a.scan(jar, "LINE1").code == "conditioning"
    fleet.later(179)
    assert a.scan(jar, "LINE1").code == "opening-check"


def test_what_another_clock_does_puts_none_of_ones_own_readiness_in_doubt() -> None:
    fleet = Fleet()
    a, b = fleet["A"], fleet["B"]
    jar = a.ready()
    b.step(-600)
    fleet.meet("A", "B")
    assert a.scan(jar, "LINE1").code == "opening-check"
    assert a.station.ledger.clock.trusted_until is None


def test_a_bead_ends_sooner_by_what_the_clock_that_dated_its_paste_was_fast() -> None:
    fleet, a, _, jar = apart(4)
    fleet.later(190)
    a.scan(jar, "LINE1")
    assert a.card(Card.LOOKS_GOOD, "LINE1").word is Word.USE
    room_end = a.container(jar).room_end
    bead = a.position("1").bead
    assert room_end is not None
    assert bead is not None
    assert room_end - 4 * MINUTE in {end for _, end in a.floor.bead_limits(bead)}


def told_at_two_stations_by_a_moved_clock(step: float) -> tuple[Fleet, Bench, Bench, str]:
    """A and B know of a jar in the fridge. B's clock was just moved, and B saw that."""
    fleet = Fleet()
    a, b = fleet["A"], fleet["B"]
    jar = a.cold()
    fleet.meet("A", "B")
    fleet.later(11)
    b.step(step)
    return fleet, a, b, jar


def settled(fleet: Fleet, station: Bench, step: float) -> None:
    """The clock of a station is put right, a lead says so, and everybody hears of it."""
    station.step(-step)
    station.station.confirm_clock(LEAD, LEAD_PIN)
    fleet.meet("A", "B")


@pytest.mark.parametrize("name", ["A", "B"])
def test_the_second_of_two_take_outs_may_be_the_one_a_wrong_clock_dated(name: str) -> None:
    """B saw the jar leave five minutes after A did, but three hours too early by its clock: A's does not hide it."""
    fleet, a, b, jar = told_at_two_stations_by_a_moved_clock(-181)
    assert a.scan(jar, "FRIDGE").code == "taken-out"
    fleet.later(5)
    assert b.scan(jar, "FRIDGE").code == "taken-out"
    fleet.meet("A", "B")
    settled(fleet, b, -181)
    fleet.later(177)
    assert fleet[name].scan(jar, "LINE1").word is Word.WAIT


@pytest.mark.parametrize("name", ["A", "B"])
def test_the_earlier_of_two_openings_may_be_the_one_a_wrong_clock_dated(name: str) -> None:
    """B opened the jar an hour before A did, but three hours too late by its clock: open life runs from B's opening."""
    fleet, a, b, jar = told_at_two_stations_by_a_moved_clock(0)
    a.scan(jar, "FRIDGE")
    fleet.meet("A", "B")
    fleet.later(181)
    b.step(180)  # a clock in doubt makes nothing ready; what was ready before stays so
    assert b.scan(jar, "LINE2").code == "opening-check"
    b.card(Card.LOOKS_GOOD, "LINE2")
    fleet.later(60)
    assert a.scan(jar, "LINE1").code == "opening-check"
    a.card(Card.LOOKS_GOOD, "LINE1")
    fleet.meet("A", "B")
    settled(fleet, b, 180)
    end = fleet[name].container(jar).open_end
    assert end is not None
    assert end <= a.clock.wall - timedelta(hours=1) + timedelta(days=1)
