"""Building verdicts: the parts every answer about a container has in common."""

from datetime import datetime

from station.care.choice import usable_instead
from station.care.floor import Floor
from station.care.reason import Reason
from station.care.saying import span, spot, when
from station.care.state import Container
from station.care.verdict import Verdict
from station.care.words import Word

REPRINT = "scan it at the shift desk, then the REPRINT card. Tear the old label off."


def times_of(floor: Floor, container: Container) -> tuple[tuple[str, datetime], ...]:
    """The times that matter, in reading order."""
    standing = floor.standing(container)
    rows = (
        ("thaw start", container.out_from),
        ("earliest use", container.earliest_use),
        ("discard by", standing.discard_by),
    )
    return tuple((name, instant) for name, instant in rows if instant is not None)


def governing_of(floor: Floor, container: Container) -> str:
    """The name of the governing limit, or nothing while none runs."""
    limit = floor.standing(container).governing
    return limit.value if limit is not None else ""


def about(
    floor: Floor,
    container: Container,
    word: Word,
    code: str,
    headline: str,
    why: str,
    todo: str,
    *,
    position: str | None = None,
    note: str = "",
    asks: tuple[str, ...] = (),
    instead: str | None = None,
) -> Verdict:
    """A verdict about a container, with its times and governing limit filled in."""
    return Verdict(
        word=word,
        code=code,
        headline=headline,
        why=why,
        todo=todo,
        container=container.id,
        position=position,
        times=times_of(floor, container),
        governing=governing_of(floor, container),
        instead=instead,
        note=note,
        asks=asks,
    )


def refusal(floor: Floor, container: Container, reason: Reason, position: str | None) -> Verdict:
    """STOP or WAIT for a container, naming one that may be used instead."""
    other = usable_instead(floor, container, position)
    todo = reason.todo
    if other is not None and reason.code not in ("wrong-alloy", "wrong-paste", "bead-other-paste"):
        todo = f"{todo} {instead_sentence(floor, other)}"
    return about(
        floor,
        container,
        reason.word,
        reason.code,
        reason.headline,
        reason.why,
        todo,
        position=position,
        instead=other.id if other is not None else None,
    )


def instead_sentence(floor: Floor, other: Container) -> str:
    """`Use K7 304 (line 2), 21 h 33 left.`"""
    discard_by = floor.standing(other).discard_by
    left = f", {span(floor.time_left(discard_by))} left" if discard_by is not None else ""
    place = f" ({whereabouts(floor, other)})" if other.last_seen_where else ""
    return f"Use {other.spoken}{place}{left}."


def whereabouts(floor: Floor, container: Container) -> str:
    """Where a container was last seen, as people say it: a line, or by the door of a store it was taken out of."""
    store = floor.plant.stores.get(container.last_seen_where)
    return f"out of {store.title}" if store is not None else spot(container.last_seen_where)


def plain(word: Word, code: str, headline: str, why: str, todo: str, position: str | None = None) -> Verdict:
    """A verdict that is about no container."""
    return Verdict(word=word, code=code, headline=headline, why=why, todo=todo, position=position)


def at_text(floor: Floor, instant: datetime) -> str:
    """An instant as a person here says it now."""
    return when(instant, floor.now, floor.zone)
