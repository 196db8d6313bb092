"""The table of figures says of each the same range as the reader of the settings files, and reads what people type."""

from datetime import timedelta

import pytest

from station.care.specification_change import same_figures
from station.settings.faults import SettingsRefused
from station.settings.specification_text import fault_key, read_draft
from station.settings.specification_toml import paste_table
from station.ui.specs.shown import figures_in
from station.ui.specs.table import FIGURES, Figure, conditioning_of, figure_called, said
from station.ui.specs.typed import Typed, texts_of
from tests.care.bench import Bench, site_f, site_t
from tests.care.places import site_d

RANGED = (*(figure for figure in FIGURES if " to " in figure.allowed), conditioning_of("JAR-500", "jar 500 g"))
STEP = {"min": 1, "h": 60, "d": 1440}


@pytest.fixture(scope="module")
def bench() -> Bench:
    """Plant F: it has frozen paste, so that every figure has a meaning somewhere."""
    return Bench(site_f())


def bounds(figure: Figure) -> tuple[str, str]:
    low, _, rest = figure.allowed.removeprefix("a whole number from ").partition(" to ")
    return low, rest.partition(",")[0]


def beyond(text: str, by: int) -> str:
    """One step past a bound: an hour, or one of whatever is counted."""
    parts = text.split()
    if parts[-1] in STEP:
        minutes = sum(int(count) * STEP[unit] for count, unit in zip(parts[::2], parts[1::2], strict=True))
        return f"{max(0, minutes + by * 60)} min"
    return str(int(parts[0].replace("\N{MINUS SIGN}", "-")) + by)


def refused_by_files(bench: Bench, figure: Figure, text: str) -> bool:
    """Whether the reader of the files finds this one figure out of range, whatever it says of others."""
    plant = bench.floor.plant
    paste = next(paste for paste in reversed(plant.pastes.values()) if paste.storage in figure.kept)
    table = paste_table(paste, bench.floor.specification(paste.id))
    limits: dict[str, object] = dict(table["specification"])  # type: ignore[call-overload]
    limits |= {"cold_cycles": 2, "return_within": "1 h"} if "to_cold" in limits else {}
    if figure.key.startswith("conditioning."):
        limits["conditioning"] = {"JAR-500": figure.as_written(text)}
        table["bought_in"] = ["JAR-500"]
    else:
        limits[figure.key] = figure.as_written(text)
    try:
        read_draft({**table, "specification": limits}, bench.floor)
    except SettingsRefused as refused:
        told = [fault.reason for fault in refused.faults if fault_key(fault) == figure.key]
        return any("outside" in reason for reason in told)
    return False


@pytest.mark.parametrize("figure", RANGED, ids=lambda figure: figure.key)
def test_a_range_ends_where_the_files_end_it(bench: Bench, figure: Figure) -> None:
    low, high = bounds(figure)
    for text in (low, high):
        assert (figure.complaint(text), refused_by_files(bench, figure, text)) == ("", False)
    below = [] if low.startswith("0") else [beyond(low, -1)]
    for text in (*below, beyond(high, 1)):
        assert f"outside {figure.allowed}" in figure.complaint(text), text
        assert refused_by_files(bench, figure, text), text


@pytest.mark.parametrize("site", [site_t(), site_d(), site_f()], ids=["T", "D", "F"])
def test_what_is_in_force_goes_through_the_form_and_comes_back_the_same(site: object) -> None:
    bench = Bench(site)  # type: ignore[arg-type]
    floor = bench.floor
    titles = {kind.id: kind.title for kind in floor.plant.kinds.values()}
    for paste in floor.plant.pastes.values():
        found = floor.specification(paste.id)
        typed = Typed(paste.storage, titles, texts_of(figures_in(floor, paste, found), found), lambda _kinds, _told: {})
        typed.write("page", "99")  # figures in force are no draft; another page is
        table = {**paste_table(paste, found), "bought_in": list(typed.kinds), "specification": typed.written()}
        assert same_figures(read_draft(table, floor).specification, found)
        assert not typed.complaints()


@pytest.mark.parametrize(
    ("key", "typed", "value"),
    [
        ("open_life", "20 h", timedelta(hours=20)),
        ("open_life", " 1  d ", timedelta(days=1)),
        ("stencil_life", "1 h 30 min", timedelta(minutes=90)),
        ("floor", "19", 19.0),
        ("floor", "19,5", 19.5),
        ("arrival_hold_below", "\N{MINUS SIGN}5", -5.0),
        ("printing_humidity_to", "60", 60.0),
        ("shelf_life", "6", 6),
        ("shelf_life", "As labelled", None),
        ("decanted_life", "NOT ALLOWED", None),
        ("mixings", "0", 0),
        ("stencil_time_counts_as_open", "no", False),
    ],
)
def test_it_is_read_as_people_write_it(key: str, typed: str, value: object) -> None:
    figure = figure_called(key, {})
    assert figure is not None
    assert figure.read(typed) == value


@pytest.mark.parametrize(
    ("key", "typed", "told"),
    [
        ("open_life", "24", "Open life: a figure without its unit. Write a time with its unit"),
        ("open_life", "90 min", "Open life: it is not a whole number of steps of 1 h. Round it to 1 h."),
        ("open_life", "", "Open life: it is empty. Write 1 h to 255 h, in whole hours."),
        ("stencil_life", "8 hours", 'Did you mean "h"?'),
        ("floor", "66 F", 'Write "18.9 C".'),
        ("mixings", "2.5", "Runs in a mixing machine: this is no whole number. Write a whole number from 0 to 9."),
        ("decanted_life", "never", 'or "not allowed".'),
    ],
)
def test_what_cannot_be_read_is_said_with_its_name_and_how_to_mend_it(key: str, typed: str, told: str) -> None:
    figure = figure_called(key, {})
    assert figure is not None
    assert told in figure.complaint(typed)


@pytest.mark.parametrize(
    ("span", "text"),
    [
        (timedelta(0), "0 h"),
        (timedelta(hours=24), "24 h"),
        (timedelta(hours=255), "255 h"),
        (timedelta(days=7), "7 d"),
        (timedelta(minutes=90), "1 h 30 min"),
        (timedelta(minutes=30), "30 min"),
    ],
)
def test_a_length_of_time_is_said_as_data_sheets_say_it(span: timedelta, text: str) -> None:
    assert said(span) == text


def test_degrees_are_shown_with_their_sign() -> None:
    figure = figure_called("arrival_hold_below", {})
    assert figure is not None
    assert figure.shown("-5 C") == "\N{MINUS SIGN}5 °C"
