"""How long paste must warm where nobody can ask the station: enough in any room it may be printed in.

On paper there is one figure for each kind, so it is the longest of all rooms in the specification's printing range, at
the highest humidity of that range, and of the room as it is. It is never under the supplier's minimum.
"""

from collections.abc import Iterator
from datetime import timedelta
from math import ceil

from station.care.conditioning import RoomTooCold, RoomTooHumid, Wait, waiting
from station.care.floor import Floor
from station.care.words import Storage

FIVE_MINUTES = timedelta(minutes=5)


def warming_by_hand(floor: Floor, paste: str, kind: str) -> timedelta | None:
    """The time to write on paper, up to whole five minutes; None where such rooms forbid use, nothing is chilled, or no
    version ever had a time for the kind."""
    if floor.plant.pastes[paste].storage is Storage.ROOM:
        return None
    waits = [
        wait.longest
        for room_c, humidity in _rooms(floor, paste)
        if (wait := _wait(floor, paste, kind, room_c, humidity))
    ]
    return max(-(-wait // FIVE_MINUTES) for wait in waits) * FIVE_MINUTES if waits else None


def coldest_c(floor: Floor, paste: str) -> float:
    """The lowest temperature this paste may come out of the cold with, in degrees Celsius."""
    storage = floor.plant.pastes[paste].storage
    thawed = storage is Storage.FROZEN and floor.specification(paste).thaw is not None
    wanted = Storage.COLD if thawed else storage
    return min((store.low_c for store in floor.plant.stores.values() if store.storage is wanted), default=0.0)


def _rooms(floor: Floor, paste: str) -> Iterator[tuple[float, float]]:
    """Temperatures in degrees Celsius with a humidity in percent; in between the wait has no peak of its own."""
    range_c, humidity = floor.specification(paste).printing_room_c, floor.specification(paste).printing_humidity.high
    yield from ((float(room_c), humidity) for room_c in range(ceil(range_c.low), int(range_c.high) + 1))
    yield range_c.low, humidity
    yield range_c.high, humidity
    yield floor.room.temperature_c, floor.room.humidity


def _wait(floor: Floor, paste: str, kind: str, room_c: float, humidity: float) -> Wait | None:
    specification, minimum = floor.specification(paste), floor.minimum_for(paste, kind)
    if minimum is None:
        return None
    try:
        return waiting(
            floor.kind_called(kind), minimum, coldest_c(floor, paste), room_c, humidity, specification.floor_c
        )
    except (RoomTooCold, RoomTooHumid):
        return None
