"""How a way between two stores changes a container, in whatever order two stations tell of it.

The way counts as time out of the cold, and never as less than any station knows. One that took too long holds the
container, whether or not a station was there to notice.
"""

from dataclasses import replace
from datetime import datetime, timedelta

from station.care import facts as f
from station.care.cold_proof import SKEW_ALLOWED, Stretch, journal_of
from station.care.moments import NOTHING, minute_up_span
from station.care.state import Container, Hold
from station.care.words import HoldReason

TOO_LONG = "too long on its way between stores"


def begun(container: Container, fact: f.Fact, body: f.MoveBegun) -> Container:
    """It has left its store. What another station took out, opened or put away before that was heard stays so."""
    since = _left_at(container, body.out_since)
    if container.out_from is not None:
        return _out_since(container, container.out_from, since)
    if container.opened_at is not None:
        return container
    if container.move_key is not None:
        earliest, by = container.move_from or since, container.move_by or body.by
        return replace(container, move_from=min(earliest, since), move_by=min(by, body.by))
    put_away_at = container.put_away_at
    came_to_rest = put_away_at is not None and put_away_at != body.lain_since and put_away_at >= since
    if put_away_at is not None and came_to_rest and container.store is not None:
        way = Stretch(fact.key, fact.key, NOTHING, put_away_at - since)
        return _held_if_late(_with_way(container, container, way), fact.key, put_away_at, body.by)
    return replace(
        container,
        store=None,
        bin=None,
        move_from=since,
        move_by=body.by,
        move_store=body.store,
        move_key=fact.key,
    )


def before_its_way(container: Container, fact: f.Fact) -> Container:
    """The container as `fact` finds it: of a way that began later than that, by another station, it knows nothing."""
    return _ended(container) if _began_later(container, fact) else container


def _began_later(container: Container, fact: f.Fact) -> bool:
    """Whether its way surely began after `fact`, told by a station that had not heard of it. One that knew of it ends
    it, whatever the clocks say; before put-aways named their way, one that knew of any."""
    body = fact.body
    if container.move_from is None or container.move_key is None:
        return False
    if isinstance(body, f.PutAway) and body.counted is not None and body.way in (None, container.move_key):
        return False
    return journal_of(container.move_key) != journal_of(fact.key) and fact.at < container.move_from - SKEW_ALLOWED


def arrived(before: Container, fact: f.Fact, after: Container) -> Container:
    """Put away or transferred by `fact`: a way that was going on ends, and counts as time out of the cold. One that
    began only after that goes on."""
    if _began_later(before, fact):
        return replace(
            after,
            store=None,
            bin=None,
            move_from=before.move_from,
            move_by=before.move_by,
            move_store=before.move_store,
            move_key=before.move_key,
        )
    if before.move_from is None or after.store is None:
        return after
    counted = (fact.body.counted if isinstance(fact.body, f.PutAway | f.Transferred) else None) or NOTHING
    way = Stretch(before.move_key or fact.key, fact.key, fact.at - _left_at(before, before.move_from), counted)
    longer = before.warm_spent + way.spent > after.warm_spent
    spent = _with_way(before, after, way) if longer else after
    return _held_if_late(_ended(spent), fact.key, fact.at, before.move_by or fact.at)


def _with_way(before: Container, after: Container, way: Stretch) -> Container:
    """`after` with the way as its time out of the cold since `before`, in place of what counted of it there."""
    return replace(after, stretches=(*before.stretches, way), warm_spent=before.warm_spent + way.spent)


def out_of_the_way(before: Container, after: Container) -> Container:
    """Taken out, or begun to thaw, while it was on its way: out of the cold since the way began."""
    if before.move_from is None or after == before:
        return after
    since = _left_at(before, before.move_from)
    if after.out_from is not None:
        return _ended(_out_since(after, after.out_from, since))
    return _ended(replace(after, thaw_from=min(after.thaw_from or since, since)))


def _left_at(container: Container, told: datetime) -> datetime:
    """When its way began at the earliest: what was seen outside before that was out since it was last proved cold."""
    seen = container.sighted_warm_at
    if seen is None or seen >= told:
        return told
    return min(seen, container.last_cold_at or container.arrived_at)


def _out_since(container: Container, out_from: datetime, since: datetime) -> Container:
    lost: timedelta = max(NOTHING, out_from - since)
    end = container.room_end
    sooner = end - minute_up_span(lost) if end is not None else None
    return replace(container, out_from=out_from - lost, room_end=sooner)


def _held_if_late(container: Container, key: str, arrived_at: datetime, by: datetime) -> Container:
    held = any(hold.reason is HoldReason.LATE_TO_COLD for hold in container.holds)
    if held or arrived_at <= by:
        return container
    hold = Hold(key=key, reason=HoldReason.LATE_TO_COLD, since=arrived_at, note=TOO_LONG)
    return replace(container, holds=(*container.holds, hold))


def _ended(container: Container) -> Container:
    return replace(container, move_from=None, move_by=None, move_store=None, move_key=None)
