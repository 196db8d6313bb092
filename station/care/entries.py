"""One subject's facts as its history keeps them: in fold order, and told from the beginning of its life."""

from dataclasses import dataclass

from station.care import facts as f
from station.care.clock_story import Order, is_clock_fact
from station.care.fold_container import begins


@dataclass(frozen=True, slots=True)
class Entry:
    """One fact in a subject's history, in fold order."""

    order: Order
    fact: f.Fact

    def __lt__(self, other: "Entry") -> bool:
        return self.order < other.order


def from_its_beginning(subject: tuple[str, str], told: list[f.Fact]) -> list[f.Fact]:
    """A station that was cut off may have told of a container before anybody's receipt of it stands in the order:
    what begins its life comes before that, but after the clock facts that were there."""
    first = next((fact for fact in told if begins(fact.body) and subject[1] == container_of(fact)), None)
    if subject[0] != "container" or first is None:
        return told
    at = told.index(first)
    clocks = [fact for fact in told[:at] if is_clock_fact(fact)]
    others = [fact for fact in told[:at] if not is_clock_fact(fact)]
    return [*clocks, first, *others, *told[at + 1 :]]


def container_of(fact: f.Fact) -> str | None:
    """The container a fact is about, if it is about one."""
    return getattr(fact.body, "container", None)
