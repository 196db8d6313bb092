"""What a PC makes of a scanner set to a US keyboard: layouts, locks, lost Shift, keypad digits, dead keys.

The tables of the layouts are those under test; `test_layouts` holds them against xkb-data. Which accent a dead key
bears is written out here, from xkb-data (symbols de and ch).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from random import Random
from unicodedata import normalize

from station.scanning import layouts
from station.scanning.layouts import LAYOUTS, swap_case
from station.scanning.places import US_SHIFTED, US_UNSHIFTED

_WRITTEN = {"US": (US_UNSHIFTED, US_SHIFTED), **layouts._WRITTEN}
_ACUTE, _GRAVE, _CIRCUMFLEX = ("´", "\u0301"), ("`", "\u0300"), ("^", "\u0302")
_ACCENTS = {"DE": (_ACUTE, _GRAVE), "CH": (_CIRCUMFLEX, _GRAVE)}  # of the one key of our alphabet that is dead, `= +`
_OTHER_ACCENTS = (_CIRCUMFLEX, _GRAVE)  # keys no code of ours needs: any accent will do
_KEY = {character: (place, 0) for place, character in enumerate(US_UNSHIFTED)} | {
    character: (place, 1) for place, character in enumerate(US_SHIFTED)
}
KINDS = ("plain", "Caps Lock of letters", "Caps Lock of all keys", "Shift lost", "keypad", "keypad and Caps Lock")
"""Caps Lock turns letters on X11 and most of Windows, all keys on French and German Windows (from memory)."""
COMPOSING = ("X11", "Windows")
"""What becomes of an accent that does not fit the next letter: X11 drops both, Windows writes both (from memory)."""


@dataclass(frozen=True)
class Garble:
    """One way a PC garbles a scan."""

    layout: str
    kind: str
    composing: str

    def __str__(self) -> str:
        """For the names of tests."""
        return f"{self.layout}, {self.kind}, {self.composing}"

    def of(self, text: str) -> str:
        """What arrives of `text`; what a US keyboard can not write stays as it is."""
        arrived, accent = "", None
        for character in text:
            written, next_accent = self._key(character)
            if accent is not None:
                written = self._composed(accent, written)
            arrived, accent = arrived + written, next_accent
        if accent is not None and self.composing == "Windows":
            arrived += accent[0]
        return swap_case(arrived) if self.kind in ("Caps Lock of letters", "keypad and Caps Lock") else arrived

    def _key(self, character: str) -> tuple[str, tuple[str, str] | None]:
        if character not in _KEY or (self.kind.startswith("keypad") and character.isdigit()):
            return character, None
        place, level = _KEY[character]
        level = {"Shift lost": 0, "Caps Lock of all keys": 1 - level}.get(self.kind, level)
        written = _WRITTEN[self.layout][level][place]
        return ("", _ACCENTS.get(self.layout, _OTHER_ACCENTS)[level]) if written == "\0" else (written, None)

    def _composed(self, accent: tuple[str, str], written: str) -> str:
        alone, combining = accent
        if written == " ":
            return alone
        merged = normalize("NFC", written + combining)
        if len(merged) == 1 and written:
            return merged
        return alone + written if self.composing == "Windows" else ""


GARBLES = tuple(
    Garble(layout, kind, composing)
    for layout, kind, composing in product(("US", *LAYOUTS), KINDS, COMPOSING)
    if (layout, kind) != ("US", "Caps Lock of all keys")  # no United States keyboard has that lock
)
# Without a sign there is no dead key, so the two ways of composing are one.
GARBLES_OF_LETTERS = tuple(garble for garble in GARBLES if garble.composing == "X11")


def random_texts(random: Random, alphabet: str, count: int, shortest: int, longest: int) -> Iterator[str]:
    """Random texts of an alphabet."""
    for _ in range(count):
        yield "".join(random.choices(alphabet, k=random.randint(shortest, longest)))
