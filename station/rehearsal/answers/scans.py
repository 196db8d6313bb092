"""What is asked: scans one after the other, the last of which is the one that is answered.

Codes are those of the scripts, with `it` for the container asked about, `it#label`, `it#old` and `it#newer` for its
time labels, and POS for the position. `+5s` before a code says how long after the one before it; else it is a second.
"""

from dataclasses import dataclass

from station.care.words import Card


@dataclass(frozen=True, slots=True)
class Ask:
    """A scan by its name on the page, and all the codes up to it."""

    name: str
    codes: tuple[str, ...]

    @property
    def card(self) -> Card | None:
        """The command card that is answered, if it is one."""
        last = self.codes[-1]
        return Card(last) if last in tuple(Card) else None


CONTAINER = Ask("the container", ("it",))
AGAIN, LATER = Ask("again at once", ("it", "it")), Ask("again after 5 s", ("it", "+5s it"))
TIME_LABEL, OLD_LABEL = Ask("its time label", ("it#label",)), Ask("an old time label", ("it#old",))
NEWER_LABEL = Ask("a newer time label", ("it#newer",))
PAIRED = Ask("its identity label, then its time label", ("it", "it#label"))
OTHERS_FIRST = Ask("the identity label of one beside it, then its time label", ("other", "it#label"))
OTHERS_LAST = Ask("its time label, then the identity label of one beside it", ("it#label", "other"))
MOVED = Ask("MOVE, then the container", ("MOVE", "it"))
LOOKED_AT = Ask("LOOK, then the container", ("LOOK", "it"))
BY_LEAD = Ask("the container, with a shift lead signed in", ("badge:SHIFT-LEAD", "it"))
HELD_BY_LEAD = Ask("HOLD, with a shift lead signed in", ("badge:SHIFT-LEAD", "it", "HOLD"))
TAG_FIRST, TAG_AFTER = Ask("the tag, then the container", ("tag:POS", "it")), Ask("then the tag", ("it", "tag:POS"))

WORKERS = tuple(Ask(f"badge {name}", (f"badge:{name}",)) for name in ("OPERATOR", "SHIFT-LEAD", "LEFT", "NOBODY"))
TAGS = (
    Ask("a tag of another place", ("tag:3",)),
    Ask("a tag of no place here", ("tag:99",)),
    Ask("a tag of a bin", ("bin:A1",)),
    Ask("a tag of a store", ("store:FRIDGE",)),
)
OTHER_BINS = (Ask("then the tag of another bin", ("it", "bin:A3")), Ask("then that of a leaded bin", ("it", "bin:A2")))
OWN_TAG = Ask("the tag", ("tag:POS",))
ORDERS = (
    Ask("work order for the same paste", ("order:BOARD-A",)),
    Ask("work order for leaded paste", ("order:BOARD-B",)),
    Ask("work order for an unknown product", ("order:BOARD-Z",)),
)
MAKERS_LABEL = Ask("a maker's label", ("maker:A7Z0815",))
PLACE_CARD, UNREAD = Ask("a place card", ("place:DESK",)), Ask("a code nobody knows", ("unread:?",))


def _after(first: str, asks: tuple[Ask, ...]) -> tuple[Ask, ...]:
    return tuple(Ask(ask.name, (first, *ask.codes)) for ask in asks)


CARDS = tuple(Ask(card.value.replace("-", " "), (card.value,)) for card in Card)
PLAIN = (*CARDS, *WORKERS, *TAGS, *ORDERS, MAKERS_LABEL, PLACE_CARD, UNREAD)
"""What may be scanned without a container or a tag before it."""

AFTER_CONTAINER, AFTER_TAG = _after("it", PLAIN), _after("tag:POS", PLAIN)
OF_CONTAINER = (
    CONTAINER,
    AGAIN,
    LATER,
    TIME_LABEL,
    OLD_LABEL,
    NEWER_LABEL,
    PAIRED,
    OTHERS_FIRST,
    OTHERS_LAST,
    MOVED,
    LOOKED_AT,
    BY_LEAD,
    HELD_BY_LEAD,
    *OTHER_BINS,
    *AFTER_CONTAINER,
)
AT_POSITION = (TAG_FIRST, TAG_AFTER)
WITH_TAG = (TAG_FIRST, *(Ask(ask.name, ("tag:POS", *ask.codes)) for ask in (AGAIN, LATER, *_after("it", CARDS))))
"""A container at a position in every state, and the cards after it."""
