"""Why something is on hold, as people here say it: what a shift lead wrote of it, and since when."""

from station.care.floor import Floor
from station.care.fold_move import TOO_LONG
from station.care.saying import when
from station.care.state import Hold
from station.care.words import HoldReason

# said by a person, so that nobody but the note knows what is meant
TOLD_BY_A_PERSON = (HoldReason.LOT, HoldReason.EVALUATION)


def hold_text(floor: Floor, hold: Hold) -> str:
    """`lot on hold since 14:05: recall by the maker`; a reason that speaks for itself is said alone, and so is the note
    of a restore, which names its backup."""
    if hold.reason is HoldReason.RESTORED:
        return hold.note
    if hold.reason is HoldReason.LATE_TO_COLD and hold.note == TOO_LONG:
        return TOO_LONG  # as its alarm says
    if hold.reason not in TOLD_BY_A_PERSON:
        return hold.reason.value
    noted = f": {hold.note.strip().rstrip('.')}" if hold.note.strip() else ""
    return f"{hold.reason.value} since {when(hold.since, floor.now, floor.zone)}{noted}"
