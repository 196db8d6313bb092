"""What is said of paste that leaves use: by the local rules into the paste waste, and leaded paste apart."""

from station.care.floor import Floor

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
