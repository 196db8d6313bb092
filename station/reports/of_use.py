"""Boards that may have been made outside a limit, and how much paste was used inside all of them."""

from datetime import timedelta

from station.care.moments import MINUTE
from station.care.use_figures import Outside, in_use, outside, uses
from station.reports.asked import Asked, figure, report
from station.reports.document import Cell, Column, Report, Table

STILL = "still there"
OPEN = "not yet decided"
BOARDS = (
    *map(Column, ("position", "paste", "limit", "from", "until")),
    Column("minutes", number=True),
    *map(Column, ("work orders", "containers", "boards", "document", "reason", "cleared by")),
)
USE = (
    Column("paste"),
    Column("beads and mountings", number=True),
    Column("never past a limit", number=True),
    Column("share in percent", number=True),
    Column("longest past a limit in minutes", number=True),
)
OUTSIDE_MEANS = "from the limit until the paste was off; boards may have been made then, the station counts none"


def boards_report(asked: Asked) -> Report:
    """Every stretch past a limit that began in the period, with what was decided about its boards."""
    ledger = asked.floor.ledger
    found = [entry for entry in outside(ledger, uses(ledger, asked.pace)) if asked.within(entry.since)]
    table = Table("Boards outside limits", BOARDS, tuple(_row(asked, entry) for entry in found))
    return report(asked, "Boards outside limits", (table,), ("outside means", OUTSIDE_MEANS))


def use_report(asked: Asked) -> Report:
    """By paste, of the beads and mountings that began in the period."""
    ledger = asked.floor.ledger
    known = uses(ledger, asked.pace)
    found = [use for use in known if asked.within(use.since)]
    rows: tuple[tuple[Cell, ...], ...] = tuple(
        (
            one.paste,
            figure(one.uses),
            figure(one.inside),
            figure(100 * one.share, 1),
            _minutes(one.longest_outside),
        )
        for one in in_use(found, outside(ledger, known), asked.made.at)
    )
    return report(asked, "Use inside limits", (Table("Use inside limits", USE, rows),))


def _row(asked: Asked, entry: Outside) -> tuple[Cell, ...]:
    alarm = entry.alarm
    return (
        entry.use.position,
        entry.use.paste,
        alarm.limit.value,
        asked.instant(entry.since),
        asked.instant(entry.until) or STILL,
        _minutes((entry.until or asked.made.at) - entry.since),
        ", ".join(entry.work_orders),
        ", ".join(dict.fromkeys(stay.container for stay in entry.use.stays)),
        alarm.boards.value if alarm.boards is not None else OPEN,
        alarm.document,
        alarm.reason,
        asked.person(alarm.cleared_by),
    )


def _minutes(length: timedelta) -> Cell:
    return figure(length / MINUTE, 1)
