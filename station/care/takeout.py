"""Leaving cold storage: the moment the clocks start, and the times that go on the label."""

from datetime import datetime

from station.care import facts as f
from station.care.conditioning import RoomTooCold, RoomTooHumid, Wait, waiting
from station.care.floor import Floor
from station.care.moments import minute_down, minute_up
from station.care.specification import Store
from station.care.state import Container, RoomAir


def wait_for(floor: Floor, paste: str, kind: str, cold_c: float, air: RoomAir | None = None) -> Wait | None:
    """The conditioning time of a paste in a kind in the room as it is, or in `air`; None where that forbids use, and
    where nobody ever said how long this kind has to warm."""
    specification, minimum = floor.specification(paste), floor.minimum_for(paste, kind)
    room = air or floor.room
    if minimum is None:
        return None
    try:
        return waiting(
            floor.kind_called(kind),
            minimum,
            cold_c,
            room.temperature_c,
            room.humidity,
            specification.floor_c,
        )
    except (RoomTooCold, RoomTooHumid):
        return None


def taken_out(
    floor: Floor, container: Container, store: Store, wait: Wait, since: datetime | None = None
) -> f.TakenOut:
    """The fact of a take-out from `store` now, with every figure it used; `since` where it may have left before.

    Conditioning runs from the latest the paste can have left the cold, every life from the earliest: a container
    that was seen outside before is taken to have been out since it was last known to be cold.
    """
    specification = floor.specification(container.paste)
    seen = container.sighted_warm_at
    out_from = min(floor.cold_until(container), seen) if seen is not None else since or floor.now
    return f.TakenOut(
        container=container.id,
        store=store.id,
        thaw_from=minute_down(out_from),
        thaw_to=floor.now,
        earliest_use=minute_up(floor.now + wait.longest),
        room_end=minute_down(out_from + specification.room_life - container.warm_spent),
        supplier_minimum=wait.supplier_minimum,
        warm_up=wait.warm_up,
        dew_wait=wait.dew_point,
        room_c=floor.room.temperature_c,
        humidity=floor.room.humidity,
        cold_c=store.low_c,
        specification=f"{specification.paste} version {specification.version}",
        zone=floor.zone.key,
        room_life=specification.room_life,
        spent=container.warm_spent,
    )
