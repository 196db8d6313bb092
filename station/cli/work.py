"""`station run`: the station's window over its own journal."""

import logging
from argparse import Namespace

from station.cli.display import NO_DISPLAY, has_display, qt_told
from station.cli.saying import refuse
from station.settings.load import load


def run(told: Namespace) -> int:
    """Open the window; faulty settings and a missing display are told before Qt is loaded."""
    if told.verbose:
        logging.basicConfig(level=logging.INFO, format="%(name)s: %(message)s")
    load(told.config)
    if not has_display():
        return refuse(f"{NO_DISPLAY} Start it on the PC's own desktop.")
    with qt_told():
        from station.bootstrap import run_window  # noqa: PLC0415  # only a window needs Qt

        return run_window(told.config, told.data)
