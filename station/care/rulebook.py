"""What is on record of specifications and of the pastes of products: what is in force, drafts, and who said so.

Grows with the ledger; the same facts in any order give the same rules. Two contents of one version, approved where
nobody heard of the other, are both in force: figure by figure the stricter one holds, until a newer version.
"""

from bisect import insort
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime

from station.care import facts as f
from station.care.clock_story import Order
from station.care.list_story import PasteList, Story, hear, said_here, standing
from station.care.specification import Paste, Plant, Product, Specification
from station.care.specification_change import same_figures, stricter

ListKey = tuple[str, str]
_VersionTold = tuple[int, Order, f.Fact, Specification]


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
        self._told: dict[str, list[_VersionTold]] = {}  # by paste, the highest version last
        self._brought_in: dict[str, list[tuple[Order, Paste]]] = {}
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
        twin._told = {paste: told.copy() for paste, told in self._told.items()}
        twin._brought_in = {paste: told.copy() for paste, told in self._brought_in.items()}
        return twin

    def note(self, fact: f.Fact, *, own: bool) -> None:
        """Take in a fact; `own` says that this station's clock dated it. What says nothing of rules changes nothing."""
        match fact.body:
            case f.SpecificationSet():
                self._set(fact, fact.body)
            case f.SpecificationDrafted():
                self._drafted[fact.key] = fact
                self._closed.update({fact.body.replaces} - {""})
            case f.DraftWithdrawn():
                self._closed.add(fact.body.draft)
            case f.PasteListSet():
                self._listed(fact, fact.body, own=own)

    # ------------------------------------------------------------------ specifications

    def _set(self, fact: f.Fact, body: f.SpecificationSet) -> None:
        self._plant = None
        told, entry = self._told.setdefault(body.specification.paste, []), body.specification
        # a station with outdated settings may say an older version later: the highest version is in force
        insort(told, (entry.version, fact.order, fact, entry), key=lambda one: one[:2])
        self._closed.update({body.draft} - {""})
        if body.paste is not None:
            insort(self._brought_in.setdefault(entry.paste, []), (fact.order, body.paste), key=lambda one: one[0])
        for version in dict.fromkeys(one[0] for one in told):
            self.versions[entry.paste, version] = _joined(self._of_version(entry.paste, version))
        self.specifications[entry.paste] = self.versions[entry.paste, told[-1][0]]

    def _of_version(self, paste: str, version: int) -> list[Specification]:
        """Every content of one version, as told; a paste whose metal is in dispute has none that is approved."""
        found = [entry for number, _, _, entry in self._told[paste] if number == version]
        return [replace(entry, approved_by=None) for entry in found] if self.metal_disputed(paste) else found

    def in_force_since(self, specification: Specification) -> Order | None:
        """Where in the order the figures in force came into force; None for figures that are not in force.

        Every station writes down what its settings say; the first of those that say the same in a row is meant.
        """
        told = self._told.get(specification.paste)
        if not told or not same_figures(self.specifications[specification.paste], specification):
            return None
        same = self._newest(specification.paste)
        until = ((one[1], _joined(earlier[3] for earlier in same[:count])) for count, one in enumerate(same, start=1))
        return next(order for order, joined in until if same_figures(joined, specification))

    def in_force_from(self, paste: str, order: Order) -> tuple[Specification, ...]:
        """The version of a paste's specification in force at a place in the order, and every newer one since."""
        told = self._told[paste]
        then = [place for place, (_, since, _, _) in enumerate(told) if since <= order]
        return tuple(one[3] for one in told[then[-1] if then else 0 :])

    def approval(self, paste: str) -> Approval | None:
        """Who put in force what is: an engineer at the desk where one did, else the settings that were first to."""
        newest = self._newest(paste)
        by_hand = [one for one in newest if one[2].who is not None]
        for version, _, fact, _ in (by_hand or newest)[:1]:
            return Approval(version, fact.who, fact.at, self._explained(fact))
        return None

    def _newest(self, paste: str) -> list[_VersionTold]:
        told = self._told.get(paste, [])
        return [one for one in told if one[0] == told[-1][0]]

    def _explained(self, fact: f.Fact) -> str:
        draft = self._drafted.get(fact.body.draft) if isinstance(fact.body, f.SpecificationSet) else None
        return draft.body.explanation if draft is not None and isinstance(draft.body, f.SpecificationDrafted) else ""

    def metal_disputed(self, paste: str) -> bool:
        """Whether a paste was brought in as two different ones, apart; nothing of it is approved then."""
        told = self._brought_in.get(paste, [])
        return len({(one.number, one.alloy, one.storage) for _, one in told}) > 1

    def disputed(self, paste: str) -> bool:
        """Whether the version in force was approved with two contents, apart; the stricter figures hold."""
        newest = self._newest(paste)
        return any(not same_figures(one[3], newest[-1][3]) for one in newest)

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
        pastes = {**plant.pastes, **self._pastes(plant)}
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

    def _pastes(self, plant: Plant) -> dict[str, Paste]:
        """The pastes the desk brought in. What the settings say of one beside what it is, such as a price, holds."""
        return {name: _as_approved(told[0][1], plant.pastes.get(name)) for name, told in self._brought_in.items()}


def _joined(contents: Iterable[Specification]) -> Specification:
    """The stricter of all contents; where none contradicts, the last one as it was told."""
    first, *further = contents
    for content in further:
        first = content if same_figures(first, content) else stricter(first, content)
    return first


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
