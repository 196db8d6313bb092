"""Filling paste into a container of its own, by the DECANT card after the one it comes out of.

Only out of what may be used at this moment, and only once: decanted paste is not decanted again, used paste never.
A closed container that is ready is opened by it, so its open life starts. One act has one source; two lots are not
brought together in one container. The new one is open from the start, and everything against its source counts
against it, now and later: every clock, hold, lot and correction. It is recorded as the kind of container its paste
came in, and gets an opening check of its own before its first use.
"""

from dataclasses import replace
from datetime import timedelta

from station.care import facts as f
from station.care.answers import about
from station.care.context import Context
from station.care.filled import INTO_CLEAN, filled
from station.care.floor import Floor
from station.care.limits import running_limits
from station.care.moments import minute_down
from station.care.printer import refused
from station.care.reasons import against
from station.care.saying import spot
from station.care.state import Container
from station.care.verdict import Armed, Decision, PrintLabel
from station.care.words import Limit, Place, Word

WHERE = (Place.BENCH, Place.PRINTER, Place.DISPENSER)
Said = tuple[str, str, str, str]
"""Code, headline, why, and what to do."""


def decanted(floor: Floor, context: Context, container: Container) -> Decision:
    """Fill paste of this container into a new one, if nothing speaks against either."""
    reasons = against(floor, container, None)
    if reasons:
        return refused(floor, context, container, None, reasons[0])
    life = floor.specification(container.paste).decanted_life
    if life is None:
        why = f"The specification of {container.paste} does not allow it to be decanted."
        said = ("decant-not-allowed", "NOT DECANTED", why, f"Use it out of {container.spoken}.")
        return _stop(floor, context, container, said)
    forbidden = _forbidden(floor, context, container)
    if forbidden is not None:
        return _stop(floor, context, container, forbidden)
    return _decanted(floor, context, container, life)


def _stop(floor: Floor, context: Context, container: Container, said: Said) -> Decision:
    code, headline, why, todo = said
    verdict = about(floor, container, Word.STOP, code, headline, why, todo)
    return Decision(verdict, (f.ScanRefused(container.id, context.here.id, code, ""),))


def _forbidden(floor: Floor, context: Context, container: Container) -> Said | None:
    """Where paste may be used and still not be decanted."""
    name = container.spoken
    mounted = floor.mounted_at(container.id)
    if container.content_limit is Limit.USED_PASTE:
        why = f"{name} is used paste. It never goes into another container."
        return "decant-used", "NEVER USED PASTE", why, "Use it up by itself or discard it."
    if container.content_limit is Limit.DECANTED:
        why = f"{name} was decanted itself, and paste is decanted once."
        return "decant-twice", "ALREADY DECANTED", why, f"Use it out of {name}."
    if mounted:
        return "mounted-elsewhere", "STILL MOUNTED", f"{name} is mounted on {spot(mounted[0])}.", "Take it off first."
    if context.here.kind not in WHERE:
        return "decant-elsewhere", "NOT HERE", "Paste is decanted at the bench or at its line.", "Scan it there."
    return None


def _decanted(floor: Floor, context: Context, container: Container, life: timedelta) -> Decision:
    name, end = context.next_number, minute_down(floor.now + life)
    told: list[f.Body] = []
    if container.opened_at is None:
        open_end = minute_down(floor.now + floor.specification(container.paste).open_life)
        told.append(f.Opened(container.id, context.here.id, early=False, open_end=open_end))
        container = replace(container, open_end=open_end)
    told.append(f.Decanted(name, (container.id,), container.paste, container.kind, container.lot, end, context.here.id))
    opened = f" {container.spoken} counts as open from now." if len(told) > 1 else ""
    verdict = filled(
        floor,
        "decanted",
        name,
        container.paste,
        (*running_limits(container), (Limit.DECANTED, end)),
        f"It is filled from {container.spoken}, whose clocks go on in it.{opened}",
        INTO_CLEAN,
    )
    return Decision(verdict, tuple(told), (PrintLabel(name),), Armed(at=floor.now, container=name))
