"""When a container lay in a store, by its own story: from each put-away until it left."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime

from station.care import facts as f
from station.care.cold_proof import journal_of
from station.care.ledger import Ledger

FOREVER = datetime.max.replace(tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Stay:
    """A time in a store. It lay there until `until` at the latest; its life out of the cold runs from `out_from`."""

    store: str
    begins: datetime
    out_from: datetime = FOREVER
    until: datetime = FOREVER


@dataclass(frozen=True, slots=True)
class _Told:
    """A stay, the fact that began it, and when: as it was told, and at the latest."""

    stay: Stay
    fact: f.Fact
    at: datetime
    latest: datetime


def stays(ledger: Ledger, container: str) -> tuple[Stay, ...]:
    """Every stay; those it was never told to have left have no end. What was taken back is left out. Where a clock was
    wrong, a stay begins as early and lasts as long as it may have. One that another station began while it was out by
    the record is one too, but its life out of the cold runs all the same."""
    found: list[_Told] = []
    out = False
    for fact in ledger.history("container", container):
        body, doubt = fact.body, ledger.clocks.of(fact)
        if ledger.is_undone(fact.key):
            continue
        begins, until = fact.at + doubt.earlier, fact.at + doubt.later
        match body:
            case f.PutAway():
                _leave(found, fact, fact.at, until)
                out = out and not body.returning
                at = body.cold_since or fact.at
                stay = Stay(body.store, at + doubt.earlier, at + doubt.earlier if out else FOREVER)
                found.append(_Told(stay, fact, at, at + doubt.later))
            case f.Transferred():
                _leave(found, fact, body.out_since, until)
                stay = Stay(body.store, begins, begins if out else FOREVER)
                found.append(_Told(stay, fact, fact.at, until))
            case f.TakenOut():
                _leave(found, fact, body.thaw_from, body.thaw_to + doubt.later)
                out = True
            case f.MoveBegun() if not out:
                _leave(found, fact, body.out_since, until)
            case f.ThawBegun() | f.Ended():
                _leave(found, fact, fact.at, until)
            case _:
                pass
    return tuple(told.stay for told in found)


def _leave(found: list[_Told], fact: f.Fact, out_from: datetime, until: datetime) -> None:
    """The stays that go on end. One that another station told of, and that may have begun after it had left where it
    lay for this one, goes on; after a take-out with its life running."""
    for place, told in enumerate(found):
        left_before = _left_before(told, fact, until)
        if told.stay.until == FOREVER and (isinstance(fact.body, f.TakenOut) or not left_before):
            runs_from, ends = min(told.stay.out_from, out_from), FOREVER if left_before else until
            found[place] = replace(told, stay=replace(told.stay, out_from=runs_from, until=ends))


def _left_before(told: _Told, fact: f.Fact, until: datetime) -> bool:
    """Whether a way or take-out of another station may have been over before this stay began, so is none of its."""
    body = fact.body
    if journal_of(fact.key) == journal_of(told.fact.key) or isinstance(body, f.Ended):
        return False
    if isinstance(body, f.MoveBegun):
        return body.lain_since != told.at and body.out_since <= told.latest
    return until <= told.latest


def in_store(ledger: Ledger, store: str, start: datetime, end: datetime) -> Iterator[tuple[str, Stay]]:
    """Every container that lay in a store for some of a time, with that stay."""
    for name in sorted(ledger.containers):
        for stay in stays(ledger, name):
            if stay.store == store and stay.begins < end and start < stay.until:
                yield name, stay
