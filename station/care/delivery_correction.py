"""What was said wrongly of a whole delivery, put right by a shift lead: its box, its packs, its temperature.

One truck has one temperature, so the receipts that have it from the delivery are corrected with it. Holds that follow
from what is said now are added. What no longer follows stays on hold until a shift lead releases it, each by itself.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from station.care import facts as f
from station.care.correction import CorrectionRefused, as_known, temperature_holds
from station.care.delivery import look_of
from station.care.delivery_rules import Box, Consequence, Packs
from station.care.floor import Floor
from station.care.receiving import TemperatureAnswer
from station.care.state import Container
from station.care.words import HoldReason, Role

TRIPPED = "indicator tripped"


@dataclass(frozen=True, slots=True)
class DeliveryCorrection:
    """What should have been said of a delivery; None leaves a thing as it stands. Degrees Celsius, only if measured."""

    delivery: str
    reason: str
    box: Box | None = None
    packs: Packs | None = None
    temperature_answer: TemperatureAnswer | None = None
    temperature_c: float | None = None


def delivery_of(floor: Floor, container: Container) -> str:
    """What the delivery a container came with is called; "" for one received by itself, or filled here."""
    receipt = floor.ledger.fact(container.received_key)
    return receipt.body.delivery if receipt is not None and isinstance(receipt.body, f.Received) else ""


def as_told(floor: Floor, delivery: str) -> tuple[str, f.Delivered] | None:
    """A delivery with every correction in it, and the key of its own fact; None where it is not on record."""
    told = sorted((fact for fact in floor.ledger.facts() if _is_of(fact.body, delivery)), key=lambda fact: fact.order)
    own = next((fact for fact in told if isinstance(fact.body, f.Delivered)), None)
    if own is None or not isinstance(own.body, f.Delivered):
        return None
    known = own.body
    for fact in told:
        if isinstance(fact.body, f.DeliveryCorrected):
            known = _with(known, fact.body)
    return own.key, known


def _is_of(body: f.Body, delivery: str) -> bool:
    return isinstance(body, f.Delivered | f.DeliveryCorrected) and body.delivery == delivery


def _with(known: f.Delivered, body: f.DeliveryCorrected) -> f.Delivered:
    return replace(
        known,
        temperature_c=body.temperature_c,
        temperature_answer=body.temperature_answer,
        packs=body.packs,
        box=body.box,
        warned=body.warned,
    )


def correct_delivery(floor: Floor, told: DeliveryCorrection, person: str | None) -> tuple[f.Body, ...]:
    """The fact of a corrected delivery, the receipts it corrects, and the holds it brings. Raises CorrectionRefused."""
    if not floor.person_has(person, Role.LEAD):
        raise CorrectionRefused("Only a shift lead corrects a delivery. Badge in with your PIN.")
    found = as_told(floor, told.delivery)
    if found is None:
        raise CorrectionRefused("There is no delivery of it on record here. Correct its receipt instead.")
    if not told.reason.strip():
        raise CorrectionRefused("Say in a few words what was wrong; it stands in the record.")
    key, known = found
    after = _corrected(known, told)
    if after == known:
        raise CorrectionRefused("Nothing differs from what is recorded, so there is nothing to correct.")
    came = tuple(came_with(floor, told.delivery))
    after = replace(after, warned=_warned(floor, known, after, came))
    bodies = [body for container in came for body in _of_container(floor, container, known, after, told.reason.strip())]
    return (_fact(key, after, told.reason.strip()), *bodies)


def _corrected(known: f.Delivered, told: DeliveryCorrection) -> f.Delivered:
    answer = told.temperature_answer
    if answer == "measured" and told.temperature_c is None:
        raise CorrectionRefused("Give the temperature that was measured, or say that nobody measured it.")
    return replace(
        known,
        box=known.box if told.box is None else told.box.value,
        packs=known.packs if told.packs is None else told.packs.value,
        temperature_answer=answer or known.temperature_answer,
        temperature_c=known.temperature_c if answer is None else told.temperature_c if answer == "measured" else None,
    )


def _fact(key: str, after: f.Delivered, reason: str) -> f.DeliveryCorrected:
    return f.DeliveryCorrected(
        delivery=after.delivery,
        fact=key,
        temperature_c=after.temperature_c,
        temperature_answer=after.temperature_answer,
        packs=after.packs,
        box=after.box,
        warned=after.warned,
        reason=reason,
    )


def came_with(floor: Floor, delivery: str) -> Iterator[Container]:
    """The containers of a delivery that are not ended, and whose paste this site knows."""
    for container in floor.alive():
        if container.paste in floor.plant.pastes and delivery_of(floor, container) == delivery:
            yield container


def _of_container(
    floor: Floor, container: Container, known: f.Delivered, after: f.Delivered, reason: str
) -> Iterator[f.Body]:
    """Its receipt, where it has the temperature of the truck, then each hold that it did not have for that reason."""
    warmth = (after.temperature_c, after.temperature_answer)
    warmer = (
        warmth != (known.temperature_c, known.temperature_answer) and container.temperature_c == known.temperature_c
    )
    receipt = floor.ledger.fact(container.received_key)
    if warmer and receipt is not None and isinstance(receipt.body, f.Received):
        received = replace(
            as_known(receipt.body, container), temperature_c=warmth[0], temperature_answer=after.temperature_answer
        )
        yield f.ReceiptCorrected(container.id, receipt.key, received, reason)
    standing = {hold.reason for hold in container.holds}
    for hold, note in (
        *_of_look(floor, container, known, after),
        *(_of_warmth(floor, container, after) if warmer else ()),
    ):
        if hold not in standing:
            yield f.Held(container.id, hold, note)


def _of_look(
    floor: Floor, container: Container, known: f.Delivered, after: f.Delivered
) -> list[tuple[HoldReason, str]]:
    """What the look comes to now and did not before: what a lead released of it before stays released."""
    before = _look(floor, container, known)
    return [(reason, "") for reason, what in _look(floor, container, after).items() if _holds(what, before.get(reason))]


def _holds(what: Consequence, before: Consequence | None) -> bool:
    return what is Consequence.HOLD and before is None


def _look(floor: Floor, container: Container, delivery: f.Delivered) -> dict[HoldReason, Consequence]:
    return dict(look_of(floor, Box(delivery.box), Packs(delivery.packs), container.paste))


def _of_warmth(floor: Floor, container: Container, after: f.Delivered) -> list[tuple[HoldReason, str]]:
    if after.temperature_answer == TRIPPED:
        return [(HoldReason.INDICATOR, "")]
    return temperature_holds(floor.specification(container.paste), after.temperature_c)


def _warned(floor: Floor, known: f.Delivered, after: f.Delivered, came: tuple[Container, ...]) -> tuple[str, ...]:
    """The warnings as they would have been; what was said of a short shelf life stands."""
    of_looks = {reason.value for reason in HoldReason}
    rest = [said for said in known.warned if said not in of_looks]
    looks = [
        reason.value
        for container in came
        for reason, what in _look(floor, container, after).items()
        if what is Consequence.WARN
    ]
    return tuple(dict.fromkeys((*looks, *rest)))


def no_longer(floor: Floor, bodies: Sequence[f.Body]) -> tuple[str, ...]:
    """The containers, as people call them, with a hold that will not follow any more once these facts are written."""
    after = next((body for body in bodies if isinstance(body, f.DeliveryCorrected)), None)
    found = as_told(floor, after.delivery) if after is not None else None
    if after is None or found is None:
        return ()
    corrected = {body.container: body.received for body in bodies if isinstance(body, f.ReceiptCorrected)}
    delivery = _with(found[1], after)
    return tuple(
        one.spoken
        for one in came_with(floor, after.delivery)
        if _stale(floor, one, delivery, corrected[one.id].temperature_c if one.id in corrected else one.temperature_c)
    )


# what only the look or the temperature of a delivery puts on hold
FROM_A_DELIVERY = (
    HoldReason.BOX_DAMAGED,
    HoldReason.BOX_WET,
    HoldReason.PACKS_MELTED,
    HoldReason.PACKS_MISSING,
    HoldReason.INDICATOR,
    HoldReason.ARRIVED_WARM,
    HoldReason.ARRIVED_FROZEN,
)


def _stale(floor: Floor, container: Container, delivery: f.Delivered, measured: float | None) -> bool:
    looks = {reason for reason, what in _look(floor, container, delivery).items() if what is Consequence.HOLD}
    own = temperature_holds(floor.specification(container.paste), measured)
    follows = {*looks, *(reason for reason, _ in own)}
    if delivery.temperature_answer == TRIPPED:
        follows.add(HoldReason.INDICATOR)
    return any(hold.reason in FROM_A_DELIVERY and hold.reason not in follows for hold in container.holds)
