"""Text wraps, then shrinks, and is never cut; what belongs together stays together."""

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QImage, QPainter

from station.ui.theme import LIGHT
from station.ui.widgets.lettering import (
    Align,
    Lettered,
    Lettering,
    Style,
    digits_and_units,
    fitted,
    number_and_name,
    unbreakable_parts,
    width_of,
    wrapped,
)

STYLE = Style(30, LIGHT.body)
SENTENCE = "Wipe dry, stick the label on the body. Stand it tip down, away from heat."


def drawn(text: str, box: QRectF, style: Style = STYLE) -> tuple[list[Lettered], QImage]:
    image = QImage(400, 200, QImage.Format.Format_RGB32)
    image.fill(QColor(LIGHT.body.ground))
    painter = QPainter(image)
    lettering = Lettering(painter)
    lettering.block(text, box, style)
    painter.end()
    return lettering.records, image


def inked(image: QImage, area: QRectF) -> bool:
    ground = QColor(LIGHT.body.ground).rgb()
    return any(
        image.pixel(across, down) != ground
        for across in range(int(area.left()), int(area.right()))
        for down in range(int(area.top()), int(area.bottom()))
    )


def test_a_long_sentence_wraps_inside_its_width() -> None:
    lines = wrapped(SENTENCE, STYLE, 300)
    assert len(lines) > 2
    assert " ".join(lines) == SENTENCE
    assert all(width_of(line, STYLE) <= 300 for line in lines)


def test_what_wraps_too_high_shrinks_until_it_fits() -> None:
    style, lines = fitted(SENTENCE, STYLE, 200, 60)
    assert style.size < STYLE.size
    assert " ".join(lines) == SENTENCE


def test_the_record_is_where_the_ink_is() -> None:
    records, image = drawn("STOP", QRectF(50, 40, 300, 60))
    ink = records[0].ink
    assert inked(image, ink)
    assert not inked(image, QRectF(0, 0, 400, ink.top() - 2))
    assert not inked(image, QRectF(0, ink.bottom() + 2, 400, 198 - ink.bottom()))
    assert not inked(image, QRectF(ink.right() + 2, 0, 398 - ink.right(), 200))


def test_text_that_had_to_become_too_small_says_so() -> None:
    records, _ = drawn(SENTENCE, QRectF(0, 0, 60, 30))
    assert not all(record.fits for record in records)
    records, _ = drawn("short", QRectF(0, 0, 300, 60))
    assert all(record.fits for record in records)


@pytest.mark.parametrize(("align", "share"), [(Align.LEFT, 0.0), (Align.CENTRE, 0.5), (Align.RIGHT, 1.0)])
def test_a_line_sits_where_it_is_told(align: Align, share: float) -> None:
    records, _ = drawn("Empty", QRectF(0, 0, 400, 60), Style(30, LIGHT.body, align=align))
    free = 400 - width_of("Empty", STYLE)
    assert records[0].ink.left() == pytest.approx(free * share, abs=4)


def test_empty_text_leaves_no_record() -> None:
    records, _ = drawn("", QRectF(0, 0, 300, 60))
    assert records == []


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("open, 21 h 33 left", ["open, 21 h 33", "left"]),
        ("Take K7 304 away", ["Take", "K7 304", "away"]),
        ("until Wed 25 Nov 11:38 here", ["until", "Wed 25 Nov 11:38", "here"]),
        ("the shelf of line 2", ["the", "shelf", "of", "line 2"]),
        ("no figures here", ["no", "figures", "here"]),
    ],
)
def test_a_count_down_or_a_number_is_never_torn_across_two_lines(text: str, parts: list[str]) -> None:
    assert unbreakable_parts(text) == parts


def test_figures_of_a_count_down_stand_large_and_units_small() -> None:
    runs = [run for run in digits_and_units("2 h 20") if run.text.strip()]
    assert [run.text for run in runs] == ["2", "h", "20"]
    assert runs[0].share == runs[2].share > runs[1].share


def test_the_last_three_digits_of_a_container_stand_out() -> None:
    small, _, large = number_and_name("K7 304")
    assert (small.text, large.text) == ("K7", "304")
    assert small.share < large.share
    assert [run.text for run in number_and_name("LINE 2 BEAD")] == ["LINE 2 BEAD"]
