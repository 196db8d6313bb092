"""The newest air in a room logger's series, or the one sentence why there is none to take."""

import re
from datetime import datetime

from station.readings.series import LEFT_OUT, TIME_IN_DOUBT, Noticed, Problem, Row, Series
from station.services.outcome import Refusal, refuse_no_room
from station.services.room_air import Air, refuse_ahead, refuse_old

_NOT_AIR = re.compile(r"dew|frost|taupunkt|wet.?bulb", re.IGNORECASE)


def air_sensors(series: Series) -> tuple[str, ...]:
    """The sensors that may have measured the room; a dew point beside it is reckoned, not measured."""
    return tuple(sensor for sensor in series.sensors if not _NOT_AIR.search(sensor)) or series.sensors


def newest_air(series: Series, now: datetime, sensor: str | None = None) -> Air:
    """The newest row that has temperature and humidity without a sensor fault; `now` is aware UTC.

    `sensor` is needed where several may have measured the room. Temperature and humidity are rounded to a hundredth,
    as typed ones are. Raises Refusal: no humidity, no whole row, newer rows whose time can't be told, a row over 60 min
    old or over 5 min ahead, or air that no room has.
    """
    name = _named(series, sensor)
    _refuse_no_humidity(series)
    whole = [(row, values) for row in series.rows if (values := _whole(row, name)) is not None]
    _refuse_left_out(series, whole[-1][0] if whole else None)
    if not whole:
        raise Refusal("no-air", f"{series.file}: no row has a temperature and a humidity without a sensor fault.")
    row, (warmth, damp) = whole[-1]
    refuse_ahead(series.file, series.rows[-1].number, series.rows[-1].at, now)
    refuse_old(series.file, row.number, row.at, now)
    refuse_no_room(warmth, damp)
    return Air(warmth, damp, row.at, series.file, row.number)


def worth_knowing(series: Series, air: Air) -> tuple[str, ...]:
    """What was noticed that bears on this air: newer rows without a reading, and times that did not go together."""
    telling = TIME_IN_DOUBT | {Noticed.DECLARED_AGAINST_HEADING}
    return tuple(
        problem.sentence
        for problem in series.problems
        if problem.code in telling or (problem.first is not None and _not_before(series, problem, air.line))
    )


def _named(series: Series, sensor: str | None) -> str:
    found = air_sensors(series)
    if sensor is None and len(found) == 1:
        return found[0]
    if sensor is None or sensor not in series.sensors:
        told = "it has no sensor of that name" if sensor else "several sensors may have measured the room"
        raise Refusal("sensor", f"{series.file}: {told}. Say which: {', '.join(series.sensors)}.")
    return sensor


def _refuse_no_humidity(series: Series) -> None:
    if series.rows and all(row.humidity is None for row in series.rows):
        raise Refusal(
            "no-humidity",
            f"{series.file}: it has no column of humidity; its heading has to say humidity, RH or %. "
            "Export it with one, or type what the instrument shows.",
        )


def _whole(row: Row, sensor: str) -> tuple[float, float] | None:
    """Temperature and humidity of a row that has both, as exact as anybody would type them."""
    warmth, damp = row.temperatures.get(sensor), row.humidity
    if isinstance(warmth, float) and isinstance(damp, float):
        return round(warmth, 2), round(damp, 2)
    return None


def _refuse_left_out(series: Series, row: Row | None) -> None:
    """Where rows at or after the newest one could not be placed in time, nobody knows which is the newest."""
    for problem in series.noticed(*LEFT_OUT):
        if row is None or _not_before(series, problem, row.number):
            raise Refusal("air-time-unclear", f"{series.file}: {problem.sentence} So its newest reading is not known.")


def _not_before(series: Series, problem: Problem, row: int) -> bool:
    """Whether a problem reaches the row of this line number, or one newer than it."""
    lines = [line for line in (problem.first, problem.last) if line is not None]
    if series.noticed(Noticed.NEWEST_FIRST):
        return min(lines, default=row) <= row
    return max(lines, default=row) >= row
