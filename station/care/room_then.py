"""The room as it was read at the time, for a take-out that is told only afterwards."""

from datetime import datetime

from station.care.conditioning import Wait
from station.care.floor import Floor
from station.care.state import RoomAir
from station.care.takeout import wait_for


def airs_since(floor: Floor, since: datetime) -> tuple[RoomAir, ...]:
    """The reading that held at an instant, or what the site assumes before the first, and every one since."""
    read = [air for air in floor.ledger.rooms if air.read_at is not None]
    before = [air for air in read if air.read_at is not None and air.read_at <= since]
    assumed = RoomAir(floor.rules.assumed_room_c, floor.rules.assumed_humidity, None)
    return (before[-1] if before else assumed, *read[len(before) :])


def waited_since(floor: Floor, paste: str, kind: str, cold_c: float, since: datetime) -> tuple[datetime, Wait] | None:
    """From when on paste that is out since an instant counts as warming, and the longest wait of the room since.

    A room that forbade use then let nothing get ready: it counts from the reading after. None while it forbids it.
    """
    begun: tuple[datetime, Wait] | None = None
    for air in airs_since(floor, since):
        wait = wait_for(floor, paste, kind, cold_c, air)
        if wait is None or begun is None:
            begun = (max(since, air.read_at or since), wait) if wait is not None else None
        else:
            begun = (begun[0], _longer(begun[1], wait))
    return begun


def _longer(one: Wait, other: Wait) -> Wait:
    return Wait(
        supplier_minimum=max(one.supplier_minimum, other.supplier_minimum),
        warm_up=max(one.warm_up, other.warm_up),
        dew_point=max(one.dew_point, other.dew_point),
    )
