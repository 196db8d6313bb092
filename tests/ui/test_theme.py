"""Every text can be read on its ground, every mark told from it, and the right letters are loaded or refused."""

import dataclasses
import itertools
from pathlib import Path

import pytest
from PySide6.QtGui import QFontDatabase, QFontInfo, QFontMetricsF

from station.care.words import Word
from station.ui.theme import DARK, FACES, LIGHT, FontsMissing, Theme, digit_height_for, load_fonts, scale_for
from station.ui.view_models import StretchKind, Tone
from station.ui.widgets.lettering import letter
from tests.ui.conftest import FONTS

THEMES = (LIGHT, DARK)


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio as WCAG 2.2 defines it."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [  # computed from the formulas of WCAG 2.2; black on white is 21 by definition
        ("#000000", "#FFFFFF", 21.0),
        ("#767676", "#FFFFFF", 4.5422),
        ("#FF0000", "#FFFFFF", 3.9985),
        ("#FFC000", "#000000", 12.7919),
    ],
)
def test_the_measure_itself_is_right(one: str, other: str, ratio: float) -> None:
    assert contrast(one, other) == pytest.approx(ratio, abs=1e-4)


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_every_text_reaches_seven_to_one(theme: Theme) -> None:
    """WCAG 2.2, success criterion 1.4.6."""
    poor = {name: contrast(pair.text, pair.ground) for name, pair in theme.pairs().items()}
    assert {name: ratio for name, ratio in poor.items() if ratio < 7} == {}
    assert len(poor) > 30


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_every_mark_reaches_three_to_one(theme: Theme) -> None:
    """WCAG 2.2, success criterion 1.4.11."""
    poor = {name: contrast(mark.shape, mark.ground) for name, mark in theme.marks().items()}
    assert {name: ratio for name, ratio in poor.items() if ratio < 3} == {}


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_bars_can_be_told_from_every_row_they_lie_on(theme: Theme) -> None:
    for kind, tone in itertools.product(StretchKind, Tone):
        assert contrast(theme.stretch(kind).shape, theme.row(tone).ground) >= 3, (kind, tone)


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_words_differ_in_ground_and_by_label_never_shares_one_with_plain(theme: Theme) -> None:
    plain = {theme.verdict(word).ground for word in Word}
    labelled = {theme.verdict(word, by_label=True).ground for word in Word}
    assert len(plain) == 4
    assert plain.isdisjoint(labelled)


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_near_and_past_rows_are_tinted(theme: Theme) -> None:
    grounds = {tone: theme.row(tone).ground for tone in Tone}
    assert len({grounds[Tone.CALM], grounds[Tone.NEAR], grounds[Tone.PAST]}) == 3
    for tone in Tone:
        assert theme.row(tone).ground == theme.row_quiet(tone).ground == theme.digits(tone).ground


def hue(colour: str) -> str:
    red, green, blue = (int(colour[place : place + 2], 16) for place in (1, 3, 5))
    if red > 1.6 * blue and green > 1.6 * blue:
        return "yellow"
    return {red: "red", green: "green", blue: "blue"}[max(red, green, blue)]


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_colours_mean_what_iec_60073_gives_them(theme: Theme) -> None:
    """IEC 60073: red danger, yellow caution, green safe, blue mandatory action."""
    meant = {Word.USE: "green", Word.WAIT: "yellow", Word.STOP: "red", Word.DONE: "blue"}
    assert {word: hue(theme.verdict(word).ground) for word in Word} == meant
    assert hue(theme.digits(Tone.PAST).text) == "red"


def test_the_two_themes_colour_the_same_things() -> None:
    assert {field.name for field in dataclasses.fields(LIGHT)} == {field.name for field in dataclasses.fields(DARK)}
    assert luminance(DARK.body.ground) < 0.05
    assert luminance(LIGHT.body.ground) > 0.5


def test_touch_targets_are_fifteen_millimetres_whatever_the_screen() -> None:
    assert scale_for(1920, 1080, 96).touch == pytest.approx(15 / 25.4 * 96, abs=0.5)
    assert scale_for(1920, 1080, 144).touch == pytest.approx(15 / 25.4 * 144, abs=0.5)
    assert scale_for(800, 600, 40).touch >= 57


def test_letters_grow_with_the_window() -> None:
    units = [scale_for(*size).unit for size in ((1024, 768), (1366, 768), (1920, 1080), (3840, 2160))]
    assert units == sorted(units)
    assert units[2] == 1
    assert scale_for(1920, 1080).of(40) == 40


def test_a_digit_for_three_metres_is_fifteen_millimetres_high() -> None:
    assert digit_height_for(3, 4) == 60


def test_br_89_the_shipped_letters_are_the_ones_drawn() -> None:
    assert load_fonts(FONTS) == "B612"
    for bold in (False, True):
        assert QFontInfo(letter(40, bold=bold)).family() == "B612"


def test_figures_are_all_equally_wide_so_that_count_downs_do_not_jump() -> None:
    for bold in (False, True):
        measure = QFontMetricsF(letter(100, bold=bold))
        assert len({measure.horizontalAdvance(figure) for figure in "0123456789"}) == 1


def test_br_89_start_is_refused_in_words_when_letters_are_missing(tmp_path: Path) -> None:
    with pytest.raises(FontsMissing, match=r"B612-Regular is not in .*install the station again"):
        load_fonts(tmp_path)


def test_br_89_a_damaged_face_is_refused_too(tmp_path: Path) -> None:
    for face in FACES:
        (tmp_path / f"{face}.ttf").write_bytes(b"not a font")
    before = len(QFontDatabase.families())
    with pytest.raises(FontsMissing, match="holds no B612 letters"):
        load_fonts(tmp_path)
    assert len(QFontDatabase.families()) == before
