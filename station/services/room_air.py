"""Room air that a logger measured: recorded like a reading somebody took, if it is young enough to stand for now."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from station.care.floor import Floor
from station.care.saying import clock_time, span_up
from station.services.outcome import Outcome, Refusal
from station.services.station import Station

# our own choice, no source: the air of a closed hall changes little in an hour, and clocks of loggers run a little off
OLDEST = timedelta(minutes=60)
AHEAD = timedelta(minutes=5)


@dataclass(frozen=True, slots=True)
class Air:
    """One reading of a file: degrees Celsius, percent relative humidity, when (aware UTC), and where it stands."""

    temperature_c: float
    humidity: float
    at: datetime
    file: str
    line: int

    @property
    def source(self) -> str:
        """How the record names it: file, line and the time the logger gave it, since the fact has the time it came."""
        return f"{self.file} line {self.line}, {self.at.astimezone(UTC):%Y-%m-%dT%H:%M:%SZ}"


def refuse_old(file: str, line: int, at: datetime, now: datetime) -> None:
    """Refusal for a reading that is more than 60 min old; the instants are aware UTC."""
    if now - at > OLDEST:
        raise Refusal(
            "air-old",
            f"{file}: its newest whole reading, line {line}, is {span_up(now - at)} old, and 60 min are allowed. "
            "Read the logger out again, or type what the instrument shows.",
        )


def refuse_ahead(file: str, line: int, at: datetime, now: datetime) -> None:
    """Refusal for a reading more than 5 min ahead of this PC's clock; the instants are aware UTC."""
    if at - now > AHEAD:
        raise Refusal(
            "air-ahead",
            f"{file}: line {line} is {span_up(at - now)} ahead of this PC's clock. "
            "Look at the logger's clock and its zone.",
        )


def refuse_air(floor: Floor, air: Air) -> None:
    """Refusal for a reading that can't stand for the room now: too old or ahead, overtaken, or no time to judge it."""
    if floor.ledger.clock.trusted_until is not None:
        raise Refusal(
            "clock-in-doubt",
            "This PC's clock is in doubt, so nobody can say how old a reading of a file is. "
            "Have the shift lead confirm the time, or type what the instrument shows.",
        )
    refuse_ahead(air.file, air.line, air.at, floor.now)
    refuse_old(air.file, air.line, air.at, floor.now)
    before = floor.ledger.room
    if before is not None and before.read_at is not None and before.read_at > air.at:
        raise Refusal(
            "air-overtaken",
            f"The room was recorded at {clock_time(before.read_at, floor.zone)}, after this reading of "
            f"{clock_time(air.at, floor.zone)}. Read the logger out again, or type what the instrument shows.",
        )


def record_air(station: Station, air: Air, person: str | None) -> Outcome:
    """Record a reading that somebody confirmed. Raises Refusal; nothing is recorded then.

    The fact is dated now, as every reading is; between two readings the rules take the cooler room, so the few
    minutes since the logger measured make nothing ready sooner.
    """
    station.tick()
    refuse_air(station.floor(), air)
    return station.read_room(air.temperature_c, air.humidity, person, air.source)
