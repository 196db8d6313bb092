"""One card, badge or tag on a label of its own, from the label printer of a place."""

from station.labels.sheet_codes import SheetCode
from station.labels.target import CardPrinter, SlowTarget, taker_of
from station.services.badges import record_badges
from station.services.outcome import Refusal
from station.services.station import Proof, Station

BADGE = "badge"
WAITS = "It is printed when it comes out. What hinders the printer stands in the bottom line, under Labels."


def print_code(station: Station, code: SheetCode, place: str) -> str:
    """Print it where the labels of `place` come out; a sentence says where that is.

    LabelFault where it does not fit or is not taken; Refusal for a badge, which wants proof.
    """
    if code.sort == BADGE:
        raise Refusal("badge-proof", "A badge is a key: a shift lead or a process engineer has it printed, with a PIN.")
    return _sent(station, code, place)


def print_badge(station: Station, code: SheetCode, person: str, proof: Proof, place: str) -> str:
    """Print the badge of one person who works here; it is on record before. As `print_code`; Refusal for the proof."""
    found = station.ledger.people.get(person)
    if found is None or found.left:
        raise Refusal("unknown-badge", "Nobody with that badge works here, so none is printed.")
    record_badges(station, (person,), proof)
    return _sent(station, code, place)


def _sent(station: Station, code: SheetCode, place: str) -> str:
    target = taker_of(station.target, "", place)
    if not isinstance(target, CardPrinter):
        raise Refusal("no-card-printer", "Labels of this station can't be printed now. Print the sheet instead.")
    where = target.send_card(code)
    if isinstance(target, SlowTarget):
        return f"{code.kind} {code.name} went to {target.name}. {WAITS}"
    return f"{code.kind} {code.name} is in {where}. Print it at 100 %."
