"""A container arrives: what is recorded, and what puts it on hold at once."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from station.care import facts as f
from station.care.floor import Floor
from station.care.fold_lot import lot_name
from station.care.holding import hold_text
from station.care.moments import end_of_day, minute_down
from station.care.refused import Refused
from station.care.state import Hold
from station.care.verdict import Verdict
from station.care.words import HoldReason, Storage, Word

TemperatureAnswer = Literal["measured", "not measured", "indicator tripped"]


@dataclass(frozen=True, slots=True)
class Arrival:
    """What is said of a container at the dock. Temperature in degrees Celsius; `maker_serial` is on its own label,
    `maker_said` what the maker's label says besides, of which the station makes nothing."""

    container: str
    paste: str
    kind: str
    lot: str
    expires: date | None
    made: date | None
    arrived_at: datetime
    temperature_c: float | None
    temperature_answer: TemperatureAnswer
    leaking: bool
    delivery: str = ""
    maker_serial: str = ""
    maker_said: tuple[str, ...] = ()


class ArrivalRefused(Refused):
    """The arrival can't be recorded as told; the sentence says what to mend."""


def receive(floor: Floor, arrival: Arrival) -> tuple[f.Body, ...]:
    """The facts of an arrival: received, and one hold for each thing wrong with it.

    Raises ArrivalRefused for an unknown paste or kind, a kind the paste is not bought in, an arrival in the
    future, or no date to take the shelf life from.
    """
    _check(floor, arrival)
    specification = floor.specification(arrival.paste)
    cold = floor.plant.pastes[arrival.paste].storage is not Storage.ROOM
    expires = expiry_of(floor, arrival)
    received = f.Received(
        container=arrival.container,
        paste=arrival.paste,
        kind=arrival.kind,
        lot=arrival.lot,
        expires=expires,
        shelf_end=end_of_day(expires, floor.zone),
        arrived_at=arrival.arrived_at,
        temperature_c=arrival.temperature_c,
        temperature_answer=arrival.temperature_answer,
        leaking=arrival.leaking,
        to_cold_by=minute_down(arrival.arrived_at + specification.to_cold) if cold else None,
        delivery=arrival.delivery,
        maker_serial=arrival.maker_serial,
        maker_said=arrival.maker_said,
    )
    holds = (f.Held(arrival.container, reason, note) for reason, note in _holds(floor, arrival))
    return (received, *holds)


def _check(floor: Floor, arrival: Arrival) -> None:
    if arrival.paste not in floor.plant.pastes:
        raise ArrivalRefused(f"There is no paste {arrival.paste!r} in this plant. Choose one from the list.")
    if arrival.kind not in floor.plant.kinds:
        raise ArrivalRefused(f"There is no container kind {arrival.kind!r}. Choose one from the list.")
    if floor.specification(arrival.paste).minimum_for(arrival.kind) is None:
        raise ArrivalRefused(
            f"{arrival.paste} has no limits for {arrival.kind}. Ask the process engineer to add this kind."
        )
    if arrival.arrived_at > floor.now:
        raise ArrivalRefused("The arrival lies in the future. Give the time it came to the dock.")
    if floor.container(arrival.container) is not None:
        raise ArrivalRefused(f"{arrival.container} was received before. Scan its label to see its story.")
    if not arrival.lot.strip():
        raise ArrivalRefused("The lot is missing. It stands on the maker's label.")


def expiry_of(floor: Floor, arrival: Arrival) -> date:
    """The last day of its shelf life: as labelled, else counted from its manufacture. Raises ArrivalRefused."""
    if arrival.expires is not None:
        return arrival.expires
    months = floor.specification(arrival.paste).shelf_months
    if arrival.made is None or months is None:
        raise ArrivalRefused("The expiry date is missing. It stands on the maker's label.")
    return months_after(arrival.made, months)


def months_after(anchor: date, months: int) -> date:
    """`months` after the anchor date, always counted from the anchor; a missing day becomes the month's last."""
    years, month = divmod(anchor.month - 1 + months, 12)
    first = date(anchor.year + years, month + 1, 1)
    following = date(first.year + (first.month == 12), first.month % 12 + 1, 1)
    return first.replace(day=min(anchor.day, (following - first).days))


def received(floor: Floor, arrivals: Sequence[Arrival]) -> Verdict:
    """What to tell whoever received these, once it is recorded: how many, what is on hold, what came too warm."""
    names = [arrival.container.replace("-", " ") for arrival in arrivals]
    said = names[0] if len(names) == 1 else f"{names[0]} to {names[-1]}"
    lots = len({lot_name(arrival.paste, arrival.lot) for arrival in arrivals})
    of_lots = f" {lots} lots: mind which label goes on which." if lots > 1 else ""
    notes = dict.fromkeys(note for arrival in arrivals for note in _notes(floor, arrival))
    held = sum(1 for arrival in arrivals if _standing(floor, arrival))
    metal = ", LEADED (Pb)" if any(_leaded(floor, arrival.paste) for arrival in arrivals) else ""
    how = "" if held == 0 else ", ON HOLD" if held == len(names) else f", {held} ON HOLD"
    apart = " What is on hold: into a hold bin, and call the shift lead." if held else ""
    return Verdict(
        word=Word.DONE,
        code="received",
        headline=f"{len(names)} RECEIVED{metal}{how}",
        why=f"{said} received.{of_lots}",
        todo=f"Stick each label on its container, never over the maker's label, then scan it to put it away.{apart}",
        note=" ".join(notes),
    )


LEAK_CARE = (
    "Gloves on, keep it apart, upright in a tray or a closed bag, by the safety data sheet and your local rules;"
    " its label goes on that one."
)


def caution_notes(floor: Floor, arrivals: Sequence[Arrival]) -> Iterator[str]:
    """What to mind with these very containers: a leak first, then lead."""
    leaking = [arrival.container.replace("-", " ") for arrival in arrivals if arrival.leaking]
    if leaking:
        yield f"LEAKING: {', '.join(leaking)}. {LEAK_CARE}"
    leaded = [paste for paste in dict.fromkeys(arrival.paste for arrival in arrivals) if _leaded(floor, paste)]
    if leaded:
        yield f"LEADED (Pb): {', '.join(leaded)}. Into a bin of its own, with its own gloves, wipes and waste."


def _leaded(floor: Floor, paste: str) -> bool:
    return floor.plant.pastes[paste].alloy.leaded


def _standing(floor: Floor, arrival: Arrival) -> tuple[Hold, ...]:
    """The holds on what was just received: seen at the dock, late already, or of its lot."""
    container = floor.container(arrival.container)
    return container.all_holds if container is not None else ()


def _notes(floor: Floor, arrival: Arrival) -> Iterator[str]:
    """One sentence for each hold; above the warning but not yet on hold: put it away at once."""
    holds = _standing(floor, arrival)
    for hold in holds:
        by_itself = hold.note and hold.reason is not HoldReason.LOT
        yield f"On hold: {hold.reason.value} ({hold.note})." if by_itself else f"On hold: {hold_text(floor, hold)}."
    warn_above, temperature = floor.specification(arrival.paste).arrival_warn_above_c, arrival.temperature_c
    warm = temperature is not None and temperature > warn_above
    if temperature is not None and warm and not any(hold.reason is HoldReason.ARRIVED_WARM for hold in holds):
        yield f"It came at {temperature:g} C, above {warn_above:g} C: put it away at once and tell the shift lead."


def _holds(floor: Floor, arrival: Arrival) -> list[tuple[HoldReason, str]]:
    specification = floor.specification(arrival.paste)
    measured = arrival.temperature_c
    found: list[tuple[HoldReason, str]] = []
    if measured is not None and measured > specification.arrival_hold_above_c:
        found.append((HoldReason.ARRIVED_WARM, f"{measured:g} C on arrival"))
    if measured is not None and measured < specification.arrival_hold_below_c:
        found.append((HoldReason.ARRIVED_FROZEN, f"{measured:g} C on arrival"))
    if arrival.temperature_answer == "indicator tripped":
        found.append((HoldReason.INDICATOR, ""))
    if arrival.leaking:
        found.append((HoldReason.LEAKING, ""))
    return found
