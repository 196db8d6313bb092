"""The room as it was last read, at the two moments it matters: opening a container, and printing.

Water settles on paste that is colder than the dew point of the air, so a closed container is not opened in a room
that would never let it get 2 K above the dew point, nor before it is. What is open already is not stopped by the
room; the answer only says so. Only readings count here, never the room air a site assumes.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

from station.care import facts as f
from station.care.conditioning import dry_c
from station.care.floor import Floor
from station.care.moments import minute_down, minute_up
from station.care.reason import Reason
from station.care.saying import when
from station.care.specification import Band, Kind, Specification
from station.care.state import Container, RoomAir
from station.care.words import Storage, Word

# common practice, no source: the room is read once a shift; a reading older than a long shift says little
OLD_AFTER = timedelta(hours=12)
ALMOST_K = 1e-6


@dataclass(frozen=True, slots=True)
class Spell:
    """A stretch of one room temperature (degrees Celsius) that lasts until the next one begins."""

    begins: datetime
    room_c: float


def against_opening(floor: Floor, container: Container) -> Iterator[Reason]:
    """What the room has against opening a closed container that has warmed."""
    air = floor.ledger.room
    if air is None or container.opened_at is not None:
        return
    floor_c = floor.least_c(container)
    if air.temperature_c < floor_c:
        yield _too_cold(floor, air, floor_c)
    elif dry_c(air.temperature_c, air.humidity) >= air.temperature_c:
        yield _too_humid(floor, air)
    else:
        yield from _still_damp(floor, container, air)


def _too_cold(floor: Floor, air: RoomAir, floor_c: float) -> Reason:
    return Reason(
        "room-too-cold",
        Word.WAIT,
        "ROOM TOO COLD",
        f"The room was {air.temperature_c:g} C {_read(floor, air)}; this paste must reach {floor_c:g} C.",
        "Leave it closed and call the shift lead. Never heat paste.",
    )


def _too_humid(floor: Floor, air: RoomAir) -> Reason:
    return Reason(
        "room-too-humid",
        Word.WAIT,
        "ROOM TOO HUMID",
        f"The room was {air.temperature_c:g} C and {air.humidity:g} % {_read(floor, air)}: "
        "water from the air would settle in it.",
        "Leave it closed and call the shift lead. Read the room again once the air is drier.",
    )


def _read(floor: Floor, air: RoomAir) -> str:
    return f"at {when(air.read_at or floor.now, floor.now, floor.zone)}"


def _still_damp(floor: Floor, container: Container, air: RoomAir) -> Iterator[Reason]:
    """The air got more humid since the take-out: the paste may need longer than its label says, never shorter."""
    taken_out = floor.ledger.fact(container.taken_out_key or "")
    if taken_out is None or not isinstance(taken_out.body, f.TakenOut) or container.out_to is None:
        return
    ready = dry_from(
        floor.kind(container),
        taken_out.body.cold_c,
        spells_since(container.out_to, taken_out.body.room_c, floor.ledger.rooms, air),
        dry_c(air.temperature_c, air.humidity),
        minute_down(floor.moment_of(container).warms),
    )
    if ready is not None:
        yield Reason(
            "conditioning",
            Word.WAIT,
            f"READY {when(minute_up(ready), floor.now, floor.zone)}",
            f"The air is more humid than at take-out; {container.spoken} is still too near its dew point.",
            "Leave it closed. Never heat paste.",
        )


def spells_since(begin: datetime, room_c: float, readings: Sequence[RoomAir], now: RoomAir) -> tuple[Spell, ...]:
    """The room since `begin`, when it had `room_c`. Between two readings the cooler of them is taken to hold."""
    told = [(air.read_at, air.temperature_c) for air in readings if air.read_at is not None and air.read_at > begin]
    points = [(begin, room_c), *told] if told else [(begin, now.temperature_c)]
    spells = [Spell(one[0], min(one[1], other[1])) for one, other in pairwise(points)]
    return (*spells, Spell(points[-1][0], now.temperature_c))


def paste_c(kind: Kind, cold_c: float, spells: Sequence[Spell], at: datetime) -> float:
    """Temperature of paste that left the cold at the first spell: first order, a dead time behind the room."""
    felt_until = at - kind.dead_time
    reached = cold_c
    ends = [*(spell.begins for spell in spells[1:]), felt_until]
    for spell, end in zip(spells, ends, strict=True):
        length = max(timedelta(0), min(end, felt_until) - spell.begins)
        reached = spell.room_c - (spell.room_c - reached) * math.exp(-length / kind.time_constant)
    return reached


def dry_from(kind: Kind, cold_c: float, spells: Sequence[Spell], target_c: float, now: datetime) -> datetime | None:
    """When paste will be at `target_c`, below the room it is in now; None where it is there already."""
    if paste_c(kind, cold_c, spells, now) >= target_c - ALMOST_K:
        return None
    last = spells[-1]
    settled = max(now, last.begins + kind.dead_time)
    there = paste_c(kind, cold_c, spells, settled)
    if there >= target_c:
        return settled
    return settled + kind.time_constant * math.log((last.room_c - there) / (last.room_c - target_c))


def room_note(floor: Floor, paste: str) -> str:
    """What the room has to say to paste that is open already: a warning, never a refusal; empty where all is well.

    Where the last reading is over 12 h old, that is said instead of what it read.
    """
    air = floor.ledger.room
    if air is None or air.read_at is None:
        return ""
    if floor.moment.ages - air.read_at > OLD_AFTER:
        return f"The room was last read {when(air.read_at, floor.now, floor.zone)}: read it again."
    specification = floor.specification(paste)
    return " ".join((*_outside(floor, air, specification), *_no_opening(floor, air, specification)))


def _outside(floor: Floor, air: RoomAir, specification: Specification) -> Iterator[str]:
    read = _read(floor, air)
    warmth, damp = specification.printing_room_c, specification.printing_humidity
    if not warmth.holds(air.temperature_c):
        yield f"The room was {air.temperature_c:g} C {read}; this paste prints at {band(warmth)} C."
    if not damp.holds(air.humidity):
        yield f"The air had {air.humidity:g} % {read}; this paste prints at {band(damp)} %."


def band(limits: Band) -> str:
    """`20 to 27`."""
    return f"{limits.low:g} to {limits.high:g}"


def _no_opening(floor: Floor, air: RoomAir, specification: Specification) -> Iterator[str]:
    if floor.plant.pastes[specification.paste].storage is Storage.ROOM:
        return
    if air.temperature_c < specification.floor_c:
        yield "It is too cold to open another container."
    elif dry_c(air.temperature_c, air.humidity) >= air.temperature_c:
        yield "It is too humid to open another container."
