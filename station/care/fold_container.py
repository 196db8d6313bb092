"""How one fact changes one container. Life only moves forward; what is uncertain is kept as an interval."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

from station.care import facts as f
from station.care.clock_story import Drift, Order
from station.care.moments import NOTHING
from station.care.state import Container, Hold
from station.care.words import Limit

# nobody has seen the container by these
UNSEEN = (f.LabelAsked, f.LabelSent, f.LabelFailed)


def container_step(container: Container | None, fact: f.Fact) -> Container | None:
    """The container after `fact`; None while nothing says it was received."""
    body = fact.body
    if container is None:
        return _received(fact, body) if isinstance(body, f.Received) else None
    changed = _changed(container, fact)
    if isinstance(body, UNSEEN):
        return changed
    return replace(changed, last_seen_at=fact.at, last_seen_where=_where(body) or changed.last_seen_where)


def _received(fact: f.Fact, body: f.Received) -> Container:
    return Container(
        id=body.container,
        paste=body.paste,
        kind=body.kind,
        lot=body.lot,
        expires=body.expires,
        shelf_end=body.shelf_end,
        arrived_at=body.arrived_at,
        received_key=fact.key,
        to_cold_by=body.to_cold_by,
        temperature_c=body.temperature_c,
        last_seen_at=fact.at,
        last_seen_where="receiving",
    )


def _where(body: f.Body) -> str | None:
    """Where the fact saw the container."""
    for name in ("where", "position", "store"):
        value = getattr(body, name, None)
        if value:
            return str(value)
    return None


def _changed(container: Container, fact: f.Fact) -> Container:  # noqa: PLR0912  # one case for each kind of fact
    body = fact.body
    match body:
        case f.PutAway():
            return _put_away(container, fact.at, body)
        case f.TakenOut():
            return _taken_out(container, fact.key, body)
        case f.LabelAsked():
            return replace(container, print_number=max(container.print_number, body.print_number))
        case f.LabelSent():
            return replace(container, print_sent=max(container.print_sent, body.print_number))
        case f.LabelConfirmed():
            return replace(container, print_confirmed=max(container.print_confirmed, body.print_number))
        case f.Sighted():
            return _sighted(container, fact.at, body)
        case f.Opened():
            return _opened(container, fact, body)
        case f.Inspected():
            return replace(container, inspected_good=body.good, inspection_place=body.where)
        case f.Held():
            return _held(container, fact, body)
        case f.Released():
            return replace(container, holds=tuple(hold for hold in container.holds if hold.key != body.hold))
        case f.LimitExtended():
            return _extended(container, body)
        case f.Ended():
            return replace(container, ended=body.ending, ended_at=fact.at, store=None, bin=None)
        case _:
            return container


def _put_away(container: Container, at: datetime, body: f.PutAway) -> Container:
    if container.has_been_out and (not body.returning or container.opened_at is not None):
        return container  # two stations disagree: once out or opened, nothing brings it back by the way
    since = container.out_from if container.has_been_out else container.arrived_at
    spent = max(NOTHING, at - since) if since is not None else NOTHING
    fresh = container.put_away_at is None or body.returning
    return replace(
        container,
        store=body.store,
        bin=body.bin,
        put_away_at=at,
        sighted_warm_at=None,
        warm_spent=container.warm_spent + (spent if fresh else NOTHING),
        cold_cycles=container.cold_cycles + (1 if body.returning else 0),
        out_from=None,
        out_to=None,
        earliest_use=None,
        room_end=None,
    )


def _taken_out(container: Container, key: str, body: f.TakenOut) -> Container:
    if not container.has_been_out:
        return replace(
            container,
            store=None,
            bin=None,
            out_from=body.thaw_from,
            out_to=body.thaw_to,
            taken_out_key=key,
            earliest_use=body.earliest_use,
            room_end=body.room_end,
        )
    earliest, latest = container.out_from, container.out_to
    return replace(
        container,
        store=None,
        bin=None,
        out_from=min(body.thaw_from, earliest) if earliest else body.thaw_from,
        out_to=max(body.thaw_to, latest) if latest else body.thaw_to,
        earliest_use=_later(container.earliest_use, body.earliest_use),
        room_end=min(body.room_end, container.room_end) if container.room_end else body.room_end,
    )


def _later(one: datetime | None, other: datetime | None) -> datetime | None:
    """The later of two readiness times; None (not ready at any time) is the latest of all."""
    return max(one, other) if one is not None and other is not None else None


def _opened(container: Container, fact: f.Fact, body: f.Opened) -> Container:
    if container.opened_at is not None and container.open_end is not None:
        if body.open_end >= container.open_end:
            return container
        return replace(container, opened_at=fact.at, open_end=body.open_end, opened_key=fact.key)
    return replace(
        container,
        opened_at=fact.at,
        opened_key=fact.key,
        open_end=body.open_end,
        inspection_place=body.where,
    )


def _sighted(container: Container, at: datetime, body: f.Sighted) -> Container:
    """A container thought to be cold was seen outside: remembered until its take-out is told."""
    if container.opened_at is not None and container.inspected_good is None:
        return replace(container, inspection_place=body.where)  # its opening check is asked for there now
    if not body.warm or container.has_been_out or container.sighted_warm_at is not None:
        return container
    return replace(container, sighted_warm_at=at)


def _held(container: Container, fact: f.Fact, body: f.Held) -> Container:
    hold = Hold(key=fact.key, reason=body.reason, since=fact.at, note=body.note)
    return replace(container, holds=(*container.holds, hold))


def _extended(container: Container, body: f.LimitExtended) -> Container:
    if body.limit is Limit.OPEN:
        return replace(container, open_extension=container.open_extension + body.by)
    if body.limit is Limit.ROOM:
        return replace(container, room_extension=container.room_extension + body.by)
    return container


def re_dated(container: Container, body: f.ClockConfirmed, drift: Drift, order_of: Callable[[str], Order]) -> Container:
    """Take times given by a clock that was wrong to the safe side: readiness later, ends earlier."""
    if container.taken_out_key is not None and container.has_been_out:
        container = _thaw_re_dated(container, body, drift, order_of(container.taken_out_key))
    if container.opened_key is not None and container.open_end is not None:
        shift = drift.too_late(order_of(container.opened_key))
        container = replace(container, open_end=container.open_end + shift)
    return container


def _thaw_re_dated(container: Container, body: f.ClockConfirmed, drift: Drift, taken_out: Order) -> Container:
    later = max(NOTHING, drift.since(taken_out))
    earliest, room = container.earliest_use, container.room_end
    warming = earliest is not None and earliest > body.trusted_until
    return replace(
        container,
        earliest_use=earliest + later if earliest is not None and warming else earliest,
        room_end=room + drift.too_late(taken_out) if room is not None else None,
    )
