"""Reasons that come from what holds the paste at a position: a stencil, an enclosed head or a dispenser."""

from collections.abc import Iterator

from station.care.floor import Floor
from station.care.reason import Reason
from station.care.saying import opening, spot
from station.care.state import Container, PositionState
from station.care.waste import discard_it
from station.care.words import Holder, Shape, Word

# what has to be cleaned between two pastes
TOOLS = {
    Holder.STENCIL: "stencil, blades and tools",
    Holder.HEAD: "head, stencil and tools",
    Holder.DISPENSER: "needle, fittings and tools",
}


def against_holder(floor: Floor, container: Container, position: PositionState) -> Iterator[Reason]:
    """Every reason against this container in this holder, whatever the job."""
    yield from _mounted_elsewhere(floor, container, position)
    if floor.holder(position.id) is Holder.DISPENSER:
        yield from _not_for_dispenser(floor, container, position)
    elif floor.bead_life(container.paste, position.id) is None:
        yield Reason(
            "not-in-head",
            Word.STOP,
            "NOT IN AN ENCLOSED HEAD",
            f"The specification of {container.paste} allows no enclosed head, and {spot(position.id)} is one.",
            "Use it at a line that prints with squeegees, or ask the process engineer.",
        )


def stencil_spent(floor: Floor, container: Container, position: PositionState | None) -> Iterator[Reason]:
    """Used paste that has lain on stencils for the whole of its life there; in a head that life is its own."""
    life = floor.bead_life(container.paste, position.id if position is not None else None)
    if life is not None and container.stencil_spent >= life:
        yield Reason(
            "stencil-life",
            Word.STOP,
            "STENCIL LIFE IS OVER",
            f"{container.spoken} is used paste and has lain for all of its stencil life.",
            discard_it(floor, container.paste),
        )


def _mounted_elsewhere(floor: Floor, container: Container, position: PositionState) -> Iterator[Reason]:
    """Paste can't be in two places: where it was mounted it must be taken off, or nobody knows what is there."""
    for name in floor.mounted_at(container.id):
        if name != position.id:
            yield Reason(
                "mounted-elsewhere",
                Word.STOP,
                f"MOUNTED ON {spot(name).upper()}",
                f"{container.spoken} is recorded as mounted on {spot(name)}.",
                f"Take it off there first: scan the tag of {spot(name)}, then the DISMOUNT card.",
            )


def _not_for_dispenser(floor: Floor, container: Container, position: PositionState) -> Iterator[Reason]:
    kind = floor.plant.kinds.get(container.kind)
    if kind is None or kind.shape is Shape.JAR:
        yield Reason(
            "not-for-dispenser",
            Word.STOP,
            "ONLY CARTRIDGES AND SYRINGES",
            f"{opening(spot(position.id))} is a dispenser; {container.spoken} does not fit it.",
            "Use a cartridge or a syringe of this paste.",
        )
    mounted = position.mounted
    if mounted is not None and mounted.container != container.id:
        name = mounted.container.replace("-", " ")
        yield Reason(
            "mounted-other",
            Word.STOP,
            f"TAKE OFF {name} FIRST",
            f"{name} is mounted on {spot(position.id)}.",
            f"Take it off and scan the DISMOUNT card, or EMPTY if it is used up. Then scan {container.spoken} again.",
        )
