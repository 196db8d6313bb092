"""A time label, from a container's state to the finished strings and the signed code."""

from dataclasses import dataclass

from station.care.floor import Floor
from station.care.state import Container
from station.labels.containercode import container_numbers, pack_container
from station.labels.content import LabelContent, content_for
from station.labels.identity import identity_content
from station.labels.keys import KeyRing
from station.labels.timecode import TimeLabel, pack


@dataclass(frozen=True, slots=True)
class LabelJob:
    """One label to print, ready made."""

    container: str
    print_number: int
    content: LabelContent


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
    earliest, discard_by, governing = container.earliest_use, standing.discard_by, standing.governing
    if container.out_from is None or earliest is None or discard_by is None or governing is None:
        raise ValueError(f"{container.id} is not out of cold storage, so it has no time label.")
    paste, kind = floor.paste(container), floor.kind(container)
    station, counter = container_numbers(container.id)
    label = TimeLabel(
        station=station,
        counter=counter,
        print_number=container.print_number + 1,
        # where nobody knows when it left the cold, the label says what conditioning was counted from
        thaw_start=container.out_to or container.out_from,
        earliest_use=earliest,
        discard_by=discard_by,
        open_life=floor.specification(container.paste).open_life,
        paste_number=paste.number,
        governing=governing,
        leaded=paste.alloy.leaded,
        key_id=keys.current,
    )
    content = content_for(
        label,
        pack(label, keys),
        paste=paste.id,
        kind=kind.title,
        tip_down=kind.tip_down,
        alloy=paste.alloy,
        lot=container.lot,
        who=who,
        zone=floor.zone,
    )
    return LabelJob(container.id, label.print_number, content)
