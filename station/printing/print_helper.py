"""The process that speaks to a print service through Qt: `python -m station.printing.print_helper WHAT QUEUE ...`.

A hung service blocks such a call for ever, and a process can be ended. WHAT is `state`, `media`, `jobs`,
`cancel QUEUE JOB`, or `print QUEUE DPI TITLE` with the PNG on standard input. One line of JSON comes out; a sentence
under "trouble" where it did not work. Job numbers and printer states are the spooler's of Windows.
"""

import json
import os
import sys
from collections.abc import Callable
from typing import Any

from PySide6.QtGui import QGuiApplication
from PySide6.QtPrintSupport import QPrinter, QPrinterInfo

from station.printing import winspool
from station.printing.drawing import NotDrawn, draw

Answer = dict[str, Any]
INPUT = 0


def state(queue: str) -> Answer:
    """Whether the queue is there, with its status and attribute words."""
    if QPrinterInfo.printerInfo(queue).isNull():
        return {"found": False}
    status, attributes = winspool.printer_words(queue)
    return {"found": True, "status": status, "attributes": attributes}


def media(queue: str) -> Answer:
    """The sizes (millimetres) and resolutions (dots per inch) of the queue, the default size first."""
    info = QPrinterInfo.printerInfo(queue)
    sizes = [page.size(page.Unit.Millimeter) for page in (info.defaultPageSize(), *info.supportedPageSizes())]
    return {
        "sizes": [f"{size.width():g}x{size.height():g}mm" for size in sizes if size.isValid()],
        "custom": info.supportsCustomPageSizes(),
        "resolutions": [f"{dpi}dpi" for dpi in QPrinter(info).supportedResolutions()],
    }


def jobs(queue: str) -> Answer:
    """The jobs that wait: number, name, status word."""
    return {"jobs": [list(job) for job in winspool.jobs(queue)]}


def cancel(queue: str, job: str) -> Answer:
    """Take a job back."""
    return {"cancelled": winspool.cancel(queue, int(job))}


def print_label(queue: str, dpi: str, title: str) -> Answer:
    """Print the PNG from standard input; gives back the number of its job, None where the spooler shows none."""
    printer = QPrinter(QPrinterInfo.printerInfo(queue))
    try:
        draw(printer, _read_all(), int(dpi), title)
    except NotDrawn as fault:
        return {"trouble": str(fault)}
    return {"job": next((number for number, name, _ in winspool.jobs(queue) if name == title), None)}


def _read_all() -> bytes:
    with os.fdopen(INPUT, "rb", closefd=False) as pipe:
        return pipe.read()


ACTS: dict[str, Callable[..., Answer]] = {
    "state": state,
    "media": media,
    "jobs": jobs,
    "cancel": cancel,
    "print": print_label,
}


def main(arguments: list[str]) -> int:
    """Do one thing and end."""
    QGuiApplication.instance() or QGuiApplication(sys.argv[:1])
    what, *rest = arguments
    sys.stdout.write(json.dumps(ACTS[what](*rest)) + "\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
