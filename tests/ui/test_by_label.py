"""Paste judged by its label alone on the screen: never to be taken for a plain USE, gone when it is no longer true."""

from collections.abc import Iterator
from datetime import timedelta

import pytest
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from station.care.scans import BadgeScan, ContainerScan, SeenLabel
from station.care.words import Card, Word
from station.services.outcome import Outcome
from station.ui.desk_work import DeskWork
from station.ui.theme import DARK, LIGHT, Theme, scale_for
from station.ui.view_models import VerdictModel
from station.ui.widgets import shapes
from station.ui.widgets.verdict_panel import VerdictPanel
from station.ui.window import StationWindow, sound_of
from tests.ui.plants import Plant, mid_shift

STRANGER = "K9-117"


@pytest.fixture
def plant() -> Plant:
    found = mid_shift()
    found.work.go_to("LINE3")
    found.work.scanned(BadgeScan("P20"))
    found.later(timedelta(seconds=4))
    return found


def label(plant: Plant, hours_left: float = 100, open_hours: float = 24) -> SeenLabel:
    now, paste = plant.station.floor().now, plant.station.site.plant.pastes["BI-2"]
    return SeenLabel(
        print_number=1,
        thaw_start=now - timedelta(hours=6),
        earliest_use=now - timedelta(hours=3),
        discard_by=now + timedelta(hours=hours_left),
        open_life=timedelta(hours=open_hours),
        paste_number=paste.number,
        leaded=False,
    )


def used(plant: Plant, **told: float) -> Outcome:
    """A stranger's label scanned at line 3; where it would shorten the bead it is scanned once more."""
    scan = ContainerScan(STRANGER, label(plant, **told))
    outcome = plant.work.scanned(scan)
    if outcome is not None and outcome.verdict is not None and outcome.verdict.code == "would-shorten":
        plant.clock.go_on(timedelta(seconds=2))
        outcome = plant.work.scanned(scan)
    assert outcome is not None
    return outcome


def shown(work: DeskWork) -> VerdictModel | None:
    return work.screen().verdict


def test_leave_by_label_says_so_and_names_the_container(plant: Plant) -> None:
    used(plant)
    model = shown(plant.work)
    assert model is not None
    assert (model.word, model.by_label, model.subject) == (Word.USE, True, "K9 117")
    assert "no record of K9 117" in model.why


def test_once_a_lead_has_allowed_it_nobody_is_sent_for_one(plant: Plant) -> None:
    plant.work.scanned(BadgeScan("P12"))
    plant.later(timedelta(seconds=4))
    plant.work.scanned(ContainerScan(STRANGER, label(plant)))
    plant.later(timedelta(seconds=4))
    plant.work.scanned(BadgeScan("P20"))
    assert [strip.text for strip in plant.work.screen().strips] == ["K9 117 SHIFT LEAD FIRST"]
    plant.later(timedelta(seconds=4))
    used(plant)
    assert plant.work.screen().strips == ()


def test_it_stays_while_its_bead_may_be_printed_with(plant: Plant) -> None:
    """It went with the first tick once, because there is no container on record to look at."""
    used(plant)
    for _ in range(20):
        plant.later(timedelta(seconds=1))
    assert shown(plant.work) is not None


def test_it_goes_when_its_bead_ends(plant: Plant) -> None:
    used(plant, hours_left=0.01)
    assert shown(plant.work) is not None
    plant.later(timedelta(minutes=1))
    model = shown(plant.work)
    assert model is None or model.word is not Word.USE


def test_it_goes_when_its_bead_was_taken_off(plant: Plant) -> None:
    used(plant)
    plant.later(timedelta(seconds=1))
    plant.work.card(Card.REMOVE)
    plant.later(timedelta(seconds=1))
    model = shown(plant.work)
    assert model is None or model.word is not Word.USE


def test_the_list_of_scans_says_by_label_too(plant: Plant) -> None:
    used(plant)
    row = plant.work.screen().just_scanned[0]
    assert (row.word, row.by_label) == (Word.USE, True)
    assert shapes.verdict_shape(Word.USE, by_label=True) is shapes.label_shape
    assert shapes.verdict_shape(Word.STOP, by_label=True) is shapes.stop_shape


def test_eight_metres_off_it_does_not_sound_like_use(plant: Plant) -> None:
    plain = plant.work.card(Card.SILENCE)
    assert sound_of(used(plant)) == "wait"
    assert (sound_of(plain), sound_of(None), sound_of(Outcome(None))) == ("done", "stop", "done")


# ---------------------------------------------------------------------- how it looks


def panel(qtbot: QtBot, word: Word, theme: Theme, *, by_label: bool) -> QImage:
    made = VerdictPanel()
    qtbot.addWidget(made)
    made.resize(440, 640)
    made.set_look(theme, scale_for(1366, 900))
    made.show_model(VerdictModel(word, by_label=by_label, headline="BEAD ENDS 22:05", subject="K9 117"))
    return made.grab().toImage()


def lightness(image: QImage) -> list[int]:
    return [image.pixelColor(x, y).lightness() for x in range(0, 440, 4) for y in range(0, 640, 4)]


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
@pytest.mark.parametrize("word", list(Word))
def test_by_label_differs_from_every_plain_word_without_any_colour(qtbot: QtBot, word: Word, theme: Theme) -> None:
    """Compared by lightness alone, a sample every four pixels."""
    labelled = lightness(panel(qtbot, word, theme, by_label=True))
    for other in Word:
        plain = lightness(panel(qtbot, other, theme, by_label=False))
        apart = sum(abs(one - two) > 60 for one, two in zip(labelled, plain, strict=True))
        assert apart > 0.1 * len(plain), other


def shape_of(image: QImage) -> list[bool]:
    """The sign beside the word as ink and ground."""
    area = [(x, y) for x in range(330, 425, 2) for y in range(85, 190, 2)]
    ground = image.pixelColor(430, 500).lightness()
    return [abs(image.pixelColor(*at).lightness() - ground) > 60 for at in area]


def test_use_by_label_has_the_sign_of_a_label_and_not_the_ring(qtbot: QtBot) -> None:
    labelled = shape_of(panel(qtbot, Word.USE, LIGHT, by_label=True))
    stop = shape_of(panel(qtbot, Word.STOP, LIGHT, by_label=True))
    assert any(labelled)
    assert sum(one != two for one, two in zip(labelled, stop, strict=True)) > 0.1 * len(stop)


@pytest.fixture
def window(plant: Plant, qtbot: QtBot) -> Iterator[StationWindow]:
    made = StationWindow(plant.work, None)
    qtbot.addWidget(made)
    made.resize(1024, 768)
    made.show()
    yield made
    made.close()


def test_by_label_only_is_the_second_word_of_the_panel_at_1024_x_768(window: StationWindow, plant: Plant) -> None:
    used(plant)
    window.refresh()
    window.grab()
    sizes = {record.text: record.size for record in window.view.verdict.lettered}
    others = [size for text, size in sizes.items() if text not in ("USE", "BY LABEL ONLY") and "ENDS" not in text]
    assert sizes["BY LABEL ONLY"] > 1.3 * max(others)
    assert all(record.fits for record in window.view.verdict.lettered)
