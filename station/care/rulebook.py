"""What is on record of specifications and of the pastes of products: what is in force, drafts, and who said so.

Grows with the ledger; the same facts in any order give the same rules. Contents approved where nobody heard of the
other are both in force: figure by figure the stricter one holds, until a newer version takes the place of both.
"""

from dataclasses import dataclass, replace
from datetime import datetime

from station.care import facts as f
from station.care import paste_story
from station.care.clock_story import Order
from station.care.list_story import PasteList, Story, hear, said_here, standing
from station.care.spec_story import SpecificationStory
from station.care.specification import Paste, Plant, Product, Specification

ListKey = tuple[str, str]


@dataclass(frozen=True, slots=True)
class OpenDraft:
    """A version that waits for its approval, named by the `key` of its fact; `paste` where the site knows none yet."""

    key: str
    specification: Specification
    paste: Paste | None
    explanation: str
    source: str
    writer: str
    at: datetime


@dataclass(frozen=True, slots=True)
class Approval:
    """Who put the version in force; `by` is None where it came out of the settings. `explanation` is the draft's."""

    version: int
    by: str | None
    at: datetime
    explanation: str


class Rulebook:
    """Everything of specifications and paste lists that the ledger has heard."""

    def __init__(self) -> None:
        """Nothing was said yet."""
        self.specifications: dict[str, Specification] = {}
        self.versions: dict[tuple[str, int], Specification] = {}
        self.lists: dict[ListKey, PasteList] = {}
        self.lists_said: dict[str, f.PasteListSet] = {}  # as this station's settings last had them
        self._stories: dict[str, SpecificationStory] = {}
        self._pastes: dict[str, paste_story.Story] = {}
        self._drafted: dict[str, f.Fact] = {}
        self._closed: set[str] = set()
        self._list_stories: dict[ListKey, Story] = {}
        self._plant: tuple[Plant, Plant] | None = None

    def copied(self) -> "Rulebook":
        """A book of its own with all that this one has heard."""
        twin = Rulebook()
        for name in ("specifications", "versions", "lists", "lists_said", "_drafted"):
            setattr(twin, name, getattr(self, name).copy())
        twin._closed = self._closed.copy()
        twin._list_stories = {key: story.copy() for key, story in self._list_stories.items()}
        twin._stories = {paste: story.copied() for paste, story in self._stories.items()}
        twin._pastes = {paste: told.copy() for paste, told in self._pastes.items()}
        return twin

    def note(self, fact: f.Fact, *, own: bool) -> None:
        """Take in a fact; `own` says that this station's clock dated it. What says nothing of rules changes nothing."""
        match fact.body:
            case f.SpecificationSet():
                self._set(fact, fact.body, own=own)
            case f.SpecificationDrafted():
                self._drafted[fact.key] = fact
                self._closed.update({fact.body.replaces} - {""})
            case f.DraftWithdrawn():
                self._closed.add(fact.body.draft)
            case f.PasteListSet():
                self._listed(fact, fact.body, own=own)

    # ------------------------------------------------------------------ specifications

    def _set(self, fact: f.Fact, body: f.SpecificationSet, *, own: bool) -> None:
        self._plant = None
        paste = body.specification.paste
        story = self._stories.setdefault(paste, SpecificationStory())
        story.hear(fact, body)
        self._closed.update({body.draft} - {""})
        paste_story.hear(self._pastes.setdefault(paste, []), fact, body, own=own)
        for version, content in story.versions().items():
            self.versions[paste, version] = self._approved(content)
        self.specifications[paste] = self._approved(story.in_force)

    def _approved(self, content: Specification) -> Specification:
        """A content as it holds; of a paste whose metal is in dispute none is approved."""
        return replace(content, approved_by=None) if self.metal_disputed(content.paste) else content

    def told_of(self, paste: str) -> SpecificationStory | None:
        """Everything that was told of the specification of a paste; nobody may change it."""
        return self._stories.get(paste)

    def in_force_since(self, specification: Specification) -> Order | None:
        """Where in the order a content came into force; None for figures that are not in force."""
        story = self._stories.get(specification.paste)
        return story.since(specification) if story is not None else None

    def in_force_from(self, paste: str, order: Order) -> tuple[Specification, ...]:
        """What was in force for a paste at a place in the order, and all that was since, each as it held then."""
        return self._stories[paste].since_place(order)

    def to_replace(self, paste: str) -> tuple[str, ...]:
        """The keys of everything a content approved now takes the place of."""
        story = self._stories.get(paste)
        return tuple(one.fact.key for one in story.holding) if story is not None else ()

    def approval(self, paste: str) -> Approval | None:
        """Who put in force what is: an engineer at the desk where one did, else the settings that were first to."""
        story = self._stories.get(paste)
        newest = story.newest if story is not None else []
        by_hand = [one for one in newest if one.by_hand]
        for one in (by_hand or newest)[:1]:
            return Approval(one.version, one.fact.who, one.fact.at, self._explained(one.body))
        return None

    def _explained(self, body: f.SpecificationSet) -> str:
        draft = self._drafted.get(body.draft)
        return draft.body.explanation if draft is not None and isinstance(draft.body, f.SpecificationDrafted) else ""

    def metal_disputed(self, paste: str) -> bool:
        """Whether a paste was told as two different ones, at the desk or by settings; none of it is approved then."""
        return paste_story.disputed(self.pastes_told(paste))

    def pastes_told(self, paste: str) -> paste_story.Story:
        """Everything that was told of what a paste is, in fold order; nobody may change it."""
        return self._pastes.get(paste, [])

    def disputed(self, paste: str) -> bool:
        """Whether the version in force was told with other contents, apart; the stricter figures hold."""
        story = self._stories.get(paste)
        return story is not None and story.disputed

    # ------------------------------------------------------------------ drafts

    @property
    def drafts(self) -> tuple[OpenDraft, ...]:
        """The drafts nobody approved, withdrew or replaced, the oldest first."""
        waiting = (fact for key, fact in self._drafted.items() if key not in self._closed)
        return tuple(
            OpenDraft(
                fact.key,
                fact.body.specification,
                fact.body.paste,
                fact.body.explanation,
                fact.body.source,
                fact.who or "",
                fact.at,
            )
            for fact in sorted(waiting, key=lambda one: one.order)
            if isinstance(fact.body, f.SpecificationDrafted)
        )

    def draft(self, key: str) -> OpenDraft | None:
        """The open draft of a key."""
        return next((draft for draft in self.drafts if draft.key == key), None)

    # ------------------------------------------------------------------ products

    def _listed(self, fact: f.Fact, body: f.PasteListSet, *, own: bool) -> None:
        self._plant = None
        key = (body.product, body.order)
        story = self._list_stories.setdefault(key, [])
        hear(story, fact, body, own=own)
        said, held = said_here(story), standing(story)
        if said is not None:
            self.lists_said[body.product] = said
        self.lists.pop(key, None)
        if held is not None:
            self.lists[key] = held

    def list_story(self, product: str, order: str = "") -> Story:
        """Everything that was told of a list, in fold order; nobody may change it."""
        return self._list_stories.get((product, order), [])

    def into(self, plant: Plant) -> Plant:
        """The plant of the settings with what was added and decided at the desk; itself where nothing was."""
        if self._plant is None or self._plant[0] is not plant:
            self._plant = (plant, self._merged(plant))
        return self._plant[1]

    def _merged(self, plant: Plant) -> Plant:
        pastes = {**plant.pastes, **self._brought_in(plant)}
        products = dict(plant.products)
        for (product, order), told in self.lists.items():
            if order:
                continue
            products.pop(product, None)
            if told.pastes:
                products[product] = Product(product, told.title, told.pastes)
        if pastes == plant.pastes and products == plant.products:
            return plant
        return replace(plant, pastes=pastes, products=products)

    def _brought_in(self, plant: Plant) -> dict[str, Paste]:
        """The pastes the desk brought in. What the settings say of one beside what it is, such as a price, holds."""
        first = {name: next((one.paste for one in told if one.by_hand), None) for name, told in self._pastes.items()}
        return {name: _as_approved(paste, plant.pastes.get(name)) for name, paste in first.items() if paste is not None}


def _as_approved(approved: Paste, listed: Paste | None) -> Paste:
    if listed is None:
        return approved
    return replace(
        listed,
        number=approved.number,
        part_number=approved.part_number,
        alloy=approved.alloy,
        flux_class=approved.flux_class,
        powder_type=approved.powder_type,
        storage=approved.storage,
    )
