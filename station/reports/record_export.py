"""The record as a folder for auditors, to be read and checked without the program: whole, or nothing of it."""

import shutil
from collections.abc import Iterable
from hashlib import sha256
from pathlib import Path

from station.care.facts import Fact
from station.care.pace import Pace, paced, unhurried
from station.labels.resources import resource_path
from station.reports.csv_file import CsvForm, to_csv
from station.reports.document import Table
from station.reports.export_tables import facts_table, heads_table
from station.reports.record import Span
from station.services.outcome import Refusal
from station.services.ports import Evidence, JournalTrouble
from station.services.proof import files_named

SUMS = "SHA256SUMS"
KEEPING = "copying kept files"


def refuse_taken(folder: Path) -> None:
    """Refusal for a folder that is there already and has something in it."""
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise Refusal("export-in-the-way", f"{folder} is not empty. Name a folder that is not there yet.")


def named_in(parts: Iterable[Span], facts: Iterable[Fact]) -> tuple[str, ...]:
    """The digests of the kept files that facts of these parts name, each once."""
    inside = {(row.journal, row.seq) for part in parts for row in part.rows}
    within = (fact for fact in facts if (f"{fact.journal:016x}", fact.seq) in inside)
    return tuple(dict.fromkeys(digest for fact in within for digest in files_named(fact.body)))


def export(
    folder: Path,
    parts: tuple[Span, ...],
    named: tuple[str, ...],
    evidence: Evidence,
    asked: tuple[tuple[str, str], ...],
    pace: Pace = unhurried,
) -> tuple[str, ...]:
    """Write the folder; a sentence for each kept file that is not whole. `pace` may raise to end it.

    Refusal where it can't be written. Whatever ends it, nothing half done is left.
    """
    refuse_taken(folder)
    part = folder.with_name(f"{folder.name}.part")
    try:
        lost = _write(part, parts, named, evidence, asked, pace)
        if folder.exists():
            folder.rmdir()
        part.rename(folder)
    except OSError as fault:
        raise Refusal("export-unwritten", f"{folder} can't be written ({fault.strerror}). Choose another.") from fault
    finally:
        shutil.rmtree(part, ignore_errors=True)
    return lost


def _write(
    folder: Path,
    parts: tuple[Span, ...],
    named: tuple[str, ...],
    evidence: Evidence,
    asked: tuple[tuple[str, str], ...],
    pace: Pace,
) -> tuple[str, ...]:
    """Every file, the sums last."""
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    rows = [row for part in parts for row in part.rows]
    _put(folder / "facts.jsonl", b"".join(row.stored + b"\n" for row in rows))
    _put(folder / "chain.txt", "".join(f"{row.hash}\n" for row in rows).encode())
    _put(folder / "heads.csv", _csv(heads_table(parts), asked))
    _put(folder / "facts.csv", _csv(facts_table(parts, pace), asked))
    for name in ("READ-ME.txt", "check_chain.py"):
        _put(folder / name, resource_path("proof", name).read_bytes())
    (folder / "evidence").mkdir()
    lost = tuple(_kept(folder / "evidence", paced(named, pace, KEEPING), evidence))
    _put(folder / SUMS, "".join(_sums(folder)).encode())
    return lost


def _csv(table: Table, asked: tuple[tuple[str, str], ...]) -> bytes:
    return to_csv(table, CsvForm(), asked)


def _put(path: Path, content: bytes) -> None:
    path.write_bytes(content)


def _kept(folder: Path, named: Iterable[str], evidence: Evidence) -> Iterable[str]:
    for digest in named:
        try:
            _put(folder / digest, evidence.fetch(digest))
        except JournalTrouble as trouble:
            yield trouble.sentence


def _sums(folder: Path) -> Iterable[str]:
    for path in sorted(folder.rglob("*")):
        if path.is_file():
            yield f"{sha256(path.read_bytes()).hexdigest()}  {path.relative_to(folder).as_posix()}\n"
