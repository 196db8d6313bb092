"""Open alarms as cards: what passed, since when, what is known, and what a shift lead may do."""

from collections.abc import Sequence
from datetime import datetime, timedelta

from station.care import alarms
from station.care.alarm_floods import Group, grouped
from station.care.alarms import Situation
from station.care.day_list import past_until
from station.care.floor import Floor
from station.care.limits import until_away
from station.care.reactions import caution, ended, reaction
from station.care.saying import spot
from station.care.state import Alarm
from station.care.words import Disposition, Limit, Priority
from station.ui import wording
from station.ui.view_models import ActionModel, AlarmCardModel

SHOW_GROUP, CLEAR_GROUP = "alarm-group", "clear-together"
MOST_NAMED = 6
HINTS = {
    Disposition.DISCARDED: "to the paste waste, by the local rules",
    Disposition.USED_IN_TIME: "say how you know",
    Disposition.EVALUATION: "it stays blocked",
    Disposition.EXTENDED: "concession number",
    Disposition.NOT_FOUND: "searched for",
    Disposition.BEAD_OFF: "and the boards?",
    Disposition.CHECKED: "say what you saw",
}


def alarm_cards(floor: Floor, asked: str | None = None) -> tuple[AlarmCardModel, ...]:
    """Every open alarm: first those of the container or position that was `asked` for, then the most urgent.

    In a flood those of one lot and limit share a card; one that was asked for is shown alone all the same.
    """
    open_alarms = alarms.open_alarms(floor)
    about = tuple(_card(floor, *pair) for pair in open_alarms if pair[0].subject == asked)
    others = (found for found in grouped(floor) if isinstance(found, Group) or found[0].subject != asked)
    return (*about, *(_group(floor, one) if isinstance(one, Group) else _card(floor, *one) for one in others))


def _group(floor: Floor, group: Group) -> AlarmCardModel:
    """`7 of lot 101 of SN-4: room life`: one look, and one word for all of them."""
    first, situation = group.alarms[0]
    names = ", ".join(alarm.subject.replace("-", " ") for alarm, _ in group.alarms[:MOST_NAMED])
    more = len(group.alarms) - MOST_NAMED
    return AlarmCardModel(
        title=f"{len(group.alarms)} of lot {group.cause.spoken}",
        lines=(
            f"The first since {wording.moment(first.since, floor.now, floor.zone)}.",
            f"{names}{f' and {more} more' if more > 0 else ''}.",
            _todo(floor, first, situation),
        ),
        actions=(
            ActionModel(f"{SHOW_GROUP}:{first.id}", "Show each", "with its true time"),
            ActionModel(f"{CLEAR_GROUP}:{first.id}", "Clear together", "badge and PIN"),
        ),
        priority=situation.priority,
        unacknowledged=any(alarms.sounding(floor, alarm) for alarm, _ in group.alarms),
    )


def _card(floor: Floor, alarm: Alarm, situation: Situation) -> AlarmCardModel:
    return AlarmCardModel(
        title=title_of(floor, alarm),
        lines=_lines(floor, alarm, situation),
        actions=_actions(floor, alarm, situation),
        priority=situation.priority,
        unacknowledged=alarms.sounding(floor, alarm),
    )


def title_of(floor: Floor, alarm: Alarm) -> str:
    """One line that says what is wrong: `K7 298 is past its open life by 18 min`."""
    until = past_until(floor, alarm)
    past = wording.time_to_wait(max(timedelta(0), (until or floor.moment.ages) - alarm.since))
    was = "is" if until is None else "was"
    name = spot(alarm.subject) if alarm.subject in floor.plant.positions else alarm.subject.replace("-", " ")
    if alarm.limit in alarms.OF_ONE_MOUNT:
        still, how = alarms.situation(floor, alarm).active, "on hold" if alarm.limit is Limit.HOLD else "off its list"
        if alarm.subject in floor.plant.positions:
            return f"Paste {how} {'lies' if still else 'lay'} on {name}"
        return f"{name} {'is' if still else 'was'} {how} in a dispenser"
    if alarm.limit is Limit.SEEN_AGAIN:
        return f"{name} was seen again after its end"
    if alarm.limit is Limit.CONDITIONING:
        return f"{name} was opened too early"
    if alarm.limit in (Limit.TO_COLD, Limit.MOVE):
        late = "late to cold storage" if alarm.limit is Limit.TO_COLD else "too long on its way between stores"
        return f"{name} {'is' if _to_put_away(floor, alarm) else 'was'} {late}"
    if alarm.subject in floor.plant.positions:
        return f"The bead on {name} {was} past its {alarm.limit.value} by {past}"
    return f"{name} {was} past its {alarm.limit.value} by {past}"


def _to_put_away(floor: Floor, alarm: Alarm) -> bool:
    container = floor.container(alarm.subject)
    return container is not None and container.ended is None and alarm.limit in dict(until_away(container))


def printed_between(floor: Floor, asked: Sequence[Alarm]) -> str:
    """`between 14:05 and 14:25`, or `since 14:05`, over all that were `asked` of; nothing where no boards count."""
    spans = [span for alarm in asked if (span := alarms.boards_between(floor, alarm)) is not None]
    if not spans:
        return ""
    ends = [end for _, end in spans if end is not None]
    since = wording.moment(min(start for start, _ in spans), floor.now, floor.zone)
    if len(ends) < len(spans):
        return f"since {since}"
    return f"between {since} and {wording.moment(max(ends), floor.now, floor.zone)}"


def _lines(floor: Floor, alarm: Alarm, situation: Situation) -> tuple[str, ...]:
    since = f"Since {wording.moment(alarm.since, floor.now, floor.zone)}. {_silenced(floor, alarm, situation)}"
    return (since.strip(), _known(floor, alarm), _todo(floor, alarm, situation))


def _todo(floor: Floor, alarm: Alarm, situation: Situation) -> str:
    """The words of the control plan, and the caution that always stays."""
    return f"{ended(reaction(floor, alarm, situation))} {caution(floor, alarm)}"


def _silenced(floor: Floor, alarm: Alarm, situation: Situation) -> str:
    if situation.shelved:
        return shelved_text(floor, alarm)
    if alarm.acknowledged_at is None:
        return ""
    by = f" by {alarm.acknowledged_by}" if alarm.acknowledged_by else ""
    said = f"Silenced {wording.moment(alarm.acknowledged_at, floor.now, floor.zone)}{by}."
    again = alarms.sounds_again(alarm, situation)
    if again is None:
        return said
    until = " until the paste is off" if situation.priority is Priority.HIGH else ""
    return f"{said} Sounds {_from(floor, again)}{until}."


def shelved_text(floor: Floor, alarm: Alarm) -> str:
    """`Shelved until 16:00 by P20: sorting them now.`; for one that is shelved."""
    until = wording.moment(alarm.shelved_until or floor.now, floor.now, floor.zone)
    by = f" by {alarm.shelved_by}" if alarm.shelved_by else ""
    return f"Shelved until {until}{by}: {alarm.shelved_why.rstrip('.')}."


def _from(floor: Floor, again: datetime) -> str:
    return "again" if floor.moment.ages >= again else f"again at {wording.clock_of_day(again, floor.zone)}"


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
    possible = not alarms.at_work(floor, alarm, situation)
    clear = ActionModel(
        f"clear:{alarm.id}", "Clear", "badge and PIN" if possible else _first(floor, alarm), enabled=possible
    )
    if not alarms.sounding(floor, alarm):
        return (clear,)
    return (ActionModel(f"acknowledge:{alarm.id}", "Silence", "it stays open"), clear)


def _first(floor: Floor, alarm: Alarm) -> str:
    return "take it off first" if floor.mounted_at(alarm.subject) else "remove the bead first"
