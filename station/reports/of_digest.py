"""Where the journals stood at the end of a plant day. Kept elsewhere, the figures show by `station verify` whether
anything recorded up to then was changed since."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from station.reports.document import Column, Report, Table
from station.reports.record import Span

SHORT_DIGITS = 16
GROUP = 4
KEEP_IT = (
    "on paper, or in somebody else's mail, where whoever runs the station can't change it; "
    "station verify --digest FILE checks it later"
)
NOT_OVER = "The day is not over: what is recorded later is not in it."


@dataclass(frozen=True, slots=True)
class Head:
    """Where one journal stood: how many facts, how many of them on that day, number and chain hash of the last."""

    journal: str
    facts: int
    that_day: int
    last: int
    head: str


def heads(until: Iterable[Span], that_day: Iterable[Span]) -> tuple[Head, ...]:
    """Of the parts up to the end of a day, and the parts of that day alone."""
    many = {span.journal: len(span.rows) for span in that_day}
    return tuple(
        Head(span.journal, len(span.rows), many.get(span.journal, 0), span.rows[-1].seq, span.rows[-1].hash)
        for span in until
    )


def short(digest: str) -> str:
    """The first digits of a digest in groups, to be read out and compared by eye."""
    return " ".join(digest[place : place + GROUP] for place in range(0, SHORT_DIGITS, GROUP))


@dataclass(frozen=True, slots=True)
class DigestMade:
    """Who had a digest made, when (aware), at which station, of which plant day, and whether that day is over."""

    who: str
    at: datetime
    station: str
    day: date
    over: bool
    zone: ZoneInfo


COLUMNS = (
    Column("journal"),
    Column("facts", number=True),
    Column("that day", number=True),
    Column("last", number=True),
    Column("head"),
    Column("short"),
)


def digest_report(made: DigestMade, found: tuple[Head, ...], faults: tuple[str, ...]) -> Report:
    """The digest as a report; `faults` are what the check of the whole record found."""
    rows = tuple(
        (one.journal, Decimal(one.facts), Decimal(one.that_day), Decimal(one.last), one.head, short(one.head))
        for one in found
    )
    told = (
        ("up to the end of", f"{made.day:%Y-%m-%d} ({made.zone.key})"),
        *((("mind", NOT_OVER),) if not made.over else ()),
        ("made at", f"{made.at.astimezone(made.zone):%Y-%m-%d %H:%M}"),
        ("made by", made.who or "nobody badged in"),
        ("station", made.station),
        ("keep it", KEEP_IT),
        *(("fault", fault) for fault in faults),
    )
    return Report(f"Digest of the record, {made.day:%Y-%m-%d}", told, (Table("Journals", COLUMNS, rows),))
