"""A day's digest and an export, worked out beside the window from the journal's file: no widget is touched here."""

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from station.care.pace import Pace
from station.journal.contents import facts_of, read_rows, spans
from station.journal.verify import check
from station.reports.document import Report
from station.reports.of_digest import DigestMade, digest_report, heads
from station.reports.record_export import export, named_in
from station.services.ports import Evidence

READING = "reading the journal"
CHECKING = "checking the chain"


class Stopped(Exception):
    """Somebody left the form: nothing more is wanted."""


@dataclass(frozen=True)
class ExportWord:
    """Facts from the first to the last of two plant days, both whole; None for no such bound."""

    first: date | None
    last: date | None

    def bounds(self, zone: ZoneInfo) -> tuple[datetime | None, datetime | None]:
        """From when on, and up to (not at) when."""
        since = midnight(self.first, zone) if self.first is not None else None
        until = midnight(self.last + timedelta(days=1), zone) if self.last is not None else None
        return since, until


@dataclass(frozen=True)
class Exported:
    """What was written: the folder, how many facts of how many journals and how many kept files, and what is wrong."""

    folder: Path
    facts: int
    journals: int
    files: int
    faults: tuple[str, ...]


def midnight(day: date, zone: ZoneInfo) -> datetime:
    """When a plant day begins, in UTC."""
    return datetime.combine(day, time(), zone).astimezone(UTC)


def worked_digest(file: Path, made: DigestMade) -> Report:
    """The digest of a plant day. Raises JournalTrouble."""
    rows = read_rows(file)
    facts = facts_of(rows)
    begins, ends = midnight(made.day, made.zone), midnight(made.day + timedelta(days=1), made.zone)
    found = heads(spans(rows, facts, None, ends), spans(rows, facts, begins, ends))
    return digest_report(made, found, tuple(finding.sentence for finding in check(rows).findings))


def worked_export(
    file: Path, evidence: Evidence, folder: Path, word: ExportWord, zone: ZoneInfo, pace: Pace
) -> Exported:
    """Write the export, or nothing. Raises JournalTrouble, Refusal, and whatever `pace` raises to end it."""
    since, until = word.bounds(zone)
    pace(READING, 0, 1)
    rows = read_rows(file)
    facts = facts_of(rows)
    parts = tuple(spans(rows, facts, since, until))
    named = named_in(parts, facts)
    limits = (("from", since), ("to", until))
    asked = tuple((name, at.isoformat(timespec="minutes") if at is not None else "all") for name, at in limits)
    lost = export(folder, parts, named, evidence, asked, pace)
    faults = (*(finding.sentence for finding in check(rows).findings), *lost)
    return Exported(folder, sum(len(part.rows) for part in parts), len(parts), len(named) - len(lost), faults)
