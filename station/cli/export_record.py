"""`station export FOLDER`: the record for auditors, to be read and checked without the program."""

from argparse import Namespace
from datetime import UTC, datetime
from pathlib import Path

from station.bootstrap import JOURNAL_NAME
from station.care.saying import many
from station.cli.instants import instant, iso
from station.cli.saying import NO, YES, complain, say
from station.journal.contents import facts_of, read_rows, spans
from station.journal.evidence import FOLDER, FolderEvidence
from station.journal.verify import check
from station.reports.record_export import export, named_in, refuse_taken


def run(told: Namespace) -> int:
    """Write the folder whole or not at all; faults of the record itself are exported as they are, and answered "no"."""
    folder: Path = told.folder
    refuse_taken(folder)
    begin, end = _moment("--from", told.begin), _moment("--to", told.end)
    rows = read_rows(told.data / JOURNAL_NAME)
    facts = facts_of(rows)
    parts = tuple(spans(rows, facts, begin, end))
    named = named_in(parts, facts)
    lost = export(folder, parts, named, FolderEvidence(told.data / FOLDER), _asked(told))
    faults = [*(finding.sentence for finding in check(rows).findings), *lost]
    complain(faults)
    facts_of_all = many(sum(len(part.rows) for part in parts), "fact")
    of = f"{many(len(parts), 'journal')} and {many(len(named) - len(lost), 'kept file')}"
    say(f"done: {facts_of_all} of {of} in {folder}; READ-ME.txt says more")
    return NO if faults else YES


def _moment(option: str, text: str | None) -> datetime | None:
    return instant(option, text, UTC) if text else None


def _asked(told: Namespace) -> tuple[tuple[str, str], ...]:
    limits = (("from", _moment("--from", told.begin)), ("to", _moment("--to", told.end)))
    return tuple((name, iso(at) if at is not None else "all") for name, at in limits)
