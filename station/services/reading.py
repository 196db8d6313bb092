"""From what a scanner heard to what the rules decide on: labels, cards, badges, tags, then work orders."""

import re
from collections.abc import Iterable

from station.care.scans import (
    BadgeScan,
    CardScan,
    ContainerScan,
    PlaceScan,
    Scan,
    SeenLabel,
    TagScan,
    UnreadScan,
    WorkOrderScan,
)
from station.care.words import Limit
from station.labels.keys import KeyRing
from station.labels.plaincodes import BadgeRead, CardRead, KnownTexts, TagKind, TagRead, known_texts
from station.labels.reading import ContainerRead, NotRead, Reading, TimeLabelRead, read_candidates, trimmed
from station.services.site import Site


class Reader:
    """Reads scans with one site's keys, its closed list of cards and tags, and its work-order pattern."""

    def __init__(self, site: Site, keys: KeyRing) -> None:
        """Build the closed list once; it only changes with the settings."""
        self.keys = keys
        self.known: KnownTexts = known_texts(
            people=[person.id for person in site.people],
            positions=site.plant.positions,
            bins=[bin_.id for store in site.plant.stores.values() for bin_ in store.bins],
            stores=site.plant.stores,
            places=[place.id for place in site.places],
        )
        self._work_order = re.compile(site.work_order_pattern)

    def read(self, candidates: Iterable[str]) -> Scan:
        """The one meaning of a scan heard as these candidate texts (the first is the text as it came)."""
        texts = tuple(dict.fromkeys(trimmed(candidate) for candidate in candidates))
        reading = read_candidates((*texts, *(text.swapcase() for text in texts)), self.keys, self.known)
        if isinstance(reading, NotRead):
            return self._work_order_scan(texts) or _unread(reading)
        return _scan(reading)

    def _work_order_scan(self, texts: tuple[str, ...]) -> WorkOrderScan | None:
        found = {match.groups(): match for text in texts if (match := self._work_order.fullmatch(text))}
        if len(found) != 1:
            return None
        named = next(iter(found.values())).groupdict()
        return WorkOrderScan(order=named["order"], product=named["product"])


def _scan(reading: Reading) -> Scan:
    match reading:
        case TimeLabelRead(label=label):
            seen = SeenLabel(
                label.print_number,
                label.thaw_start,
                label.earliest_use,
                label.discard_by,
                label.open_life,
                label.paste_number,
                label.leaded,
                used_paste=label.governing is Limit.USED_PASTE,
            )
            return ContainerScan(reading.container, seen)
        case ContainerRead():
            return ContainerScan(reading.container)
        case CardRead(card=card):
            return CardScan(card)
        case BadgeRead(person=person):
            return BadgeScan(person)
        case TagRead(tag=TagKind.POSITION, id=name):
            return TagScan(name)
        case TagRead(tag=TagKind.PLACE, id=name):
            return PlaceScan(name)
        case TagRead(tag=tag, id=name):
            said = f"This is the tag of {tag.value} {name}. It is not needed here."
            return UnreadScan(name, said, "Scan the container.")
        case NotRead():
            return _unread(reading)


def _unread(reading: NotRead) -> UnreadScan:
    code, sentence = reading.faults[0]
    mend = (
        "Scan the label of the container again, the whole code in the light."
        if code == "prefix"
        else "Scan it again. If it fails again, type the number at the shift desk and print a new label."
    )
    return UnreadScan(reading.text, sentence, mend)
