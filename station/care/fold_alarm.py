"""How one fact changes one alarm. It latches: only a clearing ends it, and the first word of each kind stands; only
how long it is silent goes by the last who silenced it.
"""

from dataclasses import replace

from station.care import facts as f
from station.care.state import Alarm


def alarm_step(alarm: Alarm | None, fact: f.Fact) -> Alarm | None:
    """The alarm after `fact`; None while nothing raised it."""
    body = fact.body
    if isinstance(body, f.AlarmRaised):
        return _raised(alarm, fact, body)
    if alarm is None:
        return None
    if isinstance(body, f.AlarmAcknowledged):
        return _silenced(alarm, fact)
    if isinstance(body, f.AlarmShelved):
        return replace(alarm, shelved_until=body.until, shelved_by=fact.who, shelved_why=body.reason)
    if isinstance(body, f.AlarmUnshelved) and alarm.shelved_until is not None:
        return replace(alarm, shelved_until=min(alarm.shelved_until, fact.at))
    if isinstance(body, f.AlarmCleared) and alarm.cleared_at is None:
        return replace(
            alarm,
            cleared_at=fact.at,
            cleared_by=fact.who,
            disposition=body.disposition,
            boards=body.boards,
            document=body.document,
            reason=body.reason,
        )
    return alarm


def _raised(alarm: Alarm | None, fact: f.Fact, body: f.AlarmRaised) -> Alarm:
    """Raised by several stations it is one alarm, from the earliest instant any of them knows."""
    if alarm is None:
        return Alarm(body.alarm, body.subject, body.limit, body.since, fact.at, body.in_use)
    return replace(alarm, since=min(alarm.since, body.since), in_use=alarm.in_use or body.in_use)


def _silenced(alarm: Alarm, fact: f.Fact) -> Alarm:
    if alarm.silenced_at is None:
        return replace(alarm, acknowledged_at=fact.at, acknowledged_by=fact.who, silenced_at=fact.at)
    return replace(alarm, silenced_at=max(alarm.silenced_at, fact.at))
