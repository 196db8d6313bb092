"""What is worked out for a report beside the window: its tables, and of a story what is drawn above its lines.

Loaded when the first report is asked for.
"""

from dataclasses import replace
from datetime import UTC, datetime

from station.care.pace import paced
from station.care.story import CONTAINER
from station.reports.asked import Asked
from station.reports.building import build
from station.reports.document import Report
from station.reports.of_story import Part, part_of, parts, report_of
from station.ui.present.story_board import story_board
from station.ui.view_models import BoardModel

Built = tuple[Report, Asked, tuple[BoardModel | None, ...]]
SINCE_EVER = datetime.min.replace(tzinfo=UTC)
READING = "reading where the record begins"


def worked_out(name: str, asked: Asked) -> Built:
    """A report by its name; a story with its boards. One since ever says since when there is a record."""
    if asked.since == SINCE_EVER:
        told = paced(asked.floor.ledger.facts(), asked.pace, READING)
        asked = replace(asked, since=min((fact.at for fact in told), default=asked.made.at))
    if name != "story":
        return build(name, asked), asked, ()
    found = parts(asked)
    return report_of(asked, found), asked, tuple(_board(asked, one) for one in found)


def told_at_once(asked: Asked) -> Built:
    """The story of one container, whatever the length of the record: without what its paste lay at."""
    found = part_of(asked, CONTAINER, asked.of)
    asked = replace(asked, since=min((line.at for line in found.lines), default=asked.made.at))
    return report_of(asked, (found,)), asked, (_board(asked, found, whole=False),)


def drawn_whole(asked: Asked) -> BoardModel | None:
    """What is drawn of one container, with what its paste lay at."""
    return _board(asked, part_of(asked, CONTAINER, asked.of))


def _board(asked: Asked, told: Part, *, whole: bool = True) -> BoardModel | None:
    return story_board(asked.floor, told.kind, told.name, told.lines, asked.pace, whole=whole)
