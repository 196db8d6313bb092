"""One scan decided and recorded with many live containers, against the bare look-up of the container."""

from datetime import UTC, date, datetime, timedelta

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from station.bootstrap import DEMO_KEYS, NoPrinter, build_station
from station.care.receiving import Arrival
from station.care.scans import ContainerScan
from station.rehearsal.clock import SetClock
from station.services.memory import MemoryJournal
from station.services.station import Station
from station.settings import load
from tests.ui.plants import DEMO

START = datetime(2026, 11, 2, 6, tzinfo=UTC)
LIVE = 2000


@pytest.fixture(scope="module")
def crowded() -> tuple[Station, SetClock]:
    """A plant with two thousand jars received."""
    clock = SetClock(START)
    station = build_station(load(DEMO), MemoryJournal(), clock, DEMO_KEYS, NoPrinter())
    station.start("bench")
    for _ in range(LIVE // 50):
        names = [station.new_container() for _ in range(50)]
        station.receive(
            [
                Arrival(name, "SN-4", "JAR-500", "26-1", date(2027, 6, 1), None, START, 5.0, "measured", leaking=False)
                for name in names
            ],
            None,
        )
    return station, clock


@pytest.mark.benchmark(group="scan")
def test_bare_look_up(benchmark: BenchmarkFixture, crowded: tuple[Station, SetClock]) -> None:
    station, _ = crowded
    benchmark(lambda: station.ledger.containers["K1-1000"])


@pytest.mark.benchmark(group="scan")
def test_scan_decided_and_recorded(benchmark: BenchmarkFixture, crowded: tuple[Station, SetClock]) -> None:
    station, clock = crowded

    def scan() -> None:
        clock.go_on(timedelta(seconds=10))
        station.scanned(ContainerScan("K1-1000"), "LINE1")

    benchmark(scan)
