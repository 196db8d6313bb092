"""The floor at the end of a rehearsed day, and reports asked of it."""

from datetime import UTC, datetime
from functools import cache
from pathlib import Path

from station.bootstrap import build_player
from station.care.floor import Floor
from station.rehearsal.script import read_script
from station.reports.asked import Asked, Made
from tests.rehearsal.plants import site_of

DAYS = Path(__file__).parents[1] / "rehearsal" / "days"
HEAD = "ab" * 32
SINCE, UNTIL = datetime(2026, 11, 1, tzinfo=UTC), datetime(2026, 12, 1, tzinfo=UTC)


@cache
def after(day: str) -> Floor:
    """The floor when the last step of a day was done."""
    script = DAYS / f"{day}.jsonl"
    site = site_of(script)
    steps = read_script(script, site.zone)
    player = build_player(site, steps[0].at)
    for step in steps:
        player.step(step)
    return player.station.floor()


def asked(day: str, of: str = "", since: datetime = SINCE, until: datetime = UNTIL) -> Asked:
    """A report asked of that floor by the shift lead of plant T."""
    floor = after(day)
    return Asked(floor, Made("P20", floor.now, "Plant T, station 7", HEAD), since, until, of)
