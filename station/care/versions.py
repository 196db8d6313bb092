"""Another version of a specification, and what it does to paste that is already in use.

A tighter limit holds at once: the program writes what follows from it for every container and bead. A shift lead
may then decide otherwise for one container, in either direction, and says why; nothing gets looser by itself.
"""

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from station.care import facts as f
from station.care.answers import about, at_text
from station.care.floor import Floor
from station.care.ledger import Ledger
from station.care.moments import minute_down, minute_up
from station.care.refused import Refused
from station.care.specification import Position, Specification
from station.care.state import Bead, Container
from station.care.verdict import Verdict
from station.care.words import Holder, Role, Word


class VersionRefused(Refused):
    """The version can't be put in force for this container; the sentence says why."""


def named(specification: Specification) -> str:
    """How facts and people call a version: `SN-4 version 3`."""
    return f"{specification.paste} version {specification.version}"


def follows(container: Container, specification: Specification, reason: str) -> f.SpecificationApplied:
    """The instants of a container under a version: each running limit moved by the difference of the lives.

    Earliest-use may only become later: the supplier's minimum is lengthened, never shortened afterwards.
    """
    minimum = specification.minimum_for(container.kind)
    ready = container.earliest_use
    if ready is not None and container.out_to is not None and minimum is not None:
        ready = max(ready, minute_up(container.out_to + minimum))
    to_cold = container.to_cold_by
    return f.SpecificationApplied(
        container=container.id,
        specification=named(specification),
        earliest_use=ready,
        room_end=_moved(container.room_end, container.room_given, specification.room_life),
        open_end=_moved(container.open_end, container.open_given, specification.open_life),
        to_cold_by=minute_down(container.arrived_at + specification.to_cold) if to_cold is not None else None,
        reason=reason,
    )


def _moved(end: datetime | None, given: timedelta, life: timedelta) -> datetime | None:
    return end + (life - given) if end is not None else None


def _tighter_of(container: Container, told: f.SpecificationApplied) -> f.SpecificationApplied | None:
    """Only what gets tighter; None where nothing does."""
    tighter = f.SpecificationApplied(
        container=told.container,
        specification=told.specification,
        earliest_use=told.earliest_use,
        room_end=_earlier(container.room_end, told.room_end),
        open_end=_earlier(container.open_end, told.open_end),
        to_cold_by=_earlier(container.to_cold_by, told.to_cold_by),
        reason="",
    )
    before = (container.earliest_use, container.room_end, container.open_end, container.to_cold_by)
    after = (tighter.earliest_use, tighter.room_end, tighter.open_end, tighter.to_cold_by)
    return tighter if after != before else None


def _earlier(one: datetime | None, other: datetime | None) -> datetime | None:
    return min(one, other) if one is not None and other is not None else one


def tightened(ledger: Ledger, positions: dict[str, Position], changed: Iterable[Specification]) -> Iterator[f.Body]:
    """What follows at once from changed specifications, for every living container and every bead."""
    by_paste = {specification.paste: specification for specification in changed}
    for container in ledger.containers.values():
        specification = by_paste.get(container.paste)
        if specification is not None and container.ended is None:
            told = _tighter_of(container, follows(container, specification, ""))
            if told is not None:
                yield told
    for place in ledger.positions.values():
        bead, position = place.bead, positions.get(place.id)
        if bead is not None and position is not None and bead.paste in by_paste:
            end = bead_end_under(bead, by_paste[bead.paste], position.holder)
            if end < bead.stencil_end:
                yield f.BeadLifeApplied(place.id, bead.key, named(by_paste[bead.paste]), end, "")


def bead_end_under(bead: Bead, specification: Specification, holder: Holder) -> datetime:
    """The end of a bead's own life under a version; no life at all where the version forbids its holder."""
    life = specification.stencil_life
    if holder is Holder.HEAD:
        life = specification.enclosed_life or timedelta(0)
    return bead.stencil_end + (life - bead.given)


def choose_version(
    floor: Floor, container_id: str, version: int, reason: str, person: str | None
) -> tuple[f.SpecificationApplied, Verdict]:
    """A shift lead puts one version in force for one container, looser or tighter. Raises VersionRefused."""
    container = floor.container(container_id)
    if not floor.person_has(person, Role.LEAD):
        raise VersionRefused("Only a shift lead decides which version holds for a container. Badge in with your PIN.")
    if container is None or container.ended is not None:
        raise VersionRefused("Only for a container in use. Scan its label to see its story.")
    specification = floor.ledger.versions.get((container.paste, version))
    if specification is None:
        raise VersionRefused(f"There is no version {version} of the specification of {container.paste} on record.")
    if specification.approved_by is None and not floor.rules.demo:
        raise VersionRefused(
            f"Version {version} of {container.paste} is a draft. The process engineer approves it first."
        )
    if not reason.strip():
        raise VersionRefused("Say in a few words why; it stands in the record.")
    told = follows(container, specification, reason.strip())
    ends = [end for end in (told.open_end, told.room_end, container.shelf_end) if end is not None]
    headline = f"DISCARD BY {at_text(floor, min(ends))}" if ends else "VERSION SET"
    verdict = about(
        floor,
        container,
        Word.DONE,
        "version-chosen",
        headline,
        f"{named(specification)} holds for {container.spoken} now.",
        "Scan it, then REPRINT, and tear the old label off.",
    )
    return told, verdict


def differing(floor: Floor) -> tuple[tuple[Container, f.SpecificationApplied], ...]:
    """Living containers whose times would be others under the newest version, for a shift lead to decide."""
    found = []
    for container in floor.alive():
        told = follows(container, floor.specification(container.paste), "")
        before = (container.earliest_use, container.room_end, container.open_end, container.to_cold_by)
        if (told.earliest_use, told.room_end, told.open_end, told.to_cold_by) != before:
            found.append((container, told))
    return tuple(found)
