"""A time label, from a container's state to the finished strings and the signed code.

The label of a container that was filled here says when its paste left the cold and was ready, what it was filled
from, and whose hazard information belongs beside it. Its code names used paste as what governs it, whatever limit
does: how long it lay on a stencil the code has no room for, so who knows only the label must know that it is used
paste.
"""

from dataclasses import dataclass
from datetime import datetime

from station.care.filled import packed
from station.care.floor import Floor
from station.care.moments import minute_down, minute_up
from station.care.state import Container
from station.care.words import Limit
from station.labels.containercode import container_numbers, pack_container
from station.labels.content import LabelContent, content_for, of_filled, of_opened, time_text
from station.labels.identity import identity_content
from station.labels.keys import KeyRing
from station.labels.timecode import TimeLabel, pack


@dataclass(frozen=True, slots=True)
class LabelJob:
    """One label to print, ready made."""

    container: str
    print_number: int
    content: LabelContent
    discard_by: datetime | None = None


def identity_job(floor: Floor, container: Container, keys: KeyRing) -> LabelJob:
    """The identity label of a container, stuck on when it is received."""
    paste, kind = floor.paste(container), floor.kind(container)
    content = identity_content(
        container.id,
        pack_container(*container_numbers(container.id), keys),
        paste=paste.id,
        kind=kind.title,
        tip_down=kind.tip_down,
        alloy=paste.alloy,
        lot=container.lot,
        expires=container.expires,
    )
    return LabelJob(container.id, 0, content)


def label_job(floor: Floor, container: Container, keys: KeyRing, who: str) -> LabelJob:
    """The next label of a container that is out. ValueError for one that is not."""
    standing = floor.standing(container)
    thawed, discard_by, governing = _thawed(floor, container), standing.discard_by, standing.governing
    if thawed is None or discard_by is None or governing is None:
        raise ValueError(f"{container.id} is not out of cold storage, so it has no time label.")
    paste, kind = floor.paste(container), floor.kind(container)
    station, counter = container_numbers(container.id)
    label = TimeLabel(
        station=station,
        counter=counter,
        print_number=container.print_number + 1,
        thaw_start=thawed[0],
        earliest_use=thawed[1],
        discard_by=discard_by,
        open_life=floor.specification(container.paste).open_life,
        paste_number=paste.number,
        governing=Limit.USED_PASTE if container.content_limit is Limit.USED_PASTE else governing,
        leaded=paste.alloy.leaded,
        key_id=keys.current,
    )
    content = content_for(
        label,
        pack(label, keys),
        paste=paste.id,
        kind=packed(floor, container),
        tip_down=kind.tip_down,
        alloy=paste.alloy,
        lot=container.lot,
        who=who,
        zone=floor.zone,
    )
    if container.sources:
        content = of_filled(content, governing, paste.part_number)
    elif container.opened_at is not None:
        content = of_opened(content, container.opened_at, floor.zone)
    return LabelJob(container.id, label.print_number, content, label.discard_by)


def to_write(floor: Floor, container: Container, number: int) -> str:
    """What a person writes on a container whose label `number` does not come out; 0 is the identity label."""
    if not number:
        return "Write the number on it by hand."
    until = floor.standing(container).discard_by
    if container.opened_at is None or container.sources or until is None:
        return "Copy the three times by hand; the clocks run."
    opened, ends = (time_text(instant, floor.zone, year=False) for instant in (container.opened_at, until))
    return f"Write on it by hand: OPENED {opened}, DISCARD BY {ends}. The clocks run."


def _thawed(floor: Floor, container: Container) -> tuple[datetime, datetime] | None:
    """Thaw-start and earliest-use; of what was filled here those of the source that was ready last.

    Paste that is never refrigerated has none, so what is filled from it counts from its filling.
    """
    if not container.sources:
        # where nobody knows when it left the cold, the label says what conditioning was counted from
        thaw_start = container.out_to or container.out_from
        earliest = container.earliest_use
        return (thaw_start, earliest) if thaw_start is not None and earliest is not None else None
    sources = (floor.container(name) for name in container.sources)
    found = [pair for source in sources if source is not None and (pair := _thawed(floor, source)) is not None]
    now_full = (minute_down(container.arrived_at), minute_up(container.arrived_at))
    return max(found, key=lambda pair: pair[1], default=now_full)


def times_by_hand(floor: Floor, container: Container) -> tuple[tuple[str, datetime], ...]:
    """The times of its next label by name, for whoever has to write them; none for a container without a label.

    Three, or of an opened container the two that its OPENED label says.
    """
    thawed, discard_by = _thawed(floor, container), floor.standing(container).discard_by
    if thawed is None or discard_by is None:
        return ()
    if container.opened_at is not None and not container.sources:
        return (("opened", container.opened_at), ("discard by", discard_by))
    return (("thaw start", thawed[0]), ("earliest use", thawed[1]), ("discard by", discard_by))
