"""The finished label, dot by dot, as a thermal printer gets it and a scanner sees it."""

import sys
from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby
from subprocess import run

import cv2
import numpy
import pytest
from PIL import Image, ImageDraw, ImageOps

from station.care.words import Alloy
from station.labels import raster
from station.labels.builtin import builtin_templates
from station.labels.content import LabelContent
from station.labels.faults import LabelFault
from station.labels.fitting import CodeMark, Plan, plan
from station.labels.layout import Template
from station.labels.lettering import letters_missing
from station.labels.raster import read_back, render
from station.labels.resources import font_path, resource_path
from station.labels.symbol import modules_of
from tests.labels.samples import content, widest

TEMPLATES = tuple(builtin_templates().values())
DOTS_PER_MODULE = {203: 4, 300: 6, 600: 12}


@pytest.fixture(params=TEMPLATES, ids=lambda template: template.name)
def template(request: pytest.FixtureRequest) -> Template:
    found: Template = request.param
    return found


@pytest.fixture(params=[203, 300, 600])
def dpi(request: pytest.FixtureRequest) -> int:
    return int(request.param)


def square_of(template: Template, said: LabelContent, dpi: int) -> tuple[int, int, int, int]:
    """The code with its quiet zone."""
    (mark,) = [mark for mark in plan(template, said, dpi).marks if isinstance(mark, CodeMark)]
    return mark.square


def test_only_black_and_white(template: Template, dpi: int) -> None:
    """BR-19."""
    image = render(template, content(), dpi)
    assert image.mode == "1"
    assert {value for _, value in image.convert("L").getcolors() or []} == {0, 255}


@pytest.mark.parametrize("alloy", Alloy)
def test_two_independent_readers_read_exactly_the_code(template: Template, dpi: int, alloy: Alloy) -> None:
    said = content(alloy=alloy)
    image = render(template, said, dpi)
    read_back(image, said.code)
    text, _, _ = cv2.QRCodeDetectorAruco().detectAndDecode(numpy.array(image.convert("L")))
    assert text == said.code


@pytest.mark.parametrize("alloy", Alloy)
def test_the_widest_label_is_printable(template: Template, dpi: int, alloy: Alloy) -> None:
    assert render(template, widest(alloy), dpi)


def test_four_modules_of_white_on_all_four_sides(template: Template, dpi: int) -> None:
    """BR-20, with the widest texts."""
    said = widest(Alloy.SN_PB)
    image = render(template, said, dpi).convert("L")
    left, top, right, bottom = square_of(template, said, dpi)
    assert 0 <= left < right <= image.width
    assert 0 <= top < bottom <= image.height
    ink = ImageOps.invert(image.crop((left, top, right, bottom))).getbbox()
    quiet = 4 * DOTS_PER_MODULE[dpi]
    assert ink == (quiet, quiet, right - left - quiet, bottom - top - quiet)


def test_every_module_is_the_same_square_of_whole_dots(template: Template, dpi: int) -> None:
    """BR-17, BR-18, BR-23: 4 dots at 203 dpi, elsewhere about half a millimetre, the same across and down."""
    said = content()
    dots = DOTS_PER_MODULE[dpi]
    left, top, right, _ = square_of(template, said, dpi)
    assert right - left == (25 + 8) * dots
    image = render(template, said, dpi).convert("L")
    start = (left + 4 * dots, top + 4 * dots)
    for row, modules in enumerate(modules_of(said.code)):
        for column, dark in enumerate(modules):
            x, y = start[0] + column * dots, start[1] + row * dots
            assert image.crop((x, y, x + dots, y + dots)).getcolors() == [(dots * dots, 0 if dark else 255)]


def test_a_module_is_about_half_a_millimetre(template: Template, dpi: int) -> None:
    """QR on a shop floor wants a third to half a millimetre a module (common practice, no source)."""
    assert 0.45 <= DOTS_PER_MODULE[dpi] * 25.4 / dpi <= 0.55


def test_never_larger_than_the_label_and_within_two_percent(template: Template, dpi: int) -> None:
    """BR-22, BR-25: a hair too tall feeds a blank label after each print."""
    image = render(template, content(), dpi)
    for dots, side_mm in ((image.width, template.width_mm), (image.height, template.height_mm)):
        assert 0.98 * side_mm <= dots * 25.4 / dpi <= side_mm


def test_the_edge_is_white_all_round(template: Template, dpi: int) -> None:
    """A renderer that drops the last row, or a label fed half a millimetre off, then cuts nothing."""
    image = render(template, widest(Alloy.SN_BI), dpi)
    left, top, right, bottom = ImageOps.invert(image.convert("L")).getbbox() or (0, 0, 0, 0)
    margin = int(0.5 * dpi / 25.4)
    assert min(left, top, image.width - right, image.height - bottom) >= margin


def test_lead_is_white_on_black(template: Template) -> None:
    plain, leaded = (render(template, content(alloy=alloy), 203) for alloy in (Alloy.SN_AG_CU, Alloy.SN_PB))
    dark = [
        ImageOps.invert(image.convert("L")).crop((0, 0, image.width * 2 // 3, image.height * 2 // 5))
        for image in (plain, leaded)
    ]
    runs = [longest_black_run(image) for image in dark]
    bar = 203 / 25.4 * (18 if template.name == "40x20" else 30)
    assert runs[1] > bar > 1.5 * runs[0]


def longest_black_run(image: Image.Image) -> int:
    rows: Iterator[bytes] = (image.crop((0, y, image.width, y + 1)).tobytes() for y in range(image.height))
    return max(len(list(group)) for row in rows for value, group in groupby(row) if value)


def test_the_same_label_is_the_same_dots(template: Template, dpi: int) -> None:
    assert render(template, content(), dpi).tobytes() == render(template, content(), dpi).tobytes()


def test_a_label_that_does_not_fit_is_not_printed(template: Template) -> None:
    with pytest.raises(LabelFault, match="A NAME FAR TOO LONG") as caught:
        render(template, replace(content(), paste="A NAME FAR TOO LONG FOR ANY LABEL"), 203)
    assert caught.value.code == "layout"


@pytest.mark.parametrize("code", ["Kühlgut", "a lower case text", "A" * 200])
def test_a_text_the_symbol_cannot_carry_is_not_printed(template: Template, code: str) -> None:
    """BR-92: nothing but plain characters gets into a code, so no reader guesses at a character set."""
    with pytest.raises(LabelFault) as caught:
        render(template, replace(content(), code=code), 203)
    assert caught.value.code == "layout"


@pytest.mark.parametrize("kind", ["Łukasz, 최", "Kühlgut ß é"])
def test_names_in_any_letters_are_printed_and_never_reach_the_code(template: Template, dpi: int, kind: str) -> None:
    """BR-92: the code carries numbers only, so two readers agree on it whatever the names are."""
    said = replace(content(), kind=kind)
    image = render(template, said, dpi)
    text, _, _ = cv2.QRCodeDetectorAruco().detectAndDecode(numpy.array(image.convert("L")))
    read_back(image, said.code)
    assert text == said.code == content().code
    assert text.isascii()


@pytest.mark.parametrize("face", ["regular", "bold", "mono"])
def test_a_letter_the_typeface_lacks_is_told_before_it_is_printed_as_a_box(face: str) -> None:
    """The bundled typeface has the letters of Latin-1 and few of eastern Europe's."""
    assert letters_missing("Kühlgut ß é ÄÖÜ ñ å ø æ 500 g, lot #12 (Pb)", face) == ""
    assert letters_missing("Łukasz Żak", face) == "ŁŻ"
    assert letters_missing("최", face) == "최"


def test_a_syringes_flag_has_four_dots_a_module_at_203_dpi_inside_20_mm() -> None:
    """BR-17: 33 modules with quiet zone x 4 dots x 0.125 mm = 16.5 mm."""
    flag = builtin_templates()["40x20"]
    left, top, right, bottom = square_of(flag, content(), 203)
    assert right - left == bottom - top == 33 * 4
    assert (right - left) * 25.4 / 203 == pytest.approx(16.5, abs=0.05)
    assert left > 20 * 203 / 25.4
    assert bottom < 20 * 203 / 25.4


def test_a_spoiled_symbol_never_leaves(template: Template, monkeypatch: pytest.MonkeyPatch) -> None:
    def with_a_stain(template: Template, said: LabelContent, dpi: int) -> Plan:
        planned = plan(template, said, dpi)
        wrong = replace(said, code=content(alloy=Alloy.SN_PB).code)
        return replace(planned, marks=plan(template, wrong, dpi).marks)

    monkeypatch.setattr(raster, "plan", with_a_stain)
    with pytest.raises(LabelFault) as caught:
        render(template, content(), 203)
    assert caught.value.code == "decode-back"


def test_read_back_refuses_a_stained_an_inverted_and_a_second_symbol() -> None:
    """BR-21 for the inverted one: many readers do not read light on dark, so it does not count as readable."""
    said = content()
    template = TEMPLATES[0]
    image = render(template, said, 203)
    left, top, right, bottom = square_of(template, said, 203)
    stained = image.copy()
    ImageDraw.Draw(stained).rectangle((left, top, (left + right) // 2, bottom), fill=0)
    double = Image.new("1", (image.width, image.height * 2), 1)
    double.paste(image, (0, 0))
    double.paste(image, (0, image.height))
    for spoiled in (stained, ImageOps.invert(image.convert("L")).convert("1"), double):
        with pytest.raises(LabelFault):
            read_back(spoiled, said.code)


def test_the_typeface_and_its_licence_travel_along() -> None:
    assert font_path("B612-Bold").is_file()
    assert "SIL OPEN FONT LICENSE" in resource_path("fonts", "B612-LICENCE.txt").read_text(encoding="utf-8")


def test_labels_are_drawn_without_qt_and_without_numpy() -> None:
    """Start-up stays short, and a PC without a display can still make labels."""
    script = (
        "import sys; sys.modules['PySide6'] = None; sys.modules['numpy'] = None\n"
        "from tests.labels.samples import content\n"
        "from station.labels.builtin import builtin_templates\n"
        "from station.labels.raster import render\n"
        "print(render(builtin_templates()['50x25'], content(), 203).size)"
    )
    done = run([sys.executable, "-c", script], capture_output=True, text=True, check=False, cwd=resource_path().parent)
    assert done.stdout.strip() == "(399, 199)", done.stderr
