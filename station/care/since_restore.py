"""What a station that goes on from a backup doesn't know of its lines: what they build, and what lay there last.

Both are as they were when the backup was made, so neither lets any paste on before somebody said it anew.
"""

from collections.abc import Iterator

from station.care import facts as f
from station.care.cold_proof import SKEW_ALLOWED
from station.care.floor import Floor
from station.care.holders import TOOLS
from station.care.reason import Reason
from station.care.saying import opening, spot
from station.care.state import PositionState
from station.care.words import Word

LAY_THERE = (f.Cleaned, f.Loaded, f.Mounted)


def is_older(fact: f.Fact, restored: f.Fact) -> bool:
    """Whether a fact was told before the restore, by whatever clock; what this station wrote since was not."""
    if fact.journal == restored.journal:
        return False
    return fact.order < restored.order or fact.at <= restored.at + SKEW_ALLOWED


def not_known_of(floor: Floor, position: PositionState) -> Iterator[Reason]:
    """Reasons against any paste at a position since a restore: until its work order was scanned, and, where nothing
    lies there, until it was cleaned."""
    restored = floor.ledger.restored
    if restored is None:
        return
    told = [fact for fact in floor.ledger.history("position", position.id) if not is_older(fact, restored)]
    since = [fact.body for fact in told if not floor.ledger.is_undone(fact.key)]
    if position.pastes and not any(isinstance(body, f.PositionSetUp) for body in since):
        yield Reason(
            "no-work-order",
            Word.STOP,
            "SCAN THE WORK ORDER",
            f"{opening(spot(position.id))} built {position.work_order} at the backup; what it builds now is not known.",
            "Scan the tag of the position, then the work order it builds now.",
        )
    empty = position.bead is None and position.mounted is None
    if empty and not any(isinstance(body, LAY_THERE) for body in since):
        yield Reason(
            "needs-cleaning",
            Word.STOP,
            "CLEAN FIRST",
            f"Which paste was on {spot(position.id)} last is not known since the backup.",
            f"Clean {TOOLS[floor.holder(position.id)]}, then scan the tag and the CLEANED card.",
        )
