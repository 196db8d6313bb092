"""Watches the clocks: tells a moved clock from a PC that slept, by comparing how far each went on.

No clock is read here. Two readings are taken as far apart as the caller's tick; a correction smaller than the
slack (a time server slews and steps by milliseconds) is nobody's business and goes unsaid.
"""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from station.care.facts import ClockStepped, Segment
from station.services.ports import ClockReading

SLACK = timedelta(seconds=2)
NOTHING = timedelta(0)


@dataclass(frozen=True, slots=True)
class ClockStep:
    """What happened to the clock between two readings.

    `suspended`: the PC slept for `by` and its clock is right. Otherwise the clock moved by `by`, ahead if
    positive, and instants after `trusted_until` are in doubt.
    """

    by: timedelta
    trusted_until: datetime
    suspended: bool

    def fact(self) -> ClockStepped:
        """The step as a fact body."""
        return ClockStepped(by=self.by, trusted_until=self.trusted_until, suspended=self.suspended)


@dataclass(frozen=True, slots=True)
class ClockWatch:
    """The reading before this one, and how many steps the clock has made since the watch began."""

    last: ClockReading
    steps: int = 0

    @property
    def segment(self) -> Segment:
        """The stretch of trustworthy clock that the last reading belongs to."""
        return Segment(self.last.boot, self.steps)

    def look(self, reading: ClockReading) -> tuple["ClockWatch", ClockStep | None]:
        """Compare a new reading with the last; give the watch to use next and the step, if one was made.

        A reading of another boot compares with nothing: the watch starts over.
        """
        if reading.boot != self.last.boot:
            return ClockWatch(reading), None
        step = _compare(self.last, reading)
        moved = step is not None and not step.suspended
        return replace(self, last=reading, steps=self.steps + moved), step


def _compare(before: ClockReading, after: ClockReading) -> ClockStep | None:
    wall = after.wall - before.wall
    awake = timedelta(seconds=after.monotonic - before.monotonic)
    elapsed = _elapsed(before, after, awake)
    if abs(wall - elapsed) > SLACK:
        return ClockStep(by=wall - elapsed, trusted_until=before.wall, suspended=False)
    if elapsed - awake > SLACK:
        return ClockStep(by=elapsed - awake, trusted_until=before.wall, suspended=True)
    return None


def _elapsed(before: ClockReading, after: ClockReading, awake: timedelta) -> timedelta:
    """True time between two readings. Without a clock that counts sleep, a sleep looks like a clock set ahead;
    it is then taken for one, because a doubt too many costs a confirmation and one too few costs boards."""
    if before.since_boot is None or after.since_boot is None:
        return awake
    return timedelta(seconds=after.since_boot - before.since_boot)


def behind(newest_at: datetime | None, reading: ClockReading) -> ClockStep | None:
    """A clock set back while the program was off: it shows less than `newest_at`, the newest stored instant.

    A clock set ahead in that time cannot be told from time that passed.
    """
    if newest_at is None or newest_at - reading.wall <= SLACK:
        return None
    return ClockStep(by=reading.wall - newest_at, trusted_until=newest_at, suspended=False)


def latest_instant(wall: datetime, stepped_by: timedelta) -> datetime:
    """The latest that now can be after steps nobody has confirmed; ends and alarms are judged by it."""
    return wall - min(stepped_by, NOTHING)


def earliest_instant(wall: datetime, stepped_by: timedelta) -> datetime:
    """The earliest that now can be after steps nobody has confirmed; readiness is judged by it."""
    return wall - max(stepped_by, NOTHING)
