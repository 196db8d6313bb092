"""Another version of a specification, and what it does to paste that is already in use.

A tighter limit holds at once: the program writes the version down for every container and bead it shortens. A shift
lead may then decide otherwise for one container, in either direction, and says why; nothing gets looser by itself.
Where stations meet, paste the other one handled by an older version is brought under the newer one the same way.
"""

from collections.abc import Iterable, Iterator, Set
from dataclasses import replace
from datetime import datetime, timedelta

from station.care import facts as f
from station.care.answers import REPRINT, about, at_text
from station.care.floor import Floor
from station.care.fold_container import applied
from station.care.ledger import Ledger, Subject
from station.care.limits import running_limits
from station.care.moments import NOTHING, minute_down, minute_up
from station.care.refused import Refused
from station.care.saying import opening
from station.care.specification import Position, Specification
from station.care.state import Bead, Container
from station.care.verdict import Verdict
from station.care.words import Holder, Limit, Role, Word


class VersionRefused(Refused):
    """The version can't be put in force for this container; the sentence says why."""


def named(specification: Specification) -> str:
    """How facts and people call a version: `SN-4 version 3`."""
    return f"{specification.paste} version {specification.version}"


def follows(ledger: Ledger, container: Container, specification: Specification, reason: str) -> f.SpecificationApplied:
    """A version as one container has it; without a `reason` it only tightens."""
    before, after = _thaw(ledger, container, specification)
    return f.SpecificationApplied(
        container=container.id,
        specification=named(specification),
        minimum=specification.minimum_for(container.kind),
        room_life=specification.room_life,
        open_life=specification.open_life,
        to_cold=specification.to_cold,
        content_end=_content_end(ledger, container, specification),
        thaw_not_before=before,
        thaw_not_after=after,
        reason=reason,
    )


def _thaw(
    ledger: Ledger, container: Container, specification: Specification
) -> tuple[datetime | None, datetime | None]:
    begun, thaw = ledger.fact(container.thaw_key or ""), specification.thaw
    if begun is None or thaw is None:
        return None, None
    return minute_up(begun.at + thaw.at_least), minute_down(begun.at + thaw.at_most)


def _content_end(ledger: Ledger, container: Container, specification: Specification) -> datetime | None:
    """Decanted paste has its life from the filling, used paste from the removal of its bead; none where forbidden."""
    if container.content_limit is None:
        return None
    if container.content_limit is Limit.DECANTED:
        return minute_down(container.arrived_at + (specification.decanted_life or NOTHING))
    removed = (
        gone.removed_at
        for place in ledger.positions.values()
        for gone in place.gone
        if gone.bead.key == container.kept_bead
    )
    return minute_down(next(removed, container.arrived_at) + (specification.used_paste_life or NOTHING))


def tightened(
    ledger: Ledger,
    positions: dict[str, Position],
    specifications: Iterable[Specification],
    among: Set[Subject] | None = None,
) -> Iterator[f.Body]:
    """What these versions shorten at once, for every living container and every bead, or only `among` these subjects.

    A container a shift lead decided about since its version came into force keeps what the lead decided.
    """
    by_paste = {specification.paste: specification for specification in specifications}
    for container in ledger.containers.values():
        specification = by_paste.get(container.paste)
        looked_at = among is None or ("container", container.id) in among
        if looked_at and specification is not None and _runs(container):
            yield from _container_tightened(ledger, container, specification)
    for place in ledger.positions.values():
        position = positions.get(place.id)
        looked_at = among is None or ("position", place.id) in among
        if looked_at and position is not None and place.bead is not None and place.bead.paste in by_paste:
            yield from _bead_tightened(position, place.bead, by_paste[place.bead.paste])


def _runs(container: Container) -> bool:
    """Whether any limit of a version runs; thousands lie in the cold, and a start must not wait for them."""
    running = (container.room_end, container.open_end, container.content_end, container.thaw_key, container.move_key)
    at_the_dock = container.to_cold_by is not None and container.put_away_at is None
    return container.ended is None and (at_the_dock or any(end is not None for end in running))


def _container_tightened(
    ledger: Ledger, container: Container, specification: Specification
) -> Iterator[f.SpecificationApplied]:
    told = follows(ledger, container, specification, "")
    if applied(container, "", told) != container and not _decided(ledger, container, specification):
        yield told


def _bead_tightened(position: Position, bead: Bead, specification: Specification) -> Iterator[f.BeadLifeApplied]:
    life = life_under(specification, position.holder)
    if life < bead.given:
        yield f.BeadLifeApplied(position.id, bead.key, named(specification), life)


def _decided(ledger: Ledger, container: Container, specification: Specification) -> bool:
    """Whether a shift lead chose a version for it while this one was in force."""
    since = ledger.in_force_since(specification)
    if since is None:
        return False
    told = ledger.history("container", container.id)
    return any(
        isinstance(fact.body, f.SpecificationApplied) and fact.body.reason and fact.order > since for fact in told
    )


def life_under(specification: Specification, holder: Holder) -> timedelta:
    """A bead's own life under a version; no life at all where the version forbids its holder."""
    return (specification.enclosed_life or NOTHING) if holder is Holder.HEAD else specification.stencil_life


def choose_version(
    floor: Floor, container_id: str, version: int, reason: str, person: str | None
) -> tuple[f.SpecificationApplied, Verdict]:
    """A shift lead puts one version in force for one container, looser or tighter. Raises VersionRefused."""
    container = floor.container(container_id)
    if not floor.person_has(person, Role.LEAD):
        raise VersionRefused("Only a shift lead decides which version holds for a container. Badge in with your PIN.")
    if container is None or container.ended is not None:
        raise VersionRefused("Only for a container in use. Scan its label to see its story.")
    specification = _chosen(floor, container, version)
    if not reason.strip():
        raise VersionRefused("Say in a few words why; it stands in the record.")
    told = follows(floor.ledger, container, specification, reason.strip())
    return told, _verdict(floor, container, applied(container, "", told), specification)


def _chosen(floor: Floor, container: Container, version: int) -> Specification:
    if container.sources:
        sources = " and ".join(source.replace("-", " ") for source in container.sources)
        raise VersionRefused(f"The clocks of {container.spoken} are those of {sources}. Decide there.")
    specification = floor.ledger.versions.get((container.paste, version))
    if specification is None:
        raise VersionRefused(f"There is no version {version} of the specification of {container.paste} on record.")
    if specification.approved_by is None and not floor.rules.demo:
        raise VersionRefused(
            f"Version {version} of {container.paste} is a draft. The process engineer approves it first."
        )
    if container.room_end is None and container.open_end is None and container.put_away_at is not None:
        raise VersionRefused(
            f"No limit of a version runs for {container.spoken} yet. It gets the newest one when it leaves."
        )
    return specification


def _verdict(floor: Floor, container: Container, after: Container, specification: Specification) -> Verdict:
    limits = running_limits(after)
    headline = f"DISCARD BY {at_text(floor, limits[0][1])}" if limits and after.has_been_out else "VERSION SET"
    return about(
        floor,
        after,
        Word.DONE,
        "version-chosen",
        headline,
        f"{named(specification)} holds for {container.spoken} now.",
        opening(REPRINT) if after.has_been_out else "Go on.",
    )


def differing(floor: Floor) -> tuple[tuple[Container, Container], ...]:
    """Living containers whose times would be others under the newest version, as they are and as they would be."""
    found = []
    for container in filter(floor.is_set_up, floor.alive()):
        told = follows(floor.ledger, container, floor.specification(container.paste), "as the newest version has it")
        after = replace(applied(container, "", told), moved=container.moved)
        if not container.sources and running_limits(after) != running_limits(container):
            found.append((container, after))
    return tuple(found)
