"""Whoever waits for long work hears how far it is, and may end it."""

import pytest

from station.care import story, trace, use_figures, waste_figures
from station.care.ledger import Ledger
from station.care.pace import EACH, paced, unhurried
from tests.care.test_story import SIX, ZONE
from tests.care.test_trace import after


class Ended(Exception):
    """Whoever waits has left."""


def end(what: str, done: int, whole: int) -> None:
    raise Ended


def test_it_is_told_before_the_first_thing_and_then_now_and_then() -> None:
    told: list[tuple[str, int, int]] = []
    items = range(2 * EACH + 1)
    assert list(paced(items, lambda *word: told.append(word), "counting")) == list(items)
    assert told == [("counting", place, 2 * EACH + 1) for place in (0, EACH, 2 * EACH)]


def test_nothing_to_do_is_nothing_to_tell() -> None:
    assert list(paced((), end, "counting")) == []
    assert list(paced((1, 2), unhurried, "counting")) == [1, 2]


@pytest.mark.parametrize("kind", story.KINDS)
def test_every_story_may_be_ended_but_those_that_are_short(kind: str) -> None:
    ledger = after("changeovers").ledger
    if kind in (story.CONTAINER, story.POSITION):
        assert story.story(ledger, kind, "2", ZONE, end) is not None
        return
    with pytest.raises(Ended):
        story.story(ledger, kind, "2026-11-09", ZONE, end)


def test_what_is_traced_used_thrown_away_and_searched_may_be_ended() -> None:
    ledger: Ledger = after("discard_and_seen_again").ledger
    with pytest.raises(Ended):
        trace.stays(after("changeovers").ledger, end)
    with pytest.raises(Ended):
        use_figures.uses(after("changeovers").ledger, end)
    with pytest.raises(Ended):
        waste_figures.wasted(ledger, SIX, SIX, end)
    with pytest.raises(Ended):
        story.named(ledger, "K7-001", ZONE, end)
