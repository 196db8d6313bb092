"""Alarms on the floor: who may clear what, and what becomes of the paste by it."""

from datetime import timedelta

import pytest

from station.care.alarms import (
    AlarmState,
    Clearing,
    ClearingRefused,
    acknowledge,
    clear,
    dispositions,
    open_alarms,
    situation,
    sounding,
    state,
)
from station.care.due import next_due
from station.care.extension import Extending, ExtensionRefused, extend
from station.care.state import Alarm
from station.care.words import Boards, Card, Disposition, Limit, Priority
from tests.care.bench import LEAD, LEAD_PIN, Bench, site_t, with_limits, with_room_paste

HOUR = 60


def _hours(count: float) -> timedelta:
    return timedelta(hours=count)


def only(bench: Bench, subject: str) -> Alarm:
    found = [alarm for alarm, _ in open_alarms(bench.floor) if alarm.subject == subject]
    assert len(found) == 1, found
    return found[0]


def held_in_a_bead() -> tuple[Bench, str]:
    bench = Bench()
    jar = bench.on_line()
    bench.badge(LEAD, "DESK")
    bench.scan(jar, "DESK")
    bench.card(Card.HOLD, "DESK")
    return bench, jar


def test_nothing_is_due_in_an_empty_plant() -> None:
    assert next_due(Bench().floor) is None
    assert open_alarms(Bench().floor) == ()


def test_an_alarm_sounds_until_somebody_has_seen_it_and_who_saw_it_first_stands() -> None:
    bench = Bench()
    bench.on_line()
    bench.later(8 * HOUR + 1)
    alarm = only(bench, "1")
    assert sounding(bench.floor, alarm)
    bench.station.acknowledge((alarm.id, "no such alarm"), "P12")
    bench.later(1).station.acknowledge((alarm.id,), LEAD)
    seen = only(bench, "1")
    assert (seen.acknowledged_by, sounding(bench.floor, seen)) == ("P12", False)
    assert acknowledge(bench.floor, (alarm.id,)) == ()


def test_bad_paste_that_stays_at_a_stencil_sounds_again_ten_minutes_after_each_silencing() -> None:
    bench = Bench()
    bench.on_line()
    bench.later(8 * HOUR + 1)
    alarm = only(bench, "1")
    bench.station.acknowledge((alarm.id,), "P12")
    assert not sounding(bench.later(9.99).floor, only(bench, "1"))
    assert sounding(bench.later(0.01).floor, only(bench, "1"))
    assert sounding(bench.restart().floor, only(bench, "1"))
    bench.station.acknowledge((alarm.id,), LEAD)
    seen = only(bench, "1")
    assert (seen.acknowledged_by, sounding(bench.floor, seen)) == ("P12", False)
    bench.later(5).restart()
    assert not sounding(bench.floor, only(bench, "1"))
    assert sounding(bench.later(5).floor, only(bench, "1"))
    bench.tag_card("1", Card.REMOVE, "LINE1")
    assert not sounding(bench.later(60).floor, only(bench, "1"))


def test_what_no_longer_lies_at_a_stencil_is_silent_once_it_was_seen() -> None:
    bench = Bench()
    jar = bench.ready()
    bench.scan(jar, "LINE1")
    bench.later(24 * HOUR + 1)
    bench.station.acknowledge((only(bench, jar).id,), "P12")
    assert not sounding(bench.later(24 * HOUR).floor, only(bench, jar))


def test_scraped_off_within_a_quarter_of_an_hour_it_is_quiet_and_waits_for_the_lead() -> None:
    for minutes, expected in ((15, AlarmState.LATCHED_ACKNOWLEDGED), (16, AlarmState.LATCHED_UNACKNOWLEDGED)):
        bench = Bench()
        bench.on_line()
        bench.later(8 * HOUR + minutes).tag_card("1", Card.REMOVE, "LINE1")
        alarm = only(bench, "1")
        assert state(alarm, situation(bench.floor, alarm)) is expected


def test_an_alarm_of_a_dead_bead_does_not_block_the_next_bead() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.later(8 * HOUR + 1).tag_card("1", Card.REMOVE, "LINE1")
    assert bench.scan(jar, "LINE1").word == "USE"
    assert only(bench, "1").cleared_at is None


@pytest.mark.parametrize(
    ("ended", "in_bead", "priority"),
    [(False, True, Priority.HIGH), (False, False, Priority.MEDIUM), (True, False, Priority.LOW)],
)
def test_bad_paste_at_a_stencil_is_high_lying_about_medium_and_gone_low(
    ended: bool, in_bead: bool, priority: Priority
) -> None:
    bench = Bench()
    jar = bench.on_line() if in_bead else bench.ready()
    if not in_bead:
        bench.scan(jar, "LINE1")
    bench.later(24 * HOUR + 1)
    if ended:
        bench.scan(jar, "DESK")
        bench.card(Card.DISCARD, "DESK")
    alarm = only(bench, jar)
    assert situation(bench.floor, alarm).priority is priority


def test_paste_on_hold_in_a_bead_is_high_and_ends_with_the_release_but_waits_for_a_word() -> None:
    bench, jar = held_in_a_bead()
    alarm = only(bench, "1")
    assert (alarm.limit, situation(bench.floor, alarm).priority) == (Limit.HOLD, Priority.HIGH)
    assert Disposition.CHECKED not in dispositions(bench.floor, alarm)
    checked = Clearing(alarm.id, Disposition.CHECKED, "released by the engineer", Boards.NONE)
    with pytest.raises(ClearingRefused, match="can't be checked"):
        clear(bench.floor, checked, LEAD)
    bench.release_all(jar)
    assert not situation(bench.floor, alarm).active
    bench.station.clear(checked, LEAD, LEAD_PIN)
    assert open_alarms(bench.floor) == ()
    assert bench.later(1).scan(jar, "LINE1").word == "USE"


def test_a_release_does_not_help_a_bead_whose_alarm_is_about_another_hold() -> None:
    bench, jar = held_in_a_bead()
    bench.scan(jar, "DESK")
    bench.card(Card.HOLD, "DESK")
    first = bench.container(jar).holds[0]
    bench.station.release(jar, first.key, "a mistake", LEAD, LEAD_PIN)
    active = {
        alarm.id.endswith(first.key): situation(bench.floor, alarm).active for alarm, _ in open_alarms(bench.floor)
    }
    assert active == {True: False, False: True}
    assert bench.scan(jar, "LINE1").code == "held"


def test_an_operator_clears_nothing() -> None:
    bench = Bench()
    bench.on_line()
    bench.later(8 * HOUR + 1).tag_card("1", Card.REMOVE, "LINE1")
    clearing = Clearing(only(bench, "1").id, Disposition.BEAD_OFF, "done", Boards.NONE)
    for person in ("P12", "P30", None, "P99"):
        with pytest.raises(ClearingRefused, match="Only a shift lead"):
            clear(bench.floor, clearing, person)


def test_what_a_late_arrival_may_be_said_to_be() -> None:
    bench = Bench()
    jar = bench.receive()
    bench.later(4 * HOUR + 1)
    alarm = only(bench, jar)
    assert Disposition.EXTENDED not in dispositions(bench.floor, alarm)
    assert Disposition.CHECKED in dispositions(bench.floor, alarm)


def test_clearing_the_alarm_of_what_is_gone_already_only_closes_it() -> None:
    bench = Bench()
    jar = bench.ready()
    bench.scan(jar, "LINE1")
    bench.later(24 * HOUR + 1).scan(jar, "DESK")
    bench.card(Card.DISCARD, "DESK")
    bodies = clear(bench.floor, Clearing(only(bench, jar).id, Disposition.DISCARDED, "seen"), LEAD)
    assert [body.NAME for body in bodies] == ["alarm-cleared"]


def test_clearing_as_extended_after_an_extension_moves_nothing_more() -> None:
    bench = Bench()
    jar = bench.ready()
    bench.scan(jar, "LINE1")
    bench.later(24 * HOUR + 1)
    bench.station.extend(Extending(jar, Limit.OPEN, _hours(6), "C-1"), LEAD, LEAD_PIN)
    bodies = clear(bench.floor, Clearing(only(bench, jar).id, Disposition.EXTENDED, "as C-1", document="C-1"), LEAD)
    assert [body.NAME for body in bodies] == ["alarm-cleared"]
    assert bench.scan(jar, "LINE1").code == "opening-check"


def test_a_bead_extended_with_its_jar_raises_anew_when_it_passes_again() -> None:
    bench = Bench(with_limits(site_t(), "SN-4", open_life=_hours(4), stencil_life=_hours(12)))
    jar = bench.on_line()
    bench.later(4 * HOUR + 1)
    first = only(bench, "1")
    bench.station.acknowledge((first.id,), "P12")
    bench.station.extend(Extending(jar, Limit.OPEN, _hours(2), "C-1"), LEAD, LEAD_PIN)
    assert not situation(bench.floor, first).active
    assert bench.scan(jar, "LINE1").word == "USE"
    bench.later(2 * HOUR)
    beads = [alarm for alarm, _ in open_alarms(bench.floor) if alarm.subject == "1"]
    assert len(beads) == 2
    assert any(sounding(bench.floor, alarm) for alarm in beads)


@pytest.mark.parametrize(
    ("asked", "person", "sentence"),
    [
        (("K7-009", Limit.OPEN, 1, "C-1"), LEAD, "Only a container in use"),
        (("", Limit.OPEN, 1, "C-1"), "P12", "Only a shift lead extends"),
        (("", Limit.OPEN, 1, "C-1"), LEAD, "The open life of K7 001 does not run"),
        (("", Limit.ROOM, 1, "C-1"), LEAD, "allows no extension of its room life"),
        (("", Limit.SHELF, 1, "C-1"), LEAD, "allows no extension of its shelf life"),
    ],
)
def test_what_can_not_be_extended(asked: tuple[str, Limit, int, str], person: str, sentence: str) -> None:
    bench = Bench()
    jar = bench.ready()
    name, limit, hours, concession = asked
    with pytest.raises(ExtensionRefused, match=sentence):
        extend(bench.floor, Extending(name or jar, limit, _hours(hours), concession), person)


@pytest.mark.parametrize("hours", [0, -1, 12.01])
def test_an_extension_stays_inside_its_allowance(hours: float) -> None:
    bench = Bench()
    jar = bench.on_line()
    with pytest.raises(ExtensionRefused, match="by up to 12 h"):
        extend(bench.floor, Extending(jar, Limit.OPEN, _hours(hours), "C-1"), LEAD)


def test_two_extensions_together_stay_inside_it_too() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.station.extend(Extending(jar, Limit.OPEN, _hours(8), "C-1"), LEAD, LEAD_PIN)
    with pytest.raises(ExtensionRefused, match="by up to 4 h"):
        extend(bench.floor, Extending(jar, Limit.OPEN, _hours(8), "C-2"), LEAD)


def test_an_extension_that_comes_too_late_is_refused() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.later(30 * HOUR)
    with pytest.raises(ExtensionRefused, match="would still be over"):
        extend(bench.floor, Extending(jar, Limit.OPEN, _hours(2), "C-1"), LEAD)


def test_room_life_is_extended_where_its_specification_allows_it() -> None:
    bench = Bench(with_limits(with_room_paste(site_t()), "SN-4", room_extension=_hours(24)))
    jar = bench.ready()
    before = bench.floor.standing(bench.container(jar)).discard_by
    outcome = bench.station.extend(Extending(jar, Limit.ROOM, _hours(24), "C-1"), LEAD, LEAD_PIN)
    after = bench.floor.standing(bench.container(jar)).discard_by
    assert outcome.verdict is not None
    assert outcome.verdict.times == (("discard by", after),)
    assert before is not None
    assert after == before + _hours(24)
    assert outcome.verdict.why == "The room life of K7 001 is moved by 24 h, which gains 24 h."
