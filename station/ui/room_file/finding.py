"""From a room logger's file to its newest air: read, ask or refuse. No widgets, so that a thread may do it."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path

from station.readings.grid import decode
from station.readings.layout import LayoutRefused
from station.readings.newest_air import air_sensors, newest_air, worth_knowing
from station.readings.questions import LayoutUnclear, Option
from station.readings.reader import read
from station.readings.recognise import recognise
from station.readings.series import ReadingsRefused, Series, bounded
from station.services.outcome import Refusal
from station.services.room_air import Air
from station.ui.view_models import ActionModel
from station.ui.warm_up.asked import ROOM, Asking, Asks, Faults
from station.ui.warm_up.questions import answered, asking, hopeless

MOST_TOLD = 3
NO_START = "its times count from a start that it does not name, so nobody can say how old they are. Export the dates."


@dataclass(frozen=True)
class AirAsked:
    """Which file, the zone of its times where it names none, and the answers to the reader's questions so far."""

    file: Path
    zone: str
    answers: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


@dataclass(frozen=True)
class AirFound:
    """The newest air; `zone` is the one taken for its times, empty where the file names its own."""

    air: Air
    zone: str
    notes: tuple[str, ...]


def find_air(asked: AirAsked, now: datetime) -> Asks | Faults | AirFound:
    """What comes of the file as it was told; `now` is aware UTC."""
    name = asked.file.name
    try:
        series, zone = _read(asked)
    except OSError as trouble:
        return Faults((f"{name}: it can't be read ({trouble.strerror}).",))
    except ReadingsRefused as refused:
        return Faults(refused.sentences(MOST_TOLD))
    except LayoutRefused as refused:
        return Faults((f"{name}: {refused}",))
    except LayoutUnclear as unclear:
        return _open(unclear, asked.zone)
    sensor = next(iter(asked.answers.get(ROOM, ())), None)
    sensors = air_sensors(series)
    if sensor is None and len(sensors) > 1:
        return Asks((Asking(ROOM, f"{name}: which sensor measured the room?", _choices(sensors)),))
    try:
        air = newest_air(series, now, sensor)
    except Refusal as refusal:
        return Faults((_with_zone(refusal, zone),))
    return AirFound(air, zone, bounded(worth_knowing(series, air), MOST_TOLD))


def _choices(sensors: tuple[str, ...]) -> tuple[ActionModel, ...]:
    return tuple(ActionModel(sensor, sensor) for sensor in sensors)


def _read(asked: AirAsked) -> tuple[Series, str]:
    """The series, and the zone that was taken for its times because the file names none."""
    name, told = asked.file.name, replace(answered(asked.answers), air=True)
    text = decode(name, asked.file.read_bytes())
    try:
        return read(name, text, recognise(name, text, told)), ""
    except LayoutUnclear as unclear:
        if not any(question.option is Option.ZONE for question in unclear.questions):
            raise
    layout = recognise(name, text, replace(told, zone=asked.zone))
    return read(name, text, layout), asked.zone


def _open(unclear: LayoutUnclear, zone: str) -> Asks | Faults:
    if any(question.option is Option.START for question in unclear.questions):
        return Faults((f"{unclear.file}: {NO_START}",))
    beyond = hopeless(unclear)
    return Faults(beyond) if beyond else Asks(asking((unclear,), zone))


def _with_zone(refusal: Refusal, zone: str) -> str:
    """A time that is off may be one of another zone than the one taken."""
    if not zone or refusal.code not in ("air-old", "air-ahead"):
        return refusal.sentence
    return f"{refusal.sentence} The file names no zone; its times were taken as {zone}."
