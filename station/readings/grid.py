"""A file's bytes as text, and its text as rows of cells with their line numbers."""

import codecs
import csv
import io
import re
from dataclasses import dataclass

from station.readings.series import ReadingsRefused

_SEPARATOR_LINE = re.compile(r"sep=(.)\r?\n", re.IGNORECASE)
_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)


@dataclass(frozen=True, slots=True)
class Line:
    """A row of cells without their outer spaces; `number` counts the file's lines from 1."""

    number: int
    cells: tuple[str, ...]


def decode(file: str, content: bytes, encoding: str | None = None) -> str:
    """The text of a file's bytes.

    Without an encoding declared: by the mark at the start, else UTF-8, else the Western set of Windows; digits are
    the same in all of them, so only names of sensors could suffer. Raises ReadingsRefused.
    """
    if not content.strip():
        raise ReadingsRefused(file, ["the file is empty."])
    try:
        if encoding is not None:
            return content.decode(encoding).removeprefix("\ufeff")
        return _by_its_look(file, content)
    except (UnicodeDecodeError, LookupError) as error:
        raise ReadingsRefused(file, [f"this is no text in {encoding} ({error}). Declare another encoding."]) from error


def _by_its_look(file: str, content: bytes) -> str:
    for mark, name in _MARKS:
        if content.startswith(mark):
            return content.decode(name)
    if b"\0" in content:
        raise ReadingsRefused(file, ["this is no plain text. Export it as CSV, or declare its encoding (utf-16-le)."])
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError:
        return content.decode("cp1252", errors="replace")


def separator_line(text: str) -> str | None:
    """The delimiter that a spreadsheet's first line `sep=;` names."""
    found = _SEPARATOR_LINE.match(text)
    return found[1] if found else None


def split(file: str, text: str, delimiter: str) -> tuple[Line, ...]:
    """The rows of a text, empty ones left out. Raises ReadingsRefused where quotation marks do not match."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    found: list[Line] = []
    try:
        for row in reader:
            cells = tuple(cell.strip() for cell in row)
            if any(cells):
                found.append(Line(reader.line_num, cells))
    except csv.Error as error:
        raise ReadingsRefused(file, [f"line {reader.line_num}: the quotation marks do not match ({error})."]) from error
    return tuple(found)
