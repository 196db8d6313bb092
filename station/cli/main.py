"""Reads the command line and runs one command; every refusal becomes sentences and an exit code here."""

import importlib
import os
import sys
from argparse import Namespace
from collections.abc import Callable, Sequence
from typing import cast

from station.cli.parser import build_parser
from station.cli.saying import STOPPED, complain, refuse, use_utf8
from station.labels.faults import LabelFault
from station.services.outcome import Refusal
from station.services.ports import JournalTrouble
from station.settings.faults import SettingsRefused, render

Run = Callable[[Namespace], int]


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line given (by default the program's own) and give the exit code."""
    use_utf8()
    told = build_parser().parse_args(arguments)
    try:
        code = _command(told.module)(told)
        sys.stdout.flush()
    except BrokenPipeError:
        return _reader_went_away()
    except KeyboardInterrupt:  # whoever waits has enough; what was begun leaves nothing half done
        complain(["Stopped."])
        return STOPPED
    except SettingsRefused as refused:
        complain(render(refused.faults, told.config))
        return 2
    except (Refusal, LabelFault, JournalTrouble) as trouble:
        return refuse(trouble.sentence)
    else:
        return code


def _command(module: str) -> Run:
    """The command's module is loaded only now, so that help and a wrong word cost no start-up."""
    return cast(Run, importlib.import_module(module).run)


def _reader_went_away() -> int:
    """Whoever read our answer (`head`, a closed pipe) has enough; what is left must not raise at exit."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return 0
