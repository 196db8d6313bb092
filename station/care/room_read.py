"""What a reading of the room means for the paste of this plant: what can't become ready, and what prints badly."""

from collections.abc import Iterator

from station.care.answers import plain
from station.care.conditioning import dry_c
from station.care.floor import Floor
from station.care.room_air import band
from station.care.specification import Specification
from station.care.verdict import Verdict
from station.care.words import Storage, Word

CLOSED = "Leave what is closed closed. Never heat paste."


def room_read(floor: Floor, temperature_c: float, humidity: float) -> Verdict:
    """The answer to a reading in degrees Celsius and percent: recorded, and WAIT where nothing more gets ready."""
    read = f"The room is at {temperature_c:g} C and {humidity:g} %."
    warmed = [entry for entry in _in_use(floor) if floor.plant.pastes[entry.paste].storage is not Storage.ROOM]
    cold = [entry for entry in warmed if temperature_c < entry.floor_c]
    if cold:
        said = ", ".join(f"{entry.paste} must reach {entry.floor_c:g} C" for entry in cold)
        why = f"{read} {said}: in this room it never becomes ready, and none is taken out for it."
        todo = f"{CLOSED} Warm the room, then read it again; tell the shift lead."
        return plain(Word.WAIT, "room-too-cold", "ROOM TOO COLD", why, todo)
    if warmed and dry_c(temperature_c, humidity) >= temperature_c:
        why = f"{read} Water from the air would settle in paste: nothing becomes ready, and nothing is taken out."
        todo = f"{CLOSED} Dry the air, then read it again; tell the shift lead."
        return plain(Word.WAIT, "room-too-humid", "ROOM TOO HUMID", why, todo)
    outside = tuple(_outside(floor, temperature_c, humidity))
    if outside:
        todo = "Look at every print, and tell the shift lead. Read the room again once it has changed."
        return plain(Word.DONE, "room-outside", "ROOM OUTSIDE LIMITS", f"{read} {' '.join(outside)}", todo)
    return plain(Word.DONE, "room-read", "ROOM AIR RECORDED", read, "It suits every paste here.")


def _in_use(floor: Floor) -> Iterator[Specification]:
    """The limits of every paste set up here, in the order of their names."""
    return (floor.specification(paste) for paste in sorted(floor.plant.pastes))


def _outside(floor: Floor, temperature_c: float, humidity: float) -> Iterator[str]:
    for entry in _in_use(floor):
        if not entry.printing_room_c.holds(temperature_c):
            yield f"{entry.paste} prints at {band(entry.printing_room_c)} C."
        if not entry.printing_humidity.holds(humidity):
            yield f"{entry.paste} prints at {band(entry.printing_humidity)} %."
