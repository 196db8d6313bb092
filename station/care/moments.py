"""Instants on the label minute.

The label minute decides everywhere: a time is rounded once, when the fact is written, and the rounded
minute is what is printed, shown and compared. Earliest-use rounds up, discard-by rounds down.
"""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

MINUTE = timedelta(minutes=1)
NOTHING = timedelta(0)


def minute_down(instant: datetime) -> datetime:
    """The last whole minute not after `instant`."""
    return instant.replace(second=0, microsecond=0)


def minute_up(instant: datetime) -> datetime:
    """The first whole minute not before `instant`."""
    floor = minute_down(instant)
    return floor if floor == instant else floor + MINUTE


def minute_up_span(length: timedelta) -> timedelta:
    """A length of time rounded up to whole minutes."""
    return -(-length // MINUTE) * MINUTE


def end_of_day(day: date, zone: ZoneInfo) -> datetime:
    """The last usable minute of a date printed without a time: 23:59 of that day in the plant's zone.

    A date-only expiry is good through the whole of its day; usable up to and including 23:59:00 keeps the
    rule "one second past the label minute is too late" the same for every limit.
    """
    return datetime.combine(day, time(23, 59), tzinfo=zone).astimezone(UTC)
