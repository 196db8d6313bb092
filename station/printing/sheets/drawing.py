"""A sheet as printer dots, black and white only, and its PDF file: every dot one to one, every code read back.

Office printers print at 300 dots per inch or a whole multiple of it, so whole dots here are whole dots there.
"""

from collections.abc import Sequence
from datetime import datetime

import zxingcpp
from PIL import Image, ImageDraw

from station.labels.faults import LabelFault
from station.labels.raster import WHITE, draw_mark
from station.labels.sheet_fit import SheetPage
from station.labels.sheet_paper import DPI
from station.printing.sheets.pdf_file import pdf_file


def draw_page(page: SheetPage) -> Image.Image:
    """The page as a 1-bit image. LabelFault "decode-back" unless every code on it reads as what it should say."""
    image = Image.new("1", (page.paper.width, page.paper.height), WHITE)
    draw = ImageDraw.Draw(image)
    for mark in page.marks:
        draw_mark(draw, mark)
    _read_back(image, page.codes)
    return image


def sheets_pdf(pages: Sequence[SheetPage], title: str, made_at: datetime) -> bytes:
    """The PDF file of these pages, of which there is one at least; `made_at` (aware) stands in the file.

    Made in memory, so that a full disk shows when the file is written. LabelFault as for `draw_page`.
    """
    return pdf_file([draw_page(page) for page in pages], pages[0].paper, DPI, title, made_at)


def _read_back(image: Image.Image, codes: tuple[str, ...]) -> None:
    if not codes:
        return
    dots = memoryview(image.convert("L").tobytes()).cast("B", (image.height, image.width))
    qr_only = zxingcpp.BarcodeFormat.QRCode
    found = zxingcpp.read_barcodes(dots, formats=qr_only)  # type: ignore[arg-type]  # it makes a set of one itself
    if sorted(symbol.text for symbol in found) != sorted(codes):
        raise LabelFault("decode-back", "A code of the finished sheet could not be read back, so it was not written.")
