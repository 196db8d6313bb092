"""The file of a store's logger: its character set, its layout from a sample of its lines, and which sensor is meant."""

import codecs
import io
from collections.abc import Callable
from itertools import islice

from station.readings.grid import decode
from station.readings.layout import Layout, SensorColumn
from station.readings.long_file import LongFile, read_long
from station.readings.questions import Declared, LayoutUnclear, Option, Question
from station.readings.recognise import recognise
from station.readings.series import ReadingsRefused

HEAD_LINES, SAMPLED = 1000, 4000
LARGE = 1_000_000
"""Bytes above which a sample of the lines is looked at for the layout; `read_long` checks every cell all the same."""
ONE_BYTE_LINE_ENDS = frozenset({"utf-8", "utf-8-sig", "cp1252"})
_PIECE = 1 << 20


def read_store_log(
    file: str,
    content: bytes,
    declared: Declared,
    encoding: str | None = None,
    go_on: Callable[[int], bool] = lambda _rows: True,
) -> tuple[LongFile, Layout]:
    """One sensor of a store's logger, by what was declared and what the file says.

    Raises LayoutUnclear with the questions that are open, ReadingsRefused, LayoutRefused, or long_file.Cancelled.
    """
    characters = encoding or encoding_of(file, content)
    if len(content) <= LARGE:
        layout = recognise(file, decode(file, content, encoding), declared)
        return read_long(file, content, characters, layout, _sensor(file, layout), go_on), layout
    try:
        layout = recognise(file, _sample(content, characters), declared)
        return read_long(file, content, characters, layout, _sensor(file, layout), go_on), layout
    except (LayoutUnclear, ReadingsRefused):
        # a later line may say what the sample left open, and then the whole file is worth its time
        layout = recognise(file, decode(file, content, encoding), declared)
        return read_long(file, content, characters, layout, _sensor(file, layout), go_on), layout


def _sensor(file: str, layout: Layout) -> SensorColumn:
    """The one sensor that measured the store."""
    if len(layout.sensors) == 1:
        return layout.sensors[0]
    names = tuple(column.sensor for column in layout.sensors)
    told = "It has several sensors, and one of them measured the store"
    raise LayoutUnclear(file, [Question(Option.SENSOR, told, names)], names)


def encoding_of(file: str, content: bytes) -> str:
    """The character set of a file by its look, as `grid.decode` finds it. Raises ReadingsRefused."""
    if not content.strip():
        raise ReadingsRefused(file, ["the file is empty."])
    for mark, name in (
        (codecs.BOM_UTF8, "utf-8-sig"),
        (codecs.BOM_UTF16_LE, "utf-16"),
        (codecs.BOM_UTF16_BE, "utf-16"),
    ):
        if content.startswith(mark):
            return name
    if b"\0" in content:
        raise ReadingsRefused(file, ["this is no plain text. Export it as CSV, or declare its encoding (utf-16-le)."])
    decoder = codecs.getincrementaldecoder("utf-8")()
    try:
        for begin in range(0, len(content), _PIECE):
            decoder.decode(content[begin : begin + _PIECE])
        decoder.decode(b"", final=True)
    except UnicodeDecodeError:
        return "cp1252"
    return "utf-8"


def _sample(content: bytes, encoding: str) -> str:
    """The first lines and some from everywhere else, about as many as would fit a small file."""
    if encoding not in ONE_BYTE_LINE_ENDS:
        lines = io.TextIOWrapper(io.BytesIO(content), encoding=encoding, errors="replace", newline="")
        head = list(islice(lines, HEAD_LINES))
        every = max(1, content.count(b"\n") // SAMPLED)
        return "".join((*head, *islice(lines, 0, None, every)))
    begin = 0
    for _ in range(HEAD_LINES):
        begin = content.find(b"\n", begin) + 1 or len(content)
    parts, step = [content[:begin]], (len(content) - begin) // SAMPLED
    while begin < len(content):
        end = content.find(b"\n", begin) + 1 or len(content)
        parts.append(content[begin:end])
        begin = content.find(b"\n", max(end, begin + step) - 1) + 1 or len(content)
    return b"".join(parts).decode(encoding, errors="replace")
