"""What was said wrongly, put right by a shift lead: the record keeps both, and the fact that is put right is named."""

from dataclasses import dataclass, replace
from datetime import date, datetime

from station.care import facts as f
from station.care.delivery import incoming_tests
from station.care.floor import Floor
from station.care.moments import end_of_day, minute_down
from station.care.refused import Refused
from station.care.saying import spot, when
from station.care.specification import Specification
from station.care.state import Container
from station.care.undo import HARMLESS
from station.care.used_paste import kept_from
from station.care.words import HoldReason, Role, Storage

NO_RECEIPT = (
    "There is no receipt of it to correct. Paste filled here has the dates of its sources: correct the receipt there."
)


class CorrectionRefused(Refused):
    """It can't be corrected as told; the sentence says why and what to do instead."""


@dataclass(frozen=True, slots=True)
class Correction:
    """What the receipt of a container should have said; None leaves a thing as it stands. Temperature in Celsius."""

    container: str
    reason: str
    paste: str | None = None
    kind: str | None = None
    lot: str | None = None
    expires: date | None = None
    arrived_at: datetime | None = None
    temperature_c: float | None = None


def correct_receipt(floor: Floor, told: Correction, person: str | None) -> tuple[f.Body, ...]:
    """The fact of a corrected receipt, and the holds it brings. Raises CorrectionRefused; nothing is recorded then."""
    if not floor.person_has(person, Role.LEAD):
        raise CorrectionRefused("Only a shift lead corrects a receipt. Badge in with your PIN.")
    container = floor.container(told.container)
    receipt = floor.ledger.fact(container.received_key) if container is not None else None
    if container is None or receipt is None or not isinstance(receipt.body, f.Received):
        raise CorrectionRefused(NO_RECEIPT)
    if not told.reason.strip():
        raise CorrectionRefused("Say in a few words what was wrong; it stands in the record.")
    known = as_known(receipt.body, container)
    received = _corrected(floor, known, told)
    if received == known:
        raise CorrectionRefused("Nothing differs from what is recorded, so there is nothing to correct.")
    _check(floor, container, received, min(receipt.at, container.put_away_at or receipt.at))
    holds = (f.Held(container.id, reason, note) for reason, note in _holds(floor, container, received, told))
    of_another = (received.paste, received.lot) != (container.paste, container.lot)
    # by its right lot it may be the first of a new one
    tests = incoming_tests(floor, [(received.paste, received.lot)] if of_another else [])
    return (f.ReceiptCorrected(container.id, receipt.key, received, told.reason.strip()), *holds, *tests)


def as_known(receipt: f.Received, container: Container) -> f.Received:
    """The receipt with every earlier correction in it."""
    return replace(
        receipt,
        paste=container.paste,
        kind=container.kind,
        lot=container.lot,
        expires=container.expires,
        shelf_end=container.labelled_end,
        arrived_at=container.arrived_at,
        temperature_c=container.temperature_c,
        to_cold_by=container.to_cold_by,
    )


def _corrected(floor: Floor, known: f.Received, told: Correction) -> f.Received:
    paste = told.paste or known.paste
    if paste not in floor.plant.pastes:
        raise CorrectionRefused(f"There is no paste {paste!r} in this plant. Choose one from the list.")
    arrived_at = told.arrived_at or known.arrived_at
    expires = told.expires or known.expires
    moved = told.arrived_at is not None or told.paste is not None
    return replace(
        known,
        paste=paste,
        kind=told.kind or known.kind,
        lot=told.lot.strip() if told.lot is not None else known.lot,
        expires=expires,
        shelf_end=end_of_day(expires, floor.zone) if expires is not None else known.shelf_end,
        arrived_at=arrived_at,
        temperature_c=known.temperature_c if told.temperature_c is None else told.temperature_c,
        temperature_answer=known.temperature_answer if told.temperature_c is None else "measured",
        to_cold_by=_to_cold_by(floor, paste, arrived_at) if moved else known.to_cold_by,
    )


def _to_cold_by(floor: Floor, paste: str, arrived_at: datetime) -> datetime | None:
    if floor.plant.pastes[paste].storage is Storage.ROOM:
        return None
    return minute_down(arrived_at + floor.specification(paste).to_cold)


def _check(floor: Floor, container: Container, received: f.Received, scanned_at: datetime) -> None:
    if not received.lot:
        raise CorrectionRefused("The lot is missing. It stands on the maker's label.")
    if floor.specification(received.paste).minimum_for(received.kind) is None:
        raise CorrectionRefused(
            f"{received.paste} has no limits for {received.kind}. Ask the process engineer to add this kind."
        )
    used = container.put_away_at is not None or container.has_been_out or container.opened_at is not None
    if used and (received.paste, received.kind) != (container.paste, container.kind):
        raise CorrectionRefused(
            f"{container.spoken} was handled as {container.paste} already. "
            "Put it on hold and call the process engineer."
        )
    if received.arrived_at > scanned_at:
        raise CorrectionRefused("It can't have arrived after it was scanned in. Check the time.")


def _holds(floor: Floor, container: Container, received: f.Received, told: Correction) -> list[tuple[HoldReason, str]]:
    """A corrected temperature or arrival may hold it; it releases nothing, that is a word of its own."""
    other_limits = received.paste != container.paste
    found = temperature_holds(
        floor.specification(received.paste), received.temperature_c if other_limits else told.temperature_c
    )
    by, put_away = received.to_cold_by, container.put_away_at
    if by is not None and put_away is not None and put_away > by and by != container.to_cold_by:
        found.append((HoldReason.LATE_TO_COLD, ""))
    standing = {hold.reason for hold in container.holds}
    return [(reason, note) for reason, note in found if reason not in standing]


def temperature_holds(limits: Specification, measured: float | None) -> list[tuple[HoldReason, str]]:
    """What a measured temperature (degrees Celsius) at the dock holds for, with its note."""
    if measured is not None and measured > limits.arrival_hold_above_c:
        return [(HoldReason.ARRIVED_WARM, f"{measured:g} C on arrival")]
    if measured is not None and measured < limits.arrival_hold_below_c:
        return [(HoldReason.ARRIVED_FROZEN, f"{measured:g} C on arrival")]
    return []


# what a shift lead may take back long after; put-away and take-out say where the paste was, and are not among them,
# but for a take-out that a shift lead told
TAKEN_BACK = (f.Opened, f.Inspected, f.Loaded, f.Mounted, f.Dismounted, f.Removed, f.Mixed, f.Ended)
BESIDE = (
    *HARMLESS,
    f.Held,
    f.Released,
    f.SpecificationApplied,
    f.BeadLifeApplied,
    f.ReceiptCorrected,
    f.ClockConfirmed,
    f.Counted,
    f.WarmCharged,
)
# what was said of a bead goes with the load that began it, and stands with a bead that another one began
OF_A_BEAD = (f.Paused, f.Resumed, f.SameBead, f.CarriedOver)


def take_back(floor: Floor, kind: str, name: str, reason: str, person: str | None) -> f.Undone:
    """Take back the last act on a container or a position (`kind`), also one that started a clock.

    One act at a time, so nothing that rests on it is left standing. Raises CorrectionRefused.
    """
    if not floor.person_has(person, Role.LEAD):
        raise CorrectionRefused("Only a shift lead takes this back. Badge in with your PIN.")
    if not reason.strip():
        raise CorrectionRefused("Say in a few words why it is taken back; it stands in the record.")
    return f.Undone(to_take_back(floor, kind, name).key, reason.strip())


def to_take_back(floor: Floor, kind: str, name: str) -> f.Fact:
    """The act a shift lead would take back now. Raises CorrectionRefused where there is none, with the reason."""
    act = _last_act(floor, kind, name)
    if act is None or not (isinstance(act.body, TAKEN_BACK) or _told_late(act.body)):
        raise CorrectionRefused("The last act on it is not one that can be taken back. Correct or hold it instead.")
    kept = kept_from(floor, act.body.bead) if isinstance(act.body, f.Removed) else None
    if kept is not None:
        raise CorrectionRefused(f"That bead was kept in {kept.spoken}, so it can't go back on.")
    place = act.body.position if isinstance(act.body, f.Loaded | f.Mounted | f.Dismounted) else None
    since = _last_act(floor, "position", place) if place is not None else act
    if place is not None and since is not None and since != act:
        done = f"{since.body.NAME.replace('-', ' ')}, {when(since.at, floor.now, floor.zone)}"
        raise CorrectionRefused(f"Something else was done on {spot(place)} since ({done}). Take that back first.")
    return act


def _told_late(body: f.Body) -> bool:
    return isinstance(body, f.TakenOut) and bool(body.told_late)


def _last_act(floor: Floor, kind: str, name: str) -> f.Fact | None:
    """The newest act that stands. A jar that fed a position may have ended elsewhere; that is no act on it."""
    beside = (*BESIDE, *OF_A_BEAD, f.Ended) if kind == "position" else BESIDE
    told = (fact for fact in reversed(floor.ledger.history(kind, name)) if not isinstance(fact.body, beside))
    return next((fact for fact in told if not floor.ledger.is_undone(fact.key)), None)
