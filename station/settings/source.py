"""One settings file: read as bytes, checked to be text, parsed as TOML. Whatever fails becomes a fault."""

import re
import tomllib
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cached_property
from pathlib import Path

from station.settings.faults import SettingsFault, printable
from station.settings.locate import KeyPath, key_lines, line_of

LARGEST_BYTES = 1_000_000
_PLACE = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")


@dataclass(frozen=True)
class Source:
    """A settings file that is TOML: its name, its text and what is in it."""

    file: str
    text: str
    values: Mapping[str, object]

    @cached_property
    def _lines(self) -> dict[KeyPath, int]:
        return key_lines(self.text)

    def line_of(self, path: KeyPath) -> int | None:
        """Where the key at `path` stands, or the table that should hold it."""
        return line_of(self._lines, path)

    def shown(self, path: KeyPath) -> str:
        """A key the way a person looks for it: paste[SN-4].specification.open_life."""
        told, level = "", self.values
        for step in path:
            level = level[step] if _holds(level, step) else None  # type: ignore[index,assignment]
            if isinstance(step, int):
                told += f"[{_name_of(level) or f'#{step + 1}'}]"
            else:
                told += f".{step}" if told else step
        return printable(told) if not told.isprintable() else told


def _holds(level: object, step: str | int) -> bool:
    if isinstance(step, int):
        return isinstance(level, list) and step < len(level)
    return isinstance(level, Mapping) and step in level


def _name_of(item: object) -> str | None:
    name = item.get("id", item.get("name")) if isinstance(item, Mapping) else None
    return name if isinstance(name, str) and name else None


def read_source(folder: Path, file: str, expected: Collection[str]) -> Source | SettingsFault:
    """The file as TOML, or the one fault that keeps it from being read; `expected` are all file names in use."""
    path = folder / file
    try:
        with path.open("rb") as stream:
            raw = stream.read(LARGEST_BYTES + 1)
    except FileNotFoundError:
        return _missing(folder, file, expected)
    except OSError as failed:
        reason = f"it can't be read ({failed.strerror or failed})"
        return _whole(file, reason, "Check that it is a file and that this account may read it")
    return read_text(file, raw)


def read_text(file: str, raw: bytes) -> Source | SettingsFault:
    """The content of a file as TOML, or the one fault that keeps it from being read; `file` is what it is called."""
    text = _text(file, raw)
    return _parsed(file, text) if isinstance(text, str) else text


def stray_files(folder: Path, expected: Iterable[str]) -> list[SettingsFault]:
    """A fault for every other TOML file in the folder: its content would be left out without a word."""
    known = list(expected)
    present = sorted(path.name for path in folder.glob("*.toml"))
    missing = [name for name in known if name not in present]
    reason, remedy = "no settings file has this name", "Rename it or take it away"
    return [
        SettingsFault(name, None, "", "", reason, _nearest(name, missing) or _nearest(name, known), remedy)
        for name in present
        if name not in known
    ]


def _missing(folder: Path, file: str, expected: Collection[str]) -> SettingsFault:
    near = _nearest(file, [path.name for path in folder.iterdir() if path.name not in expected])
    reason = f'the file is missing; the folder holds "{near}"' if near else "the file is missing"
    return _whole(file, reason, "Copy it from demo_config and fill in your own figures")


def _nearest(name: str, among: list[str]) -> str | None:
    return next(iter(get_close_matches(name, among, 1, 0.6)), None)


def _whole(file: str, reason: str, remedy: str, line: int | None = None) -> SettingsFault:
    return SettingsFault(file, line, "", "", reason, None, remedy)


def _text(file: str, raw: bytes) -> str | SettingsFault:
    restore = "Put back your last good copy"
    if len(raw) > LARGEST_BYTES:
        return _whole(file, "it is larger than any settings file can be", restore)
    if b"\0" in raw:
        return _whole(file, "it holds bytes that are no text", f"{restore}, or save it as UTF-8 text")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as wrong:
        line = raw.count(b"\n", 0, wrong.start) + 1
        return _whole(file, "it is not UTF-8 text", f"Save it as UTF-8, or: {restore.lower()}", line)
    if not text.strip():
        return _whole(file, "the file is empty", restore)
    return text


def _parsed(file: str, text: str) -> Source | SettingsFault:
    try:
        return Source(file, text, tomllib.loads(text))
    except ValueError as wrong:  # also a figure of thousands of digits, which is no TOMLDecodeError
        return _no_toml(file, text, str(wrong))
    except RecursionError:
        return _whole(file, "its tables and lists are nested too deep", "Put back your last good copy")


def _no_toml(file: str, text: str, message: str) -> SettingsFault:
    place = _PLACE.search(message)
    line = int(place[1]) if place is not None and place[1] else text.count("\n") + 1
    what = printable(_PLACE.sub("", message))
    lines = text.splitlines()
    written = printable(lines[line - 1].strip()) if 0 < line <= len(lines) else ""
    remedy = "Look at this line and the one before: quotes closed, one key = value a line, each key and table once"
    return SettingsFault(file, line, "", written, f"this is not TOML ({what})", None, remedy)
