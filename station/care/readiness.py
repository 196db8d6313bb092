"""Reasons against a container that come from its own readiness: still in the cold, thawing, warming, or a room not
fit for opening it."""

from collections.abc import Iterator
from datetime import datetime

from station.care.floor import Floor
from station.care.lying import lies_in
from station.care.reason import Reason
from station.care.room_air import against_opening
from station.care.saying import when
from station.care.state import Container
from station.care.thaw import has_thawed, is_thawing
from station.care.words import Storage, Word


def not_ready(floor: Floor, container: Container) -> Iterator[Reason]:
    """Not ready by its own clock; an open container too, whose readiness may have moved (facts merged, clock
    mended) or whose take-out was taken back. What was filled here is as ready as what it was filled from."""
    if container.sources:
        for name in container.sources:
            source = floor.container(name)
            yield from not_ready(floor, source) if source is not None else (_source_unknown(container, name),)
    elif floor.storage(container) is Storage.ROOM:
        if container.put_away_at is None:
            yield _not_shelved(container)
    elif not container.has_been_out:
        yield _not_taken_out(floor, container)
        if is_thawing(container) and not has_thawed(floor, container):
            yield _thawing(floor, container)
    elif container.earliest_use is None or floor.moment_of(container).warms < container.earliest_use:
        yield _warming(floor, container)
    else:
        yield from against_opening(floor, container)


def _source_unknown(container: Container, source: str) -> Reason:
    return Reason(
        "source-unknown",
        Word.STOP,
        "SOURCE NOT KNOWN",
        f"{container.spoken} was filled from {source.replace('-', ' ')}, which is not in the record of this station.",
        "Do not use it. Set it aside and call the shift lead.",
    )


def _not_shelved(container: Container) -> Reason:
    return Reason(
        "not-taken-out",
        Word.STOP,
        "NOT ON ITS SHELF YET",
        f"{container.spoken} was received and never put on its shelf.",
        "Do not open it. Scan it at its shelf first.",
    )


def _on_its_way(floor: Floor, container: Container) -> Reason:
    by, since = container.move_by or floor.now, container.move_from or floor.now
    store = floor.plant.stores.get(container.move_store or "")
    left = f"left {store.title if store is not None else container.move_store} {when(since, floor.now, floor.zone)}"
    must = "had to" if floor.moment_of(container).ages > by else "must"
    return Reason(
        "not-taken-out",
        Word.STOP,
        "ON ITS WAY BETWEEN STORES",
        f"{container.spoken} {left} for another store, where it {must} be by {when(by, floor.now, floor.zone)}.",
        "Do not open it. Put it away: scan it at the door of a cold store.",
    )


def _not_taken_out(floor: Floor, container: Container) -> Reason:
    if container.on_its_way:
        return _on_its_way(floor, container)
    if is_thawing(container):
        until = when(container.thaw_not_before or floor.now, floor.now, floor.zone)
        return Reason(
            "not-taken-out",
            Word.STOP,
            "NOT TAKEN OUT",
            f"{container.spoken} came out of the freezer and thaws in a refrigerator until {until}.",
            "Do not open it. Put it in its refrigerator and scan it at that door.",
        )
    if container.put_away_at is None:
        by = container.to_cold_by
        must = "had to" if by is not None and floor.moment.ages > by else "must"
        until = f", where it {must} be by {when(by, floor.now, floor.zone)}" if by is not None else ""
        return Reason(
            "not-taken-out",
            Word.STOP,
            "NOT PUT AWAY YET",
            f"{container.spoken} was received and is in no cold store yet{until}.",
            "Do not open it. Put it away: scan it at the door of its cold store.",
        )
    lies = lies_in(floor, container)
    return Reason(
        "not-taken-out",
        Word.STOP,
        "NOT TAKEN OUT",
        f"{container.spoken} is recorded in {lies} and was not scanned out there.",
        "Do not open it. Scan it at the door of its cold store.",
    )


def _thawing(floor: Floor, container: Container) -> Reason:
    until = container.thaw_not_before or floor.now
    if floor.now >= until:
        return _clock_doubt()
    return Reason(
        "thawing",
        Word.WAIT,
        f"THAWING UNTIL {_at(floor, until)}",
        f"{container.spoken} may still be frozen inside. Taken to the room too soon, its flux separates.",
        "Leave it in the refrigerator. Never heat paste.",
    )


def _clock_doubt() -> Reason:
    return Reason(
        "clock-doubt",
        Word.WAIT,
        "CLOCK IN DOUBT",
        "The clock of this PC was moved, so nothing becomes ready by it.",
        "Ask a shift lead to check the time and confirm it.",
    )


def _warming(floor: Floor, container: Container) -> Reason:
    earliest = container.earliest_use
    if earliest is None:
        return Reason(
            "no-time",
            Word.WAIT,
            "ROOM UNSUITABLE",
            "The room was too cold or too humid at take-out to give a time.",
            "Leave it closed and call the shift lead.",
        )
    if floor.now >= earliest:
        return _clock_doubt()
    return Reason(
        "conditioning",
        Word.WAIT,
        f"READY {_at(floor, earliest)}",
        f"{container.spoken} is still warming. Opened cold it draws water from the air.",
        "Leave it closed. Never heat paste.",
    )


def _at(floor: Floor, instant: datetime) -> str:
    return when(instant, floor.now, floor.zone)
