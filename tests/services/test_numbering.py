"""Container numbers are given once: after a restore, beside a twin that goes on, and where they run into known ones."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from station.bootstrap import DEMO_KEYS
from station.care import facts as f
from station.care.facts import Fact, Segment
from station.care.words import HoldReason
from station.labels.containercode import COUNTER_MOST, pack_container, unpack_container
from station.services.memory import MemoryJournal
from station.services.numbering import STRETCH, WAYS, Numbering
from tests.care.bench import Bench, site_t
from tests.care.fleet import Fleet

NOW = datetime(2026, 11, 9, 6, tzinfo=UTC)


def started(numbers_from: int, continues: str = "1-2-3") -> Fact:
    return Fact(9, 1, 1, NOW, 7, None, Segment("boot", 0), f.StationStarted("1", True, continues, numbers_from))


def heard(numbering: Numbering, *counters: int) -> None:
    told = f.NumbersReserved("SN-4", tuple(f"K7-{counter:03d}" for counter in counters))
    numbering.heard(Fact(9, 2, 2, NOW, 7, None, Segment("boot", 0), told), ())


def test_every_way_to_restore_one_backup_counts_in_a_stretch_of_its_own() -> None:
    numbering = Numbering(7)
    heard(numbering, *range(1, 400))
    starts = sorted(numbering.elsewhere(journal) for journal in range(WAYS))
    assert len(set(starts)) == WAYS
    assert starts[0] > 399 + STRETCH
    assert starts[-1] + STRETCH <= COUNTER_MOST
    # the last number of all still fits on a label
    assert (
        unpack_container(pack_container(7, starts[-1] + STRETCH, DEMO_KEYS), DEMO_KEYS).counter == starts[-1] + STRETCH
    )


def test_a_restored_station_counts_on_from_where_its_start_says() -> None:
    numbering = Numbering(7)
    heard(numbering, 1, 2, 3)
    numbering.heard(started(500_001), ())
    heard(numbering, 2)
    assert [numbering.give() for _ in range(2)] == ["K7-500001", "K7-500002"]
    heard(numbering, 500_003, 700_000)
    assert numbering.upcoming == "K7-500004"


def test_a_start_on_record_that_said_no_number_left_out_a_thousand() -> None:
    numbering = Numbering(7)
    heard(numbering, 1, 2)
    numbering.heard(started(0), ())
    assert numbering.upcoming == "K7-1003"


def test_a_station_with_no_stretch_left_goes_on_after_the_highest() -> None:
    numbering = Numbering(7)
    heard(numbering, *range(1, COUNTER_MOST - STRETCH, STRETCH))
    assert numbering.elsewhere(5) > COUNTER_MOST - 2 * STRETCH


def test_a_number_somebody_else_gave_is_left_out() -> None:
    numbering = Numbering(7)
    heard(numbering, 3, STRETCH + 9)
    numbering.heard(started(STRETCH + 8), ())
    assert [numbering.give() for _ in range(2)] == [f"K7-{STRETCH + 8}", f"K7-{STRETCH + 10}"]


def twins() -> tuple[Bench, Bench]:
    """The station goes on while another PC, restored from its backup, works under the same number."""
    site = replace(site_t(), station=7)
    first = Bench(site)
    first.cold()
    second = MemoryJournal(99)
    second.take(first.journal.facts())
    return first, Bench(site, "2026-11-08T13:00", second)


def test_a_twin_that_was_met_is_not_counted_on_from() -> None:
    first, again = twins()
    again.station.start("bench", "0000000000000001-1-00")
    theirs = again.receive()
    ours = first.receive()
    assert (ours, int(theirs[3:]) > STRETCH) == ("K7-002", True)
    for bench, other in ((first, again), (again, first)):
        bench.station.learn(bench.journal.take(list(other.journal.facts())))
    assert (first.receive(), again.receive()) == ("K7-003", f"K7-{int(theirs[3:]) + 1}")


@pytest.mark.parametrize("seed", range(3))
def test_two_containers_of_one_number_are_held_once_it_is_known(seed: int) -> None:
    """Two PCs set up with one station number number alike; no jar is judged by the other's record."""
    fleet = Fleet()
    for name in "AB":
        fleet[name].site = replace(site_t(), station=7)
        fleet[name].restart()
    jar = fleet["A"].cold()
    assert fleet.later(5)["B"].cold() == jar
    fleet.meet("A", "B", seed)
    fleet.later(11)
    for name in "AB":
        assert [hold.reason for hold in fleet[name].container(jar).holds] == [HoldReason.EVALUATION]
        assert fleet[name].scan(jar, "FRIDGE").code == "held"
    fleet["A"].release_all(jar)
    assert fleet.later(1)["A"].scan(jar, "FRIDGE").code == "taken-out"
