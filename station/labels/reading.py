"""From a scanned text to what it means. Tolerant of what scanners add, never guessing between two meanings."""

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TypeAlias

from station.labels import containercode, timecode
from station.labels.containercode import ContainerCode, container_id, unpack_container
from station.labels.faults import LabelFault
from station.labels.keys import KeyRing
from station.labels.plaincodes import PREFIXES, BadgeRead, CardRead, KnownTexts, SetUpRead, TagRead, read_plain
from station.labels.timecode import TimeLabel, unpack

# AIM symbology identifier (ISO/IEC 15424): "]", a code letter, a modifier. Caps Lock swaps the letter's case.
_SYMBOLOGY = re.compile(r"\A\][A-Za-z][0-9A-Za-z]")
GROUP_SEPARATOR = "\x1d"


@dataclass(frozen=True, slots=True)
class TimeLabelRead:
    """A time label with a good signature was read. `healed` says the text had to be mended first."""

    label: TimeLabel
    healed: bool = False
    kind = "time-label"

    @property
    def container(self) -> str:
        """The container's number, `K7-311`."""
        return container_id(self.label.station, self.label.counter)

    @property
    def fields(self) -> dict[str, str]:
        """For machine-readable answers: instants in ISO 8601 UTC, open life in hours."""
        label = self.label
        return {
            "container": self.container,
            "print": str(label.print_number),
            "thaw_start": _iso(label.thaw_start),
            "earliest_use": _iso(label.earliest_use),
            "discard_by": _iso(label.discard_by),
            "open_life_hours": str(label.open_life // timecode.HOUR),
            "paste_number": str(label.paste_number),
            "governing": label.governing.value,
            "leaded": "yes" if label.leaded else "no",
            "key": str(label.key_id),
        }


@dataclass(frozen=True, slots=True)
class ContainerRead:
    """An identity label with a good signature was read."""

    code: ContainerCode
    healed: bool = False
    kind = "container"

    @property
    def container(self) -> str:
        """The container's number, `K7-311`."""
        return container_id(self.code.station, self.code.counter)

    @property
    def fields(self) -> dict[str, str]:
        """For machine-readable answers."""
        return {"container": self.container, "key": str(self.code.key_id)}


@dataclass(frozen=True, slots=True)
class NotRead:
    """Nothing of ours. `faults` are (code, sentence); "prefix" alone: it may be another's code."""

    text: str
    faults: tuple[tuple[str, str], ...]
    healed: bool = False
    kind = "unknown"

    @property
    def fields(self) -> dict[str, str]:
        """What was read, for machine-readable answers."""
        return {"text": self.text}


Reading: TypeAlias = TimeLabelRead | ContainerRead | CardRead | BadgeRead | TagRead | SetUpRead | NotRead


def trimmed(text: str) -> str:
    """The text without what a scanner may add: white space, a leading symbology identifier or group separator."""
    return _SYMBOLOGY.sub("", text.strip().lstrip(GROUP_SEPARATOR), count=1).lstrip(GROUP_SEPARATOR).strip()


def read(text: str, keys: KeyRing, known: KnownTexts) -> Reading:
    """What a scanned text means, as it stands or with Caps Lock undone; NotRead with reasons otherwise."""
    bare = trimmed(text)
    return read_candidates((bare, bare.swapcase()), keys, known)


def read_candidates(candidates: Iterable[str], keys: KeyRing, known: KnownTexts) -> Reading:
    """The meaning if exactly one of these forms of one scan passes everything. The first is the scan as it came.

    Where none passes, the faults are those of the form that got furthest, the first form winning a draw.
    """
    texts = tuple(dict.fromkeys(candidates)) or ("",)
    readings = [read_exact(candidate, keys, known) for candidate in texts]
    good = [reading for reading in readings if not isinstance(reading, NotRead)]
    if len(good) == 1:
        return good[0] if good[0] is readings[0] else replace(good[0], healed=True)
    if good:
        sentence = "This scan could mean two things, so it means nothing. Set the scanner to this PC's keyboard."
        return NotRead(texts[0], (("ambiguous", sentence),))
    failed = [reading for reading in readings if isinstance(reading, NotRead)]
    furthest = max(failed, key=lambda reading: reading.faults[0][0] != "prefix")
    return NotRead(texts[0], furthest.faults)


def read_exact(text: str, keys: KeyRing, known: KnownTexts) -> Reading:
    """What exactly this text means, mending nothing."""
    try:
        return _read_by_prefix(text, keys, known)
    except LabelFault as fault:
        return NotRead(text, ((fault.code, fault.sentence),))


def _read_by_prefix(text: str, keys: KeyRing, known: KnownTexts) -> Reading:
    if not text:
        raise LabelFault("empty", "The scan was empty. Scan again.")
    if text.startswith(timecode.FRAME.prefix):
        return TimeLabelRead(unpack(text, keys))
    if text.startswith(containercode.FRAME.prefix):
        return ContainerRead(unpack_container(text, keys))
    if text[:2] in PREFIXES:
        return read_plain(text, known)
    raise LabelFault(
        "prefix", f"No code of this station begins like {text[:8]!r}. Scan the station's own label, card or tag."
    )


def _iso(instant: datetime) -> str:
    return instant.isoformat(timespec="minutes").replace("+00:00", "Z")
