"""When a container lay in a store, by its own story: from each put-away until it left."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime

from station.care import facts as f
from station.care.ledger import Ledger

FOREVER = datetime.max.replace(tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Stay:
    """A time in a store. It lay there until `until` at the latest; its life out of the cold runs from `out_from`."""

    store: str
    begins: datetime
    out_from: datetime = FOREVER
    until: datetime = FOREVER


def stays(ledger: Ledger, container: str) -> tuple[Stay, ...]:
    """Every stay, the last perhaps without an end. What was taken back is left out. Where a clock was wrong, a stay
    begins as early and lasts as long as it may have."""
    found: list[Stay] = []
    out = False
    for fact in ledger.history("container", container):
        body, doubt = fact.body, ledger.clocks.of(fact)
        if ledger.is_undone(fact.key):
            continue
        begins, until = fact.at + doubt.earlier, fact.at + doubt.later
        match body:
            case f.PutAway() if not out or body.returning:
                _leave(found, fact.at, until)
                found.append(Stay(body.store, (body.cold_since or fact.at) + doubt.earlier))
                out = False
            case f.Transferred() if not out:
                _leave(found, body.out_since, until)
                found.append(Stay(body.store, begins))
            case f.TakenOut():
                _leave(found, body.thaw_from, body.thaw_to + doubt.later)
                out = True
            case f.MoveBegun() if not out:
                _leave(found, body.out_since, until)
            case f.ThawBegun() | f.Ended():
                _leave(found, fact.at, until)
            case _:
                pass
    return tuple(found)


def _leave(found: list[Stay], out_from: datetime, until: datetime) -> None:
    """The last stay ends, unless it has; one that begins later than it ends was none."""
    if found and found[-1].until == FOREVER:
        found[-1] = replace(found[-1], out_from=out_from, until=until)


def in_store(ledger: Ledger, store: str, start: datetime, end: datetime) -> Iterator[tuple[str, Stay]]:
    """Every container that lay in a store for some of a time, with that stay."""
    for name in sorted(ledger.containers):
        for stay in stays(ledger, name):
            if stay.store == store and stay.begins < end and start < stay.until:
                yield name, stay
