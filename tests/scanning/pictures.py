"""Codes drawn as a camera might see them."""

import random

import zxingcpp
from PIL import Image

from station.labels.symbol import modules_of

WHITE = 255


def qr(text: str, dots: int = 6) -> Image.Image:
    """A QR code with its quiet zone, so many pixels a module."""
    rows = modules_of(text)
    side = len(rows) + 8
    image = Image.new("L", (side, side), WHITE)
    for y, row in enumerate(rows):
        for x, dark in enumerate(row):
            image.putpixel((x + 4, y + 4), 0 if dark else WHITE)
    return image.resize((side * dots, side * dots), Image.Resampling.NEAREST)


def data_matrix(text: str, dots: int = 6) -> Image.Image:
    """A Data Matrix code with its quiet zone."""
    drawn = zxingcpp.create_barcode(text, zxingcpp.BarcodeFormat.DataMatrix).to_image(scale=dots)
    # the writer gives a buffer and no picture
    view = memoryview(drawn)  # type: ignore[arg-type]
    height, width = view.shape[:2] if view.shape is not None else (0, 0)
    image = Image.frombytes("L", (width, height), view.tobytes())
    around = Image.new("L", (width + 8 * dots, height + 8 * dots), WHITE)
    around.paste(image, (4 * dots, 4 * dots))
    return around


def turned(image: Image.Image, degrees: float) -> Image.Image:
    """Turned on white paper."""
    return image.rotate(degrees, Image.Resampling.BICUBIC, expand=True, fillcolor=WHITE)


def dark(image: Image.Image, darkest: int, lightest: int) -> Image.Image:
    """Taken in the dark: black is `darkest`, paper `lightest`, of 255."""
    return image.point(lambda level: darkest + (lightest - darkest) * level // 255)


def noisy(image: Image.Image, share: float) -> Image.Image:
    """This share of all pixels is black or white by chance; always the same for the same picture."""
    chance, found = random.Random(20), image.copy()
    for y in range(found.height):
        for x in range(found.width):
            if chance.random() < share:
                found.putpixel((x, y), chance.choice((0, WHITE)))
    return found


def side_by_side(*images: Image.Image) -> Image.Image:
    """All on one sheet of paper, from left to right, each a little lower than the one before."""
    sheet = Image.new("L", (sum(image.width for image in images), max(image.height for image in images) + 200), WHITE)
    left = 0
    for number, image in enumerate(images):
        sheet.paste(image, (left, 20 * number))
        left += image.width
    return sheet
