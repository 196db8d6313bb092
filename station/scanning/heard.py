"""A scan as it was heard, the texts it may stand for, and the choice between them that never guesses."""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Generic, TypeVar

from .layouts import healed, swap_case, undo

Reading = TypeVar("Reading")

_SYMBOLOGY = re.compile(r"\][A-Za-z][0-9A-Za-z]")
_SEPARATORS = "\x1d"


@dataclass(frozen=True, slots=True)
class HeardScan:
    """One scan, whole.

    `text` is what this PC's layout made of the keys. `by_place` is what a US keyboard writes at the same
    places, or None if a key came without its place (input method, some platforms). Both hold control
    characters such as GS.
    """

    text: str
    by_place: str | None

    @property
    def is_empty(self) -> bool:
        """True if neither reading holds anything but blanks and separators."""
        return not self.text.strip() and not (self.by_place or "").strip()

    @property
    def symbology(self) -> str | None:
        """The symbology identifier the scanner put in front (ISO/IEC 15424, for example "]Q1"), or None."""
        return next(filter(None, (split_prefix(text)[0] for text in (self.by_place, self.text) if text)), None)


def split_prefix(text: str) -> tuple[str | None, str]:
    """The symbology identifier in front of `text`, or None, and the data without it and without leading GS."""
    bare = text.lstrip(_SEPARATORS)
    match = _SYMBOLOGY.match(bare)
    if match is None:
        return None, bare
    return match.group(), bare[match.end() :].lstrip(_SEPARATORS)


def candidates(heard: HeardScan, taught: Mapping[str, str] | None = None, *, whole: bool = False) -> tuple[str, ...]:
    """The distinct texts a scan may stand for, in order: as typed, by key place, then each with its case swapped.

    Then what the set-up card has `taught` (written character -> meant character), and without key places the
    layout tables. Symbology identifier and leading separators are taken off, unless the `whole` texts are wanted.
    """
    readings = [heard.text] if heard.by_place is None else [heard.text, heard.by_place]
    texts = [*readings, *map(swap_case, readings)]
    if taught:
        texts += filter(None, (undo(taught, text) for text in (heard.text, swap_case(heard.text))))
    if heard.by_place is None:
        texts += [candidate.text for candidate in healed(heard.text)]
    if whole:
        return tuple(dict.fromkeys(text for text in texts if split_prefix(text)[1]))
    return tuple(dict.fromkeys(text for text in (split_prefix(text)[1] for text in texts) if text))


@dataclass(frozen=True, slots=True)
class Choice(Generic[Reading]):
    """What a reader made of the candidates: all distinct readings, and the text that first gave each of them."""

    readings: tuple[Reading, ...]
    texts: tuple[str, ...]

    @property
    def reading(self) -> Reading | None:
        """The one reading, or None if there was none or more than one: between two, nobody guesses."""
        return self.readings[0] if len(self.readings) == 1 else None

    @property
    def text(self) -> str | None:
        """The candidate that gave the one reading, or None."""
        return self.texts[0] if len(self.texts) == 1 else None

    @property
    def is_ambiguous(self) -> bool:
        """True if different candidates gave different readings."""
        return len(self.readings) > 1


def choose(heard: HeardScan, reader: Callable[[str], Reading | None]) -> Choice[Reading]:
    """Try `reader` on every candidate of `heard`; it returns a reading, or None for a text it does not accept."""
    return choose_among(candidates(heard), reader)


def choose_among(texts: Iterable[str], reader: Callable[[str], Reading | None]) -> Choice[Reading]:
    """Try `reader` on every text and keep the distinct readings (by equality), in order."""
    readings: list[Reading] = []
    sources: list[str] = []
    for text in texts:
        reading = reader(text)
        if reading is not None and reading not in readings:
            readings.append(reading)
            sources.append(text)
    return Choice(tuple(readings), tuple(sources))
