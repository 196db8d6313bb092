"""An excursion told by several overlapping files never becomes later, shorter or milder by another one."""

from dataclasses import replace
from datetime import timedelta
from math import nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.care import facts as f
from station.care.cold_readings_joined import as_far, together
from station.care.cold_readings_record import ColdRecord
from station.care.cold_readings_rules import Policy
from station.care.outside import Side
from station.care.words import HoldReason
from tests.care.bench import Bench, berlin
from tests.services.test_cold_readings import NIGHT, in_the_morning, take_in, track

FILES = st.lists(
    st.tuples(st.integers(0, 40), st.lists(st.sampled_from([7.0, 7.0, 12.0, 14.0, 3.0, nan]), min_size=6, max_size=14)),
    min_size=2,
    max_size=5,
)


def standing(bench: Bench) -> tuple[f.ExcursionFound, ...]:
    return bench.station.ledger.cold.excursions("FRIDGE")


def at(minute: int) -> str:
    return f"{berlin(NIGHT) + timedelta(minutes=minute, hours=1):%Y-%m-%dT%H:%M}"  # plant time in November


@settings(max_examples=30, deadline=None)
@given(FILES)
def test_what_was_told_once_is_told_at_least_as_badly_after_every_further_file(
    files: list[tuple[int, list[float]]],
) -> None:
    bench, _ = in_the_morning(Policy.WARN)
    for number, (minute, celsius) in enumerate(files):
        before = standing(bench)
        take_in(bench, track(at(minute), *celsius), f"{number}.csv")
        for one in before:
            assert any(new.side is one.side and as_far(new, one) for new in standing(bench))


def test_a_file_that_says_it_was_shorter_and_milder_changes_nothing() -> None:
    """Three files: the last has other figures for the same minutes, and begins the time outside a little earlier."""
    bench, _ = in_the_morning(Policy.WARN)
    take_in(bench, track("2026-11-09T22:00", 7.0, 7.0, 12.0, 15.0, 15.0, 12.0, 12.0, 7.0, 7.0, 7.0, 7.0))
    take_in(bench, track("2026-11-09T22:02", 7.0, 7.0, 11.0, 11.0, 11.0, 7.0, 7.0, 7.0, 7.0), "b.csv")
    take_in(bench, track("2026-11-09T22:04", 7.0, 11.0, 11.0, 7.0, 7.0, 7.0, 7.0, 7.0), "c.csv")
    (found,) = standing(bench)
    assert (found.start, found.end) == (berlin("2026-11-09T22:09"), berlin("2026-11-09T22:35"))
    assert found.peak_c == 15.0


def test_one_night_in_pieces_is_one_excursion_whichever_piece_comes_last() -> None:
    """Two pieces that do not touch, then one between them."""
    bench, jar = in_the_morning()
    take_in(bench, track("2026-11-09T22:00", 7.0, *([12.0] * 5), 7.0, 7.0, 7.0, 7.0))
    take_in(bench, track("2026-11-09T23:00", 7.0, *([13.0] * 5), 7.0, 7.0, 7.0, 7.0), "b.csv")
    assert len(standing(bench)) == 2
    take_in(bench, track("2026-11-09T22:27", *([12.5] * 12)), "c.csv")
    (found,) = standing(bench)
    assert (found.start, found.end) == (berlin("2026-11-09T22:05"), berlin("2026-11-09T23:30"))
    assert len(found.replaces) == 1
    assert [hold.reason for hold in bench.container(jar).holds] == [HoldReason.STORE_OUT] * 2
    bench.release_all(jar)
    take_in(bench, track("2026-11-09T22:27", *([12.5] * 11)), "d.csv")
    assert bench.container(jar).holds == ()


def found(start: str = "22:10", end: str = "22:40", peak_c: float = 12.0, **told: object) -> f.ExcursionFound:
    begin, until = berlin(f"2026-11-09T{start}"), berlin(f"2026-11-09T{end}")
    half = timedelta(minutes=30)
    made = f.ExcursionFound(
        f"FRIDGE warm {start}", "FRIDGE", "T1", Side.HIGH, begin, until, peak_c, half, True, 11.0, half, ("A",), ()
    )
    return replace(made, **told)  # type: ignore[arg-type]


def test_two_tellings_make_the_worse_of_both_under_the_newer_name() -> None:
    older = found(peak_c=15.0, kinetic_c=None, containers=("B",), replaces=("x", "FRIDGE warm 22:05"), readings=("1",))
    newer = found("22:05", "22:50", ended=False, readings=("2",))
    both = together(newer, older)
    assert (both.excursion, both.start, both.end) == (newer.excursion, newer.start, newer.end)
    assert (both.peak_c, both.kinetic_c, both.ended) == (15.0, 11.0, False)
    assert (both.containers, both.replaces, both.readings) == (("B", "A"), ("x",), ("1", "2"))
    assert together(older, newer).peak_c == 15.0
    cold = together(found(side=Side.LOW, peak_c=-1.0, kinetic_c=None), found(side=Side.LOW, kinetic_c=None))
    assert (cold.peak_c, cold.kinetic_c) == (-1.0, None)


@pytest.mark.parametrize(
    ("end", "ended"),
    [("22:40", False), ("22:50", True)],
)
def test_what_may_have_gone_on_has_not_ended(end: str, ended: bool) -> None:
    """Of two that reach equally far one was cut off; of two others the one that reaches further knows."""
    assert together(found(end=end), found(ended=False)).ended is ended
    assert together(found(ended=False), found(end=end)).ended is ended


@settings(max_examples=40)
@given(st.randoms(use_true_random=False))
def test_two_stations_that_tell_of_one_excursion_agree_on_the_worst_in_any_order(chance: object) -> None:
    bench, _ = in_the_morning(Policy.WARN)
    bench.tell(found(peak_c=15.0), found("22:05", "22:30", 12.0, replaces=("FRIDGE warm 22:10",)))
    bench.tell(found("22:05", "22:45", 11.0))
    told = list(bench.journal.facts())
    chance.shuffle(told)  # type: ignore[attr-defined]
    other = ColdRecord()
    for fact in told:
        other.note(fact)
    (one,) = other.excursions("FRIDGE")
    assert (one.start, one.end, one.peak_c) == (berlin("2026-11-09T22:05"), berlin("2026-11-09T22:45"), 15.0)
    assert other.excursions("FRIDGE") == standing(bench)


def test_what_two_stations_told_apart_becomes_one_by_the_next_file() -> None:
    """Each had a part of the night: the file touches one of them, and that one the other."""
    bench, _ = in_the_morning(Policy.WARN)
    bench.tell(found("22:10", "22:40"), found("22:30", "23:10", 15.0), found("23:40", "23:50"))
    take_in(bench, track("2026-11-09T22:00", 7.0, 12.0, 12.0, 7.0, 7.0, 7.0))
    apart, one = standing(bench)
    assert (one.start, one.end, one.peak_c) == (berlin("2026-11-09T22:05"), berlin("2026-11-09T23:10"), 15.0)
    assert apart == found("23:40", "23:50")
