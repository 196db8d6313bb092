"""Files that speak of one time: a fault gives way to a figure, and of two figures the worse one counts."""

from array import array
from datetime import UTC, datetime, timedelta
from math import isnan, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.care.cold_readings import EPOCH, Flat, counted
from station.care.cold_readings_merge import compared, look_through_both, merged, with_sources
from station.care.outside import Limits, Side

START = counted(datetime(2026, 11, 9, 22, tzinfo=UTC))
LIMITS = Limits(2, 8, 0.5, timedelta(minutes=10))
STEP = timedelta(minutes=12)
MINUTE = 60_000_000
CELSIUS = st.sampled_from([1.0, 5.0, 9.5, nan])
FILES = st.lists(st.dictionaries(st.integers(0, 12), CELSIUS, max_size=8), max_size=5)


def flat(readings: dict[int, float]) -> Flat:
    """Readings by the minute."""
    minutes = sorted(readings)
    return Flat(
        array("q", (START + MINUTE * at for at in minutes)), array("d", (readings[minute] for minute in minutes))
    )


def every(first: int, step: int, *celsius: float) -> Flat:
    return flat({first + step * index: one for index, one in enumerate(celsius)})


@settings(max_examples=60)
@given(FILES, st.randoms(use_true_random=False))
def test_every_instant_has_the_highest_and_the_lowest_of_its_figures_in_any_order(
    files: list[dict[int, float]], chance: object
) -> None:
    chance.shuffle(files)  # type: ignore[attr-defined]
    found = merged([flat(file) for file in files])
    instants = sorted({minute for file in files for minute in file})
    assert [(at - START) // MINUTE for at in found.warmest.at] == instants
    for index, minute in enumerate(instants):
        figures = [file[minute] for file in files if minute in file and not isnan(file[minute])]
        both = found.warmest.celsius[index], found.coldest.celsius[index]
        assert both == (max(figures), min(figures)) if figures else all(map(isnan, both))
    assert found.agreed == all(
        len({file[minute] for file in files if minute in file and not isnan(file[minute])}) < 2 for minute in instants
    )


def test_a_long_overlap_is_joined_as_a_short_one() -> None:
    """More than a block that both have alike, then a figure that differs."""
    long = [5.0] * 10_000
    one, other = every(0, 1, *long), every(2000, 1, *long[:9000], 9.5)
    found = merged([one, other])
    assert len(found.warmest) == 11_001
    assert found.agreed
    assert compared(merged([one]), other) == (8000, 0)


def test_a_fault_hides_no_figure_whichever_file_came_first() -> None:
    """A sensor fault in the file that came in first is no figure, so one of the same minute replaces it."""
    broken, sound = every(0, 5, 5.0, nan, nan, nan, 5.0), every(0, 5, 5.0, 12.0, 12.0, 12.0, 5.0)
    for order in ([broken, sound], [sound, broken]):
        (found,) = look_through_both(merged(order), LIMITS, STEP, freezing=False)
        assert (found.excursion.peak_c, found.excursion.outside) == (12.0, timedelta(minutes=15))


def test_too_warm_is_judged_by_the_higher_and_too_cold_by_the_lower_figure() -> None:
    one = every(0, 5, *([5.0] * 4), *([12.0] * 4), *([5.0] * 20))
    other = every(0, 5, *([5.0] * 16), *([1.0] * 4), *([5.0] * 8))
    found = look_through_both(merged([one, other]), LIMITS, STEP, freezing=False)
    assert [(one.excursion.side, one.excursion.peak_c) for one in found] == [(Side.HIGH, 12.0), (Side.LOW, 1.0)]
    assert found == look_through_both(merged([other, one]), LIMITS, STEP, freezing=False)


def test_a_figure_for_a_fault_is_new_a_fault_for_a_figure_is_not_and_only_two_figures_conflict() -> None:
    here = merged([every(0, 5, 5.0, nan, 6.0, 7.0)])
    assert compared(here, every(0, 5, nan, 9.0, 6.0, 7.5, 8.0)) == (2, 1)


def test_the_figure_further_from_the_middle_is_drawn() -> None:
    found = merged([every(0, 5, 5.0, 9.0, 4.0, nan), every(0, 5, 5.0, 6.0, 1.0, nan)]).furthest(5.0)
    assert list(found.celsius[:3]) == [5.0, 9.0, 1.0]
    assert isnan(found.celsius[3])
    assert merged([found]).furthest(5.0).celsius[:3] == found.celsius[:3]


@pytest.mark.parametrize(("peak", "names"), [(12.0, ("a", "b")), (7.0, ("a",))])
def test_an_excursion_names_the_files_that_have_a_reading_outside_in_it(peak: float, names: tuple[str, ...]) -> None:
    one, other = every(0, 5, 5.0, 12.0, 12.0, 12.0, 5.0, 5.0, 5.0), every(7, 5, peak, 5.0)
    (found,) = look_through_both(merged([one, other]), LIMITS, STEP, freezing=False)
    sources = [("a", one), ("b", other), ("c", every(500, 5, 12.0))]
    assert with_sources(found, sources, LIMITS).readings == names
    assert found.excursion.start == EPOCH + timedelta(microseconds=one.at[1])
