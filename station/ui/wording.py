"""Count-downs and times in words, rounded so that nobody is told they have more time than they have.

Time left is rounded down, time still to wait and time past are rounded up. A count-down is never written with
a colon, so that it can't be taken for a time of day.
"""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, tzinfo

from station.care.saying import MONTHS, WEEKDAYS

_HOUR = 3600
_DAY = 24 * _HOUR


@dataclass(frozen=True)
class Vocabulary:
    """The short words of one language; `past` takes the count-down in place of {}."""

    day: str = "d"
    hour: str = "h"
    minute: str = "min"
    second: str = "s"
    past: str = "{} past"
    weekdays: tuple[str, ...] = WEEKDAYS
    months: tuple[str, ...] = MONTHS


ENGLISH = Vocabulary()


def time_left(span: timedelta, *, seconds: bool = False, words: Vocabulary = ENGLISH) -> str:
    """Time still usable, rounded down: '2 d', '1 d 4 h', '21 h 33', '43 min'.

    With `seconds` the last hour reads '43 min 20 s'. Raises ValueError when the span is negative.
    """
    return _written(_not_negative(span), seconds=seconds, up=False, words=words)


def time_to_wait(span: timedelta, *, seconds: bool = False, words: Vocabulary = ENGLISH) -> str:
    """Time still to wait, rounded up in the unit it is shown in. Raises ValueError when negative."""
    return _written(_not_negative(span), seconds=seconds, up=True, words=words)


def time_past(span: timedelta, *, words: Vocabulary = ENGLISH) -> str:
    """Time since a limit passed, rounded up: '18 min past'. Raises ValueError when negative."""
    return words.past.format(_written(_not_negative(span), seconds=False, up=True, words=words))


def countdown(limit: datetime, now: datetime, *, seconds: bool = True, words: Vocabulary = ENGLISH) -> str:
    """Digits of a row that runs to a limit: time left up to and with the limit, then time past."""
    if now <= limit:
        return time_left(limit - now, seconds=seconds, words=words)
    return time_past(now - limit, words=words)


def clock_of_day(instant: datetime, zone: tzinfo) -> str:
    """'14:05', with the zone's short name only where that hour comes twice that night."""
    local = _local(instant, zone)
    return f"{local:%H:%M}{_doubled_suffix(local)}"


def day_and_time(instant: datetime, zone: tzinfo, *, now: datetime | None = None, words: Vocabulary = ENGLISH) -> str:
    """'Tue 1 Dec 14:05', with the zone's short name only in a doubled hour; seconds are dropped.

    The year is said where it is not that of `now`.
    """
    local = _local(instant, zone)
    year = f" {local.year}" if now is not None and local.year != _local(now, zone).year else ""
    weekday, month = words.weekdays[local.weekday()], words.months[local.month - 1]
    return f"{weekday} {local.day} {month}{year} {clock_of_day(instant, zone)}"


def moment(instant: datetime, now: datetime, zone: tzinfo, *, words: Vocabulary = ENGLISH) -> str:
    """As short as is safe: '14:05' today, otherwise with day and month, and the year in another year."""
    local, today = _local(instant, zone), _local(now, zone)
    if local.date() == today.date():
        return clock_of_day(instant, zone)
    return day_and_time(instant, zone, now=now, words=words)


def period(start: datetime, end: datetime, now: datetime, zone: tzinfo, *, words: Vocabulary = ENGLISH) -> str:
    """'Mon 9 Nov 22:10 to 22:40': always with its day, and with that of the end where it is another."""
    same_day = _local(start, zone).date() == _local(end, zone).date()
    until = clock_of_day(end, zone) if same_day else day_and_time(end, zone, now=now, words=words)
    return f"{day_and_time(start, zone, now=now, words=words)} to {until}"


def wall_clock(now: datetime, zone: tzinfo, *, words: Vocabulary = ENGLISH) -> str:
    """The clock in the bar, 'Tue 14:05:22'; its zone stands beside it by `zone_name`."""
    local = _local(now, zone)
    return f"{words.weekdays[local.weekday()]} {local:%H:%M:%S}"


def zone_name(now: datetime, zone: tzinfo) -> str:
    """Short name of the zone as it is in force at `now`, such as CET or CEST."""
    return _local(now, zone).tzname() or "UTC"


def _written(span: timedelta, *, seconds: bool, up: bool, words: Vocabulary) -> str:
    total = _in_units_of(span, 1, up=up)
    if seconds and total < _HOUR:
        return _last_hour(total, words)
    minutes = _in_units_of(span, 60, up=up)
    if minutes < 60:
        return f"{minutes} {words.minute}"
    if minutes < 24 * 60:
        return f"{minutes // 60} {words.hour} {minutes % 60:02d}"
    hours = _in_units_of(span, _HOUR, up=up)
    if hours < 48:
        rest = f" {hours % 24} {words.hour}" if hours % 24 else ""
        return f"{hours // 24} {words.day}{rest}"
    return f"{_in_units_of(span, _DAY, up=up)} {words.day}"


def _last_hour(total_seconds: int, words: Vocabulary) -> str:
    minutes, rest = divmod(total_seconds, 60)
    if minutes == 0:
        return f"{rest} {words.second}"
    return f"{minutes} {words.minute} {rest:02d} {words.second}"


def _in_units_of(span: timedelta, unit_seconds: int, *, up: bool) -> int:
    unit = timedelta(seconds=unit_seconds)
    return -(-span // unit) if up else span // unit


def _not_negative(span: timedelta) -> timedelta:
    if span < timedelta(0):
        raise ValueError(f"a span of {span} is already over; write it with time_past")
    return span


def _local(instant: datetime, zone: tzinfo) -> datetime:
    if instant.tzinfo is None:
        raise ValueError(f"{instant} has no zone; instants are aware UTC datetimes")
    return instant.astimezone(UTC).astimezone(zone)


def _doubled_suffix(local: datetime) -> str:
    doubled = local.replace(fold=0).utcoffset() != local.replace(fold=1).utcoffset()
    return f" {local.tzname()}" if doubled else ""
