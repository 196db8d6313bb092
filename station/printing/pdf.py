"""A label as PDF, one to one: every dot of the raster comes out as one dot at the printer's resolution.

Three things spoil that if left alone, each found by comparing pixels: Qt stores pictures as JPEG unless told to be
lossless; a renderer grows a picture that ends exactly on a dot by one row and column; and a page rounded to the
nearest point can cut the last row.
"""

from math import ceil

from PIL import Image
from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF, QRectF, QSizeF
from PySide6.QtGui import QGuiApplication, QImage, QPageLayout, QPageSize, QPainter, QPdfWriter

POINTS_PER_INCH = 72
SHRINK_DOTS = 0.01


def pdf_bytes(image: Image.Image, dpi: int) -> bytes:
    """The PDF file of a 1-bit raster at `dpi` dots per inch: one page, no margins.

    Made in memory, so that a full disk shows when the file is written and not as a short file. RuntimeError
    without a QGuiApplication or if Qt cannot write PDF.
    """
    if QGuiApplication.instance() is None:
        raise RuntimeError("Writing PDF needs a QGuiApplication; make one first.")
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    _paint(_writer(buffer, image.width, image.height, dpi), image)
    buffer.close()
    return bytes(data.data())


def _writer(buffer: QBuffer, width: int, height: int, dpi: int) -> QPdfWriter:
    writer = QPdfWriter(buffer)
    writer.setResolution(dpi)
    points = QSizeF(ceil(width * POINTS_PER_INCH / dpi), ceil(height * POINTS_PER_INCH / dpi))
    exact = QPageSize.SizeMatchPolicy.ExactMatch
    writer.setPageSize(QPageSize(points, QPageSize.Unit.Point, "label", exact))
    # A wide page is not a turned page: orientation stays portrait whatever the proportions.
    writer.setPageOrientation(QPageLayout.Orientation.Portrait)
    writer.setPageMargins(QMarginsF(0, 0, 0, 0), QPageLayout.Unit.Point)
    return writer


def _paint(writer: QPdfWriter, image: Image.Image) -> None:
    bytes_per_line = (image.width + 7) // 8
    picture = QImage(image.tobytes(), image.width, image.height, bytes_per_line, QImage.Format.Format_Mono)
    picture.setColorTable([0xFF000000, 0xFFFFFFFF])
    painter = QPainter()
    if not painter.begin(writer):
        raise RuntimeError("Qt could not begin the PDF page of a label.")
    painter.setRenderHint(QPainter.RenderHint.LosslessImageRendering)
    target = QRectF(0, 0, image.width - SHRINK_DOTS, image.height - SHRINK_DOTS)
    painter.drawImage(target, picture, QRectF(0, 0, image.width, image.height))
    painter.end()
