"""A label as printer dots: black and white only, read back before it leaves."""

import zxingcpp
from PIL import Image, ImageDraw

from station.labels.content import LabelContent
from station.labels.faults import LabelFault
from station.labels.fitting import ArrowMark, CodeMark, FillMark, Mark, Plan, Rectangle, TextMark, plan
from station.labels.layout import Template
from station.labels.lettering import inked
from station.labels.symbol import QUIET_MODULES

BLACK, WHITE = 0, 1


def render(template: Template, content: LabelContent, dpi: int) -> Image.Image:
    """The label as a 1-bit image at `dpi` dots per inch, with its resolution in `info["dpi"]`.

    LabelFault "layout" where something does not fit, "decode-back" where the finished label does not read as
    exactly its code text: neither may be printed. OSError if the bundled typeface is missing.
    """
    planned = plan(template, content, dpi)
    if planned.faults:
        raise LabelFault("layout", f"Label template {template.name!r}: " + " ".join(planned.faults))
    return drawn(planned, content.code, dpi)


def drawn(planned: Plan, code: str, dpi: int) -> Image.Image:
    """A plan without faults as a 1-bit image. LabelFault "decode-back" unless it reads as exactly `code`."""
    image = Image.new("1", (planned.width, planned.height), WHITE)
    draw = ImageDraw.Draw(image)
    for mark in planned.marks:
        draw_mark(draw, mark)
    image.info["dpi"] = (dpi, dpi)
    read_back(image, code)
    return image


def read_back(image: Image.Image, code: str) -> None:
    """LabelFault "decode-back" unless the image holds one QR code, dark on light, that says exactly `code`."""
    # A shaped buffer, since the reader would otherwise want numpy for a picture.
    dots = memoryview(image.convert("L").tobytes()).cast("B", (image.height, image.width))
    qr_only = zxingcpp.BarcodeFormat.QRCode
    found = zxingcpp.read_barcodes(
        dots,
        formats=qr_only,  # type: ignore[arg-type]  # the reader makes a set of one format by itself
        try_rotate=False,
        try_invert=False,
        try_downscale=False,
    )
    if [symbol.bytes for symbol in found] != [code.encode("ascii")]:
        raise LabelFault(
            "decode-back",
            "The finished label could not be read back as what it should say, so it was not printed. "
            "Check the label template.",
        )


def draw_mark(draw: ImageDraw.ImageDraw, mark: Mark) -> None:
    """Put one mark of a label or a sheet into a 1-bit image, in whole dots."""
    match mark:
        case TextMark():
            if mark.bar is not None:
                _fill(draw, mark.bar)
            ink = BLACK if mark.bar is None else WHITE
            corner = (mark.x + mark.line.left, mark.baseline + mark.line.top)
            draw.bitmap(corner, inked(mark.line), fill=ink)
        case CodeMark():
            _draw_code(draw, mark)
        case FillMark():
            for part in mark.parts:
                _fill(draw, part)
        case ArrowMark():
            left, top, right, bottom = mark.bounds
            draw.polygon([(left, top), (right - 1, top), ((left + right - 1) // 2, bottom - 1)], fill=BLACK)


def _draw_code(draw: ImageDraw.ImageDraw, mark: CodeMark) -> None:
    """One dot a module, then each made a square of whole dots: no smoothing, and quicker than square by square."""
    left, top, right, _ = mark.square
    count = len(mark.modules)
    dots = (right - left) // (count + 2 * QUIET_MODULES)
    symbol = Image.frombytes("L", (count, count), bytes(255 * dark for row in mark.modules for dark in row))
    symbol = symbol.convert("1").resize((count * dots, count * dots), Image.Resampling.NEAREST)
    draw.bitmap((left + QUIET_MODULES * dots, top + QUIET_MODULES * dots), symbol, fill=BLACK)


def _fill(draw: ImageDraw.ImageDraw, bounds: Rectangle) -> None:
    left, top, right, bottom = bounds
    draw.rectangle((left, top, right - 1, bottom - 1), fill=BLACK)
