"""The line of a key, so that a person finds it at once."""

import tomllib
from pathlib import Path

import pytest

from station.settings.locate import KeyPath, key_lines, line_of
from tests.settings.folders import DEMO

TEXT = """\
# a comment with [brackets] and "quotes
name = "x = [y]"   # name = no
[a]
key.inner = 1
[a."b.c"]
text = '''
[no.table]
no = 1
'''
list = [
  { id = "one" },   # {
  # { id = "none" },
  { id = "two" },
]
[[row]]
v = 1
[row.sub]
w = 2
[[row]]
v = '#'
[[row.deep]]
z = { y = { x = 1 } }
"""


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("name",), 2),
        (("a",), 3),
        (("a", "key", "inner"), 4),
        (("a", "b.c"), 5),
        (("a", "b.c", "text"), 6),
        (("a", "b.c", "list", 0, "id"), 11),
        (("a", "b.c", "list", 1), 13),
        (("row", 0), 15),
        (("row", 0, "sub", "w"), 18),
        (("row", 1, "v"), 20),
        (("row", 1, "deep", 0, "z", "y", "x"), 22),
        (("row", 1, "missing"), 19),
        (("a", "missing"), 3),
        (("no",), None),
        ((), None),
    ],
)
def test_key_is_found_or_else_the_table_that_should_hold_it(path: KeyPath, line: int | None) -> None:
    assert line_of(key_lines(TEXT), path) == line


def test_windows_line_ends_count_once() -> None:
    assert line_of(key_lines(TEXT.replace("\n", "\r\n")), ("row", 1, "v")) == 20


@pytest.mark.parametrize("file", sorted(DEMO.glob("*.toml")), ids=lambda path: path.name)
def test_every_key_of_the_demo_stands_on_the_line_named(file: Path) -> None:
    text = file.read_text(encoding="utf-8")
    lines = text.splitlines()
    found = key_lines(text)
    for path, line in found.items():
        name = path[-1] if isinstance(path[-1], str) else path[-2]
        inline_item = isinstance(path[-1], int) and lines[line - 1].lstrip().startswith("{")
        assert inline_item or str(name) in lines[line - 1]
    assert {path[0] for path in found} == set(tomllib.loads(text))
