"""One sensor of a logger's file in one pass, however long the file: a year of minutes is two flat arrays.

It makes the same of every cell as `reader` does.
"""

import csv
import io
from collections.abc import Callable
from dataclasses import dataclass

from station.readings.layout import Layout, SensorColumn
from station.readings.long_blocks import BlockReading, Cancelled
from station.readings.series import Problem, ReadingsRefused
from station.readings.settling import settled
from station.readings.track import Track

__all__ = ["Cancelled", "LongFile", "read_long"]


@dataclass(frozen=True, slots=True)
class LongFile:
    """What a file holds of one sensor. `faults` counts readings that are sensor faults, `left_out` rows not taken.

    `repeated` are rows that say the same again; `problems` are in the order in which they were noticed.
    """

    file: str
    sensor: str
    track: Track
    rows: int
    faults: int
    repeated: int
    left_out: int
    problems: tuple[Problem, ...]


def read_long(
    file: str,
    content: bytes,
    encoding: str,
    layout: Layout,
    column: SensorColumn,
    go_on: Callable[[int], bool] = lambda _rows: True,
    *,
    blocks: bool = True,
) -> LongFile:
    """Read one sensor. `go_on` is told the rows so far every few thousand; where it says no, Cancelled is raised.

    Without `blocks` every row is looked at by itself, which takes longer and comes to the same.
    Raises ReadingsRefused with the cells that can't be read as declared, as `reader.read` does.
    """
    lines = io.TextIOWrapper(io.BytesIO(content), encoding=encoding, errors="replace", newline="")
    reading = BlockReading(file, layout, column)
    try:
        reading.through(lines, go_on, blocks=blocks)
    except csv.Error as error:
        raise ReadingsRefused(file, [f"the quotation marks do not match ({error})."]) from error
    raw = reading.whole()
    rows = len(raw.at)
    done = settled(raw, column)
    return LongFile(
        file, column.sensor, done.track, rows, done.faults, done.repeated, done.left_out,
        (*layout.remarks, *done.problems),
    )  # fmt: skip
