"""Moving one named limit of a container inside its specification's allowance, with a concession number.

Only open life and room life can be moved. Shelf life is the supplier's to move (by re-certifying the lot), and
stencil life is nobody's. Discard-by is taken again afterwards: where another limit governs, nothing is gained.
"""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from station.care import facts as f
from station.care.answers import REPRINT, at_text
from station.care.floor import Floor
from station.care.limits import Running, running_limits
from station.care.moments import NOTHING
from station.care.refused import Refused
from station.care.saying import opening, span
from station.care.state import Container
from station.care.verdict import Verdict
from station.care.waste import apart
from station.care.words import Limit, Role, Word


class ExtensionRefused(Refused):
    """The limit can't be moved as told; the sentence says why, and what else may be done."""


@dataclass(frozen=True, slots=True)
class Extending:
    """What a shift lead asks for: one limit of one container, by how much, under which concession."""

    container: str
    limit: Limit
    by: timedelta
    concession: str


def extend(floor: Floor, asked: Extending, person: str | None) -> tuple[f.LimitExtended, Verdict]:
    """The fact of an extension, and what it comes to. Raises ExtensionRefused; nothing is to be recorded then."""
    container = floor.container(asked.container)
    if container is None or container.ended is not None:
        raise ExtensionRefused("Only a container in use can be extended. Scan its label to see its story.")
    if not floor.person_has(person, Role.LEAD):
        raise ExtensionRefused("Only a shift lead extends a limit. Badge in with your PIN.")
    fact = extension(floor, container, asked)
    return fact, _verdict(floor, container, asked)


def allowance(floor: Floor, container: Container, limit: Limit) -> timedelta:
    """How much of the specification's allowance for a limit is left; nothing for limits that never move."""
    moved = {Limit.OPEN: container.open_extension, Limit.ROOM: container.room_extension}
    return max(NOTHING, _allowed(floor, container, limit) - moved.get(limit, NOTHING))


def _allowed(floor: Floor, container: Container, limit: Limit) -> timedelta:
    """The specification's allowance for all extensions of a limit together."""
    specification = floor.specification(container.paste)
    allowed = {Limit.OPEN: specification.open_extension, Limit.ROOM: specification.room_extension}
    return allowed.get(limit, NOTHING)


def extension(floor: Floor, container: Container, asked: Extending) -> f.LimitExtended:
    """The fact of moving a limit, if the specification allows it and the paste is usable again by it."""
    if container.sources:
        named = " and ".join(source.replace("-", " ") for source in container.sources)
        raise ExtensionRefused(f"The clocks of {container.spoken} are those of {named}. Extend there.")
    running = dict(running_limits(container))
    left = allowance(floor, container, asked.limit)
    name = asked.limit.value
    if asked.limit not in running:
        raise ExtensionRefused(f"The {name} of {container.spoken} does not run; there is nothing to extend.")
    if left <= NOTHING:
        raise ExtensionRefused(f"The specification of {container.paste} allows no extension of its {name}.")
    if not NOTHING < asked.by <= left:
        raise ExtensionRefused(f"The {name} may be extended by up to {span(left)}. Give a time inside that.")
    if not asked.concession.strip():
        raise ExtensionRefused("An extension needs its concession number.")
    if running[asked.limit] + asked.by < floor.moment.ages:
        waste = f"Discard it by the local rules for paste waste{apart(floor, container.paste)}."
        raise ExtensionRefused(f"Extended by {span(asked.by)} the {name} would still be over. {waste}")
    allowed = _allowed(floor, container, asked.limit)
    return f.LimitExtended(container.id, asked.limit, asked.by, asked.concession.strip(), allowed)


def extended(container: Container, limit: Limit, by: timedelta) -> Container:
    """The container with one limit moved."""
    if limit is Limit.OPEN:
        return replace(container, open_extension=container.open_extension + by)
    return replace(container, room_extension=container.room_extension + by)


def _verdict(floor: Floor, container: Container, asked: Extending) -> Verdict:
    _, before = running_limits(container)[0]
    governing, after = running_limits(extended(container, asked.limit, asked.by))[0]
    headline = f"DISCARD BY {at_text(floor, after)}" if after > before else "GAINS NOTHING"
    return Verdict(
        word=Word.DONE,
        code="extended" if after > before else "gains-nothing",
        headline=headline,
        why=_why(floor, container, asked, before, (governing, after)),
        todo=opening(REPRINT) if after > before else "Its label stays right.",
        container=container.id,
        times=(("discard by", after),),
        governing=governing.value,
    )


def _why(floor: Floor, container: Container, asked: Extending, before: datetime, ends: Running) -> str:
    governing, after = ends
    name = asked.limit.value
    if after == before:
        said = f"gains nothing: its {governing.value} ends {at_text(floor, after)} all the same."
        return f"Moving the {name} of {container.spoken} {said}"
    said = f"The {name} of {container.spoken} is moved by {span(asked.by)}, which gains {span(after - before)}"
    first = f": its {governing.value} ends first" if governing is not asked.limit else ""
    return f"{said}{first}."
