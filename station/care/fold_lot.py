"""How one fact changes one lot of a paste. A hold stands until it is released by name."""

from dataclasses import replace

from station.care import facts as f
from station.care.state import Hold, Lot
from station.care.words import HoldReason


def lot_name(paste: str, lot: str) -> str:
    """What a lot is called in facts: two makers may use one code, so the paste belongs to it.

    Written by hand or scanned, in small or large letters, it is one lot: a hold must not miss a jar by that.
    """
    return f"{paste}/{' '.join(lot.split()).upper()}"


def spoken_lot(name: str) -> str:
    """A lot, called as in facts, as people say it: `26-118 of SN-4`."""
    paste, _, lot = name.partition("/")
    return f"{lot} of {paste}"


def lot_step(lot: Lot | None, fact: f.Fact, name: str) -> Lot:
    """The lot after `fact`."""
    before = lot or Lot(name)
    match fact.body:
        case f.LotHeld(note=note, reason=reason):
            hold = Hold(fact.key, reason, fact.at, note)
            return replace(before, holds=(*before.holds, hold))
        case f.LotReleased(hold=released):
            return replace(before, holds=_without(before.holds, released))
        case f.LotRecertified(shelf_end=shelf_end, document=document):
            return replace(before, recertified_end=shelf_end, document=document)
        case _:
            return before


def _without(holds: tuple[Hold, ...], released: str) -> tuple[Hold, ...]:
    """What stands after a release. Two stations may each have told that a lot awaits its test: one test ends both."""
    tested = any(hold.key == released and hold.reason is HoldReason.INCOMING_TEST for hold in holds)
    return tuple(
        hold for hold in holds if hold.key != released and not (tested and hold.reason is HoldReason.INCOMING_TEST)
    )
