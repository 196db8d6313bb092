"""How one fact changes one stencil position and the bead on it. A top-up never restarts a bead's clock."""

from dataclasses import replace

from station.care import facts as f
from station.care.moments import minute_down, minute_up_span
from station.care.state import Bead, Gone, Mount, Portion, PositionState, TakenOff

REMEMBERED_BEADS = 60


def position_step(position: PositionState | None, fact: f.Fact, name: str) -> PositionState:
    """The position after `fact`."""
    before = position or PositionState(id=name)
    body = fact.body
    match body:
        case f.PositionSetUp():
            mounted = _for_order(before.mounted, body.work_order)
            return replace(
                before, work_order=body.work_order, product=body.product, pastes=body.pastes, mounted=mounted
            )
        case f.Loaded():
            return _loaded(before, fact, body)
        case f.Removed():
            return _removed(before, fact, body)
        case f.Cleaned():
            used = before.bead is not None or before.mounted is not None
            return before if used else replace(before, cleaned_at=fact.at, soiled_by=None)
        case f.Mounted():
            orders = () if body.work_order is None else (body.work_order,)
            mount = Mount(fact.key, body.container, body.paste, fact.at, orders)
            return replace(_taken_off(before, fact), mounted=mount, soiled_by=body.paste)
        case f.Dismounted():
            meant = before.mounted is not None and before.mounted.key == body.mount
            return _taken_off(before, fact) if meant else before
        case f.Ended() if before.mounted is not None and before.mounted.container == body.container:
            return _taken_off(before, fact)
        case _:
            return before if before.bead is None else replace(before, bead=_bead_step(before.bead, fact))


def _taken_off(position: PositionState, fact: f.Fact) -> PositionState:
    """Nothing is in the dispenser any more: taken off, used up, or another one is there now."""
    mount = position.mounted
    if mount is None:
        return position
    kept = (*position.taken_off, TakenOff(mount, fact.at))[-REMEMBERED_BEADS:]
    return replace(position, mounted=None, taken_off=kept)


def _for_order(mount: Mount | None, order: str) -> Mount | None:
    """What is mounted while another work order begins is traced to that one too."""
    if mount is None or order in mount.work_orders:
        return mount
    return replace(mount, work_orders=(*mount.work_orders, order))


def _bead_step(bead: Bead, fact: f.Fact) -> Bead:
    body = fact.body
    if getattr(body, "bead", bead.key) != bead.key:
        return bead  # said of an earlier bead; it must not touch this one
    match body:
        case f.CarriedOver():
            return replace(bead, work_orders=_with_order(bead, body.work_order), last_life=fact.at)
        case f.Paused():
            return bead if bead.paused_at is not None else replace(bead, paused_at=fact.at, paused_key=fact.key)
        case f.Resumed():
            must_replace = bead.replace or body.replace
            return replace(bead, paused_at=None, paused_key=None, replace=must_replace, last_life=fact.at)
        case f.BeadLifeApplied():
            if body.life >= bead.given:
                return bead
            return replace(bead, stencil_end=minute_down(bead.stencil_end + (body.life - bead.given)), given=body.life)
        case f.SameBead():
            return replace(bead, last_life=fact.at)
        case f.Ended():
            return replace(bead, feeding=None if bead.feeding == body.container else bead.feeding)
        case _:
            return bead


def _loaded(position: PositionState, fact: f.Fact, body: f.Loaded) -> PositionState:
    portion = Portion(body.container, body.lot, fact.at, body.limits)
    bead = position.bead
    if bead is None:
        fresh = Bead(
            key=fact.key,
            paste=body.paste,
            started_at=minute_down(fact.at),
            stencil_end=body.stencil_end,
            portions=(portion,),
            feeding=body.container,
            work_orders=() if body.work_order is None else (body.work_order,),
            last_life=fact.at,
            restart=body.restart,
            given=body.life or minute_up_span(body.stencil_end - minute_down(fact.at) + body.spent),
        )
        return replace(position, bead=fresh, soiled_by=body.paste)
    known = any(entry.container == body.container for entry in bead.portions)
    # a station that had not heard of a shorter life: both ends by the shorter one
    life = min(bead.given, body.life or bead.given)
    ends = (bead.stencil_end - (bead.given - life), body.stencil_end - ((body.life or life) - life))
    topped_up = replace(
        bead,
        portions=bead.portions if known else (*bead.portions, portion),
        # used paste brings an earlier end, and so may the start another station saw
        stencil_end=min(ends),
        given=life,
        feeding=body.container,
        last_life=fact.at,
        work_orders=_with_order(bead, body.work_order),
        # two stations that each put another paste on: nobody can tell what lies there now
        replace=bead.replace or body.paste != bead.paste,
    )
    return replace(position, bead=topped_up)


def _with_order(bead: Bead, order: str | None) -> tuple[str, ...]:
    known = order is None or order in bead.work_orders
    return bead.work_orders if known or order is None else (*bead.work_orders, order)


def _removed(position: PositionState, fact: f.Fact, body: f.Removed) -> PositionState:
    bead = position.bead
    if bead is None or bead.key != body.bead:
        return position
    gone = Gone(bead=bead, removed_at=fact.at, removed_key=fact.key)
    kept = (*position.gone, gone)[-REMEMBERED_BEADS:]
    return replace(position, bead=None, gone=kept, soiled_by=bead.paste)
