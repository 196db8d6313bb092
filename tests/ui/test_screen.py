"""What a person notices on a place's screen, and what the screen hands back."""

import dataclasses
import itertools
from datetime import timedelta

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from station.care.words import Priority, Word
from station.ui.ruler import TimeRuler
from station.ui.screen import PlaceScreen
from station.ui.theme import DARK, LIGHT
from station.ui.view_models import BoardModel, ScreenModel, Stretch, StretchKind, VerdictModel
from station.ui.widgets import patterns, shapes
from station.ui.widgets.bar_painter import stretch_rect
from station.ui.widgets.touch_button import TouchButton
from station.ui.widgets.verdict_panel import VerdictPanel
from tests.ui import gallery
from tests.ui.gallery import GALLERY, screen_of


def opened(qtbot: QtBot, name: str, width: int = 1366, height: int = 768) -> PlaceScreen:
    screen = screen_of(name, width, height)
    qtbot.addWidget(screen)
    screen.grab()
    return screen


def shown(qtbot: QtBot, model: ScreenModel) -> PlaceScreen:
    screen = PlaceScreen()
    qtbot.addWidget(screen)
    screen.resize(1366, 768)
    screen.show_model(model)
    screen.grab()
    return screen


def texts(screen: PlaceScreen) -> str:
    return " ".join(record.text for _, record in screen.lettered())


def size_of(screen: PlaceScreen, text: str) -> float:
    return max(record.size for _, record in screen.lettered() if text in record.text)


def test_after_a_take_out_not_before_is_the_largest_line_below_the_word(qtbot: QtBot) -> None:
    screen = opened(qtbot, "fridge-done")
    panel = sorted((record for record in screen.verdict.lettered), key=lambda record: -record.size)
    assert [record.text for record in panel[:2]] == ["DONE", "NOT BEFORE 17:36"]


@pytest.mark.parametrize("size", [(1024, 768), (1366, 768), (1920, 1080), (960, 540)])
def test_not_before_stands_on_one_line(qtbot: QtBot, size: tuple[int, int]) -> None:
    assert "NOT BEFORE 17:36" in [record.text for record in opened(qtbot, "fridge-done", *size).verdict.lettered]


def test_the_two_alloys_stand_in_the_largest_type_below_stop(qtbot: QtBot) -> None:
    screen = opened(qtbot, "printer-wrong-alloy")
    by_size = sorted(screen.verdict.lettered, key=lambda record: -record.size)
    assert by_size[0].text == "STOP"
    headline = [record.text for record in screen.verdict.lettered if record.size == size_of(screen, "Sn-Pb")]
    assert " ".join(headline) == "Sn-Pb ON AN Sn-Ag-Cu JOB"
    assert size_of(screen, "Sn-Pb") > size_of(screen, "PB-1")


def test_wait_names_the_container_to_use_instead_larger_than_the_one_to_leave(qtbot: QtBot) -> None:
    screen = opened(qtbot, "printer-wait")
    instead = next(record for record in screen.verdict.lettered if record.text == "304")
    assert instead.pair == LIGHT.instead
    assert instead.size > size_of(screen, "K7 311 SN-4")


def test_the_feeding_container_is_marked(qtbot: QtBot) -> None:
    assert texts(opened(qtbot, "printer-use")).count("FEEDING") == 1
    assert "FEEDING" not in texts(opened(qtbot, "fridge-done"))


def test_rows_that_do_not_fit_are_counted_aloud(qtbot: QtBot) -> None:
    screen = opened(qtbot, "printer-past")
    assert screen.board.hidden_rows > 0
    assert f"and {screen.board.hidden_rows} more" in texts(screen)


def test_an_empty_screen_teaches_what_to_scan_and_what_the_patterns_mean(qtbot: QtBot) -> None:
    said = texts(opened(qtbot, "empty-printer"))
    for word in ("Scan the jar", "striped", "solid", "dotted", "crossed"):
        assert word in said


def test_a_question_takes_the_place_of_the_verdict(qtbot: QtBot) -> None:
    screen = opened(qtbot, "printer-opening")
    assert screen.question.isVisibleTo(screen)
    assert not screen.verdict.isVisibleTo(screen)


@pytest.mark.parametrize("name", GALLERY)
def test_place_person_time_zone_health_and_scope_are_always_there(qtbot: QtBot, name: str) -> None:
    screen = opened(qtbot, name)
    assert screen.model is not None
    top, said = screen.model.top, texts(screen)
    for part in (top.place, top.person or "nobody badged in", top.clock_text, top.zone, "high", "medium", "low"):
        assert part in said
    assert ("of the plant" if top.scope.value == "plant" else "of this place") in said
    for mark in top.health:
        assert mark.name in said


def test_a_missing_sound_is_said(qtbot: QtBot) -> None:
    assert "NO SOUND" in texts(opened(qtbot, "printer-past"))
    assert "NO SOUND" not in texts(opened(qtbot, "printer-use"))


def test_a_device_that_fails_says_how_to_mend_it_before_the_ones_that_work(qtbot: QtBot) -> None:
    screen = opened(qtbot, "printer-by-label")
    marks = [record.text for record in screen.bottom.lettered]
    assert "ask IT to look at the switch" in " ".join(marks)
    assert marks.index("Scanner") > next(place for place, text in enumerate(marks) if "Plant link" in text)


def test_by_label_says_so_and_draws_the_word_hollow(qtbot: QtBot) -> None:
    labelled, plain = opened(qtbot, "printer-by-label"), opened(qtbot, "printer-use")
    assert "BY LABEL ONLY" in texts(labelled)
    shares = []
    for screen in (labelled, plain):
        word = next(record for record in screen.verdict.lettered if record.text == "USE")
        shares.append(ink_share(screen.verdict.grab().toImage(), word.ink, word.pair.text))
    assert shares[0] < 0.5 * shares[1]


def ink_share(image: QImage, area: QRectF, colour: str) -> float:
    wanted = int(colour[1:], 16)
    rectangle = area.toAlignedRect()
    places = [
        (across, down)
        for across in range(rectangle.left(), rectangle.right())
        for down in range(rectangle.top(), rectangle.bottom())
    ]
    return sum(image.pixel(*place) & 0xFFFFFF == wanted for place in places) / len(places)


def grey_of(word: Word, qtbot: QtBot) -> tuple[list[int], list[int]]:
    """Shape and edge of a verdict panel without colour: lightness against the panel's own ground."""
    panel = VerdictPanel()
    qtbot.addWidget(panel)
    panel.resize(460, 660)
    panel.show_model(VerdictModel(word))
    image = panel.grab().toImage()
    ground = image.pixelColor(440, 400).lightness()

    def differs(across: int, down: int) -> bool:
        return abs(image.pixelColor(across, down).lightness() - ground) > 60

    edge = [int(differs(across, down)) for across in range(2, 30) for down in range(300, 400)]
    shape = [int(differs(across, down)) for across in range(330, 440, 2) for down in range(30, 150, 2)]
    return shape, edge


def test_the_four_words_differ_by_shape_and_by_pattern_without_any_colour(qtbot: QtBot) -> None:
    seen = {word: grey_of(word, qtbot) for word in Word}
    for one in Word:
        for other in Word:
            if one is not other:
                different = sum(a != b for a, b in zip(seen[one][0], seen[other][0], strict=True))
                assert different > 0.08 * len(seen[one][0]), (one, other)
    assert sum(seen[Word.USE][1]) == 0
    edges = {tuple(seen[word][1]) for word in Word}
    assert len(edges) == 4


def test_done_shares_no_shape_with_use() -> None:
    assert shapes.VERDICT_SHAPES[Word.DONE] is not shapes.VERDICT_SHAPES[Word.USE]
    assert len(set(shapes.VERDICT_SHAPES.values())) == len(Word)


def test_every_priority_has_its_own_number_of_bars() -> None:
    columns = {}
    for priority in Priority:
        image = QImage(60, 40, QImage.Format.Format_RGB32)
        image.fill(Qt.GlobalColor.white)
        painter = QPainter(image)
        shapes.priority_bars(painter, QRectF(4, 4, 30, 30), priority, "#000000")
        painter.end()
        row = [image.pixelColor(across, 20).lightness() < 128 for across in range(60)]
        columns[priority] = sum(now and not before for before, now in itertools.pairwise(row))
    assert columns == {Priority.HIGH: 3, Priority.MEDIUM: 2, Priority.LOW: 1}


def pattern_of(kind: str) -> float:
    """Share of an area that a pattern covers."""
    image = QImage(120, 60, QImage.Format.Format_RGB32)
    image.fill(Qt.GlobalColor.white)
    painter, area = QPainter(image), QRectF(20, 10, 80, 40)
    getattr(patterns, kind)(painter, area, "#000000", 16, 3)
    painter.end()
    outside = [image.pixelColor(across, 5).lightness() for across in range(120)]
    outside += [image.pixelColor(10, down).lightness() for down in range(60)]
    assert min(outside) == 255, "a pattern must not leave its bar"
    inside = [image.pixelColor(across, down).lightness() < 128 for across in range(20, 100) for down in range(10, 50)]
    return sum(inside) / len(inside)


@pytest.mark.parametrize("kind", ["stripes", "crosses", "dots", "ruled"])
def test_patterns_leave_ground_to_see_and_stay_inside_their_bar(kind: str) -> None:
    assert 0.05 < pattern_of(kind) < 0.7


def test_a_short_stretch_is_still_seen_and_ends_where_it_ends() -> None:
    ruler = TimeRuler(gallery.NOW, 500)
    week = timedelta(days=7)
    stretch = Stretch(StretchKind.NEAR, gallery.NOW + week - timedelta(minutes=1), gallery.NOW + week)
    piece = stretch_rect(QRectF(100, 0, 500, 40), ruler, stretch, 7)
    assert piece.width() >= 7
    assert piece.right() == pytest.approx(100 + ruler.position(stretch.end))


def button(screen: PlaceScreen, action: str) -> TouchButton:
    return next(found for found in screen.findChildren(TouchButton) if found.action_model.id == action)


@pytest.mark.parametrize(
    ("name", "action"), [("printer-use", "empty"), ("printer-opening", "good"), ("desk-alarms", "discarded")]
)
def test_a_touch_hands_back_what_was_touched(qtbot: QtBot, name: str, action: str) -> None:
    screen = opened(qtbot, name)
    with qtbot.waitSignal(screen.acted) as heard:
        QTest.mouseClick(button(screen, action), Qt.MouseButton.LeftButton)
    assert heard.args == [action]


def test_what_is_not_allowed_can_not_be_touched(qtbot: QtBot) -> None:
    screen = opened(qtbot, "desk-alarms")
    with qtbot.assertNotEmitted(screen.acted):
        QTest.mouseClick(button(screen, "extend"), Qt.MouseButton.LeftButton)


def test_a_button_under_the_finger_looks_pressed(qtbot: QtBot) -> None:
    screen = opened(qtbot, "printer-use")
    empty = button(screen, "empty")
    at_rest = empty.grab().toImage()
    empty.setDown(True)
    assert empty.grab().toImage() != at_rest


def test_a_folded_stop_stays_until_it_is_seen_to(qtbot: QtBot) -> None:
    screen = opened(qtbot, "printer-opening")
    assert screen.strips.isVisibleTo(screen)
    assert "1 more" in texts(screen)
    with qtbot.waitSignal(screen.seen) as heard:
        QTest.mouseClick(screen.strips.strips[0].button, Qt.MouseButton.LeftButton)
    assert heard.args == ["s1"]
    assert len(screen.strips.strips) == 2, "only whoever owns the model takes the strip away"


def test_a_strip_that_was_seen_to_goes_with_the_next_model(qtbot: QtBot) -> None:
    screen = opened(qtbot, "printer-opening")
    assert screen.model is not None
    screen.show_model(dataclasses.replace(screen.model, strips=()))
    screen.grab()
    assert "Seen to" not in texts(screen)


def test_only_what_is_unacknowledged_flashes(qtbot: QtBot) -> None:
    for name, moves in (("printer-past", True), ("fridge-done", False)):
        screen = opened(qtbot, name)
        screen.set_flash(True)
        on = screen.grab().toImage()
        screen.set_flash(False)
        assert (screen.grab().toImage() != on) is moves, name


def test_words_stay_readable_in_both_phases_of_the_flash(qtbot: QtBot) -> None:
    screen = opened(qtbot, "printer-past")
    screen.set_flash(False)
    screen.grab()
    off = texts(screen)
    screen.set_flash(True)
    screen.grab()
    assert texts(screen) == off


def test_dark_surroundings_say_the_same_in_other_colours(qtbot: QtBot) -> None:
    screen = opened(qtbot, "printer-wait")
    light, said = screen.grab().toImage(), texts(screen)
    screen.set_theme(DARK)
    dark = screen.grab().toImage()
    assert texts(screen) == said
    assert dark.pixelColor(683, 200).lightness() < 60 < light.pixelColor(683, 200).lightness()


def test_the_now_line_is_one_line_through_every_row(qtbot: QtBot) -> None:
    screen = opened(qtbot, "printer-use", 1920, 1080)
    image = screen.board.grab().toImage()
    now = next(record for record in screen.board.lettered if record.text == "NOW")
    across = round(now.box.center().x())
    slots = screen.board.laid_out().slots
    for slot in slots:
        down = round(screen.board.scale.of(44) + slot.top + slot.height * 0.75)
        assert image.pixelColor(across, down).name().upper() == LIGHT.outline.shape


def test_a_new_state_replaces_the_old_one_whole(qtbot: QtBot) -> None:
    screen = opened(qtbot, "desk-alarms")
    screen.show_model(GALLERY["fridge-done"]())
    screen.grab()
    fresh = opened(qtbot, "fridge-done")
    assert [record for _, record in screen.lettered()] == [record for _, record in fresh.lettered()]


def test_the_board_moves_with_now(qtbot: QtBot) -> None:
    model = gallery.fridge_done()
    screen = shown(qtbot, model)
    before = screen.board.grab().toImage()
    later = BoardModel(model.board.now + timedelta(minutes=30), model.board.rows)
    screen.show_model(dataclasses.replace(model, board=later))
    assert screen.board.grab().toImage() != before
