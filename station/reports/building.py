"""The reports by name, and the one way to have one built."""

from collections.abc import Callable, Iterable

from station.care.facts import Fact
from station.care.ledger import Ledger
from station.reports.asked import Asked
from station.reports.document import Report
from station.reports.of_response import response_report
from station.reports.of_stock import stock_report
from station.reports.of_story import story_report
from station.reports.of_trace import trace_report
from station.reports.of_use import boards_report, use_report
from station.reports.of_waste import waste_report

LOOKED_EVERY = 500
REPORTS: dict[str, Callable[[Asked], Report]] = {
    "trace": trace_report,
    "boards": boards_report,
    "waste": waste_report,
    "response": response_report,
    "use": use_report,
    "stock": stock_report,
    "story": story_report,
}


class Stopped(Exception):
    """Nobody waits for the report any more."""


def replayed(ledger: Ledger, facts: Iterable[Fact], stopped: Callable[[int], bool]) -> Ledger:
    """The facts added up in a ledger of their own, so that the floor may go on meanwhile.

    `stopped` hears now and then how many are done. Raises Stopped once it answers yes.
    """
    for number, fact in enumerate(facts):
        if number % LOOKED_EVERY == 0 and stopped(number):
            raise Stopped
        ledger.apply(fact)
    return ledger


def build(name: str, asked: Asked) -> Report:
    """The report called `name`; KeyError for one that is not there."""
    return REPORTS[name](asked)
