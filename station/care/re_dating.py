"""Times given by a clock that was wrong, taken to the safe side once a person has confirmed the right one.

Readiness later, ends earlier, pauses longer: what the steps of the clock add up to is in `care.clock_story`.
"""

from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import timedelta

from station.care import facts as f
from station.care.clock_story import Drift, Order
from station.care.cold_re_dated import cold_re_dated
from station.care.moments import NOTHING
from station.care.state import Bead, Container, PositionState


def re_dated(container: Container, body: f.ClockConfirmed, drift: Drift, told: Callable[[str], f.Fact]) -> Container:
    """Take times given by a clock that was wrong to the safe side: readiness later, ends earlier.

    Two stations may both have told of one take-out or one opening, and a time here goes by one of them. Which of them
    it would go by had all clocks been right is not known any more, so the worst error among them counts.
    """
    dating = [told(key) for key in container.dated_by]

    def orders(*bodies: type) -> tuple[Order, ...]:
        return tuple(fact.order for fact in dating if isinstance(fact.body, bodies))

    # seen outside before it thawed, it was out since a proof of cold
    began = (f.ThawBegun,) if container.sighted_warm_at is None else (f.ThawBegun, f.PutAway, f.Transferred, f.Counted)
    container = cold_re_dated(container, drift, lambda key: told(key).order)
    if container.has_been_out:
        container = _thaw_re_dated(container, body, drift, orders(f.TakenOut))
    elif container.thaw_key is not None:
        container = _thawing_re_dated(container, body, drift, orders(*began))
    if container.move_from is not None and container.move_by is not None:
        shift = _too_late(drift, orders(f.MoveBegun))
        container = replace(container, move_from=container.move_from + shift, move_by=container.move_by + shift)
    if container.open_end is not None:
        shift = _too_late(drift, orders(f.Opened))
        container = replace(container, open_end=container.open_end + shift)
    if container.content_end is not None:
        shift = _too_late(drift, orders(f.Decanted, f.UsedPasteKept))
        container = replace(container, content_end=container.content_end + shift)
    return container


def _too_early(drift: Drift, orders: Iterable[Order]) -> timedelta:
    return max((NOTHING, *(drift.since(order) for order in orders)))


def _too_late(drift: Drift, orders: Iterable[Order]) -> timedelta:
    return min((NOTHING, *(drift.too_late(order) for order in orders)))


def _thawing_re_dated(
    container: Container, body: f.ClockConfirmed, drift: Drift, begun: tuple[Order, ...]
) -> Container:
    later, earlier = _too_early(drift, begun), _too_late(drift, begun)
    before, after, moving = container.thaw_not_before, container.thaw_not_after, container.thaw_from
    thaws = before is not None and before > body.trusted_until
    return replace(
        container,
        thaw_not_before=before + later if before is not None and thaws else before,
        thaw_not_after=after + earlier if after is not None else None,
        thaw_from=moving + earlier if moving is not None else None,
    )


def _thaw_re_dated(
    container: Container, body: f.ClockConfirmed, drift: Drift, taken_out: tuple[Order, ...]
) -> Container:
    later, sooner = _too_early(drift, taken_out), _too_late(drift, taken_out)
    earliest, room, begun = container.earliest_use, container.room_end, container.out_from
    warming = earliest is not None and earliest > body.trusted_until
    return replace(
        container,
        earliest_use=earliest + later if earliest is not None and warming else earliest,
        room_end=room + sooner if room is not None else None,
        out_from=begun + sooner if begun is not None else None,
    )


def bead_re_dated(position: PositionState, bead: Bead, drift: Drift, order_of: Callable[[str], Order]) -> PositionState:
    """Take times given by a clock that was wrong to the safe side: the bead ends earlier, a pause is longer."""
    paused_at = bead.paused_at
    if paused_at is not None and bead.paused_key is not None:
        paused_at += min(NOTHING, drift.since(order_of(bead.paused_key)))
    stencil_end = bead.stencil_end + drift.too_late(order_of(bead.key))
    return replace(position, bead=replace(bead, stencil_end=stencil_end, paused_at=paused_at))
