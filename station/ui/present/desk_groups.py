"""What the desk's "More" leads to, by topic. Each entry opens a form; the ids are `act:rest`, as everywhere.

An entry stands here once: what is not offered here, by a button of a place or by `lead_offers`, cannot be reached.
"""

from dataclasses import dataclass

from station.ui.view_models import ActionModel

GROUP = "group"


@dataclass(frozen=True, slots=True)
class Group:
    """One topic: its caption, what it is for, and what may be done in it."""

    id: str
    caption: str
    hint: str
    entries: tuple[ActionModel, ...]


STOCK = Group(
    "stock",
    "Stock and stores",
    "find, move, count",
    (
        ActionModel("stock", "Stock", "what is short, what ends soon"),
        ActionModel("find", "Find", "a container by its number"),
        ActionModel("move-store", "Move a store", "all of it goes to another"),
        ActionModel("store-out", "Store failed", "all of it is out since"),
        ActionModel("count", "Count", "a store, and what differed"),
        ActionModel("identity", "Identity label", "once more, by its number"),
    ),
)
READINGS = Group(
    "readings",
    "Store temperatures",
    "readings, instruments",
    (
        ActionModel("store-file", "Read a logger", "its file, of one store"),
        ActionModel("store-read", "Read a display", "what it shows now"),
        ActionModel("excursions", "Excursions", "when, how far, what was inside"),
        ActionModel("store-back", "Take a file back", "of another store, or read wrongly"),
    ),
)
DAY = Group(
    "day",
    "Day and closing",
    "what needs a shift lead",
    (
        ActionModel("day-list", "Day list", "what needs a shift lead"),
        ActionModel("closing-list", "Closing list", "before the next shift"),
        ActionModel("missed", "After time off", "what passed while this was off"),
        ActionModel("shelving", "Shelve an alarm", "quiet for a while, badge and PIN"),
        ActionModel("reactions", "What to do at alarms", "the words on their cards"),
    ),
)
RECORD = Group(
    "record",
    "Record and reports",
    "stories, trace, waste",
    (
        ActionModel("report", "Reports", "trace, waste, response"),
        ActionModel("story", "Story of anything", "container, lot, order, day"),
        ActionModel("note", "Note or photo", "of a line, lot, alarm, store"),
        ActionModel("digest", "Daily digest", "where the record stands, to print"),
        ActionModel("export", "Export for auditors", "badge and PIN"),
    ),
)
RULES = Group(
    "rules",
    "Specifications",
    "limits and paste lists",
    (
        ActionModel("specifications", "Specifications", "read, draft, approve"),
        ActionModel("paste-lists", "Paste lists", "of products and orders"),
    ),
)
PEOPLE = Group(
    "people",
    "People",
    "badges and PINs",
    (
        ActionModel("staff", "Who works here", "add, change, take off"),
        ActionModel("own-pin", "Another PIN", "prove the old one"),
    ),
)
PRINTED = Group(
    "printed",
    "Cards and tags",
    "and down-station sheets",
    (ActionModel("sheets", "Cards and tags", "and down-station sheets, to print"),),
)
GROUPS = (STOCK, READINGS, DAY, RECORD, RULES, PEOPLE, PRINTED)


def group_offers() -> tuple[ActionModel, ...]:
    """One button for each topic that has something in it; a topic of one entry is that entry."""
    filled = (group for group in GROUPS if group.entries)
    return tuple(
        group.entries[0] if len(group.entries) == 1 else ActionModel(f"{GROUP}:{group.id}", group.caption, group.hint)
        for group in filled
    )


def group_named(name: str) -> Group:
    """A topic by its id; KeyError for one that is not there."""
    return {group.id: group for group in GROUPS}[name]
