"""Leaving cold storage: the moment the clocks start, and the times that go on the label."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from station.care import facts as f
from station.care.conditioning import RoomTooCold, RoomTooHumid, Wait, waiting
from station.care.floor import Floor
from station.care.moments import minute_down, minute_up
from station.care.state import Container


@dataclass(frozen=True, slots=True)
class Thaw:
    """The times of a take-out. `wait` and `earliest_use` are None while the room forbids any use."""

    thaw_from: datetime
    thaw_to: datetime
    wait: Wait | None
    earliest_use: datetime | None
    room_end: datetime


def thaw(floor: Floor, container: Container, cold_c: float) -> Thaw:
    """The times of taking `container` out now, from cold paste of `cold_c` degrees Celsius.

    Conditioning runs from the latest the paste can have left the cold, every life from the earliest.
    """
    specification = floor.specification(container.paste)
    seen_warm = container.sighted_warm_at is not None
    since = container.put_away_at or container.arrived_at
    thaw_from = minute_down(since if seen_warm else floor.now)
    wait = wait_for(floor, container.paste, container.kind, cold_c)
    return Thaw(
        thaw_from=thaw_from,
        thaw_to=floor.now,
        wait=wait,
        earliest_use=None if wait is None else minute_up(floor.now + wait.longest),
        room_end=minute_down((since if seen_warm else floor.now) + specification.room_life - container.warm_spent),
    )


def wait_for(floor: Floor, paste: str, kind: str, cold_c: float) -> Wait | None:
    """The conditioning time of a paste in a kind in the room as it is; None where the room forbids use."""
    specification = floor.specification(paste)
    room = floor.room
    try:
        return waiting(
            floor.plant.kinds[kind],
            specification.minimum_for(kind) or timedelta(0),
            cold_c,
            room.temperature_c,
            room.humidity,
            specification.floor_c,
        )
    except (RoomTooCold, RoomTooHumid):
        return None


def taken_out(floor: Floor, container: Container, store: str) -> f.TakenOut:
    """The fact of a take-out from `store`, with every figure it used."""
    place = floor.plant.stores[store]
    times = thaw(floor, container, place.low_c)
    specification = floor.specification(container.paste)
    wait = times.wait
    return f.TakenOut(
        container=container.id,
        store=store,
        thaw_from=times.thaw_from,
        thaw_to=times.thaw_to,
        earliest_use=times.earliest_use,
        room_end=times.room_end,
        supplier_minimum=specification.minimum_for(container.kind) or timedelta(0),
        warm_up=wait.warm_up if wait else None,
        dew_wait=wait.dew_point if wait else None,
        room_c=floor.room.temperature_c,
        humidity=floor.room.humidity,
        cold_c=place.low_c,
        specification=f"{specification.paste} version {specification.version}",
        zone=floor.zone.key,
    )
