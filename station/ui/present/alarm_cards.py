"""Open alarms as cards: what passed, since when, what is known, and what a shift lead may do."""

from datetime import datetime, timedelta

from station.care import alarms
from station.care.alarms import Situation
from station.care.floor import Floor
from station.care.saying import spot
from station.care.state import Alarm
from station.care.words import Limit
from station.ui import wording
from station.ui.view_models import ActionModel, AlarmCardModel


def alarm_cards(floor: Floor, asked: str | None = None) -> tuple[AlarmCardModel, ...]:
    """Every open alarm: first those of the container or position that was `asked` for, then the most urgent."""
    found = sorted(alarms.open_alarms(floor), key=lambda pair: pair[0].subject != asked)
    return tuple(_card(floor, alarm, situation) for alarm, situation in found)


def _card(floor: Floor, alarm: Alarm, situation: Situation) -> AlarmCardModel:
    return AlarmCardModel(
        title=title_of(floor, alarm),
        lines=_lines(floor, alarm),
        actions=_actions(floor, alarm, situation),
        priority=situation.priority,
        unacknowledged=alarms.sounding(floor, alarm),
    )


def title_of(floor: Floor, alarm: Alarm) -> str:
    """One line that says what is wrong: `K7 298 is past its open life by 18 min`."""
    until = _past_until(floor, alarm)
    past = wording.time_to_wait(max(timedelta(0), (until or floor.moment.ages) - alarm.since))
    was = "is" if until is None else "was"
    name = spot(alarm.subject) if alarm.subject in floor.plant.positions else alarm.subject.replace("-", " ")
    if alarm.limit is Limit.HOLD:
        at_line = alarm.subject in floor.plant.positions
        return f"Paste on hold lies on {name}" if at_line else f"{name} is on hold in a dispenser"
    if alarm.limit is Limit.SEEN_AGAIN:
        return f"{name} was seen again after its end"
    if alarm.limit is Limit.CONDITIONING:
        return f"{name} was opened too early"
    if alarm.limit is Limit.TO_COLD:
        return f"{name} was late to cold storage"
    if alarm.subject in floor.plant.positions:
        return f"The bead on {name} {was} past its {alarm.limit.value} by {past}"
    return f"{name} {was} past its {alarm.limit.value} by {past}"


def _past_until(floor: Floor, alarm: Alarm) -> datetime | None:
    """When the paste was out of use, if it is: what is past stops growing then."""
    between = alarms.boards_between(floor, alarm)
    if between is not None:
        return between[1]
    container = floor.container(alarm.subject)
    return container.ended_at if container is not None else None


def _lines(floor: Floor, alarm: Alarm) -> tuple[str, ...]:
    since = f"Since {wording.moment(alarm.since, floor.now, floor.zone)}. {_silenced(floor, alarm)}"
    return (since.strip(), _known(floor, alarm))


def _silenced(floor: Floor, alarm: Alarm) -> str:
    if alarm.acknowledged_at is None:
        return ""
    by = f" by {alarm.acknowledged_by}" if alarm.acknowledged_by else ""
    return f"Silenced {wording.moment(alarm.acknowledged_at, floor.now, floor.zone)}{by}."


def _known(floor: Floor, alarm: Alarm) -> str:
    between = alarms.boards_between(floor, alarm)
    if between is not None:
        start, end = between
        if end is None:
            return _still_there(floor, alarm)
        span = f"{wording.clock_of_day(start, floor.zone)} and {wording.clock_of_day(end, floor.zone)}"
        return f"Say what became of the boards printed between {span}."
    container = floor.container(alarm.subject)
    if container is None or container.ended is not None:
        return "It is out of use. Say what became of it."
    seen = wording.moment(container.last_seen_at, floor.now, floor.zone) if container.last_seen_at else "never"
    used = floor.positions_with(container.id)
    where = f"In the bead on {' and '.join(spot(name) for name in used)}." if used else "Not at any line."
    return f"Last seen {seen} at {spot(container.last_seen_where)}. {where}"


def _still_there(floor: Floor, alarm: Alarm) -> str:
    mounted = floor.mounted_at(alarm.subject)
    if mounted:
        return f"It is still on {spot(mounted[0])}: stop, take it off, and record DISMOUNT."
    return "The bead is still on: stop, scrape it off, clean, and record REMOVE."


def _actions(floor: Floor, alarm: Alarm, situation: Situation) -> tuple[ActionModel, ...]:
    possible = _clearable(floor, alarm, situation)
    clear = ActionModel(
        f"clear:{alarm.id}", "Clear", "badge and PIN" if possible else _first(floor, alarm), enabled=possible
    )
    if not alarms.sounding(floor, alarm):
        return (clear,)
    return (ActionModel(f"acknowledge:{alarm.id}", "Silence", "it stays open"), clear)


def _clearable(floor: Floor, alarm: Alarm, situation: Situation) -> bool:
    at_work = alarm.subject in floor.plant.positions or bool(floor.mounted_at(alarm.subject))
    return not (situation.active and at_work)


def _first(floor: Floor, alarm: Alarm) -> str:
    return "take it off first" if floor.mounted_at(alarm.subject) else "remove the bead first"
