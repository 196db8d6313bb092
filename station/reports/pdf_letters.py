"""Which fonts a report in PDF needs, and what is written for a letter that none of them has."""

from collections.abc import Iterable
from functools import cache
from unicodedata import bidirectional, name

from fontTools.ttLib import TTFont  # type: ignore[import-untyped]  # ships no stubs

from station.labels.resources import resource_path

FONT = "DejaVuSans"  # Latin, Greek, Cyrillic, Arabic, Hebrew, Armenian, Georgian
OTHERS = ("DroidSansFallback", "NotoSansThai-Regular")  # Chinese, Japanese and Korean; Thai
RIGHT_TO_LEFT = frozenset(("R", "AL"))
THAI = range(0x0E00, 0x0E80)  # vowels and tones stand over their consonant


class Letters:
    """The letters of a whole report: `fonts` beside the first one that it needs, whether any has to be `shaped`
    (joined, stacked or written from the right), and those that are `missing` everywhere, in order of their numbers."""

    def __init__(self, texts: Iterable[str]) -> None:
        """`texts` are all that will be written."""
        used: set[str] = set()
        for text in texts:
            used.update(text)
        used.discard("\n")
        beyond = {letter for letter in used if not letter.isprintable() or ord(letter) not in _known(FONT)}
        homes = {letter: _home(letter) for letter in beyond}
        self.fonts = tuple(font for font in OTHERS if font in homes.values())
        self.missing = sorted(letter for letter, font in homes.items() if not font)
        self.shaped = any(bidirectional(letter) in RIGHT_TO_LEFT or ord(letter) in THAI for letter in used)
        self._plain = frozenset(used - beyond)
        self._numbers = {ord(letter): number(letter) for letter in self.missing}

    def shown(self, text: str) -> str:
        """The text, with the number of each missing letter in its place; a line break stays one."""
        return text.translate(self._numbers) if self._numbers else text

    def named(self) -> tuple[str, ...]:
        """A line about each letter that is missing."""
        return tuple(
            f"{number(one)}: {name(one, 'a letter without a name')}, not in these fonts" for one in self.missing
        )

    def is_plain(self, text: str) -> bool:
        """Whether the first font alone writes a shown text, letter by letter from the left."""
        return text.isascii() or (not self.shaped and self._plain.issuperset(text))


def number(letter: str) -> str:
    """The Unicode number of a letter."""
    return f"[U+{ord(letter):04X}]"


def font_path(font: str) -> str:
    """The file of a font."""
    return str(resource_path("fonts", f"{font}.ttf"))


def _home(letter: str) -> str:
    """The further font that has a letter; nothing where none has."""
    if not letter.isprintable():
        return ""
    return next((font for font in OTHERS if ord(letter) in _known(font)), "")


@cache
def _known(font: str) -> frozenset[int]:
    with TTFont(font_path(font), lazy=True) as file:
        return frozenset(file.getBestCmap())
