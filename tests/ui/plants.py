"""Stations for screen tests: the demo plant in mid-shift, lived through on a clock that is set."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from station.bootstrap import DEMO_KEYS, NoPrinter, build_station
from station.rehearsal.clock import SetClock
from station.rehearsal.midshift import MidShift
from station.services.memory import MemoryJournal
from station.services.ports import JournalPort
from station.services.station import Station
from station.settings import load
from station.ui.desk_work import DeskWork

DEMO = Path(__file__).parents[2] / "demo_config"
NOW = datetime(2026, 11, 24, 13, 5, 22, tzinfo=UTC)


@dataclass
class Plant:
    """A station, the clock it lives by, and the mid-shift's short names."""

    station: Station
    clock: SetClock
    names: dict[str, str]
    work: DeskWork
    printer: NoPrinter

    def later(self, length: timedelta) -> None:
        """Time passes, with one tick at its end."""
        self.clock.go_on(length)
        self.work.tick()


def mid_shift(journal: JournalPort | None = None) -> Plant:
    """The demo plant as it is on Tuesday 24 November 2026 at 14:05 in Berlin."""
    clock, printer = SetClock(NOW - timedelta(days=16)), NoPrinter()
    station = build_station(load(DEMO), journal or MemoryJournal(), clock, DEMO_KEYS, printer)
    station.start("test")
    lived = MidShift(station, clock, NOW)
    lived.live()
    return Plant(station, clock, lived.names, DeskWork(station), printer)
