"""How times are said: weekday, day, month name, 24 h, in the plant's zone; spans as `2 h 20` and `43 min`.

Time left is rounded down and time to wait is rounded up, so neither ever promises too much.
"""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from station.care.moments import MINUTE

# Written out because a system's locale may be anything, while screens and labels read the same everywhere.
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def clock_time(instant: datetime, zone: ZoneInfo) -> str:
    """`14:05`, with the zone's abbreviation only in an hour that comes twice."""
    local = instant.astimezone(zone)
    text = f"{local:%H:%M}"
    return f"{text} {local.tzname()}" if is_doubled(local) else text


def is_doubled(local: datetime) -> bool:
    """Whether this zoned wall time occurs twice, as in the hour when clocks go back."""
    return local.replace(fold=0).utcoffset() != local.replace(fold=1).utcoffset()


def day_time(instant: datetime, now: datetime, zone: ZoneInfo) -> str:
    """`Tue 24 Nov 14:05`, and `Wed 31 Mar 2027 23:59` where that is not this year."""
    local = instant.astimezone(zone)
    year = f" {local.year}" if local.year != now.astimezone(zone).year else ""
    return f"{WEEKDAYS[local.weekday()]} {local.day} {MONTHS[local.month - 1]}{year} {clock_time(instant, zone)}"


def when(instant: datetime, now: datetime, zone: ZoneInfo) -> str:
    """The time alone on the same plant day, else with its day."""
    same = instant.astimezone(zone).date() == now.astimezone(zone).date()
    return clock_time(instant, zone) if same else day_time(instant, now, zone)


def span(length: timedelta) -> str:
    """`2 d 4 h`, `2 h 20`, `43 min`; whole minutes, rounded down."""
    minutes = int(length // MINUTE)
    hours, minutes_over = divmod(minutes, 60)
    days, hours_over = divmod(hours, 24)
    if days >= 2:
        return f"{days} d {hours_over} h" if hours_over else f"{days} d"
    if hours:
        return f"{hours} h {minutes_over:02d}" if minutes_over else f"{hours} h"
    return f"{minutes} min"


def span_up(length: timedelta) -> str:
    """The same, rounded up to the minute: for what one still has to wait."""
    return span(-(-length // MINUTE) * MINUTE)


def spot(position: str) -> str:
    """A stencil position as people say it: `line 2A`; a name that is no number stands for itself."""
    return f"line {position}" if position[:1].isdigit() else position


def opening(sentence: str) -> str:
    """A sentence with its first letter large, whatever word it happens to begin with."""
    return sentence[:1].upper() + sentence[1:]


SPOKEN_WITH_VOWEL = frozenset("AEFHILMNORSX")


def many(count: int, what: str) -> str:
    """`1 row`, `3 rows`: for words that take an s."""
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def a(name: str) -> str:
    """`name` behind the article it is spoken with: `an SN-4`, `a PB-1`, `an Sn-Pb`, `an early`.

    Capitals and chemical symbols are spelled out letter by letter, as people at a line do (S-n P-b).
    """
    first = name.split("-", maxsplit=1)[0].split(" ", maxsplit=1)[0]
    symbol = len(first) == 2 and first[0].isupper() and first[1].islower() and "-" in name
    spelled = symbol or (first.isupper() and not any(vowel in first for vowel in "AEIOUY"))
    vowel = first[:1] in SPOKEN_WITH_VOWEL if spelled else first[:1].upper() in "AEIOU"
    return f"{'an' if vowel or first[:1] == '8' else 'a'} {name}"


def loud_a(name: str) -> str:
    """The same for a headline: `AN SN-4`, `AN Sn-Pb`."""
    article, _, rest = a(name).partition(" ")
    return f"{article.upper()} {rest}"
