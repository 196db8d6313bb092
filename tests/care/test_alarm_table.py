"""The alarm table against ANSI/ISA-18.2 (IEC 62682): a latching alarm, event by event.

The standard's table for an alarm that latches (states as named there): unacknowledged -acknowledge-> acknowledged;
unacknowledged -condition off-> latched unacknowledged; acknowledged -condition off-> latched acknowledged;
latched unacknowledged -acknowledge-> latched acknowledged; latched acknowledged -reset-> normal. Here the reset
is a shift lead's clearing. From memory of the standard, figure 3.
"""

from dataclasses import replace
from itertools import product

import pytest

from station.care.alarms import AlarmState, Situation, state
from station.care.state import Alarm
from station.care.words import Limit, Priority
from tests.care.bench import berlin

T0 = berlin("2026-11-09T12:00")
RAISED = Alarm("x", "1", Limit.STENCIL, T0, T0, in_use=True)
ON = Situation(active=True, quiet=False, priority=Priority.HIGH)


def state_after(*events: str) -> AlarmState:
    """The state an alarm is in after these events, told one after another."""
    alarm, situation = RAISED, ON
    for event in events:
        match event:
            case "acknowledge":
                alarm = replace(alarm, acknowledged_at=T0)
            case "off" | "on":
                situation = replace(situation, active=event == "on")
            case "reset":
                alarm = replace(alarm, cleared_at=T0)
            case "right action":
                situation = replace(situation, quiet=True)
    return state(alarm, situation)


@pytest.mark.parametrize(
    ("events", "expected"),
    [
        ((), "unacknowledged"),
        (("acknowledge",), "acknowledged"),
        (("off",), "latched unacknowledged"),
        (("acknowledge", "off"), "latched acknowledged"),
        (("off", "acknowledge"), "latched acknowledged"),
        (("acknowledge", "off", "reset"), "normal"),
        (("off", "on"), "unacknowledged"),
    ],
)
def test_each_event_leads_where_the_standard_says(events: tuple[str, ...], expected: str) -> None:
    assert state_after(*events) == expected


def test_no_order_of_acknowledging_and_going_away_ends_a_latched_alarm() -> None:
    for events in product(("acknowledge", "off", "on"), repeat=3):
        assert state_after(*events) is not AlarmState.NORMAL


def test_acknowledging_mends_nothing() -> None:
    assert state_after("acknowledge") is AlarmState.ACKNOWLEDGED


def test_the_right_action_in_time_quiets_as_an_acknowledgement_would() -> None:
    assert state_after("off", "right action") is AlarmState.LATCHED_ACKNOWLEDGED
