"""Paste that was recorded as ended lies somewhere again."""

from station.care import facts as f
from station.care.floor import Floor
from station.care.moments import minute_down
from station.care.state import Container
from station.care.words import Limit


def seen_again(floor: Floor, container: Container) -> tuple[f.Body, ...]:
    """The alarm of ended paste seen at a door or a line, unless its end was told a moment ago or the alarm stands."""
    if container.ended_at is not None and floor.recently(container.ended_at, floor.rules.undo_within):
        return ()
    stem = f"{Limit.SEEN_AGAIN.value}/{container.id}/{container.received_key}"
    before = [known for known in floor.ledger.alarms.values() if known.id.startswith(stem)]
    if any(known.cleared_at is None for known in before):
        return ()
    alarm = f"{stem}/{len(before) + 1}"
    return (f.AlarmRaised(alarm, container.id, Limit.SEEN_AGAIN, minute_down(floor.now), False),)
