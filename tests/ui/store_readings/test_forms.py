"""What is said of a store's temperature at the desk, through the forms, and what is on record after it."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import Qt, QThread
from PySide6.QtGui import QColor
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from station.care import facts as f
from station.care.cold_readings_rules import Instrument
from station.readings.track import unpack
from station.services import cold_readings
from station.services.cold_readings import record
from station.services.cold_readings_judged import Found, Known, StoreSoFar, judge, so_far
from station.ui.desk_work import DeskWork
from station.ui.dialogs.sheet import ReadDialog
from station.ui.people_dialogs import PeopleDialogs
from station.ui.store_readings import finding
from station.ui.store_readings.display_form import DisplayForm
from station.ui.store_readings.finding import LoggerAsked, Stopped, found_in, read_logger
from station.ui.store_readings.logger_form import LoggerForm
from station.ui.warm_up.asked import Asks, Faults
from station.ui.warm_up.questions_form import QuestionsForm
from station.ui.window import StationWindow
from tests.care.bench import Bench, berlin
from tests.services.test_cold_readings import NIGHT, WARM_HALF_AN_HOUR, plant, take_in, track
from tests.ui.test_lead_forms import the

ROWS = [f"2026-11-09 22:{minute:02d}:00,{celsius}" for minute, celsius in zip(range(0, 60, 5), WARM_HALF_AN_HOUR)]  # noqa: B905


@pytest.fixture
def bench() -> Bench:
    made = Bench(plant(due=date(2026, 11, 9)), "2026-11-09T12:00")
    made.cold()
    return made.at("2026-11-10T08:00")


@pytest.fixture
def window(bench: Bench, qtbot: QtBot) -> Iterator[StationWindow]:
    shown = StationWindow(DeskWork(bench.station), None)
    qtbot.addWidget(shown)
    shown.resize(1024, 768)
    shown.show()
    yield shown
    shown.close()


def logger(folder: Path, rows: list[str], heading: str = "Time,Temperature (C)") -> Path:
    file = folder / "fridge.csv"
    file.write_text("\n".join([heading, *rows, ""]), encoding="utf-8")
    return file


def dialogs(window: StationWindow) -> PeopleDialogs:
    found = window.findChild(PeopleDialogs)
    assert isinstance(found, PeopleDialogs)
    return found


def opened(window: StationWindow, kind: str) -> None:
    dialogs(window).open(kind, "")


def excursions(bench: Bench) -> list[f.ExcursionFound]:
    return list(bench.station.ledger.cold.excursions("FRIDGE"))


def test_a_file_is_chosen_and_its_excursion_is_said(
    bench: Bench, window: StationWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    opened(window, "store-file")
    form = the(window, LoggerForm)
    form.hand_in.click()
    assert form.files.complaint.text() == "Choose the logger's file."
    form.files.take((logger(tmp_path, ROWS),))
    form.hand_in.click()
    qtbot.waitUntil(lambda: bool(excursions(bench)))
    assert excursions(bench)[0].peak_c == 13.5
    assert not dialogs(window).busy


def test_what_the_file_leaves_open_is_asked_and_then_it_is_taken_in(
    bench: Bench, window: StationWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    opened(window, "store-file")
    form = the(window, LoggerForm)
    form.files.take((logger(tmp_path, ROWS, "Time,Temperature"),))
    form.hand_in.click()
    qtbot.waitUntil(lambda: bool(window.findChildren(QuestionsForm)))
    the(window, QuestionsForm).offered.emit({"unit": ("C",)})
    qtbot.waitUntil(lambda: bool(excursions(bench)))


def test_a_file_that_can_not_be_read_is_said_in_the_form(
    bench: Bench, window: StationWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    opened(window, "store-file")
    form = the(window, LoggerForm)
    form.files.take((tmp_path / "none.csv",))
    form.hand_in.click()
    qtbot.waitUntil(lambda: "can't be read" in form.sentence.text())
    assert form.hand_in.isEnabled()
    QTest.keyClick(form, Qt.Key.Key_Escape)
    assert not dialogs(window).busy
    assert bench.station.ledger.cold.imports("FRIDGE") == ()


def test_whoever_leaves_while_it_is_read_has_taken_nothing_in(tmp_path: Path) -> None:
    asked = LoggerAsked(logger(tmp_path, ROWS), "FRIDGE", "UTC")
    assert read_logger(asked, lambda _rows, _lines: False) == Stopped()


def test_a_bar_says_how_much_of_the_file_is_read(window: StationWindow) -> None:
    opened(window, "store-file")
    form = the(window, LoggerForm)
    assert not form.bar.isVisible()
    form.wait("The file is being read.")
    form.tell(250, 1000, "250 rows read")
    assert (form.bar.accessibleName(), form.bar.isVisible()) == ("25%", True)
    form.bar.resize(400, 30)
    picture = form.bar.grab().toImage()
    blue, white = QColor(form.theme.act.ground), QColor(form.theme.card.ground)
    middle = picture.height() // 2
    assert [picture.pixelColor(picture.width() * at // 100, middle) for at in (20, 30, 90)] == [blue, white, white]
    form.tell(1100, 1000, "more than was counted")
    assert form.bar.share == 1.0
    form.tell(1, 0, "no line's end")
    assert form.bar.share == 0.0
    form.ready("It can't be read.")
    assert not form.bar.isVisible()


def known_of(bench: Bench) -> StoreSoFar:
    return so_far(bench.station.floor(), "FRIDGE")


def test_whoever_leaves_after_the_last_row_has_kept_nothing_either(bench: Bench, tmp_path: Path) -> None:
    asked, evidence = LoggerAsked(logger(tmp_path, ROWS), "FRIDGE", "UTC"), bench.station.evidence
    answers = iter([True, False])
    assert found_in(asked, known_of(bench), evidence, lambda _rows, _lines: next(answers)) == Stopped()
    assert list(evidence.digests()) == []


def test_what_speaks_against_a_file_is_a_sentence_in_the_form(bench: Bench, tmp_path: Path) -> None:
    ahead = [row.replace("2026-11-09", "2027-11-09") for row in ROWS]
    asked = LoggerAsked(logger(tmp_path, ahead), "FRIDGE", "UTC")
    found = found_in(asked, known_of(bench), bench.station.evidence, lambda _rows, _lines: True)
    assert isinstance(found, Faults)
    assert "ahead of this PC's clock" in found.sentences[0]


def test_the_file_is_looked_through_beside_the_window_and_only_written_down_in_it(
    bench: Bench, window: StationWindow, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A year of minutes takes seconds; the clock on the screen must go on meanwhile."""
    looked: list[bool] = []

    def judge_noted(*told: object) -> Found | Known:
        looked.append(QThread.currentThread() is window.thread())
        return judge(*told)  # type: ignore[arg-type]

    monkeypatch.setattr(finding, "judge", judge_noted)
    monkeypatch.setattr(cold_readings, "judge", judge_noted)
    opened(window, "store-file")
    form = the(window, LoggerForm)
    form.files.take((logger(tmp_path, ROWS),))
    form.hand_in.click()
    qtbot.waitUntil(lambda: bool(excursions(bench)))
    assert looked == [False]


def test_what_came_in_meanwhile_is_looked_through_with_it(bench: Bench, tmp_path: Path) -> None:
    """Two files of one excursion: the second was read while the first was not on record yet."""
    rows = logger(tmp_path, ROWS[4:])
    late = found_in(
        LoggerAsked(rows, "FRIDGE", "Europe/Berlin"),
        known_of(bench),
        bench.station.evidence,
        lambda _rows, _lines: True,
    )
    assert isinstance(late, Found)
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR[:6]))
    record(bench.station, late, unpack, kept=True)
    (found,) = excursions(bench)
    assert (found.start, found.outside) == (berlin("2026-11-09T22:10"), timedelta(minutes=30))


def test_of_several_instruments_one_is_chosen_and_an_overdue_one_says_so(qtbot: QtBot) -> None:
    site = plant(due=date(2026, 11, 9))
    second = Instrument("LOG-2", "FRIDGE", date(2027, 11, 9))
    instruments = {**site.plant.instruments, "LOG-2": second}
    bench = Bench(replace(site, plant=replace(site.plant, instruments=instruments)), "2026-11-10T08:00")
    shown = StationWindow(DeskWork(bench.station), None)
    qtbot.addWidget(shown)
    shown.show()
    opened(shown, "store-read")
    form = the(shown, DisplayForm)
    hints = [button.action_model.hint for button in form.instrument.buttons]
    assert hints == ["CALIBRATION OVERDUE since 2026-11-09", "calibrated until 2027-11-09"]
    form.temperature.fill("7.5")
    form.hand_in.click()
    assert form.instrument.complaint.text() == "Say which instrument you read."
    form.instrument.choose("LOG-2")
    form.hand_in.click()
    (read,) = [fact.body for fact in bench.journal.facts() if isinstance(fact.body, f.StoreRead)]
    assert (read.instrument, read.overdue) == ("LOG-2", False)
    shown.close()


def test_the_only_instrument_is_chosen_and_a_store_without_one_asks_for_none(
    bench: Bench, window: StationWindow
) -> None:
    opened(window, "store-file")
    form = the(window, LoggerForm)
    assert (form.instrument.chosen, form.instrument.isVisible()) == ("LOG-1", True)
    form.instrument.of_store("CELLAR", form.theme, form.scale)
    assert (form.instrument.answer("?"), form.instrument.isVisible()) == ("", False)


def test_times_from_a_start_nobody_knows_are_no_readings_of_a_store(tmp_path: Path) -> None:
    elapsed = [f"{second},7.0" for second in range(0, 600, 60)]
    found = read_logger(
        LoggerAsked(logger(tmp_path, elapsed, "Elapsed s,T (C)"), "FRIDGE", "UTC"), lambda _rows, _lines: True
    )
    assert isinstance(found, Faults | Asks)


def test_a_display_is_read_and_is_the_last_reading(bench: Bench, window: StationWindow) -> None:
    opened(window, "store-read")
    form = the(window, DisplayForm)
    form.hand_in.click()
    assert form.temperature.complaint.text() == "Write what the display shows."
    form.unit.choose("F")
    form.temperature.fill("44.6")
    form.hand_in.click()
    last = bench.station.ledger.cold.last_reading("FRIDGE")
    assert last is not None
    assert last[1] == 7.0


def test_the_list_says_each_excursion_in_full_and_the_instrument_that_is_overdue(
    bench: Bench, window: StationWindow
) -> None:
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    opened(window, "excursions")
    words = [part.text() for part in the(window, ReadDialog).findChildren(QLabel)]
    (line,) = [word for word in words if word.startswith("too warm")]
    for part in ("22:10", "22:40", "peak 13.5 °C", "30 min out", "mean kinetic 1", "inside: K7 001"):
        assert part in line
    assert "LOG-1, FRIDGE: CALIBRATION OVERDUE since 2026-11-09" in words
    assert timedelta(0) == excursions(bench)[0].longest_gap
