"""What is on record of what one paste is: its number, its metal and how it is stored.

An engineer says it who brings a paste in at the desk, and so do the settings of every station. Where they differ,
nobody knows what is in a jar, and nothing of the paste is approved. What the settings said before is set right by what
they say now only where nothing of it is left that came in since they said it.
"""

from bisect import insort
from collections.abc import Iterable
from dataclasses import dataclass

from station.care import facts as f
from station.care.clock_story import Order
from station.care.specification import Paste


@dataclass(frozen=True, slots=True)
class ToldPaste:
    """A paste as it was told; `own` says that this station told it."""

    place: Order
    own: bool
    fact: f.Fact
    paste: Paste
    corrects: tuple[str, ...]

    @property
    def by_hand(self) -> bool:
        """Whether an engineer brought it in at the desk."""
        return self.fact.who is not None

    def __str__(self) -> str:
        """Who says what it is."""
        whose = f"{self.fact.who} at" if self.by_hand else "the settings of"
        paste = self.paste
        what = f"number {paste.number}, {paste.alloy.value}, {paste.storage.value}"
        return f"{what} by {whose} station {self.fact.station}"


Story = list[ToldPaste]


def hear(story: Story, fact: f.Fact, body: f.SpecificationSet, *, own: bool) -> None:
    """Put a fact into its place in the story; one that says nothing of the paste itself changes nothing."""
    if body.paste is not None:
        insort(story, ToldPaste(fact.order, own, fact, body.paste, body.corrects), key=lambda told: told.place)


def same_paste(one: Paste, other: Paste) -> bool:
    """Whether a label, a metal and a way of storage are alike."""
    return (one.number, one.alloy, one.storage) == (other.number, other.alloy, other.storage)


def standing(story: Iterable[ToldPaste]) -> Story:
    """What nothing has set right since, the first one first."""
    told = list(story)
    corrected = {key for one in told for key in one.corrects}
    return [one for one in told if one.fact.key not in corrected]


def disputed(story: Iterable[ToldPaste]) -> bool:
    """Whether it was told as two different pastes."""
    first, *further = standing(story) or (None,)
    return first is not None and any(not same_paste(first.paste, one.paste) for one in further)


def settings_say(story: Iterable[ToldPaste], listed: Paste) -> bool:
    """Whether this is what the settings of this station said last."""
    said = [one for one in story if one.own and not one.by_hand]
    return bool(said) and same_paste(said[-1].paste, listed)


def to_correct(story: Iterable[ToldPaste], listed: Paste, last_came_in: Order | None) -> tuple[str, ...]:
    """The keys of what this station's settings said otherwise and now set right.

    `last_came_in` is where in the order the newest came in of which some is left; None where none is left. What came in
    before anybody here said anything is what the settings said first.
    """
    here = [one for one in story if one.own or one.by_hand]
    said = (one for one in here if not one.by_hand and not same_paste(one.paste, listed))
    free = (one for one in said if last_came_in is None or (one is not here[0] and last_came_in < one.place))
    return tuple(one.fact.key for one in free)
