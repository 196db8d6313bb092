"""What is said of a whole lot at once: held, released, re-certified. Its beads, and what is still to come, follow."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from station.care import facts as f
from station.care.floor import Floor
from station.care.fold_lot import lot_name
from station.care.fold_position import position_step
from station.care.moments import end_of_day
from station.care.refused import Refused
from station.care.saying import opening, spot
from station.care.state import Bead, Container, Gone, Hold, Portion, PositionState, TakenOff
from station.care.words import HoldReason, Role

LONGEST_SHELF = timedelta(days=5 * 366)


class LotRefused(Refused):
    """The lot can't be held, released or re-certified as told; the sentence says what to mend."""


@dataclass(frozen=True, slots=True)
class OnBoards:
    """Where paste of a lot lay on a stencil or was mounted: until the bead or it came off (None: still there)."""

    position: str
    since: datetime
    until: datetime | None
    work_orders: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Reach:
    """Everything a lot has got to, as far as this station knows."""

    containers: tuple[Container, ...]
    on_boards: tuple[OnBoards, ...]

    @property
    def work_orders(self) -> tuple[str, ...]:
        """The work orders built with it, each once, in order of time."""
        return tuple(dict.fromkeys(order for entry in self.on_boards for order in entry.work_orders))


def hold_lot(floor: Floor, paste: str, lot: str, note: str, person: str | None) -> f.LotHeld:
    """The fact of holding a lot. Raises LotRefused unless a shift lead says why."""
    _check(floor, paste, lot, person)
    if not note.strip():
        raise LotRefused("Say in a few words why the lot is held; it stands in the record.")
    return f.LotHeld(lot_name(paste, lot), note.strip())


def release_lot(
    floor: Floor, lot_id: str, hold: str, note: str, person: str | None, document: str = ""
) -> f.LotReleased:
    """The fact of releasing one hold of a lot, named by its fact; what awaits its test needs a `document`."""
    standing = standing_hold(floor, lot_id, hold)
    tested = standing is not None and standing.reason is HoldReason.INCOMING_TEST
    if not floor.person_has(person, Role.LEAD) and not (tested and floor.person_has(person, Role.ENGINEER)):
        raise LotRefused("Only a shift lead releases a lot. Badge in with your PIN.")
    if standing is None:
        raise LotRefused("That hold of the lot does not stand any more.")
    if tested and not document.strip():
        raise LotRefused("Name the certificate or test report that releases this lot.")
    if not note.strip():
        raise LotRefused("Say in a few words why the lot is released; it stands in the record.")
    return f.LotReleased(lot_id, hold, note.strip(), document.strip())


def standing_hold(floor: Floor, lot_id: str, hold: str) -> Hold | None:
    """A hold of a lot by its fact, while it stands."""
    known = floor.ledger.lots.get(lot_id)
    return next((entry for entry in known.holds if entry.key == hold), None) if known is not None else None


def recertify(
    floor: Floor, paste: str, lot: str, expires: date, document: str, people: tuple[str, str]
) -> f.LotRecertified:
    """The fact of another expiry for a lot, by the supplier's document and two people, one a process engineer.

    The only way shelf life moves. It may also become shorter.
    """
    first, second = people
    _check(floor, paste, lot, first)
    if first == second or not floor.person_has(second, Role.ENGINEER):
        raise LotRefused(
            "Re-certifying a lot takes two people: a shift lead, and a process engineer with badge and PIN."
        )
    if not document.strip():
        raise LotRefused("Name the supplier's document that gives the new expiry.")
    shelf_end = end_of_day(expires, floor.zone)
    if not floor.now <= shelf_end <= floor.now + LONGEST_SHELF:
        raise LotRefused(f"The new expiry {expires.isoformat()} is not within the next five years. Check the date.")
    return f.LotRecertified(lot_name(paste, lot), expires, shelf_end, document.strip(), second)


def _check(floor: Floor, paste: str, lot: str, person: str | None) -> None:
    if not floor.person_has(person, Role.LEAD):
        raise LotRefused("Only a shift lead decides about a lot. Badge in with your PIN.")
    if paste not in floor.plant.pastes:
        raise LotRefused(f"There is no paste {paste!r} in this plant. Choose one from the list.")
    if not lot.strip():
        raise LotRefused("The lot is missing. It stands on the maker's label.")


def reach(floor: Floor, lot_id: str) -> Reach:
    """Containers with paste of a lot (decanted and used paste too), and where it lay and lies, however long ago."""
    containers = tuple(found for found in floor.ledger.containers.values() if holds_lot(floor, found, lot_id))
    names = {found.id for found in containers}
    boards = [entry for place in floor.ledger.positions for entry in _lain(floor, place, lot_id, names)]
    return Reach(containers, tuple(sorted(boards, key=lambda entry: (entry.since, entry.position))))


def holds_lot(floor: Floor, container: Container, lot_id: str) -> bool:
    """Whether paste of a lot is in a container, directly or through the containers it was filled from."""
    if lot_name(container.paste, container.lot) == lot_id:
        return True
    sources = (floor.container(source) for source in container.sources)
    return any(holds_lot(floor, source, lot_id) for source in sources if source is not None)


def _lain(floor: Floor, position: str, lot_id: str, names: set[str]) -> list[OnBoards]:
    """Its stays at one position, read off the whole record: a recall may come weeks after the boards."""
    place, gone, taken_off = PositionState(position), dict[str, Gone](), dict[str, TakenOff]()
    for fact in floor.ledger.history("position", position):
        if not floor.ledger.is_undone(fact.key):
            place = position_step(place, fact, position)
            gone.update((entry.bead.key, entry) for entry in place.gone[-1:])
            taken_off.update((entry.mount.key, entry) for entry in place.taken_off[-1:])
    beads = [*((entry.bead, entry.removed_at) for entry in gone.values()), (place.bead, None)]
    mounts = [*((entry.mount, entry.at) for entry in taken_off.values()), (place.mounted, None)]
    found = []
    for bead, until in beads:
        loads = [part.loaded_at for part in bead.portions if _is_of(floor, bead, part, lot_id, names)] if bead else []
        if bead is not None and loads:
            found.append(OnBoards(position, min(loads), until, bead.work_orders))
    for mount, until in mounts:
        if mount is not None and mount.container in names:
            found.append(OnBoards(position, mount.since, until, mount.work_orders))
    return found


def _is_of(floor: Floor, bead: Bead, portion: Portion, lot_id: str, names: set[str]) -> bool:
    """Whether a portion is of the lot; where its container is not on record here, by the lot its load named."""
    if floor.container(portion.container) is None:
        return lot_name(bead.paste, portion.lot) == lot_id
    return portion.container in names


def reach_sentence(found: Reach) -> str:
    """What a hold has come to, for the person who said it."""
    on = [spot(entry.position) for entry in found.on_boards if entry.until is None]
    alive = sum(1 for container in found.containers if container.ended is None)
    beads = f" Stop there and take it off: {', '.join(dict.fromkeys(on))}." if on else ""
    orders = f" Work orders built with it: {', '.join(found.work_orders)}." if found.work_orders else ""
    here = "1 container of it is here." if alive == 1 else f"{alive} containers of it are here."
    return opening(f"{here}{beads}{orders}")
