"""Thermocouple runs out of loggers' files: layout options, one run for each sensor, and the same run only once."""

from argparse import Namespace
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from station.care.warmup.runs import Run
from station.cli.instants import instant
from station.readings.grid import decode
from station.readings.headings import repaired, sensor_name
from station.readings.layout import Layout, LayoutRefused, Unit
from station.readings.merge import merge
from station.readings.questions import Declared, LayoutUnclear
from station.readings.reader import read
from station.readings.recognise import recognise
from station.readings.series import TIME_IN_DOUBT, ReadingsRefused, Row, Series, bounded
from station.services.outcome import Refusal, refuse_no_room

DELIMITERS = {"semicolon": ";", "comma": ",", "tab": "\t", "bar": "|", "\\t": "\t"}
DECIMALS = {"point": ".", "comma": ","}
ZERO = datetime(1970, 1, 1, tzinfo=UTC)
"""Where times count from a start that nobody needs to know: only their differences are used."""
WITH_START = "start"
"""In place of an instant: every file begins with the take-out of its container."""
SAME_SHARE, SAME_READINGS = 0.9, 10
"""Two runs that share at least so many readings, and agree in nearly all of them, are one run exported twice."""


@dataclass(frozen=True, slots=True)
class File:
    """A file read, with the layout it was read by."""

    name: str
    layout: Layout
    series: Series

    @property
    def notes(self) -> tuple[str, ...]:
        """What was noticed in it."""
        return tuple(f"{self.name}: {problem.sentence}" for problem in self.series.problems)


@dataclass(frozen=True, slots=True)
class Candidate:
    """One sensor of one file: a run to judge, or the reasons (code, sentence) why it is none."""

    file: str
    sensor: str
    rows: tuple[Row, ...]
    run: Run | None
    reasons: tuple[tuple[str, str], ...] = ()

    @property
    def name(self) -> str:
        """File and sensor."""
        return f"{self.file} {self.sensor}"


def refuse_bad_room(told: Namespace) -> None:
    """Refusal where the room's temperature is told twice or not at all, or is none of any room."""
    if (told.room is None) == (told.room_sensor is None):
        raise Refusal("room", "Give the room's temperature: either --room C or --room-sensor NAME.")
    refuse_no_room(told.room, None)


def read_files(told: Namespace) -> list[File]:
    """Every file, or a Refusal with all that is wrong with all of them."""
    declared = _declared(told)
    found: list[File] = []
    faults: list[str] = []
    for path in told.files:
        try:
            found.append(_read_file(path, declared, told.encoding))
        except (LayoutUnclear, ReadingsRefused) as unread:
            faults += unread.sentences()
        except LayoutRefused as refused:
            faults.append(f"{path}: {refused}")
        except OSError as trouble:
            faults.append(f"{path}: it can't be read ({trouble.strerror}).")
    if faults:
        raise Refusal("readings", "\n".join(bounded(faults)))
    return found


def _read_file(path: Path, declared: Declared, encoding: str | None) -> File:
    text = decode(str(path), path.read_bytes(), encoding)
    layout = recognise(str(path), text, declared)
    return File(str(path), layout, read(str(path), text, layout))


def _declared(told: Namespace) -> Declared:
    both = [text.rpartition("=") for text in told.unit]
    units = [_unit(unit) for _, _, unit in both if not _]
    wanted = tuple(told.sensor)
    if wanted and told.room_sensor is not None:
        wanted = (*wanted, told.room_sensor)
    return Declared(
        delimiter=_delimiter(told.delimiter),
        decimal=DECIMALS.get(told.decimal, told.decimal),
        header_rows=told.header_rows,
        time_columns=tuple(told.time_column),
        time_format=told.time_format,
        unit=units[-1] if units else None,
        units=tuple((name, _unit(unit)) for name, sign, unit in both if sign),
        zone=told.zone,
        sensors=wanted,
        start=ZERO,
    )


def _delimiter(text: str | None) -> str | None:
    return None if text is None else DELIMITERS.get(text, text)


def _unit(text: str) -> Unit:
    try:
        return Unit(text.strip().upper().removeprefix("°"))
    except ValueError:
        raise Refusal("unit", f"--unit {text!r} is no unit. Write C or F, or NAME=F for one sensor.") from None


def candidates(files: Sequence[File], told: Namespace, plant: ZoneInfo) -> list[Candidate]:
    """A candidate for each sensor of each file, those that are one run told apart from the rest."""
    outs = [instant("--taken-out", text, plant) for text in told.taken_out if text != WITH_START]
    for out in outs:
        if not any(_covers(file, out) for file in files):
            raise Refusal("taken-out", f"--taken-out {out:%Y-%m-%dT%H:%M:%SZ} lies in none of the files.")
    found = [candidate for file in files for candidate in _of_file(file, told, outs)]
    return _each_once(found)


def _covers(file: File, at: datetime) -> bool:
    rows = file.series.rows
    return not file.layout.time_form.elapsed and bool(rows) and rows[0].at <= at <= rows[-1].at


def _of_file(file: File, told: Namespace, outs: Sequence[datetime]) -> list[Candidate]:
    room = _room_of(file, told.room_sensor)
    doubts = tuple((problem.code.value, problem.sentence) for problem in file.series.noticed(*TIME_IN_DOUBT))
    first = file.series.rows[0].at if WITH_START in told.taken_out and file.series.rows else None
    out = next((at for at in outs if _covers(file, at)), first)
    sensors = [sensor for sensor in file.series.sensors if sensor != room]
    if not sensors:
        raise Refusal("sensor", f"{file.name}: it has no sensor beside that of the room.")
    return [_candidate(file, sensor, room, told.room, out, doubts) for sensor in sensors]


def _room_of(file: File, name: str | None) -> str | None:
    if name is None:
        return None
    wanted = {repaired(name).casefold(), sensor_name(repaired(name), 0).casefold()}
    for column in file.layout.sensors:
        if wanted & {column.sensor.casefold(), str(column.column + 1)}:
            return column.sensor
    known = ", ".join(column.sensor for column in file.layout.sensors)
    raise Refusal("room-sensor", f"{file.name}: there is no sensor {name!r} for the room. Use one of: {known}.")


def _candidate(
    file: File,
    sensor: str,
    room: str | None,
    room_c: float | None,
    out: datetime | None,
    doubts: tuple[tuple[str, str], ...],
) -> Candidate:
    rows = tuple(Row(row.file, row.number, row.at, {sensor: row.temperatures[sensor]}) for row in file.series.rows)
    if doubts:
        return Candidate(file.name, sensor, rows, None, doubts)
    air = dict(file.series.points(room)) if room is not None else {}
    points = [(at, paste, air.get(at, room_c)) for at, paste in file.series.points(sensor)]
    kept = [(at, paste, around) for at, paste, around in points if around is not None]
    start = kept[0][0] if kept else ZERO
    inside = out is not None and bool(kept) and kept[0][0] <= out <= kept[-1][0]
    run = Run(
        name=f"{file.name} {sensor}",
        seconds=tuple((at - start).total_seconds() for at, _, _ in kept),
        temperatures_c=tuple(paste for _, paste, _ in kept),
        room_c=tuple(around for _, _, around in kept),
        taken_out_s=(out - start).total_seconds() if out is not None and inside else None,
    )
    return Candidate(file.name, sensor, rows, run)


def _each_once(found: Sequence[Candidate]) -> list[Candidate]:
    """Refuse the shorter of two candidates that are one run, so that no run counts twice."""
    kept = list(found)
    for later in range(len(kept)):
        for earlier in range(later):
            first, second = kept[earlier], kept[later]
            if first.run is None or second.run is None or not _same(first, second):
                continue
            shorter, longer = (earlier, second) if len(first.rows) < len(second.rows) else (later, first)
            told = f"It holds the same readings as {longer.name}, which counts once."
            kept[shorter] = replace(kept[shorter], run=None, reasons=(("repeated-run", told),))
    return kept


def _same(first: Candidate, second: Candidate) -> bool:
    """Whether two candidates agree in the readings they share in time, whatever their sensors are called."""
    known = merge(_plain(first), _plain(second))
    shared = known.known + len(known.conflicts)
    return known.known >= SAME_READINGS and known.known >= SAME_SHARE * shared


def _plain(candidate: Candidate) -> list[Row]:
    return [replace(row, temperatures={"": row.temperatures[candidate.sensor]}) for row in candidate.rows]
