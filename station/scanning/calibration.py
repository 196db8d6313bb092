"""Learning any keyboard layout from one scan of the set-up card.

The card's text is known, so what arrives at a character's place is what this PC makes of that character. That it is
the card at all shows in its shape, not in its characters, which may all have changed. Nothing half understood is
learned: of two characters that arrive as one and the same nobody can say which was meant.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from station.labels.plaincodes import SET_UP_LETTERS, SET_UP_PREFIX, SET_UP_SIGNS, set_up_text

from .heard import HeardScan, split_prefix

_CARD = set_up_text()
_LETTERS_FROM = len(SET_UP_PREFIX)
_SIGNS_FROM = _LETTERS_FROM + len(SET_UP_LETTERS)
_TELLING = 5  # characters at both ends that must mirror each other before a text is taken for the card
_SHORTEST = len(_CARD) // 2
_SYMBOLOGY_LENGTH = 3


@dataclass(frozen=True, slots=True)
class Taught:
    """What one scan of the set-up card taught: this PC writes `written[i]` where the scanner means `meant[i]`.

    `dead` are the signs whose keys write nothing by themselves here; codes that carry one can not be healed. All
    three are empty where key places alone were understood: then the layout does not matter.
    """

    meant: str
    written: str
    dead: str = ""

    @property
    def sentence(self) -> str:
        """What was learned, for the person who scanned the card."""
        others = sum(got != want for got, want in zip(self.written, self.meant, strict=True))
        learned = f"{others} characters arrive as others on this PC; they are put right from now on."
        dead = f" Codes with {' '.join(self.dead)} can't be put right: avoid them in ids." if self.dead else ""
        small = " Letters arrive small: if Caps Lock is on, switch it off." if self.letters_are_small else ""
        return (learned if others else "The scanner fits this PC as it is.") + dead + small

    @property
    def letters_are_small(self) -> bool:
        """True if every letter arrived as a small one, as Caps Lock makes them."""
        letters = [character for character in self.written if character.isalpha()]
        return bool(letters) and all(character.islower() for character in letters)


@dataclass(frozen=True, slots=True)
class NotTaught:
    """The set-up card was scanned and can't be learned from. `sentence` says why, `mend` what to do about it."""

    sentence: str
    mend: str


def lesson(heard: HeardScan) -> Taught | NotTaught | None:
    """What a scan teaches, or None if it is not the set-up card."""
    texts = (split_prefix(heard.text)[1], heard.text[_SYMBOLOGY_LENGTH:])
    found = [_compared(text.strip()) for text in texts if _has_its_shape(text.strip())]
    taught = next((entry for entry in found if isinstance(entry, Taught)), None)
    if taught is not None:
        return taught
    if heard.by_place is not None and split_prefix(heard.by_place)[1].strip() == _CARD:
        return Taught("", "")
    return found[0] if found else None


def table_of(meant: str, written: str) -> Mapping[str, str]:
    """What undoes a taught layout: written character -> meant character. ValueError for unequal lengths."""
    return dict(zip(written, meant, strict=True))


def _has_its_shape(text: str) -> bool:
    """Whether the characters after the prefix stand at the end again, backwards, and all differ."""
    head = text[_LETTERS_FROM:][:_TELLING]
    return _SHORTEST <= len(text) <= len(_CARD) and head == text[: -_TELLING - 1 : -1] and len(set(head)) == _TELLING


def _compared(text: str) -> Taught | NotTaught:
    first, last = text[_LETTERS_FROM:_SIGNS_FROM], text[: -len(SET_UP_LETTERS) - 1 : -1]
    signs = _signs(text[_SIGNS_FROM : -len(SET_UP_LETTERS)])
    letters = dict(zip(SET_UP_LETTERS, first, strict=False))
    if first != last or signs is None or text[:_LETTERS_FROM] != letters["U"] + letters["1"]:
        return NotTaught(
            "The scanner set-up card did not come through whole: a character is missing or merged with the next.",
            "Scan it again. If it fails again, this PC has dead keys for letters or digits: choose a layout without.",
        )
    written = {**letters, **{sign: got for sign, got in signs.items() if got is not None}}
    for twins in _arriving_alike(written):
        return NotTaught(
            f"On the scanner set-up card {' and '.join(twins)} arrive as one and the same character.",
            "The scanner's Shift does not come through, or it is set to another kind of keyboard: set it to "
            "United States, then scan the card again.",
        )
    dead = "".join(sign for sign, got in signs.items() if got is None)
    return Taught("".join(written), "".join(written.values()), dead)


def _signs(text: str) -> dict[str, str | None] | None:
    """Sign -> what it became, None for a dead key that took the blank with it; None if they are not all there."""
    found: dict[str, str | None] = {}
    for sign in SET_UP_SIGNS:
        got, rest = text[:1], text[1:]
        found[sign] = got if rest.startswith(" ") else None
        text = rest.removeprefix(" ") if got else ""
        if not got:
            return None
    return None if text else found


def _arriving_alike(written: Mapping[str, str]) -> Iterator[list[str]]:
    writers: dict[str, list[str]] = defaultdict(list)
    for meant, got in written.items():
        writers[got].append(meant)
    yield from (meant for got, meant in writers.items() if len(meant) > 1 or got == " ")
