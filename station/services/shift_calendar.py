"""When people work, by the shifts of the site: whether anybody is there now, and when somebody is again.

A shift starts at its wall time on its days (RFC 5545, BYDAY) and lasts its length in real time. A start in the hour
that clocks skip is moved on by that hour, and one in the hour that comes twice is the first of the two, both as
RFC 5545 (3.3.5) has it.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from station.services.site import Shift

DAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")
BACK, AHEAD = 2, 9  # days: a shift lasts at most one, and a weekly rule comes again within seven


@dataclass(frozen=True, slots=True)
class Worked:
    """One shift on one day, from `start` until before `end` (aware UTC)."""

    name: str
    start: datetime
    end: datetime


def worked(shifts: Sequence[Shift], zone: ZoneInfo, now: datetime) -> tuple[Worked, ...]:
    """Every shift from two days before `now` until nine days after it, the earliest first."""
    today = now.astimezone(zone).date()
    days = [today + timedelta(days=count) for count in range(-BACK, AHEAD)]
    return tuple(sorted(_on(shifts, zone, days), key=lambda found: (found.start, found.name)))


def _on(shifts: Sequence[Shift], zone: ZoneInfo, days: Sequence[date]) -> Iterator[Worked]:
    for shift in shifts:
        for day in days:
            if DAYS[day.weekday()] in shift.days:
                start = datetime.combine(day, time.fromisoformat(shift.starts), zone).astimezone(UTC)
                yield Worked(shift.name, start, start + shift.length)


def is_closed(shifts: Sequence[Shift], zone: ZoneInfo, now: datetime) -> bool:
    """Whether nobody works by the calendar; a site that has none is never closed."""
    return bool(shifts) and not any(found.start <= now < found.end for found in worked(shifts, zone, now))


def next_start(shifts: Sequence[Shift], zone: ZoneInfo, now: datetime) -> datetime | None:
    """When the next shift starts (aware UTC); None where the site has no shifts."""
    return next((found.start for found in worked(shifts, zone, now) if found.start > now), None)


def stops(shifts: Sequence[Shift], zone: ZoneInfo, now: datetime) -> datetime:
    """When work stops before the next shift starts (aware UTC): the end of the last shift that is on, or now."""
    on = [found.end for found in worked(shifts, zone, now) if found.start <= now < found.end]
    opens = next_start(shifts, zone, now)
    end = max(on, default=now)
    return end if opens is None else min(end, opens)
