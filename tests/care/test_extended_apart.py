"""Two shift leads at stations that can't hear each other each extend one limit: together never beyond the allowance.

Worked by hand on plant T: a jar opened Monday 15:11 has 24 h of open life, and 12 h more are allowed (common practice,
no source): Tuesday 15:11 and at most Wednesday 03:11.
"""

from datetime import timedelta
from itertools import permutations

import pytest

from station.care import facts as f
from station.care.extension import Extending
from station.care.ledger import Ledger
from station.care.words import Card, Limit
from station.services.site import Site
from tests.care.bench import LEAD, LEAD_PIN, berlin, site_t, with_limits
from tests.care.fleet import Fleet

HOUR = timedelta(hours=1)


def in_use(site: Site | None = None) -> tuple[Fleet, str]:
    """A jar in use that both stations know."""
    fleet = Fleet(site=site)
    jar = fleet["A"].on_line()
    fleet.at("2026-11-08T15:12").meet("A", "B")
    return fleet, jar


def extended(fleet: Fleet, station: str, jar: str, hours: float, limit: Limit = Limit.OPEN) -> None:
    fleet[station].station.extend(Extending(jar, limit, hours * HOUR, f"C-{station}"), LEAD, LEAD_PIN)


@pytest.mark.parametrize("seed", range(4))
def test_what_is_over_the_allowance_does_not_count_at_either_station(seed: int) -> None:
    fleet, jar = in_use()
    extended(fleet, "A", jar, 8)
    extended(fleet, "B", jar, 8)
    assert fleet["A"].floor.standing(fleet["A"].container(jar)).discard_by == berlin("2026-11-09T23:11")
    fleet.later(1).meet("A", "B", seed)
    for name in ("A", "B"):
        assert fleet[name].container(jar).open_extension == 12 * HOUR
        assert fleet[name].floor.standing(fleet[name].container(jar)).discard_by == berlin("2026-11-10T03:11")
    fleet.at("2026-11-10T03:11:01")
    assert fleet["A"].scan(jar, "P1").code == "open-life"


def test_extensions_that_fit_together_count_both() -> None:
    fleet, jar = in_use()
    extended(fleet, "A", jar, 8)
    extended(fleet, "B", jar, 4)
    fleet.later(1).meet("A", "B")
    assert fleet["B"].container(jar).open_extension == 12 * HOUR


def test_room_life_is_held_to_its_own_allowance() -> None:
    fleet, jar = in_use(with_limits(site_t(), "SN-4", room_extension=24 * HOUR))
    extended(fleet, "A", jar, 20, Limit.ROOM)
    extended(fleet, "B", jar, 20, Limit.ROOM)
    fleet.later(1).meet("A", "B")
    assert fleet["A"].container(jar).room_extension == 24 * HOUR


def test_the_order_of_delivery_makes_no_difference() -> None:
    fleet, jar = in_use()
    extended(fleet, "A", jar, 8)
    extended(fleet, "B", jar, 6)
    fleet.later(1).meet("A", "B")
    facts = list(fleet["A"].journal.facts())
    moved = [fact for fact in facts if isinstance(fact.body, f.LimitExtended)]
    others = [fact for fact in facts if fact not in moved]
    assert len(moved) == 2
    for told in permutations(moved):
        ledger = Ledger()
        for fact in (*told, *others):
            ledger.apply(fact)
        assert ledger.containers[jar].open_extension == 12 * HOUR


def test_a_fact_of_before_that_names_no_allowance_counts_as_it_was_told() -> None:
    fleet, jar = in_use()
    fleet["A"].tell(f.LimitExtended(jar, Limit.OPEN, 5 * HOUR, "C-1"))
    assert fleet["A"].container(jar).open_extension == 5 * HOUR


def test_one_lead_at_one_station_is_told_what_is_left_after_stations_met() -> None:
    fleet, jar = in_use()
    extended(fleet, "A", jar, 8)
    fleet.later(1).meet("A", "B")
    extended(fleet, "B", jar, 4)
    assert fleet["B"].container(jar).open_extension == 12 * HOUR
    assert fleet["B"].card(Card.LOOK, "DESK").code == "look"
