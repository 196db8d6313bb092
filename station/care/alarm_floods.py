"""Many alarms at once: which belong to a flood, and how they are put together so that a person can answer them.

A flood begins with more than 10 new alarms in 10 minutes and is over at fewer than 5 (ANSI/ISA-18.2, as quoted by
public texts on alarm floods). What was raised in one stays together until it is cleared; a high alarm always stands
alone, so that none is hidden in a group.
"""

from collections import deque
from collections.abc import Iterable
from dataclasses import dataclass

from station.care import alarms
from station.care.alarms import Situation
from station.care.floor import Floor
from station.care.fold_lot import lot_name, spoken_lot
from station.care.response_figures import FLOOD_ABOVE, FLOOD_OVER_BELOW, TEN_MINUTES
from station.care.state import Alarm
from station.care.words import Limit, Priority

Standing = tuple[Alarm, Situation]
LEAST_TOGETHER = 2


@dataclass(frozen=True, slots=True)
class Cause:
    """What alarms must share to be answered together: paste and lot, limit, and whether boards are asked about."""

    lot: str
    limit: Limit
    boards: bool

    @property
    def spoken(self) -> str:
        """`101 of SN-4: room life`."""
        return f"{spoken_lot(self.lot)}: {self.limit.value}"


@dataclass(frozen=True, slots=True)
class Group:
    """Open alarms of one flood with one cause, the oldest first."""

    cause: Cause
    alarms: tuple[Standing, ...]


def flooded(raised: Iterable[Alarm]) -> frozenset[str]:
    """The alarms that were raised in a flood, by the instants they were raised at."""
    found: set[str] = set()
    recent: deque[Alarm] = deque()
    flood = False
    for alarm in sorted(raised, key=lambda one: (one.raised_at, one.id)):
        while recent and alarm.raised_at - recent[0].raised_at >= TEN_MINUTES:
            recent.popleft()
        flood = flood and len(recent) >= FLOOD_OVER_BELOW
        recent.append(alarm)
        if not flood and len(recent) > FLOOD_ABOVE:
            flood = True
            found.update(one.id for one in recent)
        elif flood:
            found.add(alarm.id)
    return frozenset(found)


def cause_of(floor: Floor, alarm: Alarm) -> Cause | None:
    """What an alarm may share with others; None where its paste is of no one lot that is known."""
    lot = _lot_of(floor, alarm)
    if lot is None:
        return None
    return Cause(lot, alarm.limit, alarms.boards_between(floor, alarm) is not None)


def same_cause(floor: Floor, alarm_id: str) -> tuple[Alarm, ...]:
    """This open alarm and every other one that may be cleared by the same word, the oldest first.

    What still lies at a stencil stays out: it has to come off first.
    """
    asked = floor.ledger.alarms.get(alarm_id)
    cause = cause_of(floor, asked) if asked is not None else None
    if cause is None:
        return ()
    return tuple(
        alarm
        for alarm, situation in alarms.open_alarms(floor)
        if situation.priority is not Priority.HIGH and cause_of(floor, alarm) == cause
    )


def grouped(floor: Floor) -> tuple[Standing | Group, ...]:
    """Every open alarm, alone or in the group of its cause, in the order of the most urgent of each."""
    standing_now = alarms.open_alarms(floor)
    # most of the time few are open, and the whole history need not be looked at
    flood = flooded(floor.ledger.alarms.values()) if len(standing_now) >= LEAST_TOGETHER else frozenset()
    groups: dict[Cause, list[Standing]] = {}
    order: list[Standing | Cause] = []
    for standing in standing_now:
        cause = _grouped_by(floor, standing, flood)
        if cause is None:
            order.append(standing)
            continue
        if cause not in groups:
            order.append(cause)
        groups.setdefault(cause, []).append(standing)
    return tuple(_together(found, groups) for found in order)


def _together(found: Standing | Cause, groups: dict[Cause, list[Standing]]) -> Standing | Group:
    if not isinstance(found, Cause):
        return found
    members = groups[found]
    return members[0] if len(members) < LEAST_TOGETHER else Group(found, tuple(members))


def _grouped_by(floor: Floor, standing: Standing, flood: frozenset[str]) -> Cause | None:
    alarm, situation = standing
    if situation.priority is Priority.HIGH or alarm.id not in flood:
        return None
    return cause_of(floor, alarm)


def _lot_of(floor: Floor, alarm: Alarm) -> str | None:
    """The one lot of its paste: of a bead from several lots there is none."""
    if alarm.subject not in floor.plant.positions:
        container = floor.container(alarm.subject)
        return lot_name(container.paste, container.lot) if container is not None else None
    bead, gone = alarms.bead_of(floor, alarm)
    lay = gone.bead if gone is not None else bead
    lots = {lot_name(lay.paste, portion.lot) for portion in lay.portions} if lay is not None else set()
    return lots.pop() if len(lots) == 1 else None
