"""Frozen paste at the freezer door: it begins to thaw there, and never comes back in.

Whoever takes it out is told to put it in the refrigerator; it gets its label there, when it goes to the room. Freezing
paste again separates its flux: common practice, no source.
"""

from station.care import facts as f
from station.care.answers import about, at_text
from station.care.floor import Floor
from station.care.moments import minute_down, minute_up
from station.care.saying import day_time
from station.care.specification import Store, Thaw
from station.care.state import Container
from station.care.verdict import Armed, Decision, Verdict
from station.care.words import Card, HoldReason, Limit, Storage, Word


def begin_thaw(floor: Floor, store: Store, container: Container, thaw: Thaw, armed: Armed) -> Decision:
    """It leaves the freezer now. One seen outside before is held and warm since the last proof of cold."""
    specification = floor.specification(container.paste)
    fact = f.ThawBegun(
        container=container.id,
        store=store.id,
        not_before=minute_up(floor.now + thaw.at_least),
        not_after=minute_down(floor.now + thaw.at_most),
        specification=f"{specification.paste} version {specification.version}",
    )
    held: tuple[f.Body, ...] = ()
    if container.sighted_warm_at is not None:
        seen = f"seen {day_time(container.sighted_warm_at, floor.now, floor.zone)}"
        held = (f.Held(container.id, HoldReason.SEEN_WARM, seen),)
    return Decision(_begun_verdict(floor, store, container, fact), (fact, *held), armed=armed)


def _begun_verdict(floor: Floor, store: Store, container: Container, fact: f.ThawBegun) -> Verdict:
    held = " It goes on hold, because it was seen outside before." if container.sighted_warm_at is not None else ""
    return Verdict(
        word=Word.DONE,
        code="thaw-begun",
        headline=f"THAW UNTIL {at_text(floor, fact.not_before)}",
        why=f"{container.spoken} left {store.title} and thaws in the refrigerator.{held}",
        todo=f"Put it in {_refrigerators(floor)} now and scan it at that door. Never heat paste. "
        "If it was a mistake: put it back and scan UNDO.",
        container=container.id,
        times=(("thaw until", fact.not_before), ("out by", fact.not_after)),
        governing=Limit.THAW.value,
        asks=(Card.UNDO,),
    )


def _refrigerators(floor: Floor) -> str:
    cold = [store.title for store in floor.plant.stores.values() if store.storage is Storage.COLD]
    return " or ".join(cold) or "a refrigerator"


def at_freezer(floor: Floor, store: Store, container: Container, armed: Armed) -> Decision:
    """Paste that has begun to thaw, at a freezer door: a second read of the same act, or somebody wants it back in."""
    begun = floor.ledger.fact(container.thaw_key or "")
    if begun is not None and container.store is None and floor.recently(begun.at, floor.rules.undo_within):
        return Decision(
            about(
                floor,
                container,
                Word.DONE,
                "already-thawing",
                f"THAW ALREADY BEGUN {at_text(floor, begun.at)}",
                f"{container.spoken} left {store.title} a moment ago. Nothing was recorded twice.",
                f"Put it in {_refrigerators(floor)}. If it was a mistake: put it back in here and scan UNDO.",
                asks=(Card.UNDO,),
            ),
            armed=armed,
        )
    verdict = about(
        floor,
        container,
        Word.STOP,
        "never-back",
        "NEVER BACK IN THE FREEZER",
        f"{container.spoken} has begun to thaw. Freezing it again separates the flux.",
        f"Keep it in {_refrigerators(floor)} and scan it at that door.",
    )
    return Decision(verdict, (f.ReturnRefused(container.id, store.id),))
