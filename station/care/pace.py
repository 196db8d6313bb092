"""How long work tells how far it has come, so that whoever had it begun can show that, or end it."""

from collections.abc import Collection, Iterator
from typing import Protocol, TypeVar

Item = TypeVar("Item")

EACH = 200  # things between two words: some milliseconds of work


class Pace(Protocol):
    """Told now and then: what is being done, and how many things of how many. It may raise to end the work."""

    def __call__(self, what: str, done: int, whole: int) -> None:
        """`what` in a few words; of `whole` things `done` are over."""


def unhurried(what: str, done: int, whole: int) -> None:
    """Nobody waits for it."""


def paced(items: Collection[Item], pace: Pace, what: str) -> Iterator[Item]:
    """The items, one after another; `pace` is told before the first and then of every `EACH` of them."""
    whole = len(items)
    for done, item in enumerate(items):
        if done % EACH == 0:
            pace(what, done, whole)
        yield item
