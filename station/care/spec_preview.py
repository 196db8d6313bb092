"""What a version would do to paste in use before anybody approves it: which ends move, and what would be over at once.

Nothing is reckoned here: the version is put in force in a copy of the ledger by the very facts its approval would
write, and the two are laid side by side.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime

from station.care import facts as f
from station.care.floor import Floor
from station.care.limits import running_limits
from station.care.saying import opening, spot
from station.care.spec_drafts import next_version
from station.care.specification import Specification
from station.care.state import Container
from station.care.versions import tightened
from station.care.words import Limit

PREVIEW_NOTE = (
    "Nothing in use gets longer by it, and nothing is ready sooner. "
    "What begins after the approval goes by the new version."
)
EARLIEST_USE, THAWED_AT_LEAST, BEAD = "earliest use", "thawed at least until", "bead"
_STARTS = (EARLIEST_USE, THAWED_AT_LEAST)
Ends = Mapping[str, datetime | None]
_FAR = datetime.max.replace(tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class PreviewRow:
    """One end, or first minute, that would move. `subject` is ("container" or "position", id); instants are UTC.

    `over` says that it would be over at once and is not yet.
    """

    subject: tuple[str, str]
    spoken: str
    what: str
    before: datetime | None
    after: datetime | None
    over: bool


def preview(floor: Floor, specification: Specification) -> tuple[PreviewRow, ...]:
    """Everything in use whose times the approval of this content would move, what would be over first."""
    limits = replace(specification, version=next_version(floor, specification.paste))
    bodies = (f.SpecificationSet(limits, ""), *tightened(floor.ledger, floor.plant.positions, (limits,)))
    after = replace(floor, ledger=floor.ledger.imagined(bodies, floor.now))
    rows = [*_of_containers(floor, after), *_of_beads(floor, after)]
    return tuple(sorted(rows, key=lambda row: (not row.over, row.after or _FAR, row.spoken)))


def _of_containers(floor: Floor, after: Floor) -> Iterator[PreviewRow]:
    for container in floor.alive():
        then = after.container(container.id)
        if then is not None and then != container:
            subject = ("container", container.id)
            yield from _rows(floor, subject, container.spoken, _ends(container), _ends(then))


def _of_beads(floor: Floor, after: Floor) -> Iterator[PreviewRow]:
    then = {place.id: bead for place, bead in after.beads()}
    for place, bead in floor.beads():
        before, ends = {BEAD: floor.bead_end(bead)[1]}, {BEAD: after.bead_end(then[place.id])[1]}
        yield from _rows(floor, ("position", place.id), opening(spot(place.id)), before, ends)


def _ends(container: Container) -> Ends:
    ends: dict[str, datetime | None] = {limit.value: end for limit, end in reversed(running_limits(container))}
    ends[EARLIEST_USE], ends[THAWED_AT_LEAST] = container.earliest_use, container.thaw_not_before
    ends[Limit.TO_COLD.value] = container.to_cold_by if container.put_away_at is None else None
    return ends


def _rows(floor: Floor, subject: tuple[str, str], spoken: str, before: Ends, after: Ends) -> Iterator[PreviewRow]:
    now = floor.moment.ages
    for what, end in after.items():
        was = before.get(what)
        if end is not None and end != was:
            over = what not in _STARTS and end < now and (was is None or was >= now)
            yield PreviewRow(subject, spoken, what, was, end, over)
