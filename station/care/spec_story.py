"""What is on record of the versions of one paste's specification, and what of that holds.

A content names those it takes the place of, as far as its writer had heard of them. Every content whose place no other
one took holds, figure by figure the stricter; so a tightening is not lost because another station counted further.
A file never takes the place of what an engineer approved at the desk, unless it loosens nothing by it.
"""

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from station.care import facts as f
from station.care.clock_story import Order
from station.care.specification import Specification
from station.care.specification_change import figures, same_figures, stricter


@dataclass(frozen=True, slots=True)
class ToldVersion:
    """One content as it was told; `bare` is its figures alone."""

    place: Order
    fact: f.Fact
    body: f.SpecificationSet
    bare: Specification

    @property
    def content(self) -> Specification:
        """The content as it was told."""
        return self.body.specification

    @property
    def version(self) -> int:
        """The number it was told with."""
        return self.body.specification.version

    @property
    def by_hand(self) -> bool:
        """Whether an engineer approved it at the desk."""
        return self.fact.who is not None

    @property
    def same(self) -> tuple[int, Specification]:
        """What is alike for two tellings of one content, at whichever station."""
        return self.version, self.bare


class SpecificationStory:
    """The contents told of one paste, in fold order, and what was in force after each."""

    def __init__(self) -> None:
        """Nothing was told yet."""
        self._told: list[ToldVersion] = []
        self._then: list[Specification] = []

    def copied(self) -> "SpecificationStory":
        """A story of its own with all that this one has heard."""
        twin = SpecificationStory()
        twin._told, twin._then = self._told.copy(), self._then.copy()
        return twin

    def hear(self, fact: f.Fact, body: f.SpecificationSet) -> None:
        """Put a fact into its place in the story."""
        place = bisect_right(self._told, fact.order, key=lambda one: one.place)
        self._told.insert(place, ToldVersion(fact.order, fact, body, figures(body.specification)))
        counts = range(place + 1, len(self._told) + 1)
        self._then[place:] = [joined(one.content for one in _holding(self._told[:count])) for count in counts]

    @property
    def in_force(self) -> Specification:
        """What holds now: under the number of its newest version the stricter of all that nobody took the place of."""
        return self._then[-1]

    @property
    def holding(self) -> list[ToldVersion]:
        """The contents whose place no other one took, the newest version last."""
        return _holding(self._told)

    @property
    def newest(self) -> list[ToldVersion]:
        """Those of them that were told with the number in force."""
        return [one for one in self.holding if one.version == self.in_force.version]

    @property
    def disputed(self) -> bool:
        """Whether another content makes a figure stricter than one that was told with the number in force has it."""
        return any(not same_figures(one.content, self.in_force) for one in self.newest)

    @property
    def beside(self) -> tuple[int, ...]:
        """The older versions nobody took the place of."""
        return tuple(dict.fromkeys(one.version for one in self.holding if one.version < self.in_force.version))

    def versions(self) -> dict[int, Specification]:
        """Every version by its number, as it was put in force; the newest as it is in force."""
        told = {number: self._of(number) for number in dict.fromkeys(one.version for one in self._told)}
        return told | {self.in_force.version: self.in_force}

    def _of(self, number: int) -> Specification:
        return joined(one.content for one in self._told if one.version == number)

    def since(self, specification: Specification) -> Order | None:
        """Where in the order a content came into force; None for one that is not in force.

        Every station writes down what its settings say; the first of those that say the same in a row is meant.
        """
        if not same_figures(self.in_force, specification):
            return None
        found = self._told[-1].place
        for told, then in zip(reversed(self._told), reversed(self._then), strict=True):
            if then.version != self.in_force.version or not same_figures(then, specification):
                break
            found = told.place
        return found

    def since_place(self, order: Order) -> tuple[Specification, ...]:
        """What was in force at a place in the order, and all that was since."""
        first = bisect_right(self._told, order, key=lambda one: one.place)
        return tuple(self._then[max(first - 1, 0) :])

    def replaced_by_file(self, entry: Specification) -> tuple[str, ...]:
        """The keys of what a content of the settings takes the place of; without a newer number it is the same again.

        Of what engineers approved at the desk only where it loosens nothing.
        """
        tighter = same_figures(stricter(self.in_force, entry), entry)
        by_hand = {one.same for one in self._told if one.by_hand}  # the settings may have said it again
        older = (one for one in self.holding if one.version < entry.version)
        return tuple(one.fact.key for one in older if tighter or one.same not in by_hand)

    def with_file(self, entry: Specification) -> Specification:
        """What will hold once the settings have told this content."""
        replaced = self.replaced_by_file(entry)
        return joined((*(one.content for one in self.holding if one.fact.key not in replaced), entry))


def _holding(told: Sequence[ToldVersion]) -> list[ToldVersion]:
    by_key = {one.fact.key: one for one in told}
    named = ((by_key.get(key), by) for by in told for key in by.body.replaces or ())
    # only a newer version takes a place, so that the newest always holds
    gone = {one.same for one, by in named if one is not None and one.version < by.version}
    held = (one for one in told if one.same not in gone and not _outnumbered(one, told))
    return sorted(held, key=lambda one: (one.version, one.place))


def _outnumbered(one: ToldVersion, told: Iterable[ToldVersion]) -> bool:
    """Facts written before they named what they replace took the place of every lower version."""
    newer = (by for by in told if by.body.replaces is None and one.version < by.version)
    return any(one.body.replaces is None or one.place < by.place for by in newer)


def joined(contents: Iterable[Specification]) -> Specification:
    """The stricter of all contents; where none contradicts, the last one as it was told."""
    first, *further = contents
    for content in further:
        first = content if same_figures(first, content) else stricter(first, content)
    return first
