"""What is said of paste that leaves use: by the local rules into the paste waste, and leaded paste apart."""

from station.care.floor import Floor
from station.care.words import Disposition

DO_NOT_USE = "Do not use it. Discard it by the local rules for paste waste"


def leaded(floor: Floor, paste: str) -> bool:
    """Whether a paste contains lead; False for one this site does not know."""
    known = floor.plant.pastes.get(paste)
    return known is not None and known.alloy.leaded


def apart(floor: Floor, paste: str) -> str:
    """How a sentence about waste ends, without its full stop; empty unless the paste is leaded."""
    return "; leaded (Pb) waste apart" if leaded(floor, paste) else ""


def discard_it(floor: Floor, paste: str) -> str:
    """What to do with paste that must not be used any more."""
    return f"{DO_NOT_USE}{apart(floor, paste)}."


def into_the_waste(floor: Floor, paste: str) -> str:
    """Where paste goes that somebody has just said is discarded."""
    return f"Into the paste waste by the local rules{apart(floor, paste)}."


def after_clearing(floor: Floor, disposition: Disposition, alarm: str) -> str:
    """What to do once an alarm is cleared: discarded paste has a way to go."""
    if disposition is not Disposition.DISCARDED:
        return "Go on."
    container = floor.container(floor.ledger.alarms[alarm].subject)
    if container is None:  # paste of a bead, of whatever is in it
        return "Into the paste waste by the local rules; leaded (Pb) waste apart."
    return into_the_waste(floor, container.paste)
