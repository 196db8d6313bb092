"""Whether a window can be shown here, and what to do where Qt cannot be loaded."""

import os
import re
import sys
from collections.abc import Iterator
from contextlib import contextmanager

from station.services.outcome import Refusal

NO_DISPLAY = "No display was found (neither DISPLAY nor WAYLAND_DISPLAY is set)."
DISPLAYS = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")


def has_display() -> bool:
    """Whether Qt has somewhere to show a window; asking Qt itself would end the program where there is none."""
    return sys.platform != "linux" or any(os.environ.get(name) for name in DISPLAYS)


@contextmanager
def qt_told() -> Iterator[None]:
    """Tell a Qt that can't be loaded as a Refusal; other missing modules stay errors of this program."""
    try:
        yield
    except ImportError as error:
        if not _is_qt(error):
            raise
        raise Refusal("qt-missing", f"Qt can't be loaded ({error}). {mend_qt()}") from error


def _is_qt(error: ImportError) -> bool:
    """A missing system library is told by its file name, a missing PySide6 by its module name."""
    return re.search(r"\.so[.\d]*:|DLL", str(error)) is not None or (error.name or "").partition(".")[0] == "PySide6"


def mend_qt() -> str:
    """What to do where Qt does not start."""
    if sys.platform == "linux":
        return "Install what Qt needs; the one apt line is in README.md, under Bare Linux."
    return "Install the program again: pip install --force-reinstall PySide6."
