"""Figures with their units: what is read is what was meant, and anything doubtful is refused."""

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.settings.quantities import Unfit, celsius, duration, grams, months, percent, written

WHOLE_SECONDS = st.integers(0, 10 * 365 * 86_400).map(lambda count: timedelta(seconds=count))
UNITS = {"d": 86_400, "h": 3_600, "min": 60, "s": 1}


@given(WHOLE_SECONDS)
def test_a_time_written_out_reads_back_the_same(span: timedelta) -> None:
    assert duration(written(span)) == span


@given(st.integers(0, 80_000), st.sampled_from(["h", "min", "s"]), st.booleans())
def test_a_figure_counts_in_its_unit(figure: int, unit: str, spaced: bool) -> None:
    text = f"{figure}{' ' if spaced else ''}{unit}"
    assert duration(text) == timedelta(seconds=figure * UNITS[unit])


@given(st.integers(0, 99_999), st.integers(0, 99))
def test_hundredths_of_an_hour_are_exact(hours: int, hundredths: int) -> None:
    hours %= 80_000
    assert duration(f"{hours}.{hundredths:02} h") == timedelta(seconds=hours * 3_600 + hundredths * 36)


@given(st.text(max_size=20))
def test_no_text_at_all_does_anything_but_read_or_refuse(text: str) -> None:
    found = read_or_refuse(text)
    if isinstance(found, Unfit):
        assert found.reason
        assert found.remedy
    else:
        assert timedelta(0) <= found <= timedelta(days=3_650)
        assert duration(written(found)) == found


def read_or_refuse(text: str) -> timedelta | Unfit:
    try:
        return duration(text)
    except Unfit as unfit:
        return unfit


@given(st.lists(st.tuples(st.integers(0, 99), st.sampled_from(list(UNITS))), min_size=2, max_size=4))
def test_units_must_fall_and_come_once(parts: list[tuple[int, str]]) -> None:
    order = [list(UNITS).index(unit) for _, unit in parts]
    text = " ".join(f"{figure} {unit}" for figure, unit in parts)
    if order == sorted(set(order)):
        assert duration(text).total_seconds() == sum(figure * UNITS[unit] for figure, unit in parts)
    else:
        with pytest.raises(Unfit, match="must fall"):
            duration(text)


@pytest.mark.parametrize(
    ("text", "span"),
    [
        ("4 h", timedelta(hours=4)),
        ("1 h 30 min", timedelta(minutes=90)),
        ("7 d 12 h", timedelta(days=7, hours=12)),
        ("1.5 h", timedelta(minutes=90)),
        ("0 h", timedelta(0)),
        ("60 s", timedelta(minutes=1)),
    ],
)
def test_times_people_write(text: str, span: timedelta) -> None:
    assert duration(text) == span


@pytest.mark.parametrize(
    ("text", "reason", "nearest"),
    [
        ("4", "without its unit", None),
        ("-4 h", "negative", None),
        ("4,5 h", "comma", None),
        ("4 hours", "no unit of time", "h"),
        ("4 H", "no unit of time", "h"),
        ("30 m", "no unit of time", "min"),
        ("30 mn", "no unit of time", "min"),
        ("4 weeks", "no unit of time", None),
        ("4  h", "no length of time", None),
        (" 4 h", "no length of time", None),
        ("4 h ", "no length of time", None),
        ("", "no length of time", None),
        ("four h", "no length of time", None),
        ("٤ h", "no length of time", None),
        ("1e3 h", "no length of time", None),
        ("4 h30 min", "no length of time", None),
        ("0.1 s", "whole seconds", None),
        ("3651 d", "ten years", None),
        ("9999999 d", "no length of time", None),
    ],
)
def test_times_that_are_refused(text: str, reason: str, nearest: str | None) -> None:
    with pytest.raises(Unfit) as caught:
        duration(text)
    assert reason in caught.value.reason
    assert caught.value.nearest == nearest


def test_other_measures_read_in_their_one_unit() -> None:
    assert (celsius("37.8 C"), celsius("-20 C"), celsius("5°C")) == (37.8, -20, 5)
    assert (grams("35 g"), percent("40 %"), months("6 months"), months("1 month")) == (35, 40, 6, 1)


def test_fahrenheit_is_refused_with_the_figure_to_write_instead() -> None:
    with pytest.raises(Unfit) as caught:
        celsius("100 F")
    assert caught.value.remedy == 'Write "37.8 C"'  # 100 F = 37.78 C, the exact definition of the scale


@pytest.mark.parametrize(
    ("text", "reason"),
    [("35", "without its unit"), ("35 kg", '"kg" is not the unit'), ("35,5 g", "no figure"), ("", "no figure")],
)
def test_masses_that_are_refused(text: str, reason: str) -> None:
    with pytest.raises(Unfit, match=reason):
        grams(text)


def test_months_are_whole() -> None:
    with pytest.raises(Unfit, match="whole"):
        months("1.5 months")
    with pytest.raises(Unfit, match='"d" is not the unit'):
        months("180 d")
