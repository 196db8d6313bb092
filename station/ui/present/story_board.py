"""A story drawn on the time board, beside its lines: what lay where, and a stroke for each thing that was told."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from station.care import trace
from station.care.floor import Floor
from station.care.limits import container_near_from, running_limits
from station.care.pace import Pace, paced, unhurried
from station.care.saying import spot
from station.care.state import Container
from station.care.story import CONTAINER, LOT, POSITION, WORK_ORDER, Told, story
from station.care.trace import Stay
from station.ui import wording
from station.ui.present.rows import container_row, stretches
from station.ui.ruler import story_reach
from station.ui.view_models import BoardModel, BoardRow, Stretch, StretchKind, Tone

LITTLE = timedelta(minutes=1)
DRAWING = "drawing it"
NOTHING_LEFT = timedelta(0)
MOST_DRAWN = 40
Drawn = tuple[tuple[BoardRow, ...], int, bool]  # the rows, how many more there are, whether any of it is still there


def story_board(
    floor: Floor, kind: str, name: str, told: tuple[Told, ...], pace: Pace = unhurried, *, whole: bool = True
) -> BoardModel | None:
    """The rows of a story, the newest first; `told` are its lines. None where nothing was told.

    A container has a row and one for each place its paste lay at, where the `whole` record of those may be read; a lot
    has its containers, a position its beads, a work order what lay there for it, all else the places of what was done.
    """
    if not told:
        return None
    begins = min(line.at for line in told)
    rows, more, goes_on = _rows(floor, kind, name, told, pace)
    if kind == CONTAINER and whole:
        found = _stays_of(floor, name, pace)
        rows = (*rows, *(_lain(floor, stay, told) for stay in reversed(found[-MOST_DRAWN:])))
        goes_on = goes_on or any(stay.until is None for stay in found)
    ends = max((*(line.at for line in told), *(stretch.end for row in rows for stretch in row.stretches)))
    line = floor.now if goes_on else ends + max(LITTLE, (ends - begins) / 50)  # clear of the last stroke
    return BoardModel(line, rows, more, reach=story_reach(line - begins, goes_on=goes_on), older=True)


def _rows(floor: Floor, kind: str, name: str, told: tuple[Told, ...], pace: Pace) -> Drawn:
    begins = min(line.at for line in told)
    if kind == POSITION:
        beads = _beads(stay for stay in trace.stays_at(floor.ledger, name, pace) if _reaches(stay, begins))
        rows = tuple(_bead(floor, bead, told) for bead in reversed(beads[-MOST_DRAWN:]))
        return rows, _more(beads), any(stay.until is None for bead in beads for stay in bead)
    if kind == WORK_ORDER:
        found = [stay for stay in trace.of_work_order(floor.ledger, name, pace) if _reaches(stay, begins)]
        rows = tuple(_lain(floor, stay, told) for stay in reversed(found[-MOST_DRAWN:]))
        return rows, _more(found), any(stay.until is None for stay in found)
    if kind in (CONTAINER, LOT):
        return _of_containers(floor, kind, name, pace)
    return tuple(_places(told)), 0, False


def _reaches(stay: Stay, begins: datetime) -> bool:
    """Whether it lay there in the time that is told of."""
    return stay.until is None or stay.until >= begins


def _more(found: Sequence[object]) -> int:
    return max(0, len(found) - MOST_DRAWN)


# ---------------------------------------------------------------------- containers


def _of_containers(floor: Floor, kind: str, name: str, pace: Pace) -> Drawn:
    known = floor.ledger.containers
    of_lot = (found.id for found in known.values() if name in trace.lots_of(floor.ledger, found.id))
    names = tuple(of_lot) if kind == LOT else (name,)
    found = sorted((known[one] for one in names if one in known), key=lambda one: one.arrived_at, reverse=True)
    rows = tuple(_marked(floor, one) for one in paced(found[:MOST_DRAWN], pace, DRAWING))
    return rows, _more(found), any(one.ended is None for one in found)


def _marked(floor: Floor, container: Container) -> BoardRow:
    told = story(floor.ledger, CONTAINER, container.id, floor.zone)
    return replace(_jar(floor, container), marks=tuple(line.at for line in told))


def _stays_of(floor: Floor, container: str, pace: Pace) -> list[Stay]:
    """What the paste of a container lay at: read off the whole record of those positions."""
    history = floor.ledger.history("container", container)
    places = dict.fromkeys(place for fact in history if (place := getattr(fact.body, "position", None)))
    lain = [stay for place in places for stay in trace.stays_at(floor.ledger, place, pace)]
    return sorted((stay for stay in lain if stay.container == container), key=lambda stay: stay.since)


def _jar(floor: Floor, container: Container) -> BoardRow:
    """As it stands on the board while it is alive; afterwards from its way out of the cold to its end."""
    if container.ended is None or container.ended_at is None:
        return replace(container_row(floor, container).row, unacknowledged=False)
    ended = container.ended_at
    limits = running_limits(container)
    limit, end = limits[0] if limits else (None, ended)
    out = container.out_from or container.arrived_at
    rules = floor.ledger.specifications.get(container.paste)  # none where another station's have not come yet
    near = (container_near_from(container, rules) if rules is not None else None) or end
    late = ended > end
    whole = stretches(out, container.earliest_use, near, end, ended)
    return BoardRow(
        title=container.spoken,
        subtitle=f"{container.paste}, lot {container.lot}",
        stretches=tuple(_cut(whole, ended)),
        countdown=wording.time_left(max(NOTHING_LEFT, ended - out)),
        caption=f"{container.ended.value}, {limit.value} passed" if late and limit else container.ended.value,
        tone=Tone.PAST if late else Tone.CALM,
    )


def _cut(whole: Iterable[Stretch], ended: datetime) -> Iterator[Stretch]:
    """What lay before its end."""
    for stretch in whole:
        if stretch.start < ended:
            yield replace(stretch, end=min(stretch.end, ended))


# ---------------------------------------------------------------------- where it lay


def _beads(found: Iterable[Stay]) -> list[list[Stay]]:
    """The stays of each bead, or mounting, in order of time."""
    beads: dict[str, list[Stay]] = {}
    for stay in found:
        beads.setdefault(stay.key, []).append(stay)
    return list(beads.values())


def _bead(floor: Floor, stays: list[Stay], told: tuple[Told, ...]) -> BoardRow:
    first = stays[0]
    ends = [stay.until for stay in stays if stay.until is not None]
    until = max(ends) if len(ends) == len(stays) else None
    fed = ", ".join(dict.fromkeys(stay.container.replace("-", " ") for stay in stays))
    orders = ", ".join(dict.fromkeys(stay.work_order for stay in stays if stay.work_order))
    row = _lain(floor, replace(first, until=until), told)
    return replace(row, title=fed, subtitle=f"{first.paste}{f', {orders}' if orders else ''}")


def _lain(floor: Floor, stay: Stay, told: tuple[Told, ...]) -> BoardRow:
    """Paste at a position: usable until an alarm about it says since when it was past a limit."""
    until = stay.until or floor.now
    since_past = [
        alarm.since
        for alarm in floor.ledger.alarms.values()
        if alarm.subject in (stay.position, stay.container) and stay.key in alarm.id.split("/")
    ]
    past = max(stay.since, min(since_past, default=until))
    pieces = ((StretchKind.USABLE, stay.since, min(past, until)), (StretchKind.PAST, past, until))
    late = past < until
    return BoardRow(
        title=spot(stay.position).upper(),
        subtitle=f"{stay.container.replace('-', ' ')}, {stay.paste}",
        stretches=tuple(Stretch(kind, begins, ends) for kind, begins, ends in pieces if begins < ends),
        countdown=wording.time_left(max(NOTHING_LEFT, until - stay.since)),
        caption=f"past for {wording.time_left(until - past)}" if late else _lies(stay),
        tone=Tone.PAST if late else Tone.CALM,
        marks=tuple(line.at for line in told if stay.since <= line.at <= until),
    )


def _lies(stay: Stay) -> str:
    return "lies there" if stay.until is None else "lay there"


# ---------------------------------------------------------------------- all else


def _places(told: Iterable[Told]) -> Iterator[BoardRow]:
    """A row for each place, that where something was done last first."""
    places: dict[str, list[datetime]] = {}
    for line in told:
        places.setdefault(line.where, []).append(line.at)
    for place, marks in sorted(places.items(), key=lambda entry: max(entry[1]), reverse=True):
        things = "thing recorded" if len(marks) == 1 else "things recorded"
        yield BoardRow(place[:1].upper() + place[1:], countdown=str(len(marks)), caption=things, marks=tuple(marks))
