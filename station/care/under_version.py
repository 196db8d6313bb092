"""Under which version of its specification paste was used: whose figures set its times, and what was in force."""

from datetime import datetime

from station.care import facts as f
from station.care.ledger import Ledger

_SETS_TIMES = (f.ThawBegun, f.TakenOut, f.SpecificationApplied)


def versions_used(ledger: Ledger, container: str, paste: str, at: datetime) -> tuple[str, ...]:
    """The versions a container's paste was used under at an instant (aware UTC), such as `SN-4 version 3`.

    First the one its times were last set by, where it has such times; then the one that was in force, where that is
    another. Nothing for a paste nobody has set up here.
    """
    history = ledger.history("container", container)
    told = [fact for fact in history if fact.at <= at and not ledger.is_undone(fact.key)]
    named = [fact.body.specification for fact in told if isinstance(fact.body, _SETS_TIMES)]
    if not told or paste not in ledger.specifications:
        return tuple(named[-1:])
    in_force = ledger.rulebook.in_force_from(paste, told[-1].order)[0]
    return tuple(dict.fromkeys((*named[-1:], str(in_force))))
