"""`station export FOLDER`: the record for auditors, to be read and checked without the program."""

import shutil
from argparse import Namespace
from collections.abc import Iterable
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path

from station.bootstrap import JOURNAL_NAME
from station.cli.export_tables import facts_table, heads_table
from station.cli.instants import instant, iso
from station.cli.saying import NO, YES, complain, say
from station.journal.contents import Span, facts_of, read_rows, spans
from station.journal.evidence import FOLDER, FolderEvidence
from station.journal.verify import check
from station.labels.resources import resource_path
from station.reports.csv_file import CsvForm, to_csv
from station.reports.document import Table
from station.services.outcome import Refusal
from station.services.ports import JournalTrouble
from station.services.proof import files_named

SUMS = "SHA256SUMS"


def run(told: Namespace) -> int:
    """Write the folder whole or not at all; faults of the record itself are exported as they are, and answered "no"."""
    folder: Path = told.folder
    _refuse_taken(folder)
    begin, end = _moment("--from", told.begin), _moment("--to", told.end)
    rows = read_rows(told.data / JOURNAL_NAME)
    facts = facts_of(rows)
    parts = tuple(spans(rows, facts, begin, end))
    inside = {(row.journal, row.seq) for part in parts for row in part.rows}
    within = (fact for fact in facts if (f"{fact.journal:016x}", fact.seq) in inside)
    named = dict.fromkeys(digest for fact in within for digest in files_named(fact.body))
    part = folder.with_name(f"{folder.name}.part")
    try:
        lost = _write(part, parts, named, FolderEvidence(told.data / FOLDER), _asked(told))
        if folder.exists():
            folder.rmdir()
        part.rename(folder)
    except OSError as fault:
        raise Refusal("export-unwritten", f"{folder} can't be written ({fault.strerror}). Choose another.") from fault
    finally:
        shutil.rmtree(part, ignore_errors=True)
    faults = [*(finding.sentence for finding in check(rows).findings), *lost]
    complain(faults)
    kept = len(named) - len(lost)
    say(f"done: {len(inside)} facts of {len(parts)} journals and {kept} kept files in {folder}; READ-ME.txt says more")
    return NO if faults else YES


def _refuse_taken(folder: Path) -> None:
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise Refusal("export-in-the-way", f"{folder} is not empty. Name a folder that is not there yet.")


def _moment(option: str, text: str | None) -> datetime | None:
    return instant(option, text, UTC) if text else None


def _asked(told: Namespace) -> tuple[tuple[str, str], ...]:
    limits = (("from", _moment("--from", told.begin)), ("to", _moment("--to", told.end)))
    return tuple((name, iso(at) if at is not None else "all") for name, at in limits)


def _write(
    folder: Path,
    parts: tuple[Span, ...],
    named: Iterable[str],
    evidence: FolderEvidence,
    asked: tuple[tuple[str, str], ...],
) -> tuple[str, ...]:
    """Every file, the sums last; a sentence for each kept file that is not whole."""
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    rows = [row for part in parts for row in part.rows]
    _put(folder / "facts.jsonl", b"".join(row.stored + b"\n" for row in rows))
    _put(folder / "chain.txt", "".join(f"{row.hash}\n" for row in rows).encode())
    _put(folder / "heads.csv", _csv(heads_table(parts), asked))
    _put(folder / "facts.csv", _csv(facts_table(parts), asked))
    for name in ("READ-ME.txt", "check_chain.py"):
        _put(folder / name, resource_path("proof", name).read_bytes())
    lost = tuple(_kept(folder / "evidence", named, evidence))
    _put(folder / SUMS, "".join(_sums(folder)).encode())
    return lost


def _csv(table: Table, asked: tuple[tuple[str, str], ...]) -> bytes:
    return to_csv(table, CsvForm(), asked)


def _put(path: Path, content: bytes) -> None:
    path.write_bytes(content)


def _kept(folder: Path, named: Iterable[str], evidence: FolderEvidence) -> Iterable[str]:
    folder.mkdir()
    for digest in named:
        try:
            _put(folder / digest, evidence.fetch(digest))
        except JournalTrouble as trouble:
            yield trouble.sentence


def _sums(folder: Path) -> Iterable[str]:
    for path in sorted(folder.rglob("*")):
        if path.is_file():
            yield f"{sha256(path.read_bytes()).hexdigest()}  {path.relative_to(folder).as_posix()}\n"
