"""The zone a logger's clock shows: a place's zone, that zone's standard time all year, or a fixed offset.

A name that is not known, or none at all, is refused: it must never come out as this PC's own time.
"""

import re
from datetime import UTC, datetime, timedelta, timezone, tzinfo
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

STANDARD = "standard"
FORM = '"Europe/Berlin", "Europe/Berlin standard" (a logger that stays in standard time), "UTC" or "UTC+01:00"'
_OFFSET = re.compile(r"(?:UTC|GMT)?\s?([+-])(\d{1,2})(?::?(\d{2}))?", re.IGNORECASE)
_FARTHEST = timedelta(hours=14)  # Kiritimati; nobody lives further from UTC
_YEAR = 2026


class ZoneUnknown(ValueError):
    """No zone has this name; the sentence says how zones are written."""


def zone_of(text: str) -> tzinfo:
    """The zone of a text. Raises ZoneUnknown for an empty, misspelt or impossible one."""
    name = text.strip()
    if name.upper() in {"UTC", "GMT", "Z"}:
        return UTC
    offset = _OFFSET.fullmatch(name)
    if offset is not None:
        return _fixed(name, offset)
    place, _, word = name.partition(" ")
    if word and word.lower().removesuffix(" time") != STANDARD:
        raise ZoneUnknown(_unknown(text))
    found = _named(place, text)
    return standard_time(found) if word else found


def _named(place: str, text: str) -> ZoneInfo:
    # asked by exact name: on some disks "europe/berlin" opens as well, and then means nothing on the next PC;
    # "localtime" is this PC's own zone, which says nothing about the logger's
    if place not in available_timezones() or place == "localtime":
        raise ZoneUnknown(_unknown(text))
    try:
        return ZoneInfo(place)
    except (ZoneInfoNotFoundError, ValueError, OSError) as error:
        raise ZoneUnknown(_unknown(text)) from error


def _fixed(text: str, offset: re.Match[str]) -> timezone:
    sign, hours, minutes = offset.groups()
    away = timedelta(hours=int(hours), minutes=int(minutes or 0))
    if away > _FARTHEST or int(minutes or 0) > 59:
        raise ZoneUnknown(f'There is no zone "{text}": no place is that far from UTC. Write one like {FORM}.')
    return timezone(away if sign == "+" else -away)


def _unknown(text: str) -> str:
    told = f'There is no zone "{text}".' if text.strip() else "The zone is empty."
    return f"{told} Write one like {FORM}."


def standard_time(zone: ZoneInfo) -> timezone:
    """The zone's standard (winter) time as a fixed offset: the smallest of its offsets in a year."""
    months = (datetime(_YEAR, month, 1, tzinfo=UTC).astimezone(zone).utcoffset() for month in range(1, 13))
    return timezone(min(offset for offset in months if offset is not None))
