"""Times given by a clock that was wrong, taken to the safe side once a person has confirmed the right one.

Readiness later, ends earlier, pauses longer: what the steps of the clock add up to is in `care.clock_story`.
"""

from collections.abc import Callable
from dataclasses import replace

from station.care import facts as f
from station.care.clock_story import Drift, Order
from station.care.moments import NOTHING
from station.care.state import Bead, Container, PositionState


def re_dated(container: Container, body: f.ClockConfirmed, drift: Drift, order_of: Callable[[str], Order]) -> Container:
    """Take times given by a clock that was wrong to the safe side: readiness later, ends earlier."""
    if container.taken_out_key is not None and container.has_been_out:
        container = _thaw_re_dated(container, body, drift, order_of(container.taken_out_key))
    elif container.thaw_key is not None:
        container = _thawing_re_dated(container, body, drift, order_of(container.thaw_key))
    if container.opened_key is not None and container.open_end is not None:
        shift = drift.too_late(order_of(container.opened_key))
        container = replace(container, open_end=container.open_end + shift)
    if container.content_end is not None:
        shift = drift.too_late(order_of(container.received_key))
        container = replace(container, content_end=container.content_end + shift)
    return container


def _thawing_re_dated(container: Container, body: f.ClockConfirmed, drift: Drift, begun: Order) -> Container:
    later, earlier = max(NOTHING, drift.since(begun)), drift.too_late(begun)
    before, after, moving = container.thaw_not_before, container.thaw_not_after, container.thaw_from
    thaws = before is not None and before > body.trusted_until
    return replace(
        container,
        thaw_not_before=before + later if before is not None and thaws else before,
        thaw_not_after=after + earlier if after is not None else None,
        thaw_from=moving + earlier if moving is not None else None,
    )


def _thaw_re_dated(container: Container, body: f.ClockConfirmed, drift: Drift, taken_out: Order) -> Container:
    later = max(NOTHING, drift.since(taken_out))
    earliest, room, begun = container.earliest_use, container.room_end, container.out_from
    warming = earliest is not None and earliest > body.trusted_until
    return replace(
        container,
        earliest_use=earliest + later if earliest is not None and warming else earliest,
        room_end=room + drift.too_late(taken_out) if room is not None else None,
        out_from=begun + drift.too_late(taken_out) if begun is not None else None,
    )


def bead_re_dated(position: PositionState, bead: Bead, drift: Drift, order_of: Callable[[str], Order]) -> PositionState:
    """Take times given by a clock that was wrong to the safe side: the bead ends earlier, a pause is longer."""
    paused_at = bead.paused_at
    if paused_at is not None and bead.paused_key is not None:
        paused_at += min(NOTHING, drift.since(order_of(bead.paused_key)))
    stencil_end = bead.stencil_end + drift.too_late(order_of(bead.key))
    return replace(position, bead=replace(bead, stencil_end=stencil_end, paused_at=paused_at))
