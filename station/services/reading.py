"""From what a scanner heard to what the rules decide on: labels, cards, badges, tags, then work orders."""

import re
import unicodedata
from collections.abc import Callable, Iterable
from datetime import date
from unicodedata import east_asian_width

from station.care.scans import (
    BadgeScan,
    BinScan,
    CardScan,
    ContainerScan,
    MakersLabelScan,
    PlaceScan,
    Scan,
    SeenLabel,
    StoreScan,
    TagScan,
    UnreadScan,
    WorkOrderScan,
)
from station.care.words import Limit
from station.labels.keys import KeyRing
from station.labels.plaincodes import BadgeRead, CardRead, KnownTexts, SetUpRead, TagKind, TagRead, known_texts
from station.labels.reading import ContainerRead, NotRead, Reading, TimeLabelRead, read_candidates, trimmed
from station.services.makers import makers_scan
from station.services.site import Site

# What a wrong layout makes of capitals and digits, as far as it stays in ASCII.
_GARBLED = re.compile(r"(?=.*[&\"'()_!?;])(?:[^\s/{}a-z]{6,}|[^\s/{}A-Z]{6,})")
_DIGITS_ALONE = re.compile(r"[-./: ]*[0-9][-./: 0-9]*")
_LAYOUT = "The scanner layout does not match this PC."
_SCAN_THE_CARD = "Scan the scanner set-up card once, then this code again."
TWO_MEANINGS = "This may be a work order or a maker's label, so it means nothing."
_CAPS_LOCK = "Caps Lock seems to be on: switch it off and scan again."
_INPUT_METHOD = "this PC's input method took the letters: switch it off and scan again."


class Reader:
    """Reads scans with one site's keys, its closed list of cards and tags, and its work-order pattern."""

    def __init__(self, site: Site, keys: KeyRing, today: Callable[[], date] | None = None) -> None:
        """Build the closed list of the settings. Makers' labels are read where `today`, the plant's day, is told."""
        self._today = today
        self.keys = keys
        self._site = site
        self.know(())
        self._work_order = re.compile(site.work_order_pattern)

    def know(self, people: Iterable[str]) -> None:
        """Take the badges of these people into the closed list, besides those of the settings."""
        site = self._site
        self.known: KnownTexts = known_texts(
            people=sorted({*people, *(person.id for person in site.people)}),
            positions=site.plant.positions,
            bins=[bin_.id for store in site.plant.stores.values() for bin_ in store.bins],
            stores=site.plant.stores,
            places=[place.id for place in site.places],
        )

    def read(self, candidates: Iterable[str]) -> Scan:
        """The one meaning of a scan heard as these candidate texts.

        The first is the text as it came; Caps Lock is undone for that one, whoever gives no other.
        """
        return self.heard(candidates)[0]

    def heard(self, candidates: Iterable[str]) -> tuple[Scan, bool]:
        """As `read`; also whether what the keyboard made of it had to be put right, which a person should know."""
        whole = tuple(candidates)
        texts = tuple(dict.fromkeys(map(trimmed, whole)))
        reading = read_candidates((*texts, *(text.swapcase() for text in texts[:1])), self.keys, self.known)
        if isinstance(reading, NotRead):
            return self._of_others(reading, whole, texts) or _unread(reading), False
        return _scan(reading), reading.healed

    def _of_others(
        self, reading: NotRead, whole: tuple[str, ...], texts: tuple[str, ...]
    ) -> WorkOrderScan | MakersLabelScan | UnreadScan | None:
        """What another made: a work order, or a maker's label, which is read with all that the scanner sent."""
        order = self._work_order_scan(texts)
        if self._today is None or reading.faults[0][0] != "prefix":
            return order
        made = makers_scan(whole, self._site.makers, self._today())
        if order is not None and isinstance(made, MakersLabelScan):
            return UnreadScan(reading.text, TWO_MEANINGS, "Tell the process engineer: one of the patterns is too wide.")
        return order or made

    def _work_order_scan(self, texts: tuple[str, ...]) -> WorkOrderScan | None:
        # the same letter may be sent as one character or as two; lists are kept under the one
        composed = (unicodedata.normalize("NFC", text) for text in texts)
        found = {match.groups(): match for text in composed if (match := self._work_order.fullmatch(text))}
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
        case TagRead(tag=TagKind.BIN, id=name):
            return BinScan(name)
        case TagRead(id=name):
            return StoreScan(name)
        case SetUpRead():
            return UnreadScan("", "This is the scanner set-up card; it came through right.", "Scan the container.")
        case NotRead():
            return _unread(reading)


def _unread(reading: NotRead) -> UnreadScan:
    sentence, mend = _garbled(reading) or _refused(reading)
    return UnreadScan(reading.text, sentence, mend)


def _refused(reading: NotRead) -> tuple[str, str]:
    code, sentence = reading.faults[0]
    if code == "prefix":
        return sentence, "Scan the label of the container again, the whole code in the light."
    if code != "signature" and _is_small(reading.text):
        return sentence, _CAPS_LOCK
    return sentence, "Scan it again. If it fails again, type the number at the shift desk and print a new label."


def _garbled(reading: NotRead) -> tuple[str, str] | None:
    """What the PC did to the scan, as far as its text tells, and how to mend it; None if it is no garbled one."""
    code, text = reading.faults[0][0], reading.text
    if code not in ("prefix", "alphabet", "check"):
        return None
    if any(east_asian_width(character) in "WF" for character in text):
        return "The letters of this scan were changed on the way.", f"Most likely {_INPUT_METHOD}"
    if not text.isascii() or _GARBLED.fullmatch(text):
        caps = f"{_CAPS_LOCK} If that is not it: s" if _is_small(text) else "S"
        return _LAYOUT, caps + _SCAN_THE_CARD[1:]
    if _DIGITS_ALONE.fullmatch(text):
        return "Only digits came through.", f"If the code has letters, {_INPUT_METHOD}"
    return None


def _is_small(text: str) -> bool:
    letters = [character for character in text if character.isalpha()]
    return bool(letters) and all(character.islower() for character in letters)
