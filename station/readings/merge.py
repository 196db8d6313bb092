"""Series put together: nothing is doubled, nothing already known is overwritten, and the counts are told."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from station.readings.series import Reading, Row, SensorFault


@dataclass(frozen=True, slots=True)
class Conflict:
    """Two readings of one sensor at one instant that differ; the first one known is kept."""

    at: datetime
    sensor: str
    kept: Reading
    refused: Reading
    kept_from: str
    refused_from: str

    @property
    def sentence(self) -> str:
        """Which readings, from which files and lines."""
        return (
            f"{self.sensor} at {self.at:%Y-%m-%d %H:%M:%S} UTC is {_told(self.kept)} in {self.kept_from} and "
            f"{_told(self.refused)} in {self.refused_from}; the first was kept."
        )


@dataclass(frozen=True, slots=True)
class Merged:
    """Rows in order of time, and how many readings (of single sensors) were new, known already, or in conflict."""

    rows: tuple[Row, ...]
    added: int
    known: int
    conflicts: tuple[Conflict, ...]

    @property
    def sentence(self) -> str:
        """The counts as one sentence."""
        if not self.added and not self.conflicts:
            return f"Nothing new: all {self.known} readings were known already."
        return f"{self.added} readings added, {self.known} known already, {len(self.conflicts)} in conflict."


def merge(kept: Sequence[Row], new: Sequence[Row]) -> Merged:
    """Add the readings of `new` to those of `kept`, by instant and sensor."""
    by_instant = {row.at: row for row in kept}
    added = known = 0
    conflicts: list[Conflict] = []
    for row in new:
        old = by_instant.get(row.at)
        if old is None:
            by_instant[row.at] = row
            added += len(row.temperatures)
            continue
        fresh = {sensor: reading for sensor, reading in row.temperatures.items() if sensor not in old.temperatures}
        differing = _conflicts(old, row)
        by_instant[row.at] = _with(old, row, fresh)
        added += len(fresh)
        conflicts += differing
        known += len(row.temperatures) - len(fresh) - len(differing)
    return Merged(tuple(by_instant[at] for at in sorted(by_instant)), added, known, tuple(conflicts))


def _conflicts(old: Row, row: Row) -> list[Conflict]:
    return [
        Conflict(row.at, sensor, old.temperatures[sensor], reading, _place(old), _place(row))
        for sensor, reading in row.temperatures.items()
        if sensor in old.temperatures and old.temperatures[sensor] != reading
    ]


def _with(old: Row, row: Row, fresh: dict[str, Reading]) -> Row:
    humidity = row.humidity if old.humidity is None else old.humidity
    return Row(old.file, old.number, old.at, {**old.temperatures, **fresh}, humidity)


def _place(row: Row) -> str:
    return f"{row.file} line {row.number}"


def _told(reading: Reading) -> str:
    return f'a fault "{reading.written}"' if isinstance(reading, SensorFault) else f"{reading:.1f} C"
