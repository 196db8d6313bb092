"""PNG and PDF of a label are its raster, dot for dot, at its true size."""

import random
import subprocess
import sys
from pathlib import Path

import pytest
from PIL import Image, ImageDraw

from station.labels.builtin import builtin_templates
from station.labels.layout import Template
from station.labels.raster import read_back, render
from station.labels.resources import resource_path
from station.printing.pdf import pdf_bytes
from station.printing.png import png_bytes
from tests.labels.samples import content
from tests.printing.pages import assert_same_dots, rasterised, tool

TEMPLATES = tuple(builtin_templates().values())
SIZES_MM = [(60, 40), (50, 25), (40, 20), (100, 150)]
RESOLUTIONS = [203, 300, 600]


def noise(width_mm: float, height_mm: float, dpi: int) -> Image.Image:
    """The hardest picture there is: random dots in a frame one dot wide, its last row white as on a label."""
    width, height = int(width_mm * dpi / 25.4), int(height_mm * dpi / 25.4)
    dots = random.Random(dpi).randbytes(((width + 7) // 8) * height)
    image = Image.frombytes("1", (width, height), dots)
    draw = ImageDraw.Draw(image)
    draw.rectangle((0, 0, width - 1, height - 2), outline=0)
    draw.line((0, height - 1, width - 1, height - 1), fill=1)
    return image


@pytest.mark.parametrize("dpi", RESOLUTIONS)
@pytest.mark.parametrize("template", TEMPLATES, ids=lambda template: template.name)
def test_a_label_comes_out_of_the_pdf_dot_for_dot(template: Template, dpi: int, tmp_path: Path) -> None:
    """BR-18, BR-19, BR-22: no scaling, no greys, and it still reads."""
    image = render(template, content(), dpi)
    page = rasterised(pdf_bytes(image, dpi), dpi, tmp_path)
    assert_same_dots(page, image)
    read_back(page.convert("1"), content().code)


@pytest.mark.parametrize("dpi", RESOLUTIONS)
@pytest.mark.parametrize(("width_mm", "height_mm"), SIZES_MM)
def test_so_does_any_other_size(width_mm: float, height_mm: float, dpi: int, tmp_path: Path) -> None:
    image = noise(width_mm, height_mm, dpi)
    assert_same_dots(rasterised(pdf_bytes(image, dpi), dpi, tmp_path), image)


def test_the_pdf_holds_the_picture_without_loss_at_one_bit_a_dot(tmp_path: Path) -> None:
    path = tmp_path / "label.pdf"
    path.write_bytes(pdf_bytes(render(TEMPLATES[0], content(), 203), 203))
    (picture,) = tool("pdfimages", "-list", path).splitlines()[2:]
    columns = picture.split()
    assert columns[3:5] == ["479", "319"]
    assert columns[7:9] == ["1", "image"]


@pytest.mark.parametrize(("template", "points"), [("60x40", (170, 114)), ("50x25", (142, 71))])
def test_the_page_is_as_wide_and_high_as_the_label_not_turned(
    template: str, points: tuple[int, int], tmp_path: Path
) -> None:
    """BR-24, BR-25: whole points, under one point (0.35 mm) over the raster."""
    path = tmp_path / "label.pdf"
    path.write_bytes(pdf_bytes(render(builtin_templates()[template], content(), 203), 203))
    assert f"{points[0]} x {points[1]} pts" in tool("pdfinfo", path)
    assert "Page rot:        0" in tool("pdfinfo", path)


@pytest.mark.parametrize("dpi", RESOLUTIONS)
def test_the_png_is_one_bit_deep_and_knows_its_resolution(dpi: int, tmp_path: Path) -> None:
    image = render(TEMPLATES[1], content(), dpi)
    path = tmp_path / "label.png"
    path.write_bytes(png_bytes(image, dpi))
    with Image.open(path) as read:
        assert read.mode == "1"
        assert read.tobytes() == image.tobytes()
        assert read.info["dpi"] == pytest.approx((dpi, dpi), abs=0.02)


def test_a_picture_with_greys_is_refused() -> None:
    with pytest.raises(ValueError, match="mode 1"):
        png_bytes(Image.new("L", (8, 8)), 203)


def test_without_a_qt_application_the_pdf_says_so_instead_of_crashing() -> None:
    script = (
        "from PIL import Image\n"
        "from station.printing.pdf import pdf_bytes\n"
        "try:\n    pdf_bytes(Image.new('1', (8, 8)), 203)\n"
        "except RuntimeError as trouble:\n    print(trouble)"
    )
    said = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True, cwd=resource_path().parent
    ).stdout
    assert "QGuiApplication" in said
