"""A plant with two thousand jars received: what a scan is measured against."""

from datetime import UTC, date, datetime

from station.bootstrap import DEMO_KEYS, NoPrinter, build_station
from station.care.receiving import Arrival
from station.rehearsal.clock import SetClock
from station.services.memory import MemoryJournal
from station.services.station import Station
from station.settings import load
from tests.ui.plants import DEMO

START = datetime(2026, 11, 2, 6, tzinfo=UTC)
LIVE = 2000


def crowded_station(live: int = LIVE) -> tuple[Station, SetClock]:
    """The demo plant with so many jars, fifty to a delivery."""
    clock = SetClock(START)
    station = build_station(load(DEMO), MemoryJournal(), clock, DEMO_KEYS, NoPrinter())
    station.start("bench")
    for _ in range(live // 50):
        names = [station.new_container() for _ in range(50)]
        station.receive(
            [
                Arrival(name, "SN-4", "JAR-500", "26-1", date(2027, 6, 1), None, START, 5.0, "measured", leaking=False)
                for name in names
            ],
            None,
        )
    return station, clock
