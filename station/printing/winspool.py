"""The spooler of Windows, as far as Qt does not show it: status words, and jobs by their numbers.

Structures and figures are those of the Win32 documentation of PRINTER_INFO_2, JOB_INFO_1 and SetJob. Elsewhere than
on Windows there is nothing to ask, and every answer is empty. Not tried on Windows yet.
"""

import ctypes
import sys
from collections.abc import Iterator
from typing import Any

_TEXT, _WORD, _POINTER = ctypes.c_wchar_p, ctypes.c_uint32, ctypes.c_void_p
JOB_CONTROL_DELETE = 5
MOST_JOBS = 200

Job = tuple[int, str, int]


class PrinterInfo2(ctypes.Structure):
    """PRINTER_INFO_2W."""

    _fields_ = (
        *((name, _TEXT) for name in ("server", "printer", "share", "port", "driver", "comment", "location")),
        ("devmode", _POINTER),
        *((name, _TEXT) for name in ("separator", "processor", "datatype", "parameters")),
        ("security", _POINTER),
        ("attributes", _WORD),
        *((name, _WORD) for name in ("priority", "default_priority", "start", "until", "status", "count", "average")),
    )


class JobInfo1(ctypes.Structure):
    """JOB_INFO_1W."""

    _fields_ = (
        ("number", _WORD),
        *((name, _TEXT) for name in ("printer", "machine", "user", "document", "datatype", "status_text")),
        *((name, _WORD) for name in ("status", "priority", "position", "pages", "printed")),
        ("submitted", ctypes.c_uint16 * 8),
    )


def printer_words(queue: str) -> tuple[int, int]:
    """The status and the attribute word of a printer; zeros where there is no spooler to ask."""
    if sys.platform != "win32":
        return 0, 0
    with_printer = _Printer(queue)
    try:
        found = with_printer.two_calls("GetPrinterW", 2)
        info = PrinterInfo2.from_buffer(found)
        return info.status, info.attributes
    finally:
        with_printer.close()


def jobs(queue: str) -> tuple[Job, ...]:
    """The jobs that wait: number, document name, status word."""
    return tuple(_jobs(queue)) if sys.platform == "win32" else ()


def cancel(queue: str, job: int) -> bool:
    """Take a job back; False where the spooler does not."""
    if sys.platform != "win32":
        return False
    with_printer = _Printer(queue)
    try:
        return bool(with_printer.library.SetJobW(with_printer.handle, job, 0, None, JOB_CONTROL_DELETE))
    finally:
        with_printer.close()


def _jobs(queue: str) -> Iterator[Job]:
    with_printer = _Printer(queue)
    try:
        count = _WORD()
        found = with_printer.two_calls("EnumJobsW", 0, MOST_JOBS, 1, after=(ctypes.byref(count),))
        for info in (JobInfo1 * count.value).from_buffer(found):
            yield info.number, info.document or "", info.status
    finally:
        with_printer.close()


class _Printer:
    """An open printer of the spooler."""

    def __init__(self, queue: str) -> None:
        """OSError where it can't be opened."""
        loader: Any = getattr(ctypes, "WinDLL")  # noqa: B009  # only Windows has it, as type checkers know
        self.library = loader("winspool.drv", use_last_error=True)
        self.handle = _POINTER()
        if not self.library.OpenPrinterW(_TEXT(queue), ctypes.byref(self.handle), None):
            raise OSError(f"The spooler does not open {queue}.")

    def two_calls(self, name: str, *arguments: int, after: tuple[Any, ...] = ()) -> ctypes.Array[ctypes.c_char]:
        """Ask how much room the answer needs, then ask for it."""
        call, needed = getattr(self.library, name), _WORD()
        call(self.handle, *arguments, None, 0, ctypes.byref(needed), *after)
        room = ctypes.create_string_buffer(max(needed.value, ctypes.sizeof(PrinterInfo2)))
        if not call(self.handle, *arguments, room, len(room), ctypes.byref(needed), *after):
            raise OSError(f"The spooler does not answer {name}.")
        return room

    def close(self) -> None:
        """Let go of it."""
        self.library.ClosePrinter(self.handle)
