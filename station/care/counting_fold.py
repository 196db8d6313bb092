"""What the facts of one count add up to: what was seen, whether it is over, what was found to differ and settled."""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from station.care import facts as f
from station.care.words import CountEnd, Finding, Settling

WHOLE = (CountEnd.WHOLE, CountEnd.WHOLE_LATER)


@dataclass(frozen=True, slots=True)
class Seen:
    """One container that was seen; `recorded` is the store it stood in, empty for none."""

    container: str
    at: datetime
    finding: Finding
    recorded: str


@dataclass(frozen=True, slots=True)
class Count:
    """One count of one store at one place. `last_at` is its newest scan, or its beginning."""

    id: str
    station: int
    store: str
    where: str
    idle: timedelta
    begun_at: datetime
    last_at: datetime
    seen: tuple[Seen, ...] = ()
    ended_at: datetime | None = None
    how: CountEnd | None = None
    missing: tuple[str, ...] = ()
    settled: tuple[tuple[str, Settling], ...] = ()

    @property
    def whole(self) -> bool:
        """Whether somebody said that everything was scanned."""
        return self.how in WHOLE

    @property
    def ends_at(self) -> datetime:
        """When it ends by itself unless something more is scanned."""
        return self.last_at + self.idle

    def seen_of(self, container: str) -> Seen | None:
        """How a container was seen last in this count."""
        return next((seen for seen in reversed(self.seen) if seen.container == container), None)


def count_step(count: Count | None, fact: f.Fact) -> Count | None:
    """The count after `fact`; None while nothing says that it was begun."""
    body = fact.body
    if isinstance(body, f.CountBegun) and count is None:
        return Count(body.count, fact.station, body.store, body.where, body.idle, fact.at, fact.at)
    if count is None:
        return None
    match body:
        case f.Counted():
            return _seen(count, Seen(body.container, fact.at, body.finding, body.recorded))
        case f.CountEnded():
            return _ended(count, fact.at, body)
        case f.DifferenceSettled():
            return replace(count, settled=(*count.settled, (body.container, body.how)))
        case _:
            return count


def _seen(count: Count, seen: Seen) -> Count:
    return replace(count, seen=(*count.seen, seen), last_at=max(count.last_at, seen.at))


def _ended(count: Count, at: datetime, body: f.CountEnded) -> Count:
    """Ended once; an incomplete one may still be said to have been whole."""
    if count.whole or (count.ended_at is not None and body.how not in WHOLE):
        return count
    return replace(count, ended_at=count.ended_at or at, how=body.how, missing=body.missing)
