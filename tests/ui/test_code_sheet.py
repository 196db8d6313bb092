"""The sheet of codes: read by a scanner at every scale of the screen, and clicked by people without one."""

import os
import subprocess
import sys
from pathlib import Path

import numpy
import pytest
import zxingcpp
from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from station.labels.symbol import QUIET_MODULES, modules_of
from station.ui.code_sheet import NO_CODE, CodeEntry, CodeSection, CodeSheet, CodeTile, code_image
from station.ui.theme import DARK, LIGHT, Theme, scale_for
from tests.ui.sheet_samples import SECTIONS

pytestmark = pytest.mark.qt_log_ignore("does not support propagateSizeHints")
ROOT = Path(__file__).parents[2]


@pytest.fixture
def sheet(qtbot: QtBot) -> CodeSheet:
    made = CodeSheet(SECTIONS)
    qtbot.addWidget(made)
    made.show()
    settle()
    return made


def settle() -> None:
    for _ in range(3):
        QApplication.processEvents()


def pixels(image: QImage) -> Image.Image:
    grey = image.convertToFormat(QImage.Format.Format_Grayscale8)
    data = bytes(grey.constBits())
    return Image.frombytes("L", (grey.width(), grey.height()), data, "raw", "L", grey.bytesPerLine())


def read(picture: Image.Image) -> list[zxingcpp.Barcode]:
    qr_only = zxingcpp.BarcodeFormat.QRCode
    found = zxingcpp.read_barcodes(
        numpy.array(picture),
        formats=qr_only,  # type: ignore[arg-type]  # the reader makes a set of one format by itself
        try_invert=False,
    )
    return list(found)


def cells(picture: Image.Image, code: zxingcpp.Barcode) -> tuple[Image.Image, int]:
    """The symbol itself, cut tight, and how many dots one of its modules is wide."""
    corner = code.position.top_left, code.position.bottom_right
    near = (corner[0].x - 6, corner[0].y - 6, corner[1].x + 6, corner[1].y + 6)
    around = picture.crop(near)
    tight = around.crop(around.point(lambda value: 255 - value).getbbox())
    across = len(modules_of(code.text))
    assert tight.width == tight.height
    assert tight.width % across == 0
    return tight, tight.width // across


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("factor", ["1", "1.25", "1.5", "1.75", "2"])
def test_codes_are_read_at_every_scale_of_the_screen(factor: str, theme: str, tmp_path: Path) -> None:
    """BR-88 for the scale, BR-21 for the dark surroundings: whole dots, no grey, black on white."""
    file = tmp_path / "sheet.png"
    surroundings = {**os.environ, "QT_SCALE_FACTOR": factor, "QT_QPA_PLATFORM": "offscreen"}
    command = [sys.executable, "-m", "tests.ui.sheet_samples", str(file), theme]
    subprocess.run(command, cwd=ROOT, env=surroundings, check=True, capture_output=True, timeout=60)
    picture = Image.open(file).convert("L")
    assert picture.width == round(1000 * float(factor))
    found = {code.text: code for code in read(picture)}
    expected = [entry.text for entry in SECTIONS[0].entries[:6]]
    assert set(expected) <= set(found)
    for text in expected:
        symbol, dots = cells(picture, found[text])
        assert dots >= 4
        for row, line in enumerate(modules_of(text)):
            for column, dark in enumerate(line):
                left, top = column * dots, row * dots
                colours = symbol.crop((left, top, left + dots, top + dots)).getcolors()
                assert colours == [(dots * dots, 0 if dark else 255)]


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_four_modules_of_white_all_round(theme: Theme, qtbot: QtBot) -> None:
    """ISO/IEC 18004 asks for a quiet zone of four modules; BR-21: whatever the colours of the screen."""
    sheet = CodeSheet(SECTIONS, theme=theme)
    qtbot.addWidget(sheet)
    sheet.show()
    settle()
    picture = pixels(sheet.flow.tiles[0].grab().toImage())
    (code,) = read(picture)
    _, dots = cells(picture, code)
    quiet = QUIET_MODULES * dots
    left, top = code.position.top_left.x, code.position.top_left.y
    right, bottom = code.position.bottom_right.x, code.position.bottom_right.y
    zone = picture.crop((left - quiet + 2, top - quiet + 2, right + quiet - 2, bottom + quiet - 2))
    inside = (quiet - 4, quiet - 4, zone.width - quiet + 4, zone.height - quiet + 4)
    zone.paste(255, inside)
    assert zone.getcolors() == [(zone.width * zone.height, 255)]


def test_a_click_tells_the_text_of_the_code(sheet: CodeSheet, qtbot: QtBot) -> None:
    tile = sheet.flow.tiles[2]
    with qtbot.waitSignal(sheet.picked) as told:
        QTest.mouseClick(tile, Qt.MouseButton.LeftButton)
    assert told.args == [SECTIONS[0].entries[2].text]


@pytest.mark.parametrize("section", SECTIONS, ids=lambda section: section.title)
def test_each_section_shows_its_own_codes_with_their_captions(section: CodeSection, sheet: CodeSheet) -> None:
    sheet.show_section(section.title)
    settle()
    assert [tile.entry for tile in sheet.flow.tiles] == list(section.entries)
    tile = sheet.flow.tiles[0]
    picture = pixels(tile.grab().toImage())
    assert [code.text for code in read(picture)] == [section.entries[0].text]
    written = [record.text for record in tile.lettered]
    assert written == [part for part in (section.entries[0].caption, section.entries[0].note) if part]


def test_captions_stand_below_the_quiet_zone_and_are_whole(sheet: CodeSheet) -> None:
    for section in SECTIONS:
        sheet.show_section(section.title)
        settle()
        for tile in sheet.flow.tiles:
            tile.grab()
            for record in tile.lettered:
                assert record.fits, record.text
                assert tile.rect().toRectF().contains(record.ink), record.text


def test_a_text_no_code_can_carry_says_so_and_can_still_be_clicked(sheet: CodeSheet, qtbot: QtBot) -> None:
    sheet.show_section("Work orders")
    settle()
    tile = sheet.flow.tiles[1]
    tile.grab()
    assert NO_CODE in " ".join(record.text for record in tile.lettered)
    with qtbot.waitSignal(sheet.picked) as told:
        tile.click()
    assert told.args == ["wo-8836/ü"]


def test_tiles_keep_apart_and_all_can_be_scrolled_to(sheet: CodeSheet) -> None:
    places = [tile.geometry() for tile in sheet.flow.tiles]
    assert not any(
        one.adjusted(-20, -20, 20, 20).intersects(other) for one in places for other in places if one != other
    )
    assert all(sheet.flow.rect().contains(place) for place in places)
    assert len(places) == 9


def test_new_codes_keep_the_section_that_is_shown(sheet: CodeSheet) -> None:
    sheet.show_section("Badges")
    more = CodeSection("Badges", (CodeEntry("Kim Hazel", "P1P17X"), CodeEntry("Toni Rowan", "P1P20X")))
    sheet.show_sections((SECTIONS[0], more))
    settle()
    assert [tile.entry.caption for tile in sheet.flow.tiles] == ["Kim Hazel", "Toni Rowan"]
    sheet.show_sections((SECTIONS[0],))
    assert sheet.flow.tiles[0].entry == SECTIONS[0].entries[0]


def test_an_empty_sheet_is_no_fault(qtbot: QtBot) -> None:
    sheet = CodeSheet(())
    qtbot.addWidget(sheet)
    sheet.grab()
    assert sheet.flow.tiles == []


def test_where_there_is_no_room_for_one_dot_a_module_nothing_is_drawn(qtbot: QtBot) -> None:
    """Half a code is worse than none."""
    tile = CodeTile(SECTIONS[0].entries[0])
    qtbot.addWidget(tile)
    tile.set_scale(scale_for(1024, 768))
    tile.setFixedSize(40, 70)
    assert read(pixels(tile.grab().toImage())) == []


def test_the_picture_of_a_code_alone_is_exact() -> None:
    modules = modules_of("D1EMPTYX")
    picture = pixels(code_image(modules, 3))
    assert picture.width == (len(modules) + 8) * 3
    assert {value for _, value in picture.getcolors() or []} == {0, 255}
