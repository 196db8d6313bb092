"""Warm-up figures of a container kind, as a process engineer accepts them from thermocouple runs."""

from dataclasses import dataclass
from datetime import timedelta

from station.care import facts as f
from station.care.floor import Floor
from station.care.refused import Refused
from station.care.words import Role

SHORTEST_TIME_CONSTANT = timedelta(minutes=1)
LONGEST_TIME_CONSTANT = timedelta(days=1)
LONGEST_DEAD_TIME = timedelta(hours=6)


@dataclass(frozen=True, slots=True)
class Figures:
    """What an engineer accepts for a kind. `runs` name the files the figures come from, `note` how it was measured."""

    kind: str
    time_constant: timedelta
    dead_time: timedelta
    runs: tuple[str, ...]
    note: str


def accept(floor: Floor, told: Figures, person: str | None) -> f.FiguresAccepted:
    """The fact of accepted figures. Raises Refused; the supplier's minimum stays the least there is."""
    if not floor.person_has(person, Role.ENGINEER):
        raise Refused("Only a process engineer accepts warm-up figures. Badge in with your PIN.")
    if told.kind not in floor.plant.kinds:
        raise Refused(f"There is no container kind {told.kind!r} in this plant. Choose one from the list.")
    if not SHORTEST_TIME_CONSTANT <= told.time_constant <= LONGEST_TIME_CONSTANT:
        raise Refused("The time constant must be from 1 min to 24 h. Check the fit.")
    if not timedelta(0) <= told.dead_time <= LONGEST_DEAD_TIME:
        raise Refused("The dead time must be from 0 to 6 h. Check the fit.")
    if not told.runs or not told.note.strip():
        raise Refused("Name the runs, and say in a few words how it was measured; it stands in the record.")
    return f.FiguresAccepted(told.kind, told.time_constant, told.dead_time, False, told.runs, told.note.strip())
