"""The story of one thing as a report: container, lot, position, work order, person or day, found by its name."""

from station.care.fold_lot import spoken_lot
from station.care.story import LOT, Told, named, story
from station.reports.asked import Asked, report
from station.reports.document import Column, Report, Table

STORY = tuple(map(Column, ("when", "who", "where", "what", "taken back")))
NO_BADGE = "no badge"


def story_report(asked: Asked) -> Report:
    """A table for each thing the name may mean; of the period only."""
    zone, ledger = asked.floor.zone, asked.floor.ledger
    tables = tuple(
        Table(f"Story of {kind} {spoken_lot(name) if kind == LOT else name}", STORY, _rows(asked, kind, name))
        for kind, name in named(ledger, asked.of, zone, asked.pace)
    )
    nothing = Table(f"Story of {asked.of or 'nothing named'}", STORY, ())
    return report(asked, "Story", tables or (nothing,))


def _rows(asked: Asked, kind: str, name: str) -> tuple[tuple[str, ...], ...]:
    found = story(asked.floor.ledger, kind, name, asked.floor.zone, asked.pace)
    return tuple(story_row(asked, told) for told in found if asked.within(told.at))


def story_row(asked: Asked, told: Told) -> tuple[str, ...]:
    """One line: when to the second, who, where, what, and whether it was taken back."""
    local = told.at.astimezone(asked.floor.zone)
    who = asked.person(told.who) if told.who else NO_BADGE
    return f"{local:%Y-%m-%d %H:%M:%S}", who, told.where, told.what, "taken back" if told.taken_back else ""
