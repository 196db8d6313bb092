"""The story of one thing as a report: container, lot, position, work order, person or day, found by its name."""

from dataclasses import dataclass

from station.care.fold_lot import spoken_lot
from station.care.story import LOT, Told, named, story
from station.reports.asked import Asked, report
from station.reports.document import Column, Report, Table

STORY = tuple(map(Column, ("when", "who", "where", "what", "taken back")))
NO_BADGE = "no badge"


@dataclass(frozen=True, slots=True)
class Part:
    """The story of one thing that a name may mean: its kind, its name, and its lines in the period."""

    kind: str
    name: str
    lines: tuple[Told, ...]

    @property
    def title(self) -> str:
        """What it is of, in words."""
        return f"Story of {self.kind} {spoken_lot(self.name) if self.kind == LOT else self.name}"


def story_report(asked: Asked) -> Report:
    """A table for each thing the name may mean; of the period only."""
    return report_of(asked, parts(asked))


def parts(asked: Asked) -> tuple[Part, ...]:
    """The stories of all that the name may mean."""
    return tuple(part_of(asked, *found) for found in named(asked.floor.ledger, asked.of, asked.floor.zone, asked.pace))


def part_of(asked: Asked, kind: str, name: str) -> Part:
    """The story of one thing."""
    found = story(asked.floor.ledger, kind, name, asked.floor.zone, asked.pace)
    return Part(kind, name, tuple(told for told in found if asked.within(told.at)))


def report_of(asked: Asked, found: tuple[Part, ...]) -> Report:
    """These stories as a report."""
    tables = tuple(Table(one.title, STORY, tuple(story_row(asked, told) for told in one.lines)) for one in found)
    nothing = Table(f"Story of {asked.of or 'nothing named'}", STORY, ())
    return report(asked, found[0].title if len(found) == 1 else "Story", tables or (nothing,))


def story_row(asked: Asked, told: Told) -> tuple[str, ...]:
    """One line: when to the second, who, where, what, and whether it was taken back."""
    local = told.at.astimezone(asked.floor.zone)
    who = asked.person(told.who) if told.who else NO_BADGE
    return f"{local:%Y-%m-%d %H:%M:%S}", who, told.where, told.what, "taken back" if told.taken_back else ""
