"""What shift leads and process engineers do on a bench, as short calls with the people of plant T."""

from datetime import date

from station.services.lead_acts import hold_lot, recertify_lot, release_lot
from station.services.outcome import Outcome
from station.services.station import Proof
from tests.care.bench import LEAD, LEAD_PIN, Bench, with_limits

OPERATOR, ENGINEER = "P12", "P30"
PROOF, ENGINEER_PROOF = Proof(LEAD, LEAD_PIN), Proof(ENGINEER, "3030")


def held_lot(bench: Bench, lot: str = "101", note: str = "recall", paste: str = "SN-4") -> Outcome:
    """A shift lead puts a lot on hold."""
    return hold_lot(bench.station, paste, lot, note, PROOF)


def released_lot(bench: Bench, place: int = 0, lot: str = "SN-4/101") -> Outcome:
    """A shift lead releases one hold of a lot."""
    return release_lot(bench.station, lot, bench.station.ledger.lots[lot].holds[place].key, "judged good", PROOF)


def recertified(bench: Bench, expires: date, lot: str = "101", paste: str = "SN-4") -> Outcome:
    """Lead and engineer give a lot the supplier's new expiry."""
    return recertify_lot(bench.station, paste, lot, expires, "letter 7", (PROOF, ENGINEER_PROOF))


def newer(bench: Bench, paste: str = "SN-4", version: int = 2, **limits: object) -> Bench:
    """The settings get another version of a specification, and the program starts anew with it."""
    bench.site = with_limits(bench.site, paste, version=version, **limits)
    return bench.restart()
