"""What was told here of a container that this station has no record of: its holds and its end.

Its receipt may come later, from the station that wrote it; then these facts count like any other.
"""

from dataclasses import dataclass
from datetime import datetime

from station.care import facts as f
from station.care.ledger import Ledger
from station.care.state import Hold
from station.care.words import Ending


@dataclass(frozen=True, slots=True)
class ToldOf:
    """The standing holds of a container, and how and when its life ended."""

    holds: tuple[Hold, ...] = ()
    ended: Ending | None = None
    ended_at: datetime | None = None


def told_of(ledger: Ledger, container: str) -> ToldOf:
    """The same of one container; nothing where nobody told anything of it here."""
    holds: dict[str, Hold] = {}
    ended, ended_at = None, None
    for fact in ledger.history("container", container):
        if ledger.is_undone(fact.key):
            continue
        match fact.body:
            case f.Held() as body:
                holds[fact.key] = Hold(fact.key, body.reason, fact.at, body.note)
            case f.Released() as body:
                holds.pop(body.hold, None)
            case f.Ended() as body:
                ended, ended_at = body.ending, fact.at
            case _:
                pass
    return ToldOf(tuple(holds.values()), ended, ended_at)
