"""Twenty thousand broken scans on a whole station: no stumble, no wrong record, no fact but the refusal."""

import pytest

from station.care.scans import UnreadScan, WorkOrderScan
from station.scanning.heard import HeardScan, candidates

from .fuzzing import Target

SEEDS, EACH = range(10), 2000


@pytest.mark.parametrize("seed", SEEDS)
def test_a_broken_scan_is_refused_and_leaves_nothing_but_its_refusal_br_01_to_br_14(seed: int) -> None:
    found = Target(seed).throw(EACH)
    assert set(found) == {"read", "refused"}
    assert found["read"] > EACH // 5  # else the scans are so broken that they prove nothing
    assert found["refused"] > EACH // 5


def test_a_seed_gives_the_same_scans_every_time() -> None:
    first, second = (Target(7).thrower for _ in range(2))
    assert [first.throw() for _ in range(50)] == [second.throw() for _ in range(50)]


def test_a_work_order_with_a_prefix_in_its_middle_is_refused_br_14() -> None:
    """Found by these scans: the middle was taken out, and another product's order was read."""
    target = Target(0)
    assert isinstance(target.reader.read(candidates(HeardScan("WO8851-]CTRL", None))), UnreadScan)
    assert target.reader.read(candidates(HeardScan("]Q1WO8851-CTRL", None))) == WorkOrderScan("WO8851", "CTRL")
