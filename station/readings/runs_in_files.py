"""Thermocouple runs out of loggers' files: one candidate for each sensor, and the same run only once."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime

from station.care.warmup.runs import Run
from station.readings.grid import decode
from station.readings.headings import repaired, sensor_name
from station.readings.layout import Layout
from station.readings.merge import merge
from station.readings.questions import Declared
from station.readings.reader import read
from station.readings.recognise import recognise
from station.readings.series import TIME_IN_DOUBT, Row, Series
from station.services.outcome import Refusal

ZERO = datetime(1970, 1, 1, tzinfo=UTC)
"""Where times count from a start that nobody needs to know: only their differences are used."""
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
class Around:
    """What a file does not say of its runs: the room beside the containers, and when they left the cold.

    The room is one temperature in Celsius or a sensor by its heading or its column from 1. `outs` are aware UTC;
    `from_start` says that a file begins with the take-out of its container.
    """

    room_c: float | None = None
    room_sensor: str | None = None
    outs: tuple[datetime, ...] = ()
    from_start: bool = False


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


def file_of(name: str, content: bytes, declared: Declared, encoding: str | None = None) -> File:
    """A file's content read. Raises LayoutUnclear, LayoutRefused and ReadingsRefused."""
    text = decode(name, content, encoding)
    layout = recognise(name, text, declared)
    return File(name, layout, read(name, text, layout))


def candidates(files: Sequence[File], around: Around) -> list[Candidate]:
    """A candidate for each sensor of each file, those that are one run told apart from the rest.

    Raises Refusal for a take-out that lies in no file, a room's sensor that is in none, and a file without another.
    """
    for out in around.outs:
        if not any(_covers(file, out) for file in files):
            raise Refusal("taken-out", f"The take-out {out:%Y-%m-%dT%H:%M:%SZ} lies in none of the files.")
    return _each_once([candidate for file in files for candidate in _of_file(file, around)])


def _covers(file: File, at: datetime) -> bool:
    rows = file.series.rows
    return not file.layout.time_form.elapsed and bool(rows) and rows[0].at <= at <= rows[-1].at


def _of_file(file: File, around: Around) -> list[Candidate]:
    room = _room_of(file, around.room_sensor)
    doubts = tuple((problem.code.value, problem.sentence) for problem in file.series.noticed(*TIME_IN_DOUBT))
    first = file.series.rows[0].at if around.from_start and file.series.rows else None
    out = next((at for at in around.outs if _covers(file, at)), first)
    sensors = [sensor for sensor in file.series.sensors if sensor != room]
    if not sensors:
        raise Refusal("sensor", f"{file.name}: it has no sensor beside that of the room.")
    return [_candidate(file, sensor, room, around.room_c, out, doubts) for sensor in sensors]


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
