"""A report written into a folder: one CSV a table and one PDF, all of them or none."""

import os
import re
from contextlib import suppress
from pathlib import Path

from station.care.pace import Pace, unhurried
from station.reports.asked import Asked
from station.reports.csv_file import CsvForm, to_csv
from station.reports.document import Report
from station.reports.pdf_file import to_pdf
from station.services.outcome import Refusal


def csv_files(name: str, report: Report, form: CsvForm, pace: Pace = unhurried) -> dict[str, bytes]:
    """Contents by file name: `NAME.csv` of the first table, `NAME-<title of the table>.csv` of each further one."""
    titles = ["", *(f"-{_plain(table.title)}" for table in report.tables[1:])]
    pairs = zip(titles, report.tables, strict=True)
    return {f"{name}{title}.csv": to_csv(table, form, report.told, pace) for title, table in pairs}


def pdf_files(name: str, report: Report, asked: Asked, pace: Pace = unhurried) -> dict[str, bytes]:
    """The one PDF, by its file name."""
    return {f"{name}.pdf": to_pdf(report, asked.made.at, pace)}


def _plain(title: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-")


def write_all(folder: Path, files: dict[str, bytes]) -> tuple[Path, ...]:
    """Put all files into the folder, made where there is none; older ones of these names are replaced.

    Refusal "not-written" where that fails; no part of the new ones is left then.
    """
    parts = {folder / name: folder / f".{name}.part" for name in files}
    placed: list[Path] = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for path, part in parts.items():
            _write(part, files[path.name])
        for path, part in parts.items():
            part.replace(path)
            placed.append(path)
    except BaseException as trouble:  # also where somebody ended the program
        for left in (*parts.values(), *placed):
            with suppress(OSError):
                left.unlink(missing_ok=True)
        if not isinstance(trouble, OSError):
            raise
        why = trouble.strerror or "the disk failed"
        raise Refusal("not-written", f"{folder}: no report was written ({why}). Choose another folder.") from trouble
    return tuple(parts)


def _write(path: Path, content: bytes) -> None:
    with path.open("wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
