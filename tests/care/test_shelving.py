"""Shelving by ANSI/ISA-18.2 (IEC 62682): by a lead, for a stated time, ended by itself, never for what is dangerous."""

from datetime import timedelta

import pytest

from station.care import facts as f
from station.care.alarms import AlarmState, open_alarms, situation, sounding, state
from station.care.day_list import day_list
from station.care.shelving import Shelving, ShelvingRefused, shelvable, shelve, shelved, unshelve
from station.care.state import Alarm
from station.care.words import Card, Ending, Limit, Priority
from station.services import clearing
from station.services.outcome import Refusal
from station.services.station import Proof
from tests.care.bench import LEAD, LEAD_PIN, Bench
from tests.care.test_alarm_floods import late_to_cold

PROOF = Proof(LEAD, LEAD_PIN)
HOUR = timedelta(hours=1)


def the(bench: Bench, subject: str = "K7-001") -> Alarm:
    return next(alarm for alarm, _ in open_alarms(bench.floor) if alarm.subject == subject)


def for_an_hour(bench: Bench) -> Bench:
    """One jar that came late to cold storage, its alarm shelved for an hour."""
    clearing.shelve(bench.station, Shelving(the(bench).id, HOUR, "being sorted"), PROOF)
    return bench


def state_of(bench: Bench) -> AlarmState:
    return state(the(bench), situation(bench.floor, the(bench)))


def test_a_shelved_alarm_is_quiet_stays_open_and_sounds_again_by_itself_when_its_time_is_over() -> None:
    bench = for_an_hour(late_to_cold(1))
    assert (state_of(bench), sounding(bench.floor, the(bench))) == (AlarmState.SHELVED, False)
    assert (the(bench).shelved_by, the(bench).shelved_why) == (LEAD, "being sorted")
    assert [alarm.id for alarm in shelved(bench.floor)] == bench.alarms()
    assert shelvable(bench.floor) == ()
    assert day_list(bench.floor)[0].todo == "Shelved until 17:01: being sorted."
    bench.later(59).restart()
    assert not sounding(bench.floor, the(bench))
    bench.later(1)
    assert sounding(bench.floor, the(bench))
    assert shelved(bench.floor) == ()
    bench.station.acknowledge(tuple(bench.alarms()), "P12")
    assert not sounding(bench.later(60).floor, the(bench))


def test_a_lead_ends_it_before_its_time_and_it_sounds_at_once() -> None:
    bench = for_an_hour(late_to_cold(1)).later(10)
    clearing.unshelve(bench.station, the(bench).id, PROOF)
    assert sounding(bench.floor, the(bench))
    with pytest.raises(ShelvingRefused, match="not shelved any more"):
        clearing.unshelve(bench.station, the(bench).id, PROOF)


def test_bad_paste_at_a_stencil_is_never_shelved() -> None:
    bench = Bench()
    bench.on_line()
    bench.later(8 * 60 + 1)
    with pytest.raises(ShelvingRefused, match="Take it off"):
        clearing.shelve(bench.station, Shelving(the(bench, "1").id, HOUR, "later"), PROOF)
    assert shelvable(bench.floor) == ()


def test_what_only_waits_for_a_word_is_never_shelved() -> None:
    bench = Bench()
    bench.on_line()
    bench.later(8 * 60 + 16).tag_card("1", Card.REMOVE, "LINE1")
    with pytest.raises(ShelvingRefused, match="Clear it"):
        clearing.shelve(bench.station, Shelving(the(bench, "1").id, HOUR, "later"), PROOF)


def test_shelving_counts_for_nothing_once_the_paste_lies_at_a_stencil() -> None:
    """Put on by another station that knew nothing of it."""
    bench = for_an_hour(late_to_cold(1))
    end = bench.clock.wall + 8 * HOUR
    bench.tell(f.Loaded("K7-001", "1", "SN-4", "A15", None, True, end, (), restart=False))
    assert situation(bench.floor, the(bench)).priority is Priority.HIGH
    assert not sounding(bench.later(9).floor, the(bench))
    assert sounding(bench.later(1).floor, the(bench))


def test_shelving_counts_for_nothing_once_its_paste_is_out_of_use() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.later(4 * 60).tag_card("1", Card.REMOVE, "LINE1")
    bench.later(20 * 60 + 1)
    clearing.shelve(bench.station, Shelving(the(bench, jar).id, 8 * HOUR, "later"), PROOF)
    assert situation(bench.floor, the(bench, jar)).shelved
    bench.tell(f.Ended(jar, Ending.DISCARDED, "", "", None))
    assert not situation(bench.floor, the(bench, jar)).shelved


def test_who_may_not_or_says_too_little_or_too_long_shelves_nothing() -> None:
    bench = late_to_cold(1)
    alarm = the(bench).id
    for told in (
        Shelving(alarm, 9 * HOUR, "long"),
        Shelving(alarm, timedelta(0), "short"),
        Shelving(alarm, HOUR, " "),
        Shelving("no such alarm", HOUR, "gone"),
    ):
        with pytest.raises(ShelvingRefused):
            clearing.shelve(bench.station, told, PROOF)
    for person in ("P12", "P30", None):
        with pytest.raises(ShelvingRefused, match="Only a shift lead"):
            shelve(bench.floor, Shelving(alarm, HOUR, "mine"), person)
        with pytest.raises(ShelvingRefused, match="Only a shift lead"):
            unshelve(bench.floor, alarm, person)
    with pytest.raises(Refusal):
        clearing.shelve(bench.station, Shelving(alarm, HOUR, "mine"), Proof(LEAD, "0000"))
    assert shelved(bench.floor) == ()


def test_a_word_on_shelving_from_elsewhere_about_an_alarm_never_shelved_changes_nothing() -> None:
    bench = Bench()
    bench.tell(f.AlarmRaised("x", "1", Limit.STENCIL, bench.clock.wall, in_use=True), f.AlarmUnshelved("x"))
    assert bench.station.ledger.alarms["x"].shelved_until is None
