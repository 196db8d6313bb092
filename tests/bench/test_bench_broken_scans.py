"""A million broken scans on whole stations, and every garble of twenty thousand labels: counted, not only timed.

Ten minutes and more; `python -m tests.run bench -k "not million and not twenty_thousand"` leaves them out.
"""

from collections import Counter
from functools import cache

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from station.bootstrap import DEMO_KEYS
from station.care.scans import Scan
from station.scanning.layouts import LAYOUTS
from station.services.reading import Reader
from tests.care.bench import site_t
from tests.scanning.fuzzing import Target
from tests.scanning.garbling import GARBLES_OF_LETTERS, KINDS
from tests.scanning.labels import became, labels

CHUNKS, STATIONS_A_CHUNK, SCANS_A_STATION = 25, 20, 2000
LABELS = 20_000

# A loaded machine takes its time; a fault shows in what is counted.
pytestmark = pytest.mark.timeout(1800)


@cache
def printed() -> tuple[tuple[str, Scan], ...]:
    """The same twenty thousand labels for every keyboard."""
    return tuple(labels(20_000, LABELS))


@pytest.mark.benchmark(group="broken scans")
@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_a_million_broken_scans_leave_nothing_but_refusals(benchmark: BenchmarkFixture, chunk: int) -> None:
    def throw() -> Counter[str]:
        seeds = range(chunk * STATIONS_A_CHUNK, (chunk + 1) * STATIONS_A_CHUNK)
        return sum((Target(1_000_000 + seed).throw(SCANS_A_STATION) for seed in seeds), Counter())

    found = benchmark.pedantic(throw, rounds=1)  # type: ignore[no-untyped-call]  # ships half its types
    assert set(found) == {"read", "refused"}
    assert found.total() == STATIONS_A_CHUNK * SCANS_A_STATION


@pytest.mark.benchmark(group="garbled labels")
@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("layout", ["US", *LAYOUTS])
def test_twenty_thousand_labels_are_read_whatever_the_keyboard(
    benchmark: BenchmarkFixture, layout: str, kind: str
) -> None:
    garbles = [garble for garble in GARBLES_OF_LETTERS if (garble.layout, garble.kind) == (layout, kind)]
    if not garbles:
        pytest.skip("no such keyboard")
    reader = Reader(site_t(), DEMO_KEYS)
    found = benchmark.pedantic(lambda: became(reader, printed(), garbles), rounds=1)  # type: ignore[no-untyped-call]
    assert found == {"itself": LABELS}
