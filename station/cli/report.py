"""`station report NAME`: a report out of the journal, as CSV and PDF; a station may be at work on it meanwhile."""

from argparse import Namespace
from datetime import datetime

from station.bootstrap import JOURNAL_NAME
from station.care.floor import Floor
from station.care.ledger import Ledger
from station.care.pace import paced
from station.cli.by_badge import refuse_stranger
from station.cli.instants import instant
from station.cli.saying import YES, progress, progress_over, say
from station.clock import SystemClock
from station.journal.snapshot import Snapshot, snapshot
from station.reports.asked import Asked, Made
from station.reports.building import build
from station.reports.csv_file import CsvForm
from station.reports.files import csv_files, pdf_files, write_all
from station.services.outcome import Refusal
from station.services.site import Site
from station.settings.load import load


def run(told: Namespace) -> int:
    """Build the report and write its files, all or none."""
    site = load(told.config)
    path = told.data / JOURNAL_NAME
    if not path.exists():
        raise Refusal("no-journal", f"There is no journal in {told.data}. Name the folder of a station that has run.")
    found = snapshot(path)
    asked = _asked(told, site, found, SystemClock().read().wall)
    report = build(told.name, asked)
    form = CsvForm(told.separator, told.decimal)
    tables = csv_files(told.name, report, form, progress)
    pages = pdf_files(told.name, report, asked, progress)
    written = write_all(told.out, {**tables, **pages})
    progress_over()
    for table in report.tables:
        say(f"{table.title}: {len(table.rows)} {'row' if len(table.rows) == 1 else 'rows'}")
    for file in written:
        say(f"written: {file}")
    return YES


def _asked(told: Namespace, site: Site, found: Snapshot, now: datetime) -> Asked:
    ledger = Ledger(found.own)
    for fact in paced(found.facts, progress, "adding up the record"):
        ledger.apply(fact)
    since = (
        instant("--from", told.since, site.zone) if told.since else min((fact.at for fact in found.facts), default=now)
    )
    until = instant("--to", told.until, site.zone) if told.until else now
    if until < since:
        raise Refusal("period", "The period ends before it begins. Turn --from and --to round.")
    if told.by:
        refuse_stranger(ledger.people, told.by)
    made = Made(told.by, now, f"{site.name}, station {site.station}", found.head)
    floor = Floor(site.plant, ledger, now, site.zone)
    return Asked(floor, made, since, until, told.of, site.currency, site.shifts, progress)
