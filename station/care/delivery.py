"""A delivery: containers of one or more lots from one truck, recorded together, with what its look comes to."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from station.care import facts as f
from station.care.delivery_rules import Box, Consequence, DeliveryRules, Packs
from station.care.floor import Floor
from station.care.fold_lot import lot_name, spoken_lot
from station.care.receiving import (
    Arrival,
    ArrivalRefused,
    TemperatureAnswer,
    caution_notes,
    expiry_of,
    months_after,
    receive,
    received,
)
from station.care.state import Container
from station.care.verdict import Verdict
from station.care.words import HoldReason, Storage

INCOMING_NOTE = "release it with its certificate or test report"
NO_CONTAINERS = "Nothing was received. Add at least one lot to the delivery."
LONGEST_UNDER_WAY = 365


@dataclass(frozen=True, slots=True)
class Delivery:
    """What is said of a whole delivery at the dock. Temperature in degrees Celsius, `files` are kept digests."""

    id: str
    arrived_at: datetime
    temperature_c: float | None
    temperature_answer: TemperatureAnswer
    packs: Packs = Packs.NOT_SAID
    box: Box = Box.NOT_SAID
    days_under_way: int | None = None
    logger_in_box: bool = False
    digests: tuple[str, ...] = ()


def deliver(floor: Floor, delivery: Delivery | None, arrivals: Sequence[Arrival]) -> tuple[f.Body, ...]:
    """Every fact of a delivery, to be written in one piece; without `delivery` containers received by themselves.

    Each reason against a container is a hold of its own. Raises ArrivalRefused for what can't be recorded as told.
    """
    told = arrivals if delivery is None else [_of_the_delivery(arrival, delivery) for arrival in arrivals]
    _check(delivery, told)
    bodies = [body for arrival in told for body in (*receive(floor, arrival), *_look_holds(floor, delivery, arrival))]
    lots = ((arrival.paste, arrival.lot) for arrival in told)
    return (*_delivered(floor, delivery, told), *bodies, *incoming_tests(floor, lots))


def delivered(floor: Floor, delivery: Delivery | None, arrivals: Sequence[Arrival]) -> Verdict:
    """What to tell whoever received these once it is recorded: holds, warnings, and what to mind with this paste."""
    told = arrivals if delivery is None else [_of_the_delivery(arrival, delivery) for arrival in arrivals]
    verdict = received(floor, told)
    warnings = [f"Look at it: {reason}." for reason in _warned(floor, delivery, told)]
    said = [verdict.note, *warnings, *caution_notes(floor, told)]
    return replace(verdict, note=" ".join(part for part in said if part))


def _of_the_delivery(arrival: Arrival, delivery: Delivery) -> Arrival:
    """One truck, one dock time, one temperature: a container of the delivery has no other."""
    return replace(
        arrival,
        arrived_at=delivery.arrived_at,
        temperature_c=delivery.temperature_c,
        temperature_answer=delivery.temperature_answer,
        delivery=delivery.id,
    )


def _check(delivery: Delivery | None, told: Sequence[Arrival]) -> None:
    names = [arrival.container for arrival in told]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise ArrivalRefused(f"{twice} is in the delivery twice. Each container has a number of its own.")
    if delivery is None:
        return
    if not told:
        raise ArrivalRefused(NO_CONTAINERS)
    days = delivery.days_under_way
    if days is not None and not 0 <= days <= LONGEST_UNDER_WAY:
        raise ArrivalRefused(f"{days} days under way can't be right. Give the days from the maker to the dock.")


def _delivered(floor: Floor, delivery: Delivery | None, told: Sequence[Arrival]) -> Iterator[f.Delivered]:
    if delivery is not None:
        yield f.Delivered(
            delivery=delivery.id,
            arrived_at=delivery.arrived_at,
            temperature_c=delivery.temperature_c,
            temperature_answer=delivery.temperature_answer,
            packs=delivery.packs.value,
            box=delivery.box.value,
            days_under_way=delivery.days_under_way,
            logger_in_box=delivery.logger_in_box or bool(delivery.digests),
            digests=delivery.digests,
            warned=tuple(_warned(floor, delivery, told)),
        )


def _look_holds(floor: Floor, delivery: Delivery | None, arrival: Arrival) -> Iterator[f.Held]:
    for reason, consequence in _look(floor, delivery, arrival):
        if consequence is Consequence.HOLD:
            yield f.Held(arrival.container, reason, "")


def _look(floor: Floor, delivery: Delivery | None, arrival: Arrival) -> Iterator[tuple[HoldReason, Consequence]]:
    if delivery is not None:
        yield from look_of(floor, delivery.box, delivery.packs, arrival.paste)


def look_of(floor: Floor, box: Box, packs: Packs, paste: str) -> Iterator[tuple[HoldReason, Consequence]]:
    """What the box and its packs come to for one container; packs say nothing of paste that is never cold."""
    rules: DeliveryRules = floor.rules.delivery
    of_the_box = {
        Box.DAMAGED: (HoldReason.BOX_DAMAGED, rules.box_damaged),
        Box.WET: (HoldReason.BOX_WET, rules.box_wet),
    }
    of_the_packs = {
        Packs.MELTED: (HoldReason.PACKS_MELTED, rules.packs_melted),
        Packs.NONE: (HoldReason.PACKS_MISSING, rules.packs_missing),
    }
    if box in of_the_box:
        yield of_the_box[box]
    if packs in of_the_packs and floor.plant.pastes[paste].storage is not Storage.ROOM:
        yield of_the_packs[packs]


def _warned(floor: Floor, delivery: Delivery | None, told: Sequence[Arrival]) -> list[str]:
    """Each reason for a warning once, in words."""
    found: dict[str, None] = {}
    for arrival in told:
        for reason, consequence in _look(floor, delivery, arrival):
            if consequence is Consequence.WARN:
                found[reason.value] = None
    for arrival in told:
        short = _short_shelf(floor, arrival)
        if short:
            found[short] = None
    return list(found)


def _short_shelf(floor: Floor, arrival: Arrival) -> str:
    """Less shelf life left at the dock than the site wants of this paste; the day itself is still enough."""
    least = floor.plant.pastes[arrival.paste].least_shelf_months
    if least is None:
        return ""
    expires = expiry_of(floor, arrival)
    if expires >= months_after(arrival.arrived_at.astimezone(floor.zone).date(), least):
        return ""
    months = "1 month" if least == 1 else f"{least} months"
    lot = spoken_lot(lot_name(arrival.paste, arrival.lot))
    return f"lot {lot} ends {expires.isoformat()}, less than the {months} wanted at receipt"


def incoming_tests(floor: Floor, told: Iterable[tuple[str, str]]) -> Iterator[f.LotHeld]:
    """A hold for each lot (paste, code) that has to pass a test and of which none is on record, here or elsewhere.

    Containers of it that come later are under the same hold, or under none once it was released.
    """
    for paste, lot in dict.fromkeys((paste, lot_name(paste, lot)) for paste, lot in told):
        heard = any(
            isinstance(fact.body, f.LotHeld) and fact.body.reason is HoldReason.INCOMING_TEST
            for fact in floor.ledger.history("lot", lot)
        )
        known = floor.plant.pastes.get(paste)  # none where only another station's settings have it
        if known is not None and known.incoming_test and not heard:
            yield f.LotHeld(lot, INCOMING_NOTE, HoldReason.INCOMING_TEST)


def untested(floor: Floor, containers: Iterable[str]) -> Iterator[f.LotHeld]:
    """The same for lots of these that another station took in, whose settings may ask for no test."""
    found = (floor.container(name) for name in sorted(containers))
    yield from incoming_tests(
        floor, ((one.paste, one.lot) for one in found if one is not None and _foreign(floor, one))
    )


def _foreign(floor: Floor, container: Container) -> bool:
    """Taken in elsewhere, and still of use or on a line."""
    receipt = floor.ledger.fact(container.received_key)
    if receipt is None or floor.ledger.is_own(receipt):
        return False
    return container.ended is None or bool(floor.positions_with(container.id))
