"""Which plant a day is played on: the one its first line names (`# Plant F: ...`), else plant T."""

import re
from functools import cache
from pathlib import Path

from station.services.site import Site
from station.settings.load import load

TESTS = Path(__file__).parents[1]


@cache
def _plant(letter: str) -> Site:
    return load(TESTS / f"plant_{letter.lower()}")


def site_of(script: Path) -> Site:
    """The site a script is written for."""
    with script.open(encoding="utf-8") as lines:
        named = re.match(r"# Plant ([A-Z])\b", lines.readline())
    return _plant(named[1] if named else "T")
