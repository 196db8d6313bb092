"""Receiving a delivery: its logger files are kept, then everything of it is recorded in one piece and labelled.

What was said wrongly of it a shift lead puts right."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from station.care import facts as f
from station.care.answers import plain
from station.care.delivery import Delivery, deliver
from station.care.delivery_correction import DeliveryCorrection, correct_delivery, no_longer
from station.care.floor import Floor
from station.care.receiving import Arrival
from station.care.verdict import Decision
from station.care.words import Role, Word
from station.services.attaching import Enclosed, attached
from station.services.outcome import Outcome

if TYPE_CHECKING:
    from station.services.station import Proof, Station


def delivery_id(arrivals: Sequence[Arrival]) -> str:
    """What a delivery is called: as the first of its containers, whose number nothing else ever gets."""
    return f"D{arrivals[0].container}" if arrivals else ""


def receive_delivery(
    station: "Station",
    about: Delivery,
    arrivals: Sequence[Arrival],
    person: str | None,
    loggers: Sequence[Enclosed] = (),
) -> Outcome:
    """Receive a delivery, all or nothing. `about.id` is filled in here.

    Raises receiving.ArrivalRefused for what can't be recorded as told, JournalTrouble where nothing was recorded.
    """
    named = replace(about, id=delivery_id(arrivals))
    deliver(station.floor(), named, arrivals)  # refuses before any file is kept
    proofs = attached(station.evidence, f"delivery:{named.id}", "logger in the box", loggers)
    with_files = replace(named, digests=tuple(proof.digest for proof in proofs))
    return station.receive(arrivals, person, with_files, proofs)


def put_delivery_right(station: "Station", told: DeliveryCorrection, proof: "Proof") -> Outcome:
    """Put right what was said of a whole delivery. Raises correction.CorrectionRefused, and for a wrong PIN Refusal."""

    def decide(floor: Floor, person: str) -> Decision:
        bodies = correct_delivery(floor, told, person)
        held = {body.container.replace("-", " ") for body in bodies if isinstance(body, f.Held)}
        on_hold = f" On hold now: {', '.join(sorted(held))}." if held else ""
        stale = no_longer(floor, bodies)
        why = f"Delivery {told.delivery.replace('-', ' ')} is put right; the record keeps both.{on_hold}"
        todo = f"These holds no longer follow; judge and release each: {', '.join(stale)}." if stale else "Go on."
        return Decision(plain(Word.DONE, "delivery-corrected", "CORRECTED", why, todo), bodies)

    return station.decided(proof, Role.LEAD, decide)
