"""How a container goes into the cold, is proved to lie there, and is seen outside: its time out of the cold.

Two stations tell of one container in any order. Its time out of the cold is then never less than the longest that
what they saw allows: seen outside, it was out since it was last proved cold before that.
"""

from dataclasses import replace
from datetime import datetime, timedelta

from station.care import facts as f
from station.care.cold_proof import Proof, Seen, Stretch, journal_of
from station.care.moments import MINUTE, NOTHING, minute_up_span
from station.care.state import Container, Hold
from station.care.words import HoldReason

PUT_BACK = "found in a cold store after it was taken out"
OUT_BEFORE = "seen outside before it was taken out"


def put_away(container: Container, fact: f.Fact, body: f.PutAway) -> Container:
    """In a bin of a store: whatever it was out before that is spent."""
    if container.has_been_out and (not body.returning or container.opened_at is not None):
        return container  # two stations disagree: once out or opened, nothing brings it back by the way
    at = body.cold_since or fact.at
    seen = _still_outside(container, fact.key, at)
    after = _spent(container, _out_until(container, fact.key, at))
    return replace(
        after,
        store=body.store,
        bin=body.bin,
        put_away_at=at,
        proofs=(*after.proofs, Proof(fact.key, at)),
        sighted_warm_at=seen.at if seen is not None else None,
        sighted_key=seen.key if seen is not None else None,
        cold_cycles=after.cold_cycles + (1 if container.has_been_out else 0),
        out_from=None,
        out_to=None,
        earliest_use=None,
        room_end=None,
        thaw_from=None,
    )


def _out_until(container: Container, key: str, at: datetime) -> Stretch | None:
    """The time out of the cold that ends by being put away; None where something else counts the way."""
    if container.put_away_at is None:  # what was never proved cold has been warm since the dock
        return Stretch(container.received_key, key, at - container.arrived_at)
    if container.out_from is not None:
        return Stretch(container.taken_out_key or key, key, at - container.out_from)
    if container.thaw_from is not None:
        return Stretch(container.thaw_key or key, key, at - container.thaw_from)
    if container.move_from is not None:
        return None
    return _since_proof(container, key, at)  # another station had put it away: carried, and nobody knows how long


def _since_proof(container: Container, key: str, at: datetime) -> Stretch:
    """Out of the cold since it was last proved cold, or since the dock."""
    proved = container.last_cold_at or container.arrived_at
    return Stretch(_proof_key(container), key, at - proved)


def _proof_key(container: Container) -> str:
    proved = container.last_cold_at
    return next((proof.key for proof in container.proofs if proof.at == proved), container.received_key)


def _spent(container: Container, stretch: Stretch | None) -> Container:
    """With a time out of the cold that is over. Its room end, where it runs already, comes earlier by whole minutes."""
    if stretch is None:
        return container
    end = container.room_end
    return replace(
        container,
        stretches=(*container.stretches, stretch),
        warm_spent=container.warm_spent + stretch.spent,
        room_end=None if end is None else end - minute_up_span(stretch.spent),
    )


def _still_outside(container: Container, key: str, at: datetime) -> Seen | None:
    """How it was seen outside, by another station and after it was put away here, though told before."""
    if container.sighted_warm_at is None or container.sighted_key is None:
        return None
    seen = Seen(container.sighted_key, container.sighted_warm_at)
    return seen if journal_of(seen.key) != journal_of(key) and seen.at > at else None


def transferred(container: Container, fact: f.Fact, body: f.Transferred) -> Container:
    """In another store. What was out or opened in between stays so, and what was seen outside stays seen; its time
    out of cold is at least what was counted and, seen outside, everything since it was last proved cold."""
    if container.out_from is not None:
        return _moved_before(container, container.out_from, body)
    if container.opened_at is not None:
        return container
    in_doubt = container.sighted_warm_at is not None or container.put_away_at is None
    since = _since_proof(container, fact.key, fact.at)
    way = replace(since, least=body.counted) if in_doubt else Stretch(fact.key, fact.key, NOTHING, body.counted)
    after = _spent(container, way)
    return replace(
        after,
        store=body.store,
        bin=body.bin,
        put_away_at=fact.at,
        proofs=(*after.proofs, Proof(fact.key, fact.at)),
        thaw_from=None,
    )


def _moved_before(container: Container, out_from: datetime, body: f.Transferred) -> Container:
    """Another station told of a take-out that folds before the move: the time out before that is lost all the same."""
    lost, end = max(NOTHING, min(body.counted, out_from - body.out_since)), container.room_end
    sooner = end - minute_up_span(lost) if end is not None else None
    return replace(container, warm_spent=container.warm_spent + lost, room_end=sooner)


def sighted(container: Container, fact: f.Fact, body: f.Sighted) -> Container:
    """A container thought to be cold was seen outside: remembered until its take-out is told."""
    if container.opened_at is not None and container.inspected_good is None:
        return replace(container, inspection_place=body.where)  # its opening check is asked for there now
    if not body.warm:
        return container
    if container.has_been_out:
        return _out_before(container, fact)
    if container.sighted_warm_at is not None and container.sighted_warm_at <= fact.at:
        return container
    after = replace(container, sighted_warm_at=fact.at, sighted_key=fact.key)
    thawing = container.thaw_from is not None and fact.at < container.thaw_from
    return replace(after, thaw_from=min(fact.at, after.last_cold_at or after.arrived_at)) if thawing else after


def _out_before(container: Container, fact: f.Fact) -> Container:
    """Seen outside, by a station that knew of no take-out, perhaps before the one on record."""
    seen = replace(container, sighted_warm_at=fact.at, sighted_key=fact.key)
    return out_as_seen(seen, fact) if container.opened_at is None and _was_out_by_then(seen) else container


def out_as_seen(container: Container, fact: f.Fact) -> Container:
    """A container that is out by now: seen outside before the take-out on record, it was out since it was last proved
    cold before that, and a shift lead decides."""
    out_from = container.out_from
    if out_from is None or not _was_out_by_then(container):
        return container
    since = min(out_from, container.last_cold_at or container.arrived_at)
    end = container.room_end
    sooner = None if end is None else end - minute_up_span(out_from - since)
    return _held_seen(replace(container, out_from=since, room_end=sooner), fact)


def _was_out_by_then(container: Container) -> bool:
    """Whether it was seen outside before it is said to have left; a station that told of both knew of both."""
    at, key, out_from = container.sighted_warm_at, container.sighted_key or "", container.out_from
    if at is None or out_from is None or journal_of(container.taken_out_key or "") == journal_of(key):
        return False
    # a scan at the door took it out within the label minute, anything longer is the time it may have left in
    scanned = container.out_to
    return at < (scanned if scanned is not None and scanned - out_from < MINUTE else out_from)


def _held_seen(container: Container, fact: f.Fact) -> Container:
    if any(hold.reason is HoldReason.SEEN_WARM for hold in container.holds):
        return container
    hold = Hold(key=fact.key, reason=HoldReason.SEEN_WARM, since=fact.at, note=OUT_BEFORE)
    return replace(container, holds=(*container.holds, hold))


def counted(container: Container, fact: f.Fact, body: f.Counted) -> Container:
    """Seen in its store: proof that it was cold, unless something here says it was out, opened or moved.

    What had been taken out or opened and lies in a cold store again is as cold as that: a shift lead decides.
    """
    if container.has_been_out or container.opened_at is not None:
        return _put_back(container, fact)
    if not body.cold or container.sighted_warm_at is not None or container.store != body.store:
        return container
    return replace(
        container,
        proofs=(*container.proofs, Proof(fact.key, fact.at, counted=True)),
        dated_by=(*container.dated_by, fact.key),
    )


def _put_back(container: Container, fact: f.Fact) -> Container:
    kept_in_the_room = container.to_cold_by is None
    held = any(hold.note == PUT_BACK for hold in container.holds)
    if held or kept_in_the_room or (container.out_to is not None and fact.at <= container.out_to):
        return container
    hold = Hold(key=fact.key, reason=HoldReason.EVALUATION, since=fact.at, note=PUT_BACK)
    return replace(container, holds=(*container.holds, hold))


def taken_back(container: Container, undone: f.Fact, told: f.Fact) -> Container:
    """A take-out was taken back: from its beginning until then it was out of the cold all the same, and from another
    door it has as long a way back. What was seen outside counts since then too, which is twice rather than never: a
    put-away that knew nothing of it counts none of it. One that a shift lead had only told of, and takes back, never
    was."""
    since = _began(told)
    if since is None:
        return container
    length = undone.at - since + _way(told.body)
    before = next((one for one in container.stretches if one.begun == told.key), None)
    if before is None:
        return _spent(container, Stretch(told.key, undone.key, length))
    return _spent(container, Stretch(told.key, undone.key, max(NOTHING, length - before.spent)))


def _began(told: f.Fact) -> datetime | None:
    match told.body:
        case f.TakenOut(thaw_from=since, told_late=""):
            return since
        case f.ThawBegun():
            return told.at
        case f.MoveBegun(out_since=since):
            return since
        case _:
            return None


def _way(body: f.Body) -> timedelta:
    """How long a way between two doors a take-out counted; its times are on whole minutes otherwise."""
    if not isinstance(body, f.TakenOut) or body.thaw_to - body.thaw_from < MINUTE:
        return NOTHING
    return body.thaw_to - body.thaw_from
