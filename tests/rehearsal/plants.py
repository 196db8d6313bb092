"""Which plant a day is played on: the one its first line names (`# Plant F: ...`), else plant T."""

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

from station.services.site import Site
from station.settings.load import load
from tests.care.test_stores import two_stores

TESTS = Path(__file__).parents[1]


def _tested(site: Site) -> Site:
    """Plant T where every new lot of its leaded paste awaits a test, and should come with three months left."""
    leaded = replace(site.plant.pastes["PB-1"], incoming_test=True, least_shelf_months=3)
    return replace(site, plant=replace(site.plant, pastes={**site.plant.pastes, "PB-1": leaded}))


@cache
def _plant(letter: str) -> Site:
    if letter == "S":
        return two_stores()
    if letter == "I":
        return _tested(_plant("T"))
    return load(TESTS / f"plant_{letter.lower()}")


def site_of(script: Path) -> Site:
    """The site a script is written for."""
    with script.open(encoding="utf-8") as lines:
        named = re.match(r"# Plant ([A-Z])\b", lines.readline())
    return _plant(named[1] if named else "T")
