"""A store's logger as a script tells it: when it began, its step in minutes, and what it measured (null: a fault)."""

import json
from array import array
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from math import isnan, nan

from station.care.cold_readings import counted
from station.services.cold_readings import import_store_readings, read_display
from station.services.cold_readings_judged import LoggerFile
from station.services.outcome import Outcome
from station.services.station import Station

GAP_STEPS = 2.5


@dataclass(frozen=True, slots=True)
class ToldSeries:
    """Readings a script tells, in the arrays the service wants."""

    at: "array[int]"
    celsius: "array[float]"

    def pack(self) -> bytes:
        """As JSON; a fault is null."""
        return json.dumps([list(self.at), [None if isnan(one) else one for one in self.celsius]]).encode()


def unpack(content: bytes) -> ToldSeries:
    """What `pack` made."""
    at, celsius = json.loads(content)
    return ToldSeries(array("q", at), array("d", (nan if one is None else one for one in celsius)))


def readings(station: Station, told: Mapping[str, object]) -> Outcome:
    """The logger of a store is read out: `[celsius, how often]` pairs follow each other from `from` (plant time).

    Raises Refusal, and whatever a script's slip comes to.
    """
    begin = datetime.fromisoformat(str(told["from"])).replace(tzinfo=station.site.zone).astimezone(UTC)
    step = timedelta(minutes=float(str(told.get("step", 5))))
    pairs = told.get("celsius", [])
    every = [pair for pair in pairs if isinstance(pair, list)] if isinstance(pairs, list) else []
    celsius = [nan if value is None else float(value) for value, many in every for _ in range(int(many))]
    series = ToldSeries(
        array("q", (counted(begin + step * index) for index in range(len(celsius)))), array("d", celsius)
    )
    given = LoggerFile(
        store=str(told.get("store")),
        name=str(told.get("file", "logger.csv")),
        content=series.pack(),
        series=series,
        longest_step=step * GAP_STEPS if len(celsius) > 1 else None,
        sensor=str(told.get("sensor", "T")),
        zone=station.site.zone.key,
        rows=len(celsius),
        faults=sum(map(isnan, celsius)),
        repeated=0,
    )
    return import_store_readings(station, given, unpack)


def display(station: Station, told: Mapping[str, object]) -> Outcome:
    """Somebody reads the display of a store. Raises Refusal."""
    return read_display(station, str(told.get("store")), float(str(told["celsius"])))
