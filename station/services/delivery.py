"""Receiving a delivery: its logger files are kept, then everything of it is recorded in one piece and labelled."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from station.care.delivery import Delivery, deliver
from station.care.receiving import Arrival
from station.services.attaching import Enclosed, attached
from station.services.outcome import Outcome

if TYPE_CHECKING:
    from station.services.station import Station


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
