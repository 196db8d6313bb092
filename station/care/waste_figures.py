"""What paste was thrown away and why, the largest share first (a Pareto order).

Grams are those a person said; what nobody weighed is counted apart, never guessed.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime

from station.care import facts as f
from station.care.ledger import Ledger
from station.care.words import Ending

NO_REASON = "no reason said"


@dataclass(frozen=True, slots=True)
class Wasted:
    """One discarded container. `grams` is None where nobody weighed it, `where` the place that was told."""

    container: str
    paste: str
    lot: str
    cause: str
    where: str
    grams: float | None
    at: datetime
    who: str | None


@dataclass(frozen=True, slots=True)
class Share:
    """One group of a Pareto: grams, containers, those not weighed, and the part of all grams up to it (0 to 1)."""

    name: str
    grams: float
    containers: int
    not_weighed: int
    up_to: float


def wasted(ledger: Ledger, since: datetime, until: datetime) -> tuple[Wasted, ...]:
    """What was discarded from `since` up to, not at, `until`, in order of time; what was taken back is not in it."""
    found = [entry for name in ledger.containers for entry in _of(ledger, name) if since <= entry.at < until]
    return tuple(sorted(found, key=lambda entry: (entry.at, entry.container)))


def _of(ledger: Ledger, name: str) -> Iterable[Wasted]:
    container = ledger.containers[name]
    if container.ended is not Ending.DISCARDED:
        return
    told = (
        (fact, fact.body)
        for fact in ledger.history("container", name)
        if isinstance(fact.body, f.Ended) and fact.body.ending is Ending.DISCARDED and not ledger.is_undone(fact.key)
    )
    *_, (fact, body) = told  # it was discarded: at least one fact says so
    cause = body.reason.strip() or NO_REASON
    yield Wasted(name, container.paste, container.lot, cause, body.where, body.grams, fact.at, fact.who)


def pareto(entries: Iterable[Wasted], named: Callable[[Wasted], str]) -> tuple[Share, ...]:
    """Groups by `named`, most grams first, then most containers, then by name."""
    groups: dict[str, list[Wasted]] = {}
    for entry in entries:
        groups.setdefault(named(entry), []).append(entry)
    grams = {name: sum(entry.grams or 0.0 for entry in group) for name, group in groups.items()}
    total, so_far, shares = sum(grams.values()), 0.0, list[Share]()
    for name in sorted(groups, key=lambda name: (-grams[name], -len(groups[name]), name)):
        group, so_far = groups[name], so_far + grams[name]
        unweighed = sum(1 for entry in group if entry.grams is None)
        shares.append(Share(name, grams[name], len(group), unweighed, so_far / total if total else 0.0))
    return tuple(shares)
