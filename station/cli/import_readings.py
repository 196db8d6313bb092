"""`station import-readings FILE`: a store's logger is taken in, and what it says of the store and what lay there."""

from argparse import Namespace
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from station.bootstrap import JOURNAL_NAME, NoPrinter, build_station, keys_in
from station.care import facts as f
from station.care.saying import span_up
from station.cli.by_badge import signed_in
from station.cli.instants import instant
from station.cli.runs_in_files import DECIMALS, DELIMITERS
from station.cli.saying import CANNOT, NO, YES, complain, say
from station.clock import SystemClock
from station.journal.evidence import FOLDER, FolderEvidence
from station.journal.store import Journal
from station.readings.layout import Layout, LayoutRefused, Unit
from station.readings.long_file import LongFile
from station.readings.questions import Declared, LayoutUnclear
from station.readings.series import ReadingsRefused, bounded
from station.readings.store_log import read_store_log
from station.readings.track import unpack
from station.services.cold_readings import import_store_readings
from station.services.cold_readings_judged import LoggerFile
from station.services.opening import opening_bodies
from station.services.outcome import Outcome, Refusal
from station.services.site import Site
from station.settings.load import load

SAY_EVERY = 100_000


def run(told: Namespace) -> int:
    """An excursion or a conflict is the answer "no"; the readings are taken in all the same."""
    site = load(told.config)
    try:
        content = _bytes(told.file)
        log, layout = _read(told, site, content)
        return _take_in(told, site, _given(told, content, log, layout), log)
    except KeyboardInterrupt:
        complain([f"{told.file.name}: stopped; nothing of it was taken in."])
        return CANNOT


def _bytes(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as trouble:
        raise Refusal("no-file", f"{path} can't be read: {trouble.strerror}. Name the logger's file.") from trouble


def _read(told: Namespace, site: Site, content: bytes) -> tuple[LongFile, Layout]:
    name = told.file.name
    try:
        return read_store_log(name, content, _declared(told, site), told.encoding, _progress())
    except (LayoutUnclear, ReadingsRefused) as unread:
        raise Refusal("readings", "\n".join(bounded(list(unread.sentences())))) from unread
    except LayoutRefused as refused:
        raise Refusal("readings", f"{name}: {refused}") from refused


def _progress() -> Callable[[int], bool]:
    """Says how far it is, each time another so many rows are read."""
    said = 0

    def go_on(rows: int) -> bool:
        nonlocal said
        if rows // SAY_EVERY > said:
            said = rows // SAY_EVERY
            complain([f"{rows} rows read"])
        return True

    return go_on


def _declared(told: Namespace, site: Site) -> Declared:
    start: datetime | None = instant("--start", told.start, site.zone) if told.start else None
    return Declared(
        delimiter=DELIMITERS.get(told.delimiter, told.delimiter),
        decimal=DECIMALS.get(told.decimal, told.decimal),
        header_rows=told.header_rows,
        time_columns=tuple(told.time_column),
        time_format=told.time_format,
        unit=_unit(told.unit),
        zone=told.zone,
        sensors=(told.sensor,) if told.sensor else (),
        start=start,
    )


def _unit(text: str | None) -> Unit | None:
    try:
        return Unit(text.strip().upper().removeprefix("°")) if text is not None else None
    except ValueError:
        raise Refusal("unit", f"--unit {text!r} is no unit. Write C or F.") from None


def _given(told: Namespace, content: bytes, log: LongFile, layout: Layout) -> LoggerFile:
    return LoggerFile(
        store=told.store,
        name=told.file.name,
        content=content,
        series=log.track,
        longest_step=log.track.longest_step(),
        sensor=log.sensor,
        zone=str(layout.zone) if layout.zone is not None else "",
        rows=log.rows,
        faults=log.faults,
        repeated=log.repeated,
        instrument=told.instrument or "",
    )


def _take_in(told: Namespace, site: Site, given: LoggerFile, log: LongFile) -> int:
    keys = keys_in(told.data, create=False)
    with Journal.open(told.data / JOURNAL_NAME) as journal:
        evidence = FolderEvidence(told.data / FOLDER)
        station = build_station(site, journal, SystemClock(), keys, NoPrinter(), journal.own, evidence)
        if any(True for _ in opening_bodies(site, station.ledger)):
            raise Refusal(
                "settings-newer",
                "The settings are not yet what the station works by. Start it once with them, then import.",
            )
        signed_in(station, told.by)
        outcome = import_store_readings(station, given, unpack)
        if outcome.facts:
            station.stop("readings were taken in")
    complain(bounded([problem.sentence for problem in log.problems]))
    return _say(outcome)


def _say(outcome: Outcome) -> int:
    bodies = [fact.body for fact in outcome.facts]
    if outcome.verdict is not None:
        say(f"{outcome.verdict.headline}: {outcome.verdict.why}")
    found = [body for body in bodies if isinstance(body, f.ExcursionFound)]
    for body in found:
        say(_excursion(body))
    if outcome.verdict is not None and outcome.verdict.todo:
        say(outcome.verdict.todo)
    conflicts = sum(body.conflicts for body in bodies if isinstance(body, f.ReadingsImported))
    return NO if found or conflicts else YES


def _excursion(body: f.ExcursionFound) -> str:
    kinetic = "none" if body.kinetic_c is None else f"{body.kinetic_c:.1f} C"
    end = f"{body.end:%Y-%m-%d %H:%M}" if body.ended else f"{body.end:%Y-%m-%d %H:%M} or later"
    gap = f", {span_up(body.longest_gap)} without a reading" if body.longest_gap else ""
    inside = ", ".join(body.containers) or "nothing"
    return (
        f"  {body.side.value} {body.start:%Y-%m-%d %H:%M} to {end} UTC, peak {body.peak_c:.1f} C, "
        f"{span_up(body.outside)} out, mean kinetic {kinetic}{gap}; inside: {inside}"
    )
