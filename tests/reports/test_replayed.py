"""A report is built on facts added up anew, and stops once nobody waits for it."""

import pytest

from station.reports.building import LOOKED_EVERY, Stopped, replayed
from tests.reports.floors import after


def test_facts_added_up_anew_give_the_same_floor() -> None:
    ledger = after("recall_at_two_printers").ledger
    heard: list[int] = []

    def watched(done: int) -> bool:
        heard.append(done)
        return False

    again = replayed(ledger.emptied(), ledger.facts(), watched)
    assert (again.containers, again.positions, again.alarms) == (ledger.containers, ledger.positions, ledger.alarms)
    assert heard == list(range(0, len(ledger.facts()), LOOKED_EVERY))


def test_what_nobody_waits_for_is_not_added_up() -> None:
    ledger = after("recall_at_two_printers").ledger
    empty = ledger.emptied()
    with pytest.raises(Stopped):
        replayed(empty, ledger.facts(), lambda _done: True)
    assert empty.facts() == ()
