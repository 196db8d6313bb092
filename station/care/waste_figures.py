"""What paste was thrown away and why, the largest share first (a Pareto order).

Grams are those a person said; what nobody weighed is counted apart, never guessed.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime

from station.care import facts as f
from station.care.ledger import Ledger
from station.care.limits import running_limits
from station.care.pace import Pace, paced, unhurried
from station.care.state import Alarm, Container
from station.care.words import Ending

READING = "reading what was thrown away"
NO_REASON = "no reason said"


@dataclass(frozen=True, slots=True)
class Wasted:
    """One discarded container. `grams` is None where nobody weighed it, `where` the place that was told.

    The cause is what stood against the container when it was discarded, so that it groups; `said` tells that nothing
    did and the cause is a person's words. `words` are those in any case.
    """

    container: str
    paste: str
    lot: str
    cause: str
    where: str
    grams: float | None
    at: datetime
    who: str | None
    kind: str = ""
    said: bool = True
    words: str = ""


@dataclass(frozen=True, slots=True)
class Share:
    """One group of a Pareto: grams, containers, those not weighed, and the part of all grams up to it (0 to 1)."""

    name: str
    grams: float
    containers: int
    not_weighed: int
    up_to: float


def wasted(ledger: Ledger, since: datetime, until: datetime, pace: Pace = unhurried) -> tuple[Wasted, ...]:
    """What was discarded from `since` up to, not at, `until`, in order of time; what was taken back is not in it."""
    raised: dict[str, list[Alarm]] = {}
    for alarm in ledger.alarms.values():
        raised.setdefault(alarm.subject, []).append(alarm)
    discarded = [found for found in ledger.containers.values() if found.ended is Ending.DISCARDED]
    entries = (_of(ledger, one, raised.get(one.id, ())) for one in paced(discarded, pace, READING))
    found = [entry for entry in entries if since <= entry.at < until]
    return tuple(sorted(found, key=lambda entry: (entry.at, entry.container)))


def _of(ledger: Ledger, container: Container, raised: Iterable[Alarm]) -> Wasted:
    told = (
        (fact, fact.body)
        for fact in ledger.history("container", container.id)
        if isinstance(fact.body, f.Ended) and fact.body.ending is Ending.DISCARDED and not ledger.is_undone(fact.key)
    )
    *_, (fact, body) = told  # it was discarded: at least one fact says so
    words, against = body.reason.strip(), stood_against(container, raised, fact.at)
    cause, said = against or words or NO_REASON, bool(words) and not against
    name, paste, lot, kind = container.id, container.paste, container.lot, container.kind
    return Wasted(name, paste, lot, cause, body.where, body.grams, fact.at, fact.who, kind, said, words)


def stood_against(container: Container, raised: Iterable[Alarm], at: datetime) -> str:
    """What spoke against a container when it ended at `at`: its first hold, else one of the alarms about it, else a
    limit that was past; nothing where nothing did."""
    raised = (alarm for alarm in raised if alarm.raised_at <= at)
    causes = (
        *(hold.reason.value for hold in container.all_holds if hold.since <= at),
        *(f"{alarm.limit.value} passed" for alarm in sorted(raised, key=lambda alarm: alarm.since)),
        *(f"{limit.value} passed" for limit, end in running_limits(container) if at > end),
    )
    return next(iter(causes), "")


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
