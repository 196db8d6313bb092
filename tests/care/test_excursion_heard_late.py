"""An excursion reaches a container also when its stay in the store becomes known only after the file came in."""

from datetime import timedelta

import pytest

from station.care import facts as f
from station.care.cold_readings_rules import Policy
from station.care.late import Late
from station.care.words import HoldReason
from station.services import lead_acts
from tests.care.bench import Bench, berlin
from tests.care.leading import PROOF
from tests.services.test_cold_readings import NIGHT, WARM_HALF_AN_HOUR, in_the_morning, take_in, track


def taken_out_by_mistake(policy: Policy) -> tuple[Bench, str]:
    """A lead enters a take-out for the wrong jar, the file comes in, and the take-out is taken back."""
    bench, jar = in_the_morning(policy)
    at = berlin("2026-11-09T20:00")
    lead_acts.take_out_late(bench.station, Late(jar, at, at, "seen on the bench"), PROOF)
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    assert bench.container(jar).holds == ()
    lead_acts.take_back(bench.station, ("container", jar), "the wrong jar", PROOF)
    bench.later(1)
    return bench, jar


def test_a_jar_that_was_inside_after_all_is_held_and_never_used() -> None:
    bench, jar = taken_out_by_mistake(Policy.HOLD)
    assert [hold.reason for hold in bench.container(jar).holds] == [HoldReason.STORE_OUT]
    assert bench.scan(jar, "FRIDGE").word == "STOP"


def test_its_minutes_are_charged_once() -> None:
    bench, jar = taken_out_by_mistake(Policy.CHARGE)
    spent = bench.container(jar).warm_spent
    assert spent >= timedelta(minutes=30)
    bench.later(5)
    bench.restart()
    assert bench.container(jar).warm_spent == spent


def test_a_released_hold_does_not_come_again_by_itself_nor_at_a_restart() -> None:
    bench, jar = taken_out_by_mistake(Policy.HOLD)
    bench.release_all(jar)
    bench.later(5)
    bench.restart()
    assert not bench.container(jar).held


@pytest.mark.parametrize("policy", [Policy.LOG, Policy.WARN])
def test_a_site_that_only_notes_excursions_holds_and_charges_nothing(policy: Policy) -> None:
    bench, jar = taken_out_by_mistake(policy)
    found = bench.container(jar)
    assert (found.holds, found.charged) == ((), ())


def test_who_lay_inside_when_it_was_told_is_not_judged_anew() -> None:
    bench, jar = in_the_morning()
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    bench.later(5)
    bench.restart()
    assert len(bench.container(jar).holds) == 1


def test_a_store_this_site_does_not_have_is_judged_by_nobody() -> None:
    bench, jar = in_the_morning()
    at = berlin("2026-11-09T21:00")
    bench.tell_own(f.Transferred(jar, "FRIDGE", "ELSEWHERE", "A1", at, timedelta(0), "told elsewhere"))
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    bench.later(1)
    assert bench.container(jar).store == "ELSEWHERE"


def test_what_came_into_the_store_after_it_is_left_alone() -> None:
    bench, _ = in_the_morning()
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    later = bench.cold()
    bench.later(1)
    assert bench.container(later).holds == ()
