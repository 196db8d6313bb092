"""From a logger's file to readings of a store: read, ask or refuse. No widgets, so that a thread may do it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from station.readings.layout import Layout, LayoutRefused
from station.readings.long_file import Cancelled, LongFile
from station.readings.questions import LayoutUnclear, Option
from station.readings.series import ReadingsRefused
from station.readings.store_log import read_store_log
from station.readings.track import unpack
from station.services.cold_readings import keep
from station.services.cold_readings_judged import Found, Known, LoggerFile, StoreSoFar, judge
from station.services.outcome import Refusal
from station.services.ports import Evidence, JournalTrouble
from station.ui.warm_up.asked import Asks, Faults
from station.ui.warm_up.questions import answered, asking, hopeless

MOST_TOLD = 3
NO_START = "its times count from a start that it does not name. Export the dates, and choose that file."


@dataclass(frozen=True)
class LoggerAsked:
    """Which file of which store, the zone of its times where it names none, and the reader's questions answered."""

    file: Path
    store: str
    zone: str
    instrument: str = ""
    answers: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


@dataclass(frozen=True)
class Stopped:
    """Somebody left the form while its file was read."""


GoOn = Callable[[int, int], bool]
"""Told the rows so far and how many lines there are; it may say no."""


def read_logger(asked: LoggerAsked, go_on: GoOn) -> Asks | Faults | LoggerFile | Stopped:
    """What comes of the file as it was told."""
    name = asked.file.name
    try:
        content = asked.file.read_bytes()
        lines = content.count(b"\n")
        log, layout = _read(asked, content, lambda rows: go_on(rows, lines))
    except OSError as trouble:
        return Faults((f"{name}: it can't be read ({trouble.strerror}).",))
    except Cancelled:
        return Stopped()
    except ReadingsRefused as refused:
        return Faults(refused.sentences(MOST_TOLD))
    except LayoutRefused as refused:
        return Faults((f"{name}: {refused}",))
    except LayoutUnclear as unclear:
        return _open(unclear, asked.zone)
    return LoggerFile(
        store=asked.store,
        name=name,
        content=content,
        series=log.track,
        longest_step=log.track.longest_step(),
        sensor=log.sensor,
        zone=str(layout.zone or ""),
        rows=log.rows,
        faults=log.faults,
        repeated=log.repeated,
        instrument=asked.instrument,
    )


def found_in(
    asked: LoggerAsked, known: StoreSoFar, evidence: Evidence, go_on: GoOn
) -> Asks | Faults | Stopped | Found | Known:
    """What the file comes to beside what was `known` of its store, kept on disk but not on record.

    Whoever leaves the form before the end has kept and recorded nothing.
    """
    read = read_logger(asked, go_on)
    if not isinstance(read, LoggerFile):
        return read
    try:
        found = judge(read, known, evidence.fetch, unpack)
        if not go_on(read.rows, read.rows):
            return Stopped()
        if isinstance(found, Found):
            keep(evidence, found)
    except (Refusal, JournalTrouble) as trouble:
        return Faults((trouble.sentence,))
    return found


def _read(asked: LoggerAsked, content: bytes, go_on: Callable[[int], bool]) -> tuple[LongFile, Layout]:
    """The zone that was chosen is taken only where the file names none."""
    name, told = asked.file.name, answered(asked.answers)
    try:
        return read_store_log(name, content, told, None, go_on)
    except LayoutUnclear as unclear:
        if not any(question.option is Option.ZONE for question in unclear.questions):
            raise
    return read_store_log(name, content, replace(told, zone=asked.zone), None, go_on)


def _open(unclear: LayoutUnclear, zone: str) -> Asks | Faults:
    if any(question.option is Option.START for question in unclear.questions):
        return Faults((f"{unclear.file}: {NO_START}",))
    beyond = hopeless(unclear)
    return Faults(beyond) if beyond else Asks(asking((unclear,), zone))
