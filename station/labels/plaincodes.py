"""Unsigned codes: command cards, badges and tags, and the card that sets a scanner up.

Each is a prefix, the thing's id in capitals and one check character; the set-up card has a text of its own. One
check character alone would let one misread in 36 pass, so a text counts only if it stands on the closed list of
texts this site has printed. Texts keep to the 45 characters of QR's alphanumeric mode (ISO/IEC 18004); the check
character runs over its letters and digits.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import TypeAlias

from station.care.words import Card
from station.labels.checkdigit import check_character, checks, in_alphabet
from station.labels.faults import LabelFault

QR_CHARACTERS = frozenset("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:")
CARD_PREFIX = "D1"
BADGE_PREFIX = "P1"
# A scan by keyboard is told from typing by a run of six quick keys, so no code may be as short as that. The dot is the
# one sign that the usual European keyboards write at the same place as a US one.
SHORTEST_ID = 5
PADDING = "."

SET_UP_PREFIX = "U1"
SET_UP_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"
SET_UP_SIGNS = "$%*+-./:"


class TagKind(StrEnum):
    """What a tag is fixed to."""

    POSITION = "position"
    BIN = "bin"
    STORE = "store"
    PLACE = "place"

    @property
    def prefix(self) -> str:
        """First two characters of the tag's text."""
        return {TagKind.POSITION: "L1", TagKind.BIN: "B1", TagKind.STORE: "S1", TagKind.PLACE: "A1"}[self]


PREFIXES = frozenset({CARD_PREFIX, BADGE_PREFIX, SET_UP_PREFIX, *(kind.prefix for kind in TagKind)})


@dataclass(frozen=True, slots=True)
class CardRead:
    """A command card was read."""

    card: Card
    healed: bool = False
    kind = "card"

    @property
    def fields(self) -> dict[str, str]:
        """For machine-readable answers."""
        return {"card": self.card.value}


@dataclass(frozen=True, slots=True)
class BadgeRead:
    """A person's badge was read."""

    person: str
    healed: bool = False
    kind = "badge"

    @property
    def fields(self) -> dict[str, str]:
        """For machine-readable answers."""
        return {"person": self.person}


@dataclass(frozen=True, slots=True)
class TagRead:
    """The tag of a stencil position, bin, store or place was read."""

    tag: TagKind
    id: str
    healed: bool = False
    kind = "tag"

    @property
    def fields(self) -> dict[str, str]:
        """For machine-readable answers."""
        return {"tag": self.tag.value, "id": self.id}


@dataclass(frozen=True, slots=True)
class SetUpRead:
    """The scanner set-up card was read."""

    healed: bool = False
    kind = "set-up"

    @property
    def fields(self) -> dict[str, str]:
        """For machine-readable answers."""
        return {}


PlainRead: TypeAlias = CardRead | BadgeRead | TagRead


def card_text(card: Card) -> str:
    """The text printed on a command card."""
    return _text(CARD_PREFIX, card.value)


def badge_text(person_id: str) -> str:
    """The text printed on a person's badge; LabelFault "alphabet" for an id a code cannot carry."""
    return _text(BADGE_PREFIX, person_id)


def tag_text(kind: TagKind, id_: str) -> str:
    """The text printed on a tag; LabelFault "alphabet" for an id a code cannot carry."""
    return _text(kind.prefix, id_)


def set_up_text() -> str:
    """The text printed on the scanner set-up card: all 45 characters of QR's alphanumeric mode, 90 in all.

    Letters and digits stand twice, the second time backwards, so that what came through whole is known by its shape
    whatever each character became. A blank follows each sign, for a dead key to spend itself on. 90 characters are
    what a version 4 symbol holds at level M (ISO/IEC 18004).
    """
    signs = "".join(f"{sign} " for sign in SET_UP_SIGNS)
    return f"{SET_UP_PREFIX}{SET_UP_LETTERS}{signs}{SET_UP_LETTERS[::-1]}"


@dataclass(frozen=True, slots=True)
class KnownTexts:
    """The closed list: every plain text this site has printed, and what it means."""

    meaning: Mapping[str, PlainRead]


def known_texts(
    people: Iterable[str] = (),
    positions: Iterable[str] = (),
    bins: Iterable[str] = (),
    stores: Iterable[str] = (),
    places: Iterable[str] = (),
) -> KnownTexts:
    """The closed list of a site: all command cards, and the badges and tags of these ids.

    LabelFault "field" for two ids that differ only by case, since codes are case-blind.
    """
    meaning: dict[str, PlainRead] = {card_text(card): CardRead(card) for card in Card}
    for person in people:
        _add(meaning, badge_text(person), BadgeRead(person))
    tags = {TagKind.POSITION: positions, TagKind.BIN: bins, TagKind.STORE: stores, TagKind.PLACE: places}
    for kind, ids in tags.items():
        for id_ in ids:
            _add(meaning, tag_text(kind, id_), TagRead(kind, id_))
    return KnownTexts(MappingProxyType(meaning))


def read_plain(text: str, known: KnownTexts) -> PlainRead | SetUpRead:
    """What a plain text means; LabelFault "prefix", "check" or "unknown" if it is not on the closed list.

    The set-up card is the same at every site and needs no list.
    """
    if text == set_up_text():
        return SetUpRead()
    if text[:2] not in PREFIXES:
        raise LabelFault("prefix", "This is no command card, badge or tag of this site.")
    found = known.meaning.get(text)
    if found is not None:
        return found
    if not checks(_countable(text)):
        raise LabelFault("check", "A character of this card or tag was read wrongly. Scan it again.")
    raise LabelFault("unknown", "This card, badge or tag is not on this site's list. Print one that is.")


def _text(prefix: str, id_: str) -> str:
    text = prefix + id_.upper().ljust(SHORTEST_ID, PADDING)
    if not id_ or not id_.isascii() or id_ != id_.strip() or not QR_CHARACTERS.issuperset(text):
        raise LabelFault(
            "alphabet", f"The id {id_!r} cannot be printed as a code: use letters A-Z, digits and - . / : only."
        )
    return text + check_character(_countable(text))


def _countable(text: str) -> str:
    return "".join(character for character in text if in_alphabet(character))


def _add(meaning: dict[str, PlainRead], text: str, read: PlainRead) -> None:
    earlier = meaning.setdefault(text, read)
    if earlier != read:
        raise LabelFault("field", f"{read.fields} and {earlier.fields} differ only by case. Rename one of them.")
