"""How a logger's file is laid out. A layout is declared by a person or recognised where there is no doubt."""

from dataclasses import dataclass
from datetime import datetime, tzinfo
from enum import StrEnum

from station.readings.series import Problem
from station.readings.timeform import ISO, TimeForm


class Unit(StrEnum):
    """What the file's temperatures are in."""

    CELSIUS = "C"
    FAHRENHEIT = "F"

    def to_celsius(self, figure: float) -> float:
        """A figure of this unit in degrees Celsius."""
        return figure if self is Unit.CELSIUS else (figure - 32) * 5 / 9


@dataclass(frozen=True, slots=True)
class SensorColumn:
    """A column of temperatures; `column` counts from 0.

    `digital` is False for a thermocouple, which has no value at power-up, so that its 85.0 is always a reading.
    """

    column: int
    sensor: str
    unit: Unit
    digital: bool = True


class LayoutRefused(ValueError):
    """The parts of a declared layout do not go together."""


@dataclass(frozen=True, slots=True)
class Layout:
    """Everything needed to read a file without guessing; columns count from 0.

    Two time columns (a date and a time of day) are read as one text with a space between. `zone` may be None where
    every cell carries its own offset, or where times are elapsed; then `start` (aware) is the instant of zero.
    `remarks` are what was noticed while the layout was recognised.
    """

    delimiter: str
    decimal: str
    header_rows: int
    time_columns: tuple[int, ...]
    time_form: TimeForm
    sensors: tuple[SensorColumn, ...]
    zone: tzinfo | None = None
    humidity_column: int | None = None
    start: datetime | None = None
    remarks: tuple[Problem, ...] = ()

    def __post_init__(self) -> None:
        """Refuse what can't be meant."""
        if len(self.delimiter) != 1 or self.decimal not in (".", ","):
            raise LayoutRefused("The delimiter is one character and the decimal sign a point or a comma.")
        if not self.sensors or not self.time_columns:
            raise LayoutRefused("A layout needs a time column and at least one column of temperatures.")
        if len(set(self.columns)) < len(self.columns) or min(self.columns) < 0:
            raise LayoutRefused("Every column has one meaning and counts from 0.")
        if len({column.sensor for column in self.sensors}) < len(self.sensors):
            raise LayoutRefused("Every sensor needs a name of its own.")
        if self.time_form.elapsed and (self.start is None or self.start.tzinfo is None):
            raise LayoutRefused("Times since the start need the instant of the start, with its offset.")
        if not self.time_form.elapsed and self.zone is None and self.time_form.text != ISO:
            raise LayoutRefused("The zone of the logger's clock is missing.")

    @property
    def columns(self) -> tuple[int, ...]:
        """Every column that is read."""
        humidity = () if self.humidity_column is None else (self.humidity_column,)
        return (*self.time_columns, *(column.column for column in self.sensors), *humidity)
