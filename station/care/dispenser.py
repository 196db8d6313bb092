"""Cartridges and syringes in a dispenser: mounted by their scan, taken off by a card, both recorded.

What is mounted feeds its position until it is taken off, used up or discarded, so past a limit it is in use. Its
clocks are its own: a dispenser adds none, and taking it off stops none. Where it stood is ended only by a record:
another container has to wait for it, and the same one elsewhere too. Taking a mount back is a shift lead's, as
everything is that began the use of paste. There is no card for mounting: the scan does it.
"""

from datetime import timedelta

from station.care import facts as f
from station.care.answers import about, at_text, plain
from station.care.floor import Floor
from station.care.limits import Running, running_limits
from station.care.saying import span, spot
from station.care.state import Container, Mount, PositionState
from station.care.verdict import Armed, Decision
from station.care.waste import leaded
from station.care.words import Word

PURGE = "Mount it and purge the tip into the paste waste until it flows without bubbles."


def mount(floor: Floor, container: Container, position: PositionState) -> Decision:
    """USE of a container that nothing speaks against: mounted now, or, where it is already, seen once more."""
    there = position.mounted
    body: f.Body = (
        f.Mounted(container.id, position.id, container.paste, position.work_order)
        if there is None
        else f.Sighted(container.id, position.id, warm=True)
    )
    limit, end = running_limits(container)[0]
    left = span(max(timedelta(0), floor.time_left(end)))
    since = f"It has been mounted since {at_text(floor, there.since)}." if there is not None else ""
    does = since or "It counts as mounted from now."
    verdict = about(
        floor,
        container,
        Word.USE,
        "use",
        _headline(floor, (limit, end)),
        f"{container.spoken} is right for {spot(position.id)}. {does}",
        PURGE if there is None else "Go on dispensing.",
        position=position.id,
        note=f"{left} left in it ({limit.value}).",
    )
    return Decision(verdict, (body,), armed=Armed(at=floor.now, container=container.id, position=position.id))


def _headline(floor: Floor, running: Running) -> str:
    left = floor.time_left(running[1])
    if left < floor.rules.short_left:
        return f"ONLY {span(max(timedelta(0), left))} LEFT"
    return f"DISCARD BY {at_text(floor, running[1])}"


def dismount(floor: Floor, position: PositionState) -> Decision:
    """What is in the dispenser was taken off; its clocks go on."""
    mounted = position.mounted
    if mounted is None:
        return nothing_mounted(f"Nothing is recorded as mounted on {spot(position.id)}.", position.id)
    name = mounted.container.replace("-", " ")
    verdict = plain(
        Word.DONE,
        "dismounted",
        f"{name} OFF",
        f"{name} is off {spot(position.id)}; its clocks go on.",
        f"Cap its tip{_stand(floor, mounted)}. Clean before another paste goes on.{tools_apart(floor, mounted.paste)}",
        position.id,
    )
    fact = f.Dismounted(mounted.container, position.id, mounted.key)
    return Decision(verdict, (fact,), armed=Armed(at=floor.now, container=mounted.container, position=position.id))


def tools_apart(floor: Floor, paste: str) -> str:
    """The caution that goes with taking leaded paste off."""
    return " Keep tools, wipes and waste apart: leaded (Pb)." if leaded(floor, paste) else ""


def _stand(floor: Floor, mounted: Mount) -> str:
    container = floor.container(mounted.container)
    return " and stand it tip down" if container is not None and floor.kind(container).tip_down else ""


def nothing_mounted(why: str, position: str | None) -> Decision:
    """DISMOUNT where there is nothing to take off."""
    todo = "Scan the tag of the dispenser it is on, then DISMOUNT."
    verdict = plain(Word.STOP, "not-mounted", "NOTHING MOUNTED", why, todo, position)
    return Decision(verdict)


def still_mounted(position: PositionState, mounted: Mount) -> Decision:
    """CLEANED while something is mounted: it is taken off first."""
    name = mounted.container.replace("-", " ")
    verdict = plain(
        Word.STOP,
        "still-mounted",
        "STILL MOUNTED",
        f"{name} is still on {spot(position.id)}.",
        "Take it off and record DISMOUNT first, then clean.",
        position.id,
    )
    return Decision(verdict)
