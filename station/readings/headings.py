"""What the heading of a column says: unit, humidity, zone, elapsed time, and the name of its sensor."""

import re
from datetime import tzinfo

from station.readings.layout import Unit
from station.readings.zones import ZoneUnknown, zone_of

# The degree sign of UTF-8 read as Western Windows text, once and twice over, and what is left of one that was lost.
_BROKEN_DEGREE = ("Ã‚Â°", "Â°", "Âº", "º", "˚", "\ufffd")
_UNITS = {
    unit: re.compile(
        rf"°\s*{unit}\b|\bdeg\.?\s*{unit}\b|\b{name}\b|{sign}|[(\[]\s*{unit}\s*[)\]]|\b(?:temp\w*|t\d*)[\s_/.]+{unit}$",
        re.IGNORECASE,
    )
    for unit, name, sign in (("C", "Celsius", "℃"), ("F", "Fahrenheit", "℉"))
}
_UNIT_PARTS = re.compile(
    r"\s*[(\[]\s*(?:°|deg\.?)?\s*(?:[CF]|Celsius|Fahrenheit)\s*[)\]]|[\s/,_]*(?:°|\bdeg\.?)\s*[CF]\b|\s*[℃℉]|_[CF]$",
    re.IGNORECASE,
)
_TEMPERATURE = re.compile(r"temp", re.IGNORECASE)
_HUMIDITY = re.compile(r"%|\bRH\b|humid|feucht", re.IGNORECASE)
_COUNTER = re.compile(
    r"(?:#|no\.?|nr\.?|n°|index|id|record|count|row|line|sample|reading)(?:\s*(?:no|nr|number|#)\.?)?", re.IGNORECASE
)
_BARE_UNIT = re.compile(r"(?:°|deg\.?)?\s*[CF]|%\s*(?:RH)?|s|sec|min|h|[hms:]+|UTC|[-/.DMYdmyhs: ]+", re.IGNORECASE)
_OFFSET = re.compile(r"\b(?:UTC|GMT)(?:\s?[+-]\s?\d{1,2}(?::?\d{2})?)?\b")
_SPAN = re.compile(r"elapsed|time|since|zeit|duration|^t\b|^(?:s|sec|seconds?|min|minutes?|h|hours?)$", re.IGNORECASE)
_SPAN_UNITS = {
    "s": re.compile(r"(?:[(\[/]\s*|\b|_)(?:s|secs?|seconds?)(?:\s*[)\]]|\b)", re.IGNORECASE),
    "min": re.compile(r"(?:[(\[/]\s*|\b|_)(?:min|mins|minutes?)(?:\s*[)\]]|\b)", re.IGNORECASE),
    "h": re.compile(r"(?:[(\[/]\s*|\b|_)(?:h|hrs?|hours?)(?:\s*[)\]]|\b)", re.IGNORECASE),
}


def repaired(text: str) -> str:
    """A heading with its degree sign mended where the file went through the wrong character set."""
    for broken in _BROKEN_DEGREE:
        text = text.replace(broken, "°")
    return " ".join(text.split())


def unit_of(heading: str) -> Unit | None:
    """The unit a repaired heading names; None where it names none, or both."""
    found = [unit for unit in Unit if _UNITS[unit.value].search(heading)]
    return found[0] if len(found) == 1 else None


def bare_unit(cell: str) -> bool:
    """Whether a cell of a second heading line is nothing but a unit or a form of time (or empty)."""
    return not cell or _BARE_UNIT.fullmatch(repaired(cell)) is not None


def names_temperature(heading: str) -> bool:
    """Whether the heading speaks of temperature, with or without a unit."""
    return _TEMPERATURE.search(heading) is not None or unit_of(heading) is not None


def names_humidity(heading: str) -> bool:
    """Whether the heading speaks of relative humidity."""
    return _HUMIDITY.search(heading) is not None and unit_of(heading) is None


def names_counter(heading: str) -> bool:
    """Whether the column only counts lines."""
    return _COUNTER.fullmatch(heading) is not None


def zone_in(heading: str) -> tzinfo | None:
    """The offset of a heading such as "Time (UTC+01:00)"; None where it says nothing of it."""
    found = _OFFSET.search(heading)
    if found is None:
        return None
    try:
        return zone_of(found[0].replace(" ", ""))
    except ZoneUnknown:
        return None


def names_elapsed(heading: str) -> bool:
    """Whether a column of plain figures is a time since the start."""
    return _SPAN.search(heading) is not None and unit_of(heading) is None


def elapsed_unit(heading: str) -> str | None:
    """ "s", "min" or "h" of such a column; None where the heading names none or several."""
    found = [unit for unit, pattern in _SPAN_UNITS.items() if pattern.search(heading)]
    return found[0] if len(found) == 1 else None


def sensor_name(heading: str, column: int) -> str:
    """What the sensor of a column is called: the heading without its unit, else the column's place from 1."""
    return _UNIT_PARTS.sub("", heading).strip(" ,;:/-_") or f"column {column + 1}"
