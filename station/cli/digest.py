"""`station digest`: where every journal stood at the end of a plant day, as a text to print or mail."""

from argparse import Namespace
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from station.bootstrap import JOURNAL_NAME
from station.cli.instants import day, iso
from station.cli.saying import NO, YES, complain, say
from station.clock import SystemClock
from station.journal.contents import facts_of, read_rows, spans
from station.journal.verify import check
from station.reports.of_digest import NOT_OVER, Head, heads, short
from station.services.outcome import Refusal
from station.settings.load import load

KEEP_IT = """Keep this where whoever runs the station can't change it: on paper, or in somebody else's mail.
Check it later with this text as a file:
    station verify --digest FILE
Each short head stands for its whole one; compare it by eye where only paper is at hand."""


def run(told: Namespace) -> int:
    """Say where the journals stood; a journal with faults is said to have them, and answered with "no"."""
    site, now = load(told.config), SystemClock().read().wall
    asked = day("--day", told.day) if told.day else now.astimezone(site.zone).date()
    begins, ends = _midnight(asked, site.zone), _midnight(asked + timedelta(days=1), site.zone)
    if begins > now:
        raise Refusal("day-to-come", f"{asked} has not begun. Name a day up to today.")
    rows = read_rows(told.data / JOURNAL_NAME)
    facts = facts_of(rows)
    say(f"{site.name}, station {site.station}")
    say(f"Digest of the record up to the end of {asked:%Y-%m-%d} ({site.zone.key}), made {iso(now)}")
    if ends > now:
        say(NOT_OVER)
    found = heads(spans(rows, facts, None, ends), spans(rows, facts, begins, ends))
    for head in found:
        _say_journal(head)
    if not found:
        say("No facts up to then.")
    say()
    say(KEEP_IT)
    faults = [finding.sentence for finding in check(rows).findings]
    complain(faults)
    return NO if faults else YES


def _say_journal(found: Head) -> None:
    say()
    say(f"journal {found.journal}")
    say(f"  facts {found.facts}, of them {found.that_day} on that day, the last is number {found.last}")
    say(f"  head  {found.head}")
    say(f"  short {short(found.head)}")


def _midnight(first: date, zone: ZoneInfo) -> datetime:
    """When a plant day begins."""
    return datetime.combine(first, time(), zone).astimezone(UTC)
