"""What the fridge door says of its store: the last reading with its age, and seven days of a curve with its gaps."""

from dataclasses import replace
from datetime import timedelta
from math import nan

import pytest
from pytestqt.qtbot import QtBot

from station.readings.track import Track
from station.services.cold_readings import read_display
from station.services.memory import MemoryEvidence
from station.ui.desk_work import DeskWork
from station.ui.present.store_reading import SHOWN
from station.ui.view_models import StoreModel
from station.ui.widgets.store_panel import StorePanel
from tests.care.bench import Bench
from tests.services.test_cold_readings import NIGHT, WARM_HALF_AN_HOUR, plant, take_in, track


@pytest.fixture
def bench() -> Bench:
    made = Bench(plant(), "2026-11-09T12:00")
    made.cold()
    return made.at("2026-11-10T08:00")


def shown(bench: Bench) -> StoreModel:
    work = DeskWork(bench.station)
    work.go_to("FRIDGE")
    model = work.screen().store
    assert model is not None
    return model


def test_a_store_that_was_never_read_says_so(bench: Bench) -> None:
    assert (shown(bench).reading, shown(bench).caption) == ("1 inside", "limits 5 to 10 °C, never read yet")


def test_a_display_that_was_read_stands_with_its_age(bench: Bench) -> None:
    read_display(bench.station, "FRIDGE", 7.25)
    bench.later(180)
    model = shown(bench)
    assert (model.reading, model.ok, model.curve) == ("7.2 °C", True, None)
    assert model.caption == "1 inside; limits 5 to 10 °C; read 08:00, 3 h ago"


@pytest.mark.parametrize(("celsius", "reading"), [(11.0, "11.0 °C"), (nan, "sensor fault")])
def test_a_last_reading_out_of_limits_or_a_fault_is_marked(bench: Bench, celsius: float, reading: str) -> None:
    take_in(bench, track(NIGHT, 7.0, 7.0, 7.0, celsius))
    assert (shown(bench).reading, shown(bench).ok) == (reading, False)


def test_gaps_and_faults_break_the_line_and_an_excursion_is_a_stretch_of_its_own(bench: Bench) -> None:
    """BR-82 and BR-86: a fault value is never drawn, a hole never bridged."""
    first, second = track(NIGHT, *WARM_HALF_AN_HOUR), track("2026-11-10T05:00", 7.0, nan, 7.5, 7.5)
    take_in(bench, Track(first.at + second.at, first.celsius + second.celsius))
    curve = shown(bench).curve
    assert curve is not None
    assert [max(celsius for _, celsius in line) for line in curve.lines] == [13.5, 7.0, 7.5]
    ((begin, end),) = curve.outside
    assert (end - begin) * SHOWN / timedelta(minutes=1) == pytest.approx(30)


def test_days_of_minutes_are_drawn_with_their_lowest_and_highest(bench: Bench) -> None:
    bench.at("2026-11-20T08:00")
    celsius = [7.0] * 9000
    celsius[4321] = 9.9
    take_in(bench, track("2026-11-13T08:00", *celsius, step=1))
    curve = shown(bench).curve
    assert curve is not None
    (line,) = curve.lines
    assert len(line) < 1000
    assert max(celsius for _, celsius in line) == 9.9


def test_what_is_older_than_the_days_shown_has_no_curve(bench: Bench) -> None:
    take_in(bench, track(NIGHT, 7.0, 7.0))
    bench.at("2026-11-30T08:00")
    assert shown(bench).curve is None
    assert "ago" in shown(bench).caption


def test_a_kept_file_that_is_gone_leaves_the_door_without_a_curve(bench: Bench) -> None:
    take_in(bench, track(NIGHT, 7.0, 7.0))
    bench.station.evidence = MemoryEvidence()
    assert shown(bench).curve is None


def test_the_panel_draws_the_curve_with_its_limits(bench: Bench, qtbot: QtBot) -> None:
    first, lone = track(NIGHT, *WARM_HALF_AN_HOUR), track("2026-11-10T05:00", 7.0)
    take_in(bench, Track(first.at + lone.at, first.celsius + lone.celsius))
    panel = StorePanel()
    qtbot.addWidget(panel)
    panel.resize(700, 300)
    panel.show_model(replace(shown(bench), name="Refrigerator"))
    before = panel.grab().toImage()
    assert {"5 °C", "10 °C"} <= {text.text for text in panel.lettered}
    panel.show_model(replace(shown(bench), curve=None))
    assert panel.grab().toImage() != before
