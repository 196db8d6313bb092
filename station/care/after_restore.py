"""After a restore: what happened between the backup and the restore is not known, so nothing of then may be used.

Whatever lived when the backup was made, and what lay in beads and dispensers, gets a hold of its own. It is asked anew
of whatever becomes known later, so a program that dies in between, or another station's older facts, lose none.
A shift lead releases them: what lies in a store several at once, as soon as it was counted there since the restore.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime

from station.care import facts as f
from station.care.answers import plain
from station.care.cold_proof import SKEW_ALLOWED
from station.care.counting import AT_HOME
from station.care.floor import Floor
from station.care.refused import Refused
from station.care.saying import day_time
from station.care.since_restore import is_older
from station.care.state import Container, Hold
from station.care.verdict import Decision
from station.care.words import HoldReason, Word

NOT_KNOWN = "what happened since is not known"
TO_DO = "Count the stores, then release what was counted in the day list, and the rest one by one."
AGAIN = (
    "Enter again what was decided at the desk since then: holds of lots, versions, paste lists and people. "
    "Import the readings of the stores again, and scan the work order of each line again."
)


class RestoreRefused(Refused):
    """These holds can't be released together as told; the sentence says what to mend."""


@dataclass(frozen=True, slots=True)
class Lying:
    """Closed containers held since a restore that lie in a store on record: counted there since, or not (yet)."""

    counted: tuple[Container, ...]
    unseen: tuple[Container, ...]


# ---------------------------------------------------------------------- the holds


def not_known(floor: Floor, containers: Iterable[str]) -> Iterator[f.Held]:
    """The hold of each of these, and of each in a bead or dispenser, that is older than the restore. Asked again it
    adds nothing, whoever released what in the meantime."""
    restored = floor.ledger.restored
    if restored is None:  # every tick asks
        return
    note = f"{_backup(floor, restored)}; {NOT_KNOWN}"
    found = (floor.ledger.containers.get(name) for name in containers)
    begun = {one.id: one.received_key for one in found if one is not None and one.ended is None}
    for name, key in sorted({**begun, **_in_use(floor)}.items()):
        if _older(floor, key, restored) and not _was_held(floor, name, restored):
            yield f.Held(name, HoldReason.RESTORED, note)


def _in_use(floor: Floor) -> dict[str, str]:
    """What lies in beads and dispensers, also of a jar that is empty by now or unknown here: with the fact it began
    with, or that of the bead."""
    used = {portion.container: bead.key for _, bead in floor.beads() for portion in bead.portions}
    mounts = (place.mounted for place in floor.ledger.positions.values())
    used |= {mount.container: mount.key for mount in mounts if mount is not None}
    known = floor.ledger.containers
    return {name: known[name].received_key if name in known else key for name, key in used.items()}


def _older(floor: Floor, key: str, restored: f.Fact) -> bool:
    fact = floor.ledger.fact(key)
    return fact is not None and is_older(fact, restored)


def _was_held(floor: Floor, name: str, restored: f.Fact) -> bool:
    return any(
        isinstance(told.body, f.Held) and told.body.reason is HoldReason.RESTORED and told.journal == restored.journal
        for told in floor.ledger.history("container", name)
    )


def _backup(floor: Floor, restored: f.Fact) -> str:
    at = restored.body.backup_at if isinstance(restored.body, f.StationStarted) else None
    return f"backup of {day_time(at or restored.at, floor.now, floor.zone)}"


def was_lost(floor: Floor, taken_out: datetime) -> bool:
    """Whether what was taken out then (aware UTC) and has no record here may have had one before a restore."""
    restored = floor.ledger.restored
    return restored is not None and taken_out <= restored.at + SKEW_ALLOWED


# ---------------------------------------------------------------------- what stands of them


def of_a_restore(container: Container) -> tuple[Hold, ...]:
    """The holds of its own that it has since restores, the oldest first."""
    return tuple(hold for hold in container.holds if hold.reason is HoldReason.RESTORED)


def lying(floor: Floor) -> Lying:
    """What is held since a restore and lies closed in a store on record."""
    held = [one for one in floor.alive() if of_a_restore(one) and _put_by(one)]
    seen = {one.id for one in held if _counted(floor, one)}
    ordered = sorted(held, key=lambda one: one.id)
    return Lying(tuple(one for one in ordered if one.id in seen), tuple(one for one in ordered if one.id not in seen))


def _put_by(container: Container) -> bool:
    closed = container.opened_at is None and not container.has_been_out
    return closed and container.store is not None and container.sighted_warm_at is None


def _counted(floor: Floor, container: Container) -> bool:
    """Whether it was counted in its store after its newest such hold, and seen there as recorded at the last count."""
    told = floor.ledger.history("container", container.id)
    keys = {hold.key for hold in of_a_restore(container)}
    newest = max((fact for fact in told if fact.key in keys), key=lambda fact: fact.order)
    counts = [
        fact.body
        for fact in told
        if isinstance(fact.body, f.Counted) and fact.order > newest.order and fact.at >= newest.at
    ]
    return bool(counts) and counts[-1].finding in AT_HOME and counts[-1].store == container.store


def in_beads(floor: Floor) -> tuple[tuple[str, Container], ...]:
    """What is empty by now and held since a restore, but lies in a bead: (position, container)."""
    return tuple(
        (place.id, one)
        for place, bead in floor.beads()
        for one in floor.contents(bead)
        if one.ended is not None and of_a_restore(one)
    )


def standing(floor: Floor) -> str:
    """`This station goes on from a backup of ...` until the last of these holds is released; nothing then."""
    restored = floor.ledger.restored
    if restored is None:  # every picture of the screen asks
        return ""
    names = {one.id for one in floor.alive() if of_a_restore(one)} | {one.id for _, one in in_beads(floor)}
    begun = f"This station goes on from a {_backup(floor, restored)}; {NOT_KNOWN}."
    return f"{begun} On hold since: {len(names)}." if names else ""


def said(floor: Floor) -> str:
    """The same with what to do about it, for every start until then."""
    stands = standing(floor)
    return f"{stands} {TO_DO} {AGAIN}" if stands else ""


# ---------------------------------------------------------------------- released together


def release_counted(floor: Floor, names: Iterable[str], note: str) -> Decision:
    """Release the holds since a restore of those of `names` that are counted in their store since: a shift lead says
    that they are unopened and bear no newer time label. Every other hold stands. Raises RestoreRefused."""
    asked = frozenset(names)
    if not note.strip():
        raise RestoreRefused("Say in a few words how they were looked at; it stands in the record of each.")
    found = [one for one in lying(floor).counted if one.id in asked]
    if not found:
        raise RestoreRefused("None of these is still on hold since the restore. Look at the day list again.")
    facts = tuple(f.Released(one.id, hold.key, note.strip()) for one in found for hold in of_a_restore(one))
    why = f"Counted since the restore and released: {len(found)}. What else holds one of them still does."
    verdict = plain(Word.DONE, "restored-released", f"{len(found)} RELEASED", why, "Go on with the day list.")
    return Decision(verdict, facts)
