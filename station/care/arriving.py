"""Coming to a line by a badge, a place card or a tag: whatever lies there and may not be printed with is said first."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from station.care.floor import Floor
from station.care.reason import Reason
from station.care.reasons import against_printing_on, against_staying
from station.care.saying import opening, spot
from station.care.state import PositionState
from station.care.verdict import Verdict
from station.care.words import Word


def arrived(floor: Floor, positions: Sequence[str], verdict: Verdict) -> Verdict:
    """The answer to an arrival at these positions: STOP first where one of them has paste that must come off."""
    stops = [(name, reason) for name in positions for reason in must_come_off(floor, floor.position(name))[:1]]
    if not stops:
        return verdict
    name, first = stops[0]
    others = (f"{opening(spot(other))} too: {reason.headline}." for other, reason in stops[1:])
    return replace(
        verdict,
        word=Word.STOP,
        code=first.code,
        headline=first.headline,
        why=first.why,
        todo=first.todo,
        position=name,
        note=" ".join((*others, verdict.why)),
    )


def must_come_off(floor: Floor, position: PositionState) -> tuple[Reason, ...]:
    """Every reason why what lies in a bead here, or is mounted here, may not be used any more; the worst first."""
    return tuple(reason for reason in _against_what_lies(floor, position) if reason.word is Word.STOP)


def _against_what_lies(floor: Floor, position: PositionState) -> Iterator[Reason]:
    if position.bead is not None:
        yield from against_printing_on(floor, position, position.bead)
    mounted = position.mounted
    container = floor.container(mounted.container) if mounted is not None else None
    if container is None:
        return
    off = f"Take it off and set it aside: scan the tag of {spot(position.id)}, then DISMOUNT. Call the shift lead."
    for reason in against_staying(floor, position, container):
        yield replace(reason, todo=off)
