"""Whole days worked by hand, played minute by minute on plant T, or on the plant their first line names.

The expectations in tests/rehearsal/days are hand-worked from the rules: the label minute decides, ends belong to
the usable time, nothing stops a clock. Limits (stencil shift of 8 h, room life, never back in the cold) are common
practice, no source.
"""

from pathlib import Path

import pytest

from station.bootstrap import build_player
from station.rehearsal.script import read_script
from tests.rehearsal.plants import site_of

HERE = Path(__file__).parent
DAYS = sorted((HERE / "days").glob("*.jsonl"))


@pytest.mark.parametrize("script", DAYS, ids=lambda path: path.stem)
def test_every_step_of_a_day_is_answered_as_worked_by_hand(script: Path) -> None:
    site = site_of(script)
    steps = read_script(script, site.zone)
    player = build_player(site, steps[0].at)
    for step in steps:
        played = player.step(step)
        assert not played.missed, f"{script.name} line {step.line}: {played.missed} in {played.report}"


def test_there_are_days_to_play() -> None:
    assert len(DAYS) >= 5
