"""What a report is asked with, and the lines that say so on every one."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from station.care.floor import Floor
from station.care.pace import Pace, unhurried
from station.care.saying import is_doubled
from station.reports.document import NOTHING_FOUND, Report, Table
from station.services.shift_calendar import worked
from station.services.site import Shift

OUTSIDE_SHIFTS = "outside all shifts"

OWN_RECORD = "what this station has on record; what other stations wrote is in it as far as they have met"


@dataclass(frozen=True, slots=True)
class Made:
    """Who has a report made ("" where nobody said), when (aware), at which station, on which end of the journal."""

    who: str
    at: datetime
    station: str
    head: str


@dataclass(frozen=True, slots=True)
class Asked:
    """One report to be made. The period runs from `since` up to, not at, `until` (aware UTC); `of` names what it is
    about. Without a `currency` there is no cost; `shifts` are those of the site. `pace` is told how far it is, and
    may raise to end it."""

    floor: Floor
    made: Made
    since: datetime
    until: datetime
    of: str = ""
    currency: str = ""
    shifts: tuple[Shift, ...] = ()
    pace: Pace = unhurried

    def instant(self, at: datetime | None) -> str:
        """`2026-11-09 06:00` in plant time, with the zone in an hour that comes twice; nothing for None."""
        if at is None:
            return ""
        local = at.astimezone(self.floor.zone)
        return f"{local:%Y-%m-%d %H:%M}{f' {local.tzname()}' if is_doubled(local) else ''}"

    def person(self, badge: str | None) -> str:
        """A person by name and badge; nothing for None."""
        known = self.floor.ledger.people.get(badge or "")
        return f"{known.name} ({known.id})" if known is not None else badge or ""

    def shift(self, at: datetime) -> str:
        """The shift that worked at an instant."""
        days = worked(self.shifts, self.floor.zone, at)
        return next((shift.name for shift in days if shift.start <= at < shift.end), OUTSIDE_SHIFTS)

    def line(self, place: str) -> str:
        """The line a position belongs to; another place stands for itself."""
        position = self.floor.plant.positions.get(place)
        return f"line {position.line}" if position is not None else place

    def within(self, at: datetime) -> bool:
        """Whether an instant is in the period."""
        return self.since <= at < self.until


def figure(value: float | int | None, places: int = 0) -> Decimal | None:
    """A number as it is written, rounded to `places` decimals."""
    return None if value is None else round(Decimal(str(value)), places)


def report(asked: Asked, title: str, tables: tuple[Table, ...], *more: tuple[str, str]) -> Report:
    """The report, with what it was asked with; `more` are parameters of its own."""
    empty = () if any(table.rows for table in tables) else (("found", NOTHING_FOUND),)
    told = (
        *((("of", asked.of),) if asked.of else ()),
        ("from", asked.instant(asked.since)),
        ("up to", asked.instant(asked.until)),
        ("times in", asked.floor.zone.key),
        *more,
        ("made at", asked.instant(asked.made.at)),
        ("made by", asked.person(asked.made.who) or "nobody badged in"),
        ("station", asked.made.station),
        ("journal head", asked.made.head),
        ("figures are", OWN_RECORD),
        *empty,
    )
    return Report(title, told, tables)
