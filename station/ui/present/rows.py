"""Rows of the time board: containers and beads with their stretches, countdown and tone."""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from station.care import alarms, stock
from station.care.filled import packed
from station.care.floor import Floor
from station.care.limits import bead_near_from, container_near_from, near_from, until_away
from station.care.reason import Reason
from station.care.reasons import against_printing_on
from station.care.saying import spot
from station.care.state import Bead, Container, PositionState
from station.care.thaw import has_thawed, is_thawing
from station.care.words import Limit, Priority, Stage, Word
from station.ui import wording
from station.ui.view_models import BoardRow, Stretch, StretchKind, Tone


@dataclass(frozen=True, slots=True)
class Due:
    """A row with the instant it is sorted by, and whether it is past."""

    row: BoardRow
    at: datetime


FAR = timedelta(days=3650)
# common practice, no source: what it takes to find a trolley that was left somewhere and unload it
MOVE_NEAR = timedelta(minutes=10)
ON_HOLD = "on hold"  # stands in place of a countdown: there is no time left in what may not be used


def container_row(floor: Floor, container: Container, group: str = "") -> Due:
    """One container: conditioning, usable, near and past stretches, and what runs out next."""
    stage = floor.stage(container)
    title = container.spoken
    subtitle = f"{container.paste} {packed(floor, container)}, lot {container.lot}"
    priority, unseen = _alarm_marks(floor, container.id)
    plain = BoardRow(title, subtitle, group=group, priority=priority, unacknowledged=unseen)
    for limit, by in until_away(container):
        return _to_put_away(floor, container, plain, limit, by)
    if is_thawing(container):
        return _thawing(floor, container, plain)
    if stage is Stage.CONDITIONING:
        return _warming(floor, container, title, subtitle, group)
    limits = floor.standing(container).limits
    if not limits:
        return Due(BoardRow(title, subtitle, caption=stage.value, group=group), floor.now + FAR)
    limit, end = limits[0]
    near = _near(floor, container) or end
    tone = _tone(floor, near, end)
    fed, unfit = floor.fed_by(container.id), _unfit_at(floor, container)
    bar = stretches(container.out_from or container.arrived_at, container.earliest_use, near, end, floor.now)
    row = BoardRow(
        title=title,
        subtitle=_where(floor, container, subtitle),
        stretches=_crossed(bar, floor.now) if container.held or unfit else bar,
        countdown=ON_HOLD if container.held else "take off" if unfit else wording.countdown(end, floor.moment.ages),
        caption=_held(container) or unfit or (f"{limit.value} passed" if tone is Tone.PAST else limit.value),
        tone=Tone.PAST if container.held or unfit else tone,
        feeding=bool(fed),
        group=group,
        priority=priority,
        unacknowledged=unseen,
    )
    return Due(row, end)


def bead_row(floor: Floor, position: PositionState, bead: Bead, group: str = "") -> Due:
    """The bead of a position, twice as tall."""
    limit, end = floor.bead_end(bead)
    near = bead_near_from(bead, end, floor.specification(bead.paste))
    stops = [reason for reason in against_printing_on(floor, position, bead) if reason.word is Word.STOP]
    knead = bead.paused_at is not None and floor.moment.ages - bead.paused_at > floor.pauses(bead)[0]
    tone = Tone.PAST if stops else Tone.NEAR if knead else _tone(floor, near, end)
    priority, unseen = _alarm_marks(floor, position.id, bead)
    feeding = f"feeding: {bead.feeding.replace('-', ' ')}" if bead.feeding else "no container feeds it"
    bar = stretches(bead.started_at, None, near, end, floor.now)
    left = wording.countdown(end, floor.moment.ages)
    stopped = _stopped(position, bead, stops[0], f"{limit.value} passed", left) if stops else None
    countdown, caption = stopped or (left, _paused(floor, bead, knead) or f"{limit.value}, ends {_at(floor, end)}")
    row = BoardRow(
        title=f"{spot(position.id).upper()} BEAD",
        subtitle=f"{bead.paste} since {_at(floor, bead.started_at)}, {feeding}",
        stretches=_crossed(bar, floor.now) if stops else bar,
        countdown=countdown,
        caption=caption,
        tone=tone,
        tall=True,
        group=group,
        priority=priority,
        unacknowledged=unseen,
    )
    return Due(row, end)


def _stopped(position: PositionState, bead: Bead, worst: Reason, passed: str, left: str) -> tuple[str, str]:
    """What stands in place of the time left of a bead that must come off, and why; past its end it says by how much."""
    return {
        "bead-past": (left, passed),
        "held": ("scrape off", "paste on hold"),
        "wrong-paste": ("scrape off", _unfit(position, bead.paste)),
        "bead-replace": ("replace", "paused too long"),
    }.get(worst.code, ("stop", worst.headline.lower()))


def _unfit(position: PositionState, paste: str) -> str:
    return "off its list" if paste in position.pastes else "not for this job"


def _unfit_at(floor: Floor, container: Container) -> str:
    """Why what is mounted in a dispenser is not for what is built there; nothing where it is, or lies elsewhere."""
    places = [floor.position(name) for name in floor.mounted_at(container.id)]
    return next((_unfit(one, container.paste) for one in places if not floor.fits_job(one, container.paste)), "")


def _paused(floor: Floor, bead: Bead, knead: bool) -> str:
    if bead.paused_at is None:
        return ""
    return f"paused since {_at(floor, bead.paused_at)}{', knead it' if knead else ''}"


def _held(container: Container) -> str:
    """Why it is on hold; nothing where it is not."""
    return container.all_holds[0].reason.value if container.held else ""


def _warming(floor: Floor, container: Container, title: str, subtitle: str, group: str) -> Due:
    earliest = container.earliest_use
    if earliest is None or container.out_from is None:
        row = BoardRow(title, subtitle, countdown="no time", caption="room not fit", tone=Tone.NEAR, group=group)
        return Due(row, floor.now + FAR)
    limits = floor.standing(container).limits
    end = limits[0][1] if limits else earliest
    pieces = stretches(container.out_from, earliest, _near(floor, container), end, floor.now)
    doubtful = floor.now >= earliest
    wait = "check clock" if doubtful else wording.time_to_wait(earliest - floor.now, seconds=True)
    row = BoardRow(
        title,
        subtitle,
        stretches=_crossed(pieces, floor.now) if container.held else pieces,
        countdown=ON_HOLD if container.held else wait,
        caption=_held(container) or ("clock in doubt" if doubtful else f"ready {_at(floor, earliest)}"),
        tone=Tone.PAST if container.held else Tone.WAIT,
        group=group,
    )
    return Due(row, earliest)


def _to_put_away(floor: Floor, container: Container, row: BoardRow, limit: Limit, by: datetime) -> Due:
    """Delivered, or on its way between two stores: the time until it must be put away."""
    since = container.move_from or container.arrived_at
    near = max(since, by - MOVE_NEAR if limit is Limit.MOVE else _dock_near(floor, container, by))
    tone = _tone(floor, near, by)
    late = tone is Tone.PAST
    return Due(
        replace(
            row,
            subtitle=f"{row.subtitle}, {stock.where(floor, container) if container.on_its_way else 'delivered'}",
            stretches=stretches(since, by, None, by, floor.now),  # no stretch of its way may be used
            countdown=wording.countdown(by, floor.moment.ages),
            caption="to put away, late" if late else "on hold, put it away" if container.held else "to put away",
            tone=Tone.PAST if container.held else tone,
        ),
        by,
    )


def _thawing(floor: Floor, container: Container, row: BoardRow) -> Due:
    """Frozen paste on its way: the time until it may leave the refrigerator, then the time by which it must."""
    begun, ready = floor.ledger.fact(container.thaw_key or ""), container.thaw_not_before
    limit, end = floor.standing(container).limits[0]
    thawed = has_thawed(floor, container)
    where = f"bin {container.bin}" if container.store is not None else "not yet in the refrigerator"
    near = _near(floor, container) or end
    start = begun.at if begun is not None else container.arrived_at
    waits = not thawed and ready is not None and ready > floor.now
    due = ready if waits and ready is not None else end
    caption = f"thawed {_at(floor, due)}" if waits else f"take out, {limit.value}" if thawed else "clock in doubt"
    left = wording.time_to_wait(due - floor.now, seconds=True) if waits else wording.countdown(end, floor.moment.ages)
    tone = Tone.WAIT if waits else _tone(floor, near, end)
    return Due(
        replace(
            row,
            subtitle=f"{row.subtitle}, {where}",
            stretches=stretches(start, ready, near, end, floor.now),
            countdown=ON_HOLD if container.held else left,
            caption=_held(container) or caption,
            tone=Tone.PAST if container.held else tone,
        ),
        due,
    )


def _dock_near(floor: Floor, container: Container, by: datetime) -> datetime:
    known = floor.ledger.specifications.get(container.paste)
    return near_from(Limit.TO_COLD, container.arrived_at, by, known) if known is not None else by


def _near(floor: Floor, container: Container) -> datetime | None:
    known = floor.ledger.specifications.get(container.paste)
    return container_near_from(container, known) if known is not None else None


def stretches(
    start: datetime, ready: datetime | None, near: datetime | None, end: datetime, now: datetime
) -> tuple[Stretch, ...]:
    """Conditioning to `ready`, usable to `near`, near to `end`, past from there to now; empty pieces left out."""
    usable_from = max(start, ready) if ready is not None else start
    near_from = max(usable_from, near) if near is not None else end
    pieces = (
        (StretchKind.CONDITIONING, start, min(usable_from, end)),
        (StretchKind.USABLE, usable_from, min(near_from, end)),
        (StretchKind.NEAR, min(near_from, end), end),
        (StretchKind.PAST, end, now),
    )
    return tuple(Stretch(kind, begins, ends) for kind, begins, ends in pieces if begins < ends)


def _crossed(bar: tuple[Stretch, ...], now: datetime) -> tuple[Stretch, ...]:
    """The bar of what may not be used: as it was until now, and from now on no time to use it in."""
    before = tuple(replace(piece, end=min(piece.end, now)) for piece in bar if piece.start < now)
    ends = max((piece.end for piece in bar), default=now)
    return (*before, Stretch(StretchKind.PAST, now, ends)) if ends > now else before


def _tone(floor: Floor, near: datetime, end: datetime) -> Tone:
    now = floor.moment.ages
    if now > end:
        return Tone.PAST
    return Tone.NEAR if now >= near else Tone.CALM


def _where(floor: Floor, container: Container, subtitle: str) -> str:
    fed = floor.fed_by(container.id)
    if fed:
        return f"{subtitle}, feeding {' and '.join(spot(name) for name in fed)}"
    if container.store is not None:
        return f"{subtitle}, bin {container.bin}"
    return subtitle


def _alarm_marks(floor: Floor, subject: str, bead: Bead | None = None) -> tuple[Priority | None, bool]:
    """The alarms of a container, or of this very bead: what the one before it left open is no mark of a fresh one."""
    found = [pair for pair in alarms.open_alarms(floor) if pair[0].subject == subject]
    if bead is not None:
        found = [pair for pair in found if alarms.bead_of(floor, pair[0])[0] is bead]
    if not found:
        return None, False
    return found[0][1].priority, any(alarms.sounding(floor, alarm) for alarm, _ in found)


def _at(floor: Floor, instant: datetime) -> str:
    return wording.moment(instant, floor.now, floor.zone)
