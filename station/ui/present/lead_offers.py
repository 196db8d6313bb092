"""What a shift lead or a process engineer may say at the desk besides alarms: of the container scanned, or of any.

Only what makes sense for it now is offered. The ids are `act:container`, with nothing after the colon for any.
"""

from collections.abc import Iterator
from dataclasses import replace

from station.care import facts as f
from station.care import late, lots, versions
from station.care.cold_readings_given_back import returnable
from station.care.correction import CorrectionRefused, to_take_back
from station.care.delivery_correction import delivery_of
from station.care.floor import Floor
from station.care.fold_container import applied
from station.care.fold_lot import spoken_lot
from station.care.limits import running_limits
from station.care.saying import spot
from station.care.specification import Specification
from station.care.state import Container, Hold
from station.care.words import Ending, HoldReason
from station.ui import wording
from station.ui.present.desk_groups import group_offers
from station.ui.view_models import ActionModel

ACTS: dict[str, str] = {
    f.Opened.NAME: "Opened",
    f.Inspected.NAME: "Opening check answered",
    f.Loaded.NAME: "Put on the bead",
    f.Mounted.NAME: "Mounted",
    f.Dismounted.NAME: "Taken off the dispenser",
    f.Removed.NAME: "Bead removed",
    f.Mixed.NAME: "Mixed",
    f.TakenOut.NAME: "Take-out entered afterwards",
    f.Ended.NAME: "Ended",
}
ENDED = {Ending.USED_UP: "Used up", Ending.DISCARDED: "Discarded", Ending.NOT_FOUND: "Not found"}


REST = ActionModel("more:", "All else", "of no container: reports, people, day list")


def lead_offers(floor: Floor, container: Container | None) -> tuple[ActionModel, ...]:
    """Everything that may be said of this container and its lot, or of any where None was scanned."""
    of_it = tuple(_of_container(floor, container)) if container is not None else ()
    groups = group_offers() if container is None else (REST,)
    return (*of_it, *_take_back(floor, container), *_of_lots(floor, container), *_figures(container), *groups)


def _of_container(floor: Floor, container: Container) -> Iterator[ActionModel]:
    if late.may_be_told(floor, container):
        yield ActionModel(f"late:{container.id}", "Taken out earlier", "no scan at the door")
    if receipt_of(floor, container) is not None:
        yield ActionModel(f"correct:{container.id}", "Correct receipt", "lot, expiry, arrival, temperature")
    if delivery_of(floor, container):
        yield ActionModel(f"correct-delivery:{container.id}", "Correct delivery", "box, packs, temperature")
    if returnable(floor, container.id):
        yield ActionModel(f"minutes-back:{container.id}", "Give minutes back", "charged by a file taken back")
    if differs(floor, container):
        yield ActionModel(f"version:{container.id}", "Other version", "of its specification")
    yield ActionModel(f"story:{container.id}", "Story", "all that happened to it")
    yield ActionModel(f"note:{container.id}", "Note or photo", "kept with it on record")


def receipt_of(floor: Floor, container: Container) -> f.Received | None:
    """Its receipt here; paste filled here has none."""
    fact = floor.ledger.fact(container.received_key)
    return fact.body if fact is not None and isinstance(fact.body, f.Received) else None


def differs(floor: Floor, container: Container) -> bool:
    """Whether another version of its specification would give it other times than it has."""
    return any(found.id == container.id for found, _ in versions.differing(floor))


def _take_back(floor: Floor, container: Container | None) -> tuple[ActionModel, ...]:
    name = container.id if container is not None else ""
    if not acts_to_take_back(floor, container):
        return ()
    return (ActionModel(f"take-back:{name}", "Take back last act", "the record keeps both"),)


def _of_lots(floor: Floor, container: Container | None) -> Iterator[ActionModel]:
    name = container.id if container is not None else ""
    held = held_lots(floor, container)
    lot = lot_of(floor, container) if container is not None else ""
    yield ActionModel(f"hold-lot:{name}", "Hold lot", lot or "all of it at once")
    if held:
        yield ActionModel(f"release-lot:{name}", "Release lot", spoken_lot(held[0]) if len(held) == 1 else "")
        yield ActionModel(f"reach:{name}", "What it reached", "containers, beads, work orders")
    yield ActionModel(f"recertify:{name}", "Re-certify lot", "new expiry, two people")


def held_lots(floor: Floor, container: Container | None) -> tuple[str, ...]:
    """The lots on hold: that of this container, or all of them."""
    held = tuple(lot.id for lot in floor.ledger.lots.values() if lot.holds)
    return held if container is None else tuple(name for name in held if lots.holds_lot(floor, container, name))


def lot_holds(floor: Floor, container: Container | None) -> tuple[ActionModel, ...]:
    """The holds of these lots; the ids are `lot#hold`."""
    return tuple(
        ActionModel(
            f"{lot}#{hold.key}", spoken_lot(lot), f"{wording.moment(hold.since, floor.now, floor.zone)}, {_why(hold)}"
        )
        for lot in held_lots(floor, container)
        for hold in floor.ledger.lots[lot].holds
    )


def _why(hold: Hold) -> str:
    """What a person wrote; what awaits its test says that first."""
    return hold.note if hold.reason is HoldReason.LOT else f"{hold.reason.value}: {hold.note}"


def lot_of(floor: Floor, container: Container) -> str:
    """The lot of a container; nothing where its paste came out of several."""
    sources = [found for found in (floor.container(name) for name in container.sources) if found is not None]
    if not sources:
        return container.lot
    found = {lot_of(floor, source) for source in sources}
    return found.pop() if len(found) == 1 else ""


def _figures(container: Container | None) -> Iterator[ActionModel]:
    kind = container.kind if container is not None else ""
    yield ActionModel(f"figures:{kind}", "Warm-up figures", "measured runs, for the engineer")


# ---------------------------------------------------------------------- the last acts


def acts_to_take_back(floor: Floor, container: Container | None) -> tuple[ActionModel, ...]:
    """The last acts that can be taken back: of a container and where its paste lies or lay last, or of every position.

    The ids are `container:name` and `position:name`.
    """
    positions = floor.plant.positions if container is None else _touched(floor, container)
    asked = [("container", container.id)] if container is not None else []
    found = {}
    for kind, name in (*asked, *(("position", name) for name in positions)):
        fact = _act(floor, kind, name)
        if fact is not None and fact.key not in found:
            found[fact.key] = ActionModel(f"{kind}:{name}", _said(fact.body), _of_what(floor, kind, name, fact))
    return tuple(found.values())


def _touched(floor: Floor, container: Container) -> list[str]:
    """The positions where its paste lies, or lay in the last bead that came off."""
    gone = [
        place.id
        for place in floor.ledger.positions.values()
        if place.gone and any(portion.container == container.id for portion in place.gone[-1].bead.portions)
    ]
    return [*floor.positions_with(container.id), *gone]


def _act(floor: Floor, kind: str, name: str) -> f.Fact | None:
    try:
        return to_take_back(floor, kind, name)
    except CorrectionRefused:
        return None


def _said(body: f.Body) -> str:
    return ENDED[body.ending] if isinstance(body, f.Ended) else ACTS.get(body.NAME, body.NAME)


def _of_what(floor: Floor, kind: str, name: str, fact: f.Fact) -> str:
    container = name if kind == "container" else getattr(fact.body, "container", "")
    position = name if kind == "position" else getattr(fact.body, "position", "")
    what = " on ".join(part for part in (container.replace("-", " "), spot(position) if position else "") if part)
    person = floor.ledger.people.get(fact.who or "")
    by = f", {person.name}" if person is not None else ""
    return f"{what}, {wording.moment(fact.at, floor.now, floor.zone)}{by}"


# ---------------------------------------------------------------------- versions


def version_choices(floor: Floor, container: Container) -> tuple[ActionModel, ...]:
    """The versions that give a container different times, the one with the earliest discard-by first."""
    by_limits = {}
    for specification in floor.ledger.versions.values():
        if _possible(floor, container, specification):
            after = _under(floor, container, specification)
            by_limits[running_limits(after)] = (specification, after)
    ordered = sorted(by_limits.items(), key=lambda entry: [end for _, end in entry[0]])
    return tuple(_choice(floor, container, specification, after) for _, (specification, after) in ordered)


def _possible(floor: Floor, container: Container, specification: Specification) -> bool:
    approved = specification.approved_by is not None or floor.rules.demo
    return specification.paste == container.paste and approved and specification.minimum_for(container.kind) is not None


def _under(floor: Floor, container: Container, specification: Specification) -> Container:
    told = versions.follows(floor.ledger, container, specification, "as a lead would have it")
    return replace(applied(container, "", told), moved=container.moved)


def _choice(floor: Floor, container: Container, specification: Specification, after: Container) -> ActionModel:
    limits = running_limits(after)
    ends = [wording.day_and_time(end, floor.zone, now=floor.now) for _, end in limits[:1]]
    said = f"discard by {ends[0]}" if ends else "no limit runs yet"
    now = ", as it is now" if limits == running_limits(container) else ""
    return ActionModel(str(specification.version), f"Version {specification.version}", f"{said}{now}")
