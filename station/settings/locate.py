"""Finds the line of a key in a TOML text that has already been read without fault.

The standard reader keeps no lines. This walks through the same text once more, statement by statement, and notes
where each table and key begins; keys of an inline table count as standing where the table opens.
"""

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TypeAlias

KeyPath: TypeAlias = tuple[str | int, ...]

_TOKEN = re.compile(
    r'"""(?:\\.|[^\\])*?"{3,5}(?!")|\'\'\'.*?\'{3,5}(?!\')|"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\'|#[^\n]*|\n|[\[\]{}]'
    r"|[^\"'#\n\[\]{}]+",
    re.DOTALL,
)
_KEY = re.compile(r"""((?:"(?:\\.|[^"\\])*"|'[^']*'|[A-Za-z0-9_.\- \t])+?)[ \t]*=""")


@dataclass(slots=True)
class _Statement:
    line: int
    text: str = ""
    depth: int = 0
    items: list[int] = field(default_factory=list)


def line_of(lines: dict[KeyPath, int], path: KeyPath) -> int | None:
    """The line (from 1) where the key at `path` stands, or the table that should hold it; None at the top.

    `lines` are the `key_lines` of the text.
    """
    known = (lines[path[:size]] for size in range(len(path), 0, -1) if path[:size] in lines)
    return next(known, None)


def key_lines(text: str) -> dict[KeyPath, int]:
    """The first line of every table, key and item of a list of tables."""
    found: dict[KeyPath, int] = {}
    counts: dict[KeyPath, int] = {}
    here: KeyPath = ()
    for statement in _statements(text):
        if statement.text.startswith("["):
            here = _header(statement, counts)
            found.setdefault(here, statement.line)
        else:
            _note_key(statement, here, found)
    return found


def _header(statement: _Statement, counts: dict[KeyPath, int]) -> KeyPath:
    many = statement.text.startswith("[[")
    *parents, last = _names(statement.text.strip("[] \t"))
    here: KeyPath = ()
    for name in parents:
        here = _latest((*here, name), counts)
    if not many:
        return _latest((*here, last), counts)
    counts[(*here, last)] = counts.get((*here, last), -1) + 1
    return (*here, last, counts[(*here, last)])


def _latest(path: KeyPath, counts: dict[KeyPath, int]) -> KeyPath:
    """A table's own path; of a list of tables, that of the item opened last."""
    return (*path, counts[path]) if path in counts else path


def _note_key(statement: _Statement, here: KeyPath, found: dict[KeyPath, int]) -> None:
    match = _KEY.match(statement.text)
    path = here
    for name in _names(match[1]) if match is not None else ():
        path = (*path, name)
        found.setdefault(path, statement.line)
    for index, line in enumerate(statement.items):
        found[(*path, index)] = line


def _names(dotted: str) -> list[str]:
    """The parts of a dotted key, quotes taken off the way TOML does."""
    level: object = tomllib.loads(f"{dotted} = 0")
    names = []
    while isinstance(level, dict):
        name, level = next(iter(level.items()))
        names.append(str(name))
    return names


def _statements(text: str) -> Iterator[_Statement]:
    line, statement = 1, _Statement(1)
    for token in _TOKEN.findall(text.replace("\r\n", "\n")):
        if token == "\n" and (statement.depth <= 0):
            if statement.text.strip():
                yield _trimmed(statement)
            statement = _Statement(line + 1)
        elif not token.startswith("#"):
            _take(statement, token, line)
        line += token.count("\n")
    if statement.text.strip():
        yield _trimmed(statement)


def _take(statement: _Statement, token: str, line: int) -> None:
    if token == "{" and statement.depth == 1:
        statement.items.append(line)
    statement.text += token
    statement.depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(token, 0)


def _trimmed(statement: _Statement) -> _Statement:
    statement.text = statement.text.strip()
    return statement
