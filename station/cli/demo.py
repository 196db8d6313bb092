"""`station demo`: the window on an invented plant in mid-shift, or its whole day as files."""

from argparse import Namespace
from pathlib import Path

from station.cli.display import NO_DISPLAY, has_display, qt_told
from station.cli.saying import say

WITHOUT_DISPLAY = Path("thawmark-tour")


def run(told: Namespace) -> int:
    """Open the demo; without a display say so and play its day into a folder instead."""
    if told.tour is not None:
        return _tour(told.config, told.tour)
    if not has_display():
        folder = WITHOUT_DISPLAY.absolute()
        say(f"{NO_DISPLAY} The demo's day is played into {folder} instead.")
        return _tour(told.config, folder)
    with qt_told():
        from station.bootstrap import run_demo  # noqa: PLC0415  # only a window needs Qt

        return run_demo(told.config)


def _tour(config: Path, folder: Path) -> int:
    with qt_told():
        from station.bootstrap import run_tour  # noqa: PLC0415  # only pictures need Qt

        code = run_tour(config, folder)
    say(f"The demo's day is in {folder.absolute()}: summary.json, screens, labels, facts.csv.")
    return code
