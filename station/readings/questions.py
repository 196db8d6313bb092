"""What a file leaves open, as questions that each name the one thing to declare."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from station.readings.layout import Unit


class Option(StrEnum):
    """The parts of a layout that can be declared; the values are the names of the command line's options."""

    DELIMITER = "delimiter"
    DECIMAL = "decimal"
    HEADER_ROWS = "header-rows"
    TIME_COLUMN = "time-column"
    TIME_FORMAT = "time-format"
    UNIT = "unit"
    ZONE = "zone"
    SENSOR = "sensor"
    START = "start"
    HUMIDITY = "humidity"


@dataclass(frozen=True, slots=True)
class Declared:
    """What a person declared of a file; None or empty where the file is to be asked.

    Columns are named by their heading (with or without its unit) or by their place from 1. `unit` is for every
    column, `units` for single sensors by name. `start` (aware) is the instant of zero where times are elapsed.
    `thermocouples` says that the sensors are such, so that 85.0 is a reading. `air` says that humidity is wanted as
    well: it is looked for beside sensors that were named, and asked for where several columns could be it.
    """

    delimiter: str | None = None
    decimal: str | None = None
    header_rows: int | None = None
    time_columns: tuple[str, ...] = ()
    time_format: str | None = None
    unit: Unit | None = None
    units: tuple[tuple[str, Unit], ...] = ()
    zone: str | None = None
    sensors: tuple[str, ...] = ()
    start: datetime | None = None
    thermocouples: bool = False
    air: bool = False
    humidity: str | None = None


@dataclass(frozen=True, slots=True)
class Question:
    """One thing the file does not say: what, which option declares it, values it can have, another remedy."""

    option: Option
    what: str
    choices: tuple[str, ...] = ()
    mend: str = ""

    @property
    def sentence(self) -> str:
        """What is open and how to declare it, or to mend it where that can't be declared."""
        if self.mend:
            return f"{self.what}. {self.mend}."
        wanted = " or ".join(f"--{self.option.value} {choice}" for choice in self.choices)
        return f"{self.what}. Declare it with {wanted or f'--{self.option.value}'}."


class LayoutUnclear(Exception):
    """The layout can't be told from the file alone; `questions` are all that could be found.

    `columns` are the names by which its columns can be declared, as far as they could be told apart.
    """

    def __init__(self, file: str, questions: Iterable[Question], columns: Iterable[str] = ()) -> None:
        """Keep the questions in the order in which they are answered."""
        self.file, self.questions, self.columns = file, tuple(questions), tuple(columns)
        super().__init__("\n".join(self.sentences()))

    def sentences(self) -> tuple[str, ...]:
        """Each question with the file's name."""
        return tuple(f"{self.file}: {question.sentence}" for question in self.questions)
