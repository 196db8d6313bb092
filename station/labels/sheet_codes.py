"""Every plain code of a site as a card to print: its name, its text, and what it does in one sentence."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from station.care.saying import spot
from station.care.words import Card
from station.labels.plaincodes import BadgeRead, CardRead, KnownTexts, PlainRead, TagKind, TagRead, set_up_text

DOES: Mapping[Card, str] = {
    Card.LOOKS_GOOD: "After the opening check: the paste looks good and may be used.",
    Card.LOOKS_BAD: "After the opening check: the paste looks bad and goes on hold.",
    Card.EMPTY: "The container just scanned is empty; its life ends.",
    Card.DISCARD: "The container just scanned goes to the paste waste.",
    Card.HOLD: "The container just scanned goes on hold until a shift lead releases it.",
    Card.REMOVE: "The bead at this position was scraped off.",
    Card.CARRY_OVER: "The bead goes on to the next job or stencil; its clock goes on too.",
    Card.CLEANED: "Stencil, blades and tools at this position were cleaned.",
    Card.PAUSE: "Printing pauses here; no clock stops.",
    Card.RESUME: "Printing goes on here after a pause.",
    Card.SAME_BEAD: "Answers the question at the printer: the bead that lay there before.",
    Card.NEW_BEAD: "Answers the question at the printer: a new bead.",
    Card.UNDO: "Takes back the last act, within a few minutes of it.",
    Card.LOOK: "Shows what is next scanned and changes nothing.",
    Card.SILENCE: "Silences the alarms that sound; they stay open.",
    Card.REPRINT: "Prints the label of the container just scanned again.",
    Card.MIXED: "The container just scanned was run in the mixing machine.",
    Card.DECANT: "Paste of the container just scanned was filled into another one.",
    Card.KEEP_USED: "The bead just removed is kept in a jar of its own.",
    Card.DISMOUNT: "The cartridge was taken off the dispenser.",
    Card.MOVED_HERE: "It came from another store and stays in this one.",
    Card.TAKEN_OUT: "It came out of another store and warms up now.",
    Card.MOVE: "What is scanned just before it, or next, leaves for another store.",
}
TAGGED = {
    TagKind.POSITION: ("Position tag", "Says that the next scan is about this position."),
    TagKind.BIN: ("Bin tag", "Names this bin of a store."),
    TagKind.STORE: ("Store tag", "Names this store."),
    TagKind.PLACE: ("Place tag", "Makes the station work at this place."),
}


@dataclass(frozen=True, slots=True)
class SheetCode:
    """One card of a sheet. `sort` groups cards that are cut and handed out together."""

    sort: str
    kind: str
    name: str
    text: str
    does: str


SORTS = ("card", "badge", "position", "bin", "store", "place", "set-up")
SET_UP = SheetCode(
    "set-up",
    "Scanner set-up card",
    "SCANNER SET-UP",
    set_up_text(),
    "Scan it once where a scanner types wrong characters: the station then knows how this PC writes them.",
)


@dataclass(frozen=True, slots=True)
class Titles:
    """How the site calls people and places, by id; an id without a title stands for itself."""

    people: Mapping[str, str]
    stores: Mapping[str, str]
    places: Mapping[str, str]
    bin_notes: Mapping[str, str]


def sheet_codes(known: KnownTexts, titles: Titles, sorts: Iterable[str] = ()) -> tuple[SheetCode, ...]:
    """A card for every text of the closed list and the set-up card, of these `sorts` or of all, in that order."""
    wanted = frozenset(sorts)
    found = (*(_card(text, read, titles) for text, read in known.meaning.items()), SET_UP)
    return tuple(code for code in found if not wanted or code.sort in wanted)


def all_sorts(codes: Iterable[SheetCode]) -> Iterator[tuple[str, tuple[SheetCode, ...]]]:
    """The cards of each sort."""
    by_sort: dict[str, list[SheetCode]] = {}
    for code in codes:
        by_sort.setdefault(code.sort, []).append(code)
    return ((sort, tuple(found)) for sort, found in by_sort.items())


def _card(text: str, read: PlainRead, titles: Titles) -> SheetCode:
    match read:
        case CardRead(card=card):
            return SheetCode("card", "Command card", card.value.replace("-", " "), text, DOES[card])
        case BadgeRead(person=person):
            name = titles.people.get(person, person)
            return SheetCode("badge", "Badge", name, text, "Signs this person in at the station where it is scanned.")
        case TagRead(tag=tag, id=name):
            return _tag(text, tag, name, titles)


def _tag(text: str, tag: TagKind, name: str, titles: Titles) -> SheetCode:
    kind, does = TAGGED[tag]
    match tag:
        case TagKind.POSITION:
            shown = spot(name).upper()
        case TagKind.BIN:
            shown = f"BIN {name}"
            does = " ".join(part for part in (does, titles.bin_notes.get(name, "")) if part)
        case TagKind.STORE:
            shown = titles.stores.get(name, name)
        case TagKind.PLACE:
            shown = titles.places.get(name, name)
    return SheetCode(tag.value, kind, shown, text, does)
