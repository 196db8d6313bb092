"""A label that promises more than the record: a limit was moved after it was printed, and paper does not change."""

from datetime import datetime

from station.care.answers import at_text
from station.care.floor import Floor
from station.care.moments import minute_down
from station.care.scans import SeenLabel
from station.care.state import Container
from station.care.words import Limit


def behind(floor: Floor, container: Container, label: SeenLabel | None = None) -> tuple[datetime, datetime] | None:
    """What the newest time label says and what holds instead, where it says too late; None where it may be believed.

    `label` is what was scanned, else the record tells what was printed. Open life is no part of it: a label names
    that as a length, to be counted from the opening.
    """
    if container.ended is not None or not (container.has_been_out or container.sources):
        return None
    said = label.discard_by if label is not None else _printed(container)
    limits = (end for limit, end in floor.standing(container).limits if limit is not Limit.OPEN)
    holds = next(limits, None)
    if said is None or holds is None or minute_down(holds) >= minute_down(said):
        return None
    return said, holds


def behind_note(floor: Floor, container: Container, label: SeenLabel | None = None) -> str:
    """The sentence said at a scan of such a container, or nothing."""
    found = behind(floor, container, label)
    if found is None:
        return ""
    said, holds = (at_text(floor, instant) for instant in found)
    return f"Its label says {said}, the record {holds}: print a new one (REPRINT)."


def _printed(container: Container) -> datetime | None:
    """What the newest label says, where that one came out; a day list asks for one that did not."""
    return container.label_end if container.newest_label == container.print_number else None
