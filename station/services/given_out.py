"""The record given out at the desk, as a day's digest or as an export: who had it made stands in it."""

from datetime import datetime

from station.care import facts as f
from station.care.answers import plain
from station.care.floor import Floor
from station.care.verdict import Decision
from station.care.words import Word
from station.services.badges import lead_or_engineer
from station.services.outcome import Outcome
from station.services.station import Proof, Station

DIGEST, EXPORT = "digest", "export"


def ask_digest(station: Station, since: datetime, until: datetime, place: str) -> Outcome:
    """Put on record that whoever works at `place` has a digest made of a plant day. Raises Refusal.

    It tells nothing but figures, so it needs no proof.
    """
    fact = f.RecordAsked(DIGEST, since, until, "")
    verdict = plain(Word.DONE, "digest-asked", "DIGEST", "Where the record stands, to be kept elsewhere.", "Print it.")
    return station.said(lambda _floor: Decision(verdict, (fact,)), place)


def ask_export(station: Station, since: datetime | None, until: datetime | None, into: str, proof: Proof) -> Outcome:
    """Put on record that a shift lead or process engineer has all facts of a time written out. Raises Refusal.

    `into` is the folder's name. All names and all that people did are in an export, so it needs proof.
    """
    fact = f.RecordAsked(EXPORT, since, until, into)
    why = f"The record is written into {into}."
    todo = "Hand it only to who may have it; READ-ME.txt in it says why."
    verdict = plain(Word.DONE, "export-asked", "EXPORT", why, todo)

    def decide(_floor: Floor, _by: str) -> Decision:
        return Decision(verdict, (fact,))

    return station.decided(proof, lead_or_engineer(station, proof), decide)
