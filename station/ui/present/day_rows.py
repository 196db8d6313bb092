"""The day list, the closing list and what passed while the station was off, as rows of a form."""

from collections.abc import Iterable
from dataclasses import dataclass

from station.care.closing_list import Closing, Passing
from station.care.day_list import DayKind, DayRow, alarm_rows, day_list
from station.care.floor import Floor
from station.care.saying import opening
from station.care.shelving import shelvable, shelved
from station.ui import wording
from station.ui.present.alarm_cards import shelved_text, title_of
from station.ui.view_models import ActionModel

MOST_ROWS = 40
SHELVE, UNSHELVE = "shelve", "unshelve"


@dataclass(frozen=True)
class ListRow:
    """One thing: what it is, further words below it, and what a touch does; None where a scan or a hand is wanted."""

    what: str
    detail: str = ""
    act: ActionModel | None = None


@dataclass(frozen=True)
class ListPart:
    """Rows under one caption."""

    caption: str
    rows: tuple[ListRow, ...]


CAPTIONS = {
    DayKind.ALARM: "Open alarms, the worst first",
    DayKind.CLOCK: "The clock",
    DayKind.RESTORED: "Restored from a backup",
    DayKind.SWAPPED: "Labels found swapped",
    DayKind.LOT_HOLD: "Lots on hold",
    DayKind.HOLD: "Containers on hold",
    DayKind.EXCURSION: "Stores with excursions",
    DayKind.LABEL: "Labels that did not come out",
    DayKind.UNPAIRED: "Labels to be scanned together",
    DayKind.COUNT: "Differences of a count",
    DayKind.VERSION: "Two versions of a specification",
    DayKind.STOCK: "Below the minimum stock",
}
# what a touch opens: the kind of form, the word on the button; the rest is what the row is about
FORMS = {
    DayKind.ALARM: ("clear", "Clear"),
    DayKind.CLOCK: ("confirm-clock", "Time is right"),
    DayKind.RESTORED: ("restored", "Release"),
    DayKind.LOT_HOLD: ("release-lot", "Release lot"),
    DayKind.HOLD: ("release", "Release"),
    DayKind.EXCURSION: ("excursions-seen", "See to it"),
    DayKind.COUNT: ("differences", "See to it"),
    DayKind.VERSION: ("version", "Decide"),
    DayKind.STOCK: ("stock", "Stock"),
}
WITHOUT_SUBJECT = (DayKind.CLOCK, DayKind.RESTORED, DayKind.LOT_HOLD, DayKind.STOCK)


def day_parts(floor: Floor, forms: Iterable[str]) -> tuple[ListPart, ...]:
    """The day list in parts; a touch is offered where its form is one of `forms`."""
    known, found = frozenset(forms), day_list(floor)
    quiet = tuple(row for row in found if row.waits)
    parts = [
        ListPart(caption, _rows(floor, [row for row in found if row.kind is kind and not row.waits], known))
        for kind, caption in CAPTIONS.items()
    ]
    waiting = ListPart("Dealt with in time, wants a word", _rows(floor, quiet, known))
    return (parts[0], waiting, *parts[1:])


def alarm_parts(floor: Floor, wanted: Iterable[str], forms: Iterable[str]) -> tuple[ListPart, ...]:
    """Of the `wanted` alarms those still open, the worst first, each with its true overrun."""
    asked, known = frozenset(wanted), frozenset(forms)
    found = [row for row in alarm_rows(floor) if row.subject in asked]
    return (ListPart("The worst first", _rows(floor, found, known)),)


def closing_parts(floor: Floor, closing: Closing, forms: Iterable[str]) -> tuple[ListPart, ...]:
    """The closing list in parts."""
    known = frozenset(forms)
    return (
        ListPart("At the lines", _bounded([_passing(floor, one) for one in closing.at_lines])),
        ListPart("Containers that will have passed", _bounded([_passing(floor, one) for one in closing.containers])),
        ListPart("On hold", _rows(floor, closing.held, known)),
        ListPart("Labels to be scanned together", _rows(floor, closing.unpaired, known)),
    )


def shelving_parts(floor: Floor) -> tuple[ListPart, ...]:
    """The alarms that are shelved, and those that may be."""
    quiet = [
        ListRow(title_of(floor, alarm), shelved_text(floor, alarm), ActionModel(f"{UNSHELVE}:{alarm.id}", "End it"))
        for alarm in shelved(floor)
    ]
    free = [
        ListRow(title_of(floor, alarm), "", ActionModel(f"{SHELVE}:{alarm.id}", "Shelve")) for alarm in shelvable(floor)
    ]
    return (ListPart("Shelved now", _bounded(quiet)), ListPart("May be shelved", _bounded(free)))


def _rows(floor: Floor, rows: Iterable[DayRow], forms: frozenset[str]) -> tuple[ListRow, ...]:
    return _bounded([ListRow(opening(_what(row)), _detail(floor, row), _act(row, forms)) for row in rows])


def _bounded(rows: list[ListRow]) -> tuple[ListRow, ...]:
    more = len(rows) - MOST_ROWS
    return (*rows[:MOST_ROWS], ListRow(f"and {more} more")) if more > 0 else tuple(rows)


def _what(row: DayRow) -> str:
    return f"{row.what}, past by {wording.time_to_wait(row.past)}" if row.past is not None else row.what


def _detail(floor: Floor, row: DayRow) -> str:
    since = f"Since {wording.moment(row.since, floor.now, floor.zone)}. " if row.since is not None else ""
    return f"{since}{row.todo}"


def _act(row: DayRow, forms: frozenset[str]) -> ActionModel | None:
    form, word = FORMS.get(row.kind, ("", ""))
    if form not in forms or not row.ready:
        return None
    return ActionModel(f"{form}:{'' if row.kind in WITHOUT_SUBJECT else row.subject}", word)


def _passing(floor: Floor, found: Passing) -> ListRow:
    at = wording.moment(found.at, floor.now, floor.zone)
    return ListRow(f"{found.what}: {found.limit.value} ends {at}", found.todo)
