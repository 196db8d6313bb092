"""Counting as a script tells it: `count` begins or ends a count, `settle_difference` sees to one of its finds."""

from collections.abc import Mapping

from station.care.counting_differences import Settled, unsettled
from station.care.words import CountEnd, Settling
from station.services.counting import begin_count, end_count, settle_difference
from station.services.outcome import Outcome
from station.services.station import Proof, Station

Told = Mapping[str, object]
BEGIN = "begin"
ENDS = {"whole": CountEnd.WHOLE, "stop": CountEnd.BROKEN_OFF, "whole later": CountEnd.WHOLE_LATER}
DOES = (BEGIN, *ENDS)


def count(station: Station, told: str, place: str) -> Outcome:
    """Begin a count at a place, or end the newest one there."""
    if told == BEGIN:
        return begin_count(station, place)
    here = [found for found in station.ledger.counts.values() if found.where == place]
    newest = max(here, key=lambda found: found.begun_at, default=None)
    return end_count(station, newest.id if newest is not None else "", ENDS[told])


def settle(station: Station, told: Told, container: str) -> Outcome:
    """See to a difference of a container, wherever it was counted."""
    standing = (count.id for count, found in unsettled(station.floor()) for one in found if one.container == container)
    said = Settled(next(standing, ""), container, Settling(str(told.get("how"))), str(told.get("note", "")))
    proof = Proof(str(told["badge"]), str(told.get("pin"))) if "badge" in told else None
    return settle_difference(station, said, proof)
