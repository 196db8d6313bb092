"""Arrival, proofs of cold and times out of the cold that a wrong clock gave, once the right time is confirmed."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

from station.care.clock_story import Drift, Order
from station.care.cold_proof import Stretch
from station.care.moments import NOTHING, minute_up_span
from station.care.state import Container

OrderOf = Callable[[str], Order]


def cold_re_dated(container: Container, drift: Drift, order: OrderOf) -> Container:
    """Arrival and proofs of cold of a clock that was ahead come earlier, never later. A time out of the cold gets
    longer where two clocks made it too short. What was seen outside is dated as right as it can be."""

    def sooner(at: datetime, key: str) -> datetime:
        return at + drift.too_late(order(key))

    by, seen = container.to_cold_by, container.sighted_warm_at
    put_away = [proof.key for proof in container.proofs if not proof.counted]
    after = replace(
        container,
        arrived_at=sooner(container.arrived_at, container.received_key),
        to_cold_by=sooner(by, container.received_key) if by is not None else None,
        put_away_at=sooner(container.put_away_at, put_away[-1]) if container.put_away_at and put_away else None,
        proofs=tuple(replace(one, at=sooner(one.at, one.key)) for one in container.proofs),
        sighted_warm_at=seen + drift.wrong_by(order(container.sighted_key)) if seen and container.sighted_key else None,
    )
    return _longer_out(after, tuple(_longer(one, drift, order) for one in container.stretches))


def _longer(stretch: Stretch, drift: Drift, order: OrderOf) -> Stretch:
    wrong = drift.wrong_by(order(stretch.ended)) - drift.wrong_by(order(stretch.begun))
    return replace(stretch, length=stretch.length + max(NOTHING, wrong))


def _longer_out(container: Container, stretches: tuple[Stretch, ...]) -> Container:
    """With these times out of the cold; its room end, where it runs already, comes earlier by whole minutes."""
    spent = [sum((one.spent for one in told), NOTHING) for told in (container.stretches, stretches)]
    more, end = spent[1] - spent[0], container.room_end
    return replace(
        container,
        stretches=stretches,
        warm_spent=container.warm_spent + more,
        room_end=end - minute_up_span(more) if end is not None else None,
    )
