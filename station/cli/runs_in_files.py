"""Thermocouple runs out of the files of a command: its layout options, and every fault of every file at once."""

from argparse import Namespace
from collections.abc import Sequence
from pathlib import Path
from zoneinfo import ZoneInfo

from station.cli.instants import instant
from station.readings.layout import LayoutRefused, Unit
from station.readings.questions import Declared, LayoutUnclear
from station.readings.runs_in_files import ZERO, Around, Candidate, File, file_of
from station.readings.runs_in_files import candidates as runs_of
from station.readings.series import ReadingsRefused, bounded
from station.services.outcome import Refusal, refuse_no_room

DELIMITERS = {"semicolon": ";", "comma": ",", "tab": "\t", "bar": "|", "\\t": "\t"}
DECIMALS = {"point": ".", "comma": ","}
WITH_START = "start"
"""In place of an instant: every file begins with the take-out of its container."""


def refuse_bad_room(told: Namespace) -> None:
    """Refusal where the room's temperature is told twice or not at all, or is none of any room."""
    if (told.room is None) == (told.room_sensor is None):
        raise Refusal("room", "Give the room's temperature: either --room C or --room-sensor NAME.")
    refuse_no_room(told.room, None)


def read_files(told: Namespace) -> list[File]:
    """Every file, or a Refusal with all that is wrong with all of them."""
    declared = _declared(told)
    found: list[File] = []
    faults: list[str] = []
    for path in told.files:
        try:
            found.append(_read_file(path, declared, told.encoding))
        except (LayoutUnclear, ReadingsRefused) as unread:
            faults += unread.sentences()
        except LayoutRefused as refused:
            faults.append(f"{path}: {refused}")
        except OSError as trouble:
            faults.append(f"{path}: it can't be read ({trouble.strerror}).")
    if faults:
        raise Refusal("readings", "\n".join(bounded(faults)))
    return found


def _read_file(path: Path, declared: Declared, encoding: str | None) -> File:
    return file_of(str(path), path.read_bytes(), declared, encoding)


def _declared(told: Namespace) -> Declared:
    both = [text.rpartition("=") for text in told.unit]
    units = [_unit(unit) for _, _, unit in both if not _]
    wanted = tuple(told.sensor)
    if wanted and told.room_sensor is not None:
        wanted = (*wanted, told.room_sensor)
    return Declared(
        delimiter=_delimiter(told.delimiter),
        decimal=DECIMALS.get(told.decimal, told.decimal),
        header_rows=told.header_rows,
        time_columns=tuple(told.time_column),
        time_format=told.time_format,
        unit=units[-1] if units else None,
        units=tuple((name, _unit(unit)) for name, sign, unit in both if sign),
        zone=told.zone,
        sensors=wanted,
        start=ZERO,
    )


def _delimiter(text: str | None) -> str | None:
    return None if text is None else DELIMITERS.get(text, text)


def _unit(text: str) -> Unit:
    try:
        return Unit(text.strip().upper().removeprefix("°"))
    except ValueError:
        raise Refusal("unit", f"--unit {text!r} is no unit. Write C or F, or NAME=F for one sensor.") from None


def candidates(files: Sequence[File], told: Namespace, plant: ZoneInfo) -> list[Candidate]:
    """A candidate for each sensor of each file, those that are one run told apart from the rest."""
    outs = tuple(instant("--taken-out", text, plant) for text in told.taken_out if text != WITH_START)
    return runs_of(files, Around(told.room, told.room_sensor, outs, from_start=WITH_START in told.taken_out))
