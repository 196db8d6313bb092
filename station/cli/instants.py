"""Instants as people give them and as machines read them: ISO 8601."""

from datetime import UTC, date, datetime, tzinfo

from station.services.outcome import Refusal

LIKE = "2026-11-09T06:00 (plant time) or 2026-11-09T05:00:00Z"


def instant(option: str, text: str, zone: tzinfo) -> datetime:
    """The instant of a text; without an offset it is plant time.

    Raises Refusal for a text that is none, and for a plant time that occurs twice or never on its day.
    """
    try:
        told = datetime.fromisoformat(text)
    except ValueError:
        raise Refusal("instant", f"{option} {text!r} is no date and time. Write it like {LIKE}.") from None
    if told.tzinfo is not None:
        return told.astimezone(UTC)
    first, second = told.replace(tzinfo=zone, fold=0), told.replace(tzinfo=zone, fold=1)
    if first.utcoffset() != second.utcoffset():
        times = "comes twice" if first.astimezone(UTC) < second.astimezone(UTC) else "is left out"
        raise Refusal("instant", f"{option} {text!r} {times} when the clocks change. Give it with an offset.")
    return first.astimezone(UTC)


def day(option: str, text: str) -> date:
    """The date of a text. Raises Refusal for one that is none."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise Refusal("date", f"{option} {text!r} is no date. Write it like 2027-03-31.") from None


def iso(at: datetime) -> str:
    """An instant in UTC, to the second: `2026-11-09T05:00:00Z`."""
    return at.astimezone(UTC).isoformat(timespec="seconds").replace("+00:00", "Z")
