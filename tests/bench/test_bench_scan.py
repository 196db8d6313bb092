"""One scan decided and recorded with many live containers, against the bare look-up of the container."""

from datetime import timedelta

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from station.care.scans import ContainerScan
from station.rehearsal.clock import SetClock
from station.services.station import Station

from .crowd import crowded_station


@pytest.fixture(scope="module")
def crowded() -> tuple[Station, SetClock]:
    """A plant with two thousand jars received."""
    return crowded_station()


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
