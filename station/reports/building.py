"""The reports by name, and the one way to have one built."""

from collections.abc import Callable

from station.reports.asked import Asked
from station.reports.document import Report
from station.reports.of_response import response_report
from station.reports.of_stock import stock_report
from station.reports.of_story import story_report
from station.reports.of_trace import trace_report
from station.reports.of_use import boards_report, use_report
from station.reports.of_waste import waste_report

REPORTS: dict[str, Callable[[Asked], Report]] = {
    "trace": trace_report,
    "boards": boards_report,
    "waste": waste_report,
    "response": response_report,
    "use": use_report,
    "stock": stock_report,
    "story": story_report,
}


def build(name: str, asked: Asked) -> Report:
    """The report called `name`; KeyError for one that is not there."""
    return REPORTS[name](asked)
