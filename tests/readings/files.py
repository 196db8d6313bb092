"""Small files as loggers write them, and a layout to read them by."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from station.readings.layout import Layout, SensorColumn, Unit
from station.readings.questions import Declared, LayoutUnclear
from station.readings.reader import read
from station.readings.recognise import recognise
from station.readings.series import ReadingsRefused, Series
from station.readings.timeform import time_form

BERLIN = ZoneInfo("Europe/Berlin")


def rows(start: str, step: timedelta, temperatures: list[str]) -> list[str]:
    """`time,temperature` lines in ISO local times with one step between them."""
    first = datetime.fromisoformat(start)
    return [f"{first + step * index},{text}" for index, text in enumerate(temperatures)]


def plain_layout(zone: ZoneInfo | None = BERLIN, unit: Unit = Unit.CELSIUS, *, digital: bool = True) -> Layout:
    """ISO time, one sensor, no heading."""
    return Layout(",", ".", 0, (0,), time_form("ISO"), (SensorColumn(1, "Air", unit, digital),), zone)


def plain(lines: list[str], layout: Layout | None = None) -> Series:
    """The series of `time,temperature` lines."""
    return read("log.csv", "\n".join(lines), layout or plain_layout())


def questions(text: str, declared: Declared | None = None) -> str:
    """What a file leaves open, as one text; it must leave something open."""
    try:
        found = recognise("log.csv", text, declared)
    except (LayoutUnclear, ReadingsRefused) as unclear:
        return "\n".join(unclear.sentences())
    raise AssertionError(f"nothing was asked: {found}")


def series(text: str, declared: Declared | None = None) -> Series:
    """A file read by the layout that is found in it."""
    return read("log.csv", text, recognise("log.csv", text, declared))
