"""The one clock adapter: reads the wall clock, the monotonic clock and the boot together.

`monotonic` must stand still while the PC sleeps and `since_boot` must not: only the pair can tell a sleep from a
clock that was set. On Linux these are CLOCK_MONOTONIC and CLOCK_BOOTTIME (clock_gettime(2)); preferring the
latter alone would hide every sleep. On Windows they are the unbiased interrupt time and the tick count.
"""

import sys
import time
import uuid
from datetime import UTC, datetime
from pathlib import Path

from station.services.ports import ClockReading

BOOT_ID = Path("/proc/sys/kernel/random/boot_id")

if sys.platform == "win32":  # pragma: no cover
    import ctypes

    def _awake_seconds() -> float:
        ticks_of_100_ns = ctypes.c_ulonglong()
        ctypes.windll.kernel32.QueryUnbiasedInterruptTime(ctypes.byref(ticks_of_100_ns))
        return ticks_of_100_ns.value / 1e7

    def _since_boot_seconds() -> float | None:
        ctypes.windll.kernel32.GetTickCount64.restype = ctypes.c_ulonglong
        return int(ctypes.windll.kernel32.GetTickCount64()) / 1e3

elif sys.platform == "linux":

    def _awake_seconds() -> float:
        return time.clock_gettime(time.CLOCK_MONOTONIC)

    def _since_boot_seconds() -> float | None:
        return time.clock_gettime(time.CLOCK_BOOTTIME)

else:  # pragma: no cover

    def _awake_seconds() -> float:
        return time.monotonic()

    def _since_boot_seconds() -> float | None:
        return None


def boot_name(source: Path = BOOT_ID) -> str:
    """The system's name for this boot, or a random one for this process where the system has none.

    A random name only starts a new clock segment at each program start, which trusts less, never more.
    """
    try:
        return source.read_text(encoding="ascii").strip() or uuid.uuid4().hex
    except (OSError, ValueError):
        return uuid.uuid4().hex


class SystemClock:
    """The PC's own clocks."""

    def __init__(self, boot_source: Path = BOOT_ID) -> None:
        self._boot = boot_name(boot_source)

    def read(self) -> ClockReading:
        """Read the clocks together; they lie microseconds apart, far inside any slack."""
        return ClockReading(
            wall=datetime.now(UTC),
            monotonic=_awake_seconds(),
            boot=self._boot,
            since_boot=_since_boot_seconds(),
        )
