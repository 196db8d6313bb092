"""What is on record of the pastes of one product, or of one order of it, and what of that holds.

A decision names those it takes the place of, as far as its writer had heard of them. What no other one took the place
of holds; where those are several, told apart, only what all of them allow. The settings of a station count here alone,
until an engineer decides; from then on only a file that says something new takes the place of a decision.
"""

from bisect import insort
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from station.care import facts as f
from station.care.clock_story import Order


@dataclass(frozen=True, slots=True)
class PasteList:
    """The pastes approved for a product, or for one `order` of it; `by` is None where the settings say so.

    `disputed` says that several decisions stand, told apart, and only what all of them allow is left.
    """

    product: str
    title: str
    pastes: tuple[str, ...]
    order: str
    note: str
    by: str | None
    at: datetime
    disputed: bool = False


@dataclass(frozen=True, slots=True)
class ToldList:
    """One list as it was told; `own` says that this station told it."""

    place: Order
    own: bool
    fact: f.Fact
    body: f.PasteListSet

    @property
    def by_hand(self) -> bool:
        """Whether an engineer decided it."""
        return self.fact.who is not None


Story = list[ToldList]


def hear(story: Story, fact: f.Fact, body: f.PasteListSet, *, own: bool) -> None:
    """Put a fact into its place in the story."""
    insort(story, ToldList(fact.order, own, fact, body), key=lambda told: told.place)


def said_here(story: Story) -> f.PasteListSet | None:
    """What this station's settings said last."""
    return next((told.body for told in reversed(story) if told.own and not told.by_hand), None)


def standing(story: Story) -> PasteList | None:
    """What holds here; None where nothing does, and for an order whose list was taken back."""
    held = heads(story)
    if not held or (held[-1].body.order and not any(told.body.pastes for told in held)):
        return None
    # to take back the list of an order says nothing against what it is built with
    said = [told.body.pastes for told in held if told.body.pastes or not told.body.order]
    pastes = tuple(paste for paste in said[-1] if all(paste in other for other in said))
    last, fact = held[-1].body, held[-1].fact
    disputed = len({frozenset(entry) for entry in said}) > 1
    return PasteList(last.product, last.title, pastes, last.order, last.note, fact.who, fact.at, disputed)


def heads(story: Story) -> Story:
    """Those that hold, the latest last: the settings' last word while no engineer decided anything."""
    if not any(told.by_hand for told in story):
        return [told for told in story if told.own][-1:]
    return _not_replaced(told for told in story if told.by_hand or (told.own and told.body.replaces))


def _not_replaced(among: Iterable[ToldList]) -> Story:
    told = list(among)
    replaced = {key for entry in told for key in entry.body.replaces}
    return [entry for entry in told if entry.fact.key not in replaced]


def to_replace(story: Story) -> tuple[str, ...]:
    """The keys of everything a decision of an engineer takes the place of, here and at stations with other settings."""
    engineers = _not_replaced(told for told in story if told.by_hand)
    return tuple(dict.fromkeys(told.fact.key for told in (*engineers, *heads(story))))


def replaced_by_file(story: Story, pastes: tuple[str, ...]) -> tuple[str, ...]:
    """What a file that now says these pastes takes the place of; nothing where that is no change an engineer has to
    heed: a station's first word, the same pastes as before, and what another station's file said before the decision.
    """
    held, said = heads(story), said_here(story)
    if not any(told.by_hand for told in held):
        return to_replace(story) if any(told.by_hand for told in story) else ()
    until = max(told.place for told in held if told.by_hand)
    elsewhere = (told.body.pastes for told in story if not (told.own or told.by_hand) and told.place < until)
    changed = said is not None and said.pastes != pastes and pastes not in elsewhere
    return to_replace(story) if changed else ()
