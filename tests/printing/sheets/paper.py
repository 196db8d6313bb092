"""A PDF as it comes out of a printer: what poppler makes of it, and what two readers see on it."""

import subprocess
from pathlib import Path
from typing import Any

import cv2
import numpy as np
import zxingcpp
from PIL import Image, ImageChops, ImageOps

from station.labels.sheet_fit import SheetPage
from station.labels.sheet_paper import DPI


def printed(pdf: bytes, folder: Path) -> list[Image.Image]:
    """Every page in greys, at the resolution of the sheets."""
    (folder / "sheets.pdf").write_bytes(pdf)
    subprocess.run(["pdftoppm", "-r", str(DPI), "-gray", folder / "sheets.pdf", folder / "page"], check=True)
    return [Image.open(path).copy() for path in sorted(folder.glob("page-*.pgm"))]


def page_sizes(pdf: bytes, folder: Path) -> set[str]:
    """What the file says of the size of its pages."""
    (folder / "sheets.pdf").write_bytes(pdf)
    said = subprocess.run(
        ["pdfinfo", "-l", "-1", folder / "sheets.pdf"], check=True, capture_output=True, text=True
    ).stdout
    return {
        line.partition("size:")[2].split("(")[0].strip()
        for line in said.splitlines()
        if " size:" in line and "Page" in line
    }


def codes_with_places(page: Image.Image) -> dict[str, tuple[float, float]]:
    """Each code's text and its middle, in millimetres from the top left corner."""
    found = zxingcpp.read_barcodes(np.asarray(page), formats=zxingcpp.BarcodeFormat.QRCode)  # type: ignore[arg-type]
    texts = [symbol.text for symbol in found]
    assert len(set(texts)) == len(texts)
    return {symbol.text: _middle(symbol.position) for symbol in found}


def _middle(position: Any) -> tuple[float, float]:
    corners = (position.top_left, position.top_right, position.bottom_left, position.bottom_right)
    x, y = (sum(getattr(corner, axis) for corner in corners) / 4 * 25.4 / DPI for axis in ("x", "y"))
    return x, y


def second_reader(page: Image.Image, at: tuple[float, float]) -> str:
    """What OpenCV's reader makes of the code whose middle is `at` millimetres, seen from one of three distances."""
    x, y, half = at[0] * DPI / 25.4, at[1] * DPI / 25.4, 25 * DPI / 25.4
    piece = page.crop((int(x - half), int(y - half), int(x + half), int(y + half)))
    seen = (piece.reduce(far) for far in (2, 3, 4))
    return next((text for view in seen if (text := cv2.QRCodeDetector().detectAndDecode(np.asarray(view))[0])), "")


def ink(page: Image.Image) -> tuple[float, float, float, float]:
    """The rectangle of all that is printed, in millimetres."""
    bounds = ImageOps.invert(page).getbbox()
    assert bounds is not None
    left, top, right, bottom = (edge * 25.4 / DPI for edge in bounds)
    return left, top, right, bottom


def same_dots(page: Image.Image, drawn: Image.Image) -> bool:
    """Whether a page shows exactly these dots; a row or column more at its edge must be blank."""
    size = (max(page.width, drawn.width), max(page.height, drawn.height))
    one, other = Image.new("L", size, 255), Image.new("L", size, 255)
    one.paste(page, (0, 0))
    other.paste(drawn.convert("L"), (0, 0))
    return ImageChops.difference(one, other).getbbox() is None


def texts(page: SheetPage) -> list[str]:
    """Every line of text on a page, as it is broken there."""
    return [mark.line.text for mark in page.marks if hasattr(mark, "line")]
