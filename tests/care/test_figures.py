"""Warm-up figures a process engineer accepts: in bounds, with their runs, never below the supplier's minimum."""

from dataclasses import replace
from datetime import timedelta

import pytest

from station.care import facts as f
from station.care.figures import Figures, accept
from station.care.refused import Refused
from station.services.lead_acts import accept_figures
from tests.care.bench import LEAD, Bench, berlin
from tests.care.fleet import Fleet
from tests.care.leading import ENGINEER, ENGINEER_PROOF, OPERATOR

MINUTE, HOUR = timedelta(minutes=1), timedelta(hours=1)
TOLD = Figures("JAR-500", 90 * MINUTE, 20 * MINUTE, ("run-1.csv", "run-2.csv"), "three sensors, bench, no draught")


def refusal(told: Figures, person: str | None = ENGINEER) -> str:
    with pytest.raises(Refused) as refused:
        accept(Bench().floor, told, person)
    return str(refused.value)


@pytest.mark.parametrize("person", [OPERATOR, LEAD, None])
def test_only_a_process_engineer_accepts(person: str | None) -> None:
    assert refusal(TOLD, person) == "Only a process engineer accepts warm-up figures. Badge in with your PIN."


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        ({"kind": "TUB-1"}, "There is no container kind 'TUB-1' in this plant. Choose one from the list."),
        (
            {"time_constant": 59 * timedelta(seconds=1)},
            "The time constant must be from 1 min to 24 h. Check the fit.",
        ),
        ({"time_constant": 24 * HOUR + MINUTE}, "The time constant must be from 1 min to 24 h. Check the fit."),
        ({"dead_time": -MINUTE}, "The dead time must be from 0 to 6 h. Check the fit."),
        ({"dead_time": 6 * HOUR + MINUTE}, "The dead time must be from 0 to 6 h. Check the fit."),
        ({"runs": ()}, "Name the runs, and say in a few words how it was measured; it stands in the record."),
        ({"note": " "}, "Name the runs, and say in a few words how it was measured; it stands in the record."),
    ],
)
def test_what_no_run_can_give_or_nobody_can_check_is_refused(changed: dict[str, object], sentence: str) -> None:
    assert refusal(replace(TOLD, **changed)) == sentence  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "changed",
    [
        {"time_constant": MINUTE},
        {"time_constant": 24 * HOUR},
        {"dead_time": timedelta(0)},
        {"dead_time": 6 * HOUR},
    ],
)
def test_both_ends_of_what_can_be_are_taken(changed: dict[str, timedelta]) -> None:
    fact = accept(Bench().floor, replace(TOLD, **changed), ENGINEER)  # type: ignore[arg-type]
    assert {"time_constant": fact.time_constant, "dead_time": fact.dead_time}.items() >= changed.items()


def test_accepted_figures_are_no_estimate_any_more_and_stand_with_their_runs() -> None:
    bench = Bench()
    assert bench.floor.kind_called("JAR-500").estimate
    outcome = accept_figures(bench.station, TOLD, ENGINEER_PROOF)
    (fact,) = outcome.facts
    assert isinstance(fact.body, f.FiguresAccepted)
    assert (fact.who, fact.body.runs, fact.body.note) == (ENGINEER, TOLD.runs, TOLD.note)
    assert not bench.floor.kind_called("JAR-500").estimate
    assert outcome.verdict is not None
    assert outcome.verdict.why == "jar 500 g warms with 1 h 30 after 20 min from the next take-out on."


def test_slower_figures_lengthen_the_wait_from_the_next_take_out_on() -> None:
    bench = Bench()
    first, second = bench.cold(), bench.cold()
    bench.later(11).scan(first, "FRIDGE")
    accept_figures(bench.station, TOLD, ENGINEER_PROOF)
    bench.scan(second, "FRIDGE")
    # from 5 C to within 2 K of 23 C: 20 min + 90 min x ln(18 K / 2 K) = 217.75 min, rounded up at the fact
    assert bench.container(first).earliest_use == berlin("2026-11-08T15:11")
    assert bench.container(second).earliest_use == berlin("2026-11-08T15:49")


def test_faster_figures_never_go_below_the_supplier_s_minimum() -> None:
    bench = Bench()
    accept_figures(bench.station, replace(TOLD, time_constant=MINUTE, dead_time=timedelta(0)), ENGINEER_PROOF)
    jar = bench.cold()
    bench.later(11).scan(jar, "FRIDGE")
    assert bench.container(jar).earliest_use == berlin("2026-11-08T15:11")


def test_the_figures_accepted_last_hold_at_every_station_that_hears_of_them() -> None:
    fleet = Fleet()
    a, b = fleet["A"], fleet["B"]
    accept_figures(a.station, TOLD, ENGINEER_PROOF)
    accept_figures(a.station, replace(TOLD, time_constant=100 * MINUTE), ENGINEER_PROOF)
    for seed in range(4):
        fleet.meet("A", "B", seed)
        assert b.floor.kind_called("JAR-500").time_constant == 100 * MINUTE
