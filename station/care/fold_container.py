"""How one fact changes one container. Life only moves forward; what is uncertain is kept as an interval."""

from dataclasses import replace
from datetime import datetime, timedelta

from station.care import facts as f
from station.care.cold_readings_charge import charged
from station.care.fold_cold import counted, out_as_seen, put_away, sighted, transferred
from station.care.fold_move import arrived, before_its_way, begun, out_of_the_way
from station.care.moments import NOTHING, minute_down, minute_up, minute_up_span
from station.care.state import Container, Hold
from station.care.words import HoldReason, Limit

TOLD_TWICE = "received twice: another container may bear its number"
OF_A_STORE = (f.PutAway, f.TakenOut, f.ThawBegun, f.Transferred, f.MoveBegun, f.BinChanged)
# nobody has seen the container by these
UNSEEN = (f.LabelAsked, f.LabelSent, f.LabelFailed, f.LabelUnknown, f.WarmCharged)
# nor by a hold for one of these
NOBODY_LOOKED = (HoldReason.LATE_TO_COLD, HoldReason.THAWED_LONG, HoldReason.RESTORED)
# its times are taken from the clock of the station that wrote these
DATING = (f.PutAway, f.Transferred, f.MoveBegun, f.ThawBegun, f.TakenOut, f.Opened)


def container_step(container: Container | None, fact: f.Fact) -> Container | None:
    """The container after `fact`; None while nothing says it was received."""
    body = fact.body
    if container is None:
        return _begun(fact)
    changed = _changed(container, fact)
    if isinstance(body, DATING):
        changed = replace(changed, dated_by=(*changed.dated_by, fact.key))
    if isinstance(body, UNSEEN) or container.id in getattr(body, "sources", ()) or _from_afar(body):
        return changed
    return replace(changed, last_seen_at=fact.at, last_seen_where=_where(body) or changed.last_seen_where)


def _from_afar(body: f.Body) -> bool:
    """Whether it was held because of what a logger says, what a backup lacks, or time that went by: nobody saw it."""
    return isinstance(body, f.Held) and (bool(body.excursion) or body.reason in NOBODY_LOOKED)


def begins(body: f.Body) -> bool:
    """Whether a fact begins the life of a container."""
    return isinstance(body, f.Received | f.Decanted | f.UsedPasteKept)


def _begun(fact: f.Fact) -> Container | None:
    match fact.body:
        case f.Received() as body:
            return _received(fact, body)
        case f.Decanted() as body:
            return _filled(fact, body, Limit.DECANTED, body.decanted_end)
        case f.UsedPasteKept() as body:
            used = _filled(fact, body, Limit.USED_PASTE, body.used_end)
            return replace(used, stencil_spent=body.stencil_spent, kept_bead=body.bead)
        case _:
            return None


def _filled(fact: f.Fact, body: f.Decanted | f.UsedPasteKept, limit: Limit, end: datetime) -> Container:
    """A container filled here: open from the start, and its sources' clocks go on in it."""
    return Container(
        id=body.container,
        paste=body.paste,
        kind=body.kind,
        lot=body.lot,
        expires=None,
        labelled_end=None,
        arrived_at=fact.at,
        received_key=fact.key,
        to_cold_by=None,
        opened_at=fact.at,
        opened_key=fact.key,
        sources=body.sources,
        content_limit=limit,
        content_end=end,
        dated_by=(fact.key,),
        last_seen_at=fact.at,
        last_seen_where=body.where,
    )


def _received(fact: f.Fact, body: f.Received) -> Container:
    return Container(
        id=body.container,
        paste=body.paste,
        kind=body.kind,
        lot=body.lot,
        expires=body.expires,
        labelled_end=body.shelf_end,
        arrived_at=body.arrived_at,
        received_key=fact.key,
        dated_by=(fact.key,),
        to_cold_by=body.to_cold_by,
        temperature_c=body.temperature_c,
        last_seen_at=fact.at,
        last_seen_where="receiving",
        maker_serial=body.maker_serial,
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
    if container.sources and isinstance(body, OF_A_STORE):
        return container  # filled here, open from the start: no store ever has it
    match body:
        case f.PutAway():
            return arrived(container, fact, put_away(before_its_way(container, fact), fact, body))
        case f.Received() | f.Decanted() | f.UsedPasteKept() if container.id == body.container:
            return _told_twice(container, fact)
        case f.TakenOut():
            return out_as_seen(out_of_the_way(container, _taken_out(container, fact.key, body)), fact)
        case f.ThawBegun():
            return out_of_the_way(container, _thaw_begun(container, fact, body))
        case f.Transferred():
            return arrived(container, fact, transferred(before_its_way(container, fact), fact, body))
        case f.MoveBegun():
            return begun(container, fact, body)
        case f.BinChanged():
            return replace(container, bin=body.bin) if container.store == body.store else container
        case f.Mixed():
            return replace(container, mixings=container.mixings + 1)
        case f.ReceiptCorrected():
            return _corrected(container, fact.key, body)
        case f.SpecificationApplied():
            return applied(container, fact.key, body)
        case f.LabelAsked():
            return _label_asked(container, body)
        case f.LabelSent():
            return replace(container, print_sent=max(container.print_sent, body.print_number))
        case f.LabelConfirmed():
            return replace(container, print_confirmed=max(container.print_confirmed, body.print_number))
        case f.LabelFailed():
            return _label_failed(container, body.print_number)
        case f.LabelsPaired():
            paired = max(container.print_paired, body.print_number)
            return replace(container, print_paired=paired, swapped_with=None)
        case f.LabelsSwapped():
            return replace(container, swapped_with=body.other)
        case f.Sighted():
            return sighted(container, fact, body)
        case f.Counted():
            return counted(container, fact, body)
        case f.Opened():
            return _opened(container, fact, body)
        case f.Inspected():
            return replace(container, inspected_good=body.good, inspection_place=body.where)
        case f.Held():
            return _held(container, fact, body)
        case f.Released():
            return _released(container, body)
        case f.WarmCharged():
            return charged(container, body)
        case f.LimitExtended():
            return _extended(container, body)
        case f.Ended():
            return replace(container, ended=body.ending, ended_at=fact.at, store=None, bin=None)
        case _:
            return container


def _told_twice(container: Container, fact: f.Fact) -> Container:
    """Two containers may bear one number, such as of two PCs restored from one backup: nobody knows whose times these
    are, so each such receipt is a hold."""
    hold = Hold(key=fact.key, reason=HoldReason.EVALUATION, since=fact.at, note=TOLD_TWICE)
    return replace(container, holds=(*container.holds, hold))


def _label_asked(container: Container, body: f.LabelAsked) -> Container:
    if body.print_number < container.print_number:
        return container
    return replace(container, print_number=body.print_number, label_end=body.discard_by)


def _label_failed(container: Container, number: int) -> Container:
    """What failed after it was sent is on no container, unless somebody has scanned it there."""
    if container.print_sent != number or container.print_confirmed >= number:
        return container  # the identity label, or one that a later label has replaced anyway
    return replace(container, print_sent=max(0, number - 1))


def _thaw_begun(container: Container, fact: f.Fact, body: f.ThawBegun) -> Container:
    """Out of the freezer, on its way into the refrigerator. Two stations that both saw it: the narrower window."""
    if container.has_been_out:
        return container
    if container.thaw_key is None:
        seen_warm = container.sighted_warm_at is not None
        return replace(
            container,
            store=None,
            bin=None,
            thaw_not_before=body.not_before,
            thaw_not_after=body.not_after,
            thaw_key=fact.key,
            # seen outside before: warm since the last proof of cold
            thaw_from=(container.last_cold_at if seen_warm else None) or fact.at,
        )
    begun, until = container.thaw_not_before, container.thaw_not_after
    return replace(
        container,
        thaw_not_before=max(begun, body.not_before) if begun else body.not_before,
        thaw_not_after=min(until, body.not_after) if until else body.not_after,
        thaw_from=min(container.thaw_from, fact.at) if container.thaw_from else None,
    )


def _released(container: Container, body: f.Released) -> Container:
    """One hold less. Whoever releases paste that thawed too long has judged it, so that limit runs no more."""
    judged = any(hold.key == body.hold and hold.reason is HoldReason.THAWED_LONG for hold in container.holds)
    return replace(
        container,
        holds=tuple(hold for hold in container.holds if hold.key != body.hold),
        thaw_not_after=None if judged else container.thaw_not_after,
    )


def _corrected(container: Container, key: str, body: f.ReceiptCorrected) -> Container:
    """The receipt as it should have been; what has happened since stands, with the time at the dock set right."""
    if body.fact != container.received_key:
        return container
    received = body.received
    earlier = container.arrived_at - received.arrived_at
    put_away = container.put_away_at is not None
    room_end = container.room_end
    after = replace(
        container,
        paste=received.paste,
        kind=received.kind,
        lot=received.lot,
        expires=received.expires,
        labelled_end=received.shelf_end,
        arrived_at=received.arrived_at,
        to_cold_by=received.to_cold_by,
        temperature_c=received.temperature_c,
        warm_spent=max(NOTHING, container.warm_spent + earlier) if put_away else container.warm_spent,
        room_end=minute_down(room_end - earlier) if room_end is not None and put_away else room_end,
    )
    return _marked(container, after, key)


def _marked(before: Container, after: Container, key: str) -> Container:
    """A person's word moved these limits and no others; each may pass anew."""
    ends = (
        (Limit.SHELF, before.labelled_end, after.labelled_end),
        (Limit.ROOM, before.room_end, after.room_end),
        (Limit.OPEN, before.open_end, after.open_end),
        (Limit.TO_COLD, before.to_cold_by, after.to_cold_by),
    )
    changed = ((limit, key) for limit, end, moved in ends if end != moved)
    return replace(after, moved=(*before.moved, *changed))


def applied(container: Container, key: str, body: f.SpecificationApplied) -> Container:
    """Under another version: what runs is moved, only forward unless a person decided it. Readiness gets no earlier."""
    chosen = bool(body.reason)
    room_end, room_given = _under(container.room_end, container.room_given, body.room_life, chosen=chosen)
    open_end, open_given = _under(container.open_end, container.open_given, body.open_life, chosen=chosen)
    after = replace(
        container,
        earliest_use=_ready_under(container, body.minimum),
        room_end=room_end,
        room_given=room_given,
        open_end=open_end,
        open_given=open_given,
        to_cold_by=_to_cold_under(container, body.to_cold, chosen=chosen),
        move_by=_move_under(container, body.to_cold, chosen=chosen),
        content_end=_sooner(container.content_end, body.content_end),
        thaw_not_before=_longer(container.thaw_not_before, body.thaw_not_before),
        thaw_not_after=_sooner(container.thaw_not_after, body.thaw_not_after),
    )
    return _marked(container, after, key) if chosen else after


def _under(
    end: datetime | None, given: timedelta, life: timedelta, *, chosen: bool
) -> tuple[datetime | None, timedelta]:
    """The end of a limit, and the whole life it is made with, once `life` holds instead of `given`."""
    if end is None or (life >= given and not chosen):
        return end, given
    return minute_down(end + (life - given)), life


def _ready_under(container: Container, minimum: timedelta | None) -> datetime | None:
    ready, since = container.earliest_use, container.out_to
    return ready if ready is None or since is None or minimum is None else max(ready, minute_up(since + minimum))


def _to_cold_under(container: Container, life: timedelta, *, chosen: bool) -> datetime | None:
    until = container.to_cold_by
    if until is None or container.put_away_at is not None:
        return until
    under = minute_down(container.arrived_at + life)
    return under if chosen else min(until, under)


def _move_under(container: Container, life: timedelta, *, chosen: bool) -> datetime | None:
    """A way between stores gets no longer by another version; a shift lead's word is about its other limits."""
    since, by = container.move_from, container.move_by
    return by if since is None or by is None or chosen else min(by, minute_down(since + life))


def _sooner(one: datetime | None, other: datetime | None) -> datetime | None:
    """The earlier end, where the limit runs and the other is known."""
    return min(one, other) if one is not None and other is not None else one


def _longer(one: datetime | None, other: datetime | None) -> datetime | None:
    return max(one, other) if one is not None and other is not None else one


def _taken_out(container: Container, key: str, body: f.TakenOut) -> Container:
    room_end, room_given = _room_of(container, body)
    if not container.has_been_out:
        return replace(
            container,
            store=None,
            bin=None,
            out_from=body.thaw_from,
            out_to=body.thaw_to,
            taken_out_key=key,
            earliest_use=body.earliest_use,
            room_end=room_end,
            room_given=room_given,
        )
    earliest, latest = container.out_from, container.out_to
    before = (container.room_end or room_end, container.room_given)
    room_end, room_given = _first_of((room_end, room_given), before)
    return replace(
        container,
        store=None,
        bin=None,
        out_from=min(body.thaw_from, earliest) if earliest else body.thaw_from,
        out_to=max(body.thaw_to, latest) if latest else body.thaw_to,
        earliest_use=_later(container.earliest_use, body.earliest_use),
        room_end=room_end,
        room_given=room_given,
    )


def _first_of(one: tuple[datetime, timedelta], other: tuple[datetime, timedelta]) -> tuple[datetime, timedelta]:
    """Of two ends that two stations told, the one of the earlier start, made with the shorter of the two lives."""
    (end, given), (other_end, other_given) = one, other
    life = min(given, other_given)
    return min(end - (given - life), other_end - (other_given - life)), life


def _room_of(container: Container, body: f.TakenOut) -> tuple[datetime, timedelta]:
    """The room end of a take-out and its whole life; time out of cold that station had not heard of is taken off."""
    unheard = max(NOTHING, container.warm_spent - body.spent) if body.spent is not None else NOTHING
    given = body.room_life or minute_up_span(body.room_end - body.thaw_from + container.warm_spent)
    return body.room_end - minute_up_span(unheard), given


def _later(one: datetime | None, other: datetime | None) -> datetime | None:
    """The later of two readiness times; None (not ready at any time) is the latest of all."""
    return max(one, other) if one is not None and other is not None else None


def _opened(container: Container, fact: f.Fact, body: f.Opened) -> Container:
    if container.opened_at is not None and container.open_end is not None:
        told = (body.open_end, minute_up_span(body.open_end - fact.at))
        end, given = _first_of(told, (container.open_end, container.open_given))
        if end >= container.open_end:
            return container
        return replace(container, opened_at=fact.at, open_end=end, open_given=given, opened_key=fact.key)
    return replace(
        container,
        opened_at=fact.at,
        opened_key=fact.key,
        open_end=body.open_end,
        open_given=minute_up_span(body.open_end - fact.at),
        inspection_place=body.where,
    )


def _held(container: Container, fact: f.Fact, body: f.Held) -> Container:
    hold = Hold(key=fact.key, reason=body.reason, since=fact.at, note=body.note)
    return replace(container, holds=(*container.holds, hold))


def _extended(container: Container, body: f.LimitExtended) -> Container:
    if body.limit is Limit.OPEN:
        return replace(container, open_extension=_inside(container.open_extension, body))
    if body.limit is Limit.ROOM:
        return replace(container, room_extension=_inside(container.room_extension, body))
    return container


def _inside(before: timedelta, body: f.LimitExtended) -> timedelta:
    """All extensions of a limit together. Two leads who could not hear each other may have told of more than the
    specification allows; what is over that does not count."""
    together = before + body.by
    return together if body.allowance is None else min(together, body.allowance)
