"""A label on a printer of Qt: one dot of the label for one dot of the printer, or a whole number of them."""

from math import ceil

from PySide6.QtCore import QMarginsF, QRectF, QSizeF
from PySide6.QtGui import QImage, QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrinter

from station.printing.pdf import POINTS_PER_INCH, SHRINK_DOTS


class NotDrawn(Exception):
    """The label was not given to the printer; the sentence says why and how to mend it."""


def draw(printer: QPrinter, png: bytes, dpi: int, title: str) -> None:
    """Print a picture of `dpi` dots per inch as one page of its own size. NotDrawn where the printer can't."""
    image = QImage.fromData(png)
    if image.isNull():
        raise NotDrawn("The label did not reach the print helper whole. Print it again.")
    _set_up(printer, image, dpi, title)
    painter = QPainter()
    if not painter.begin(printer):
        raise NotDrawn("The printer did not begin the page. Look whether it is switched on and its queue started.")
    try:
        across, down = _dots(printer.logicalDpiX(), dpi), _dots(printer.logicalDpiY(), dpi)
        painter.setRenderHint(QPainter.RenderHint.LosslessImageRendering)
        target = QRectF(0, 0, image.width() * across - SHRINK_DOTS, image.height() * down - SHRINK_DOTS)
        painter.drawImage(target, image, QRectF(image.rect()))
    except NotDrawn:
        printer.abort()
        raise
    finally:
        painter.end()


def _set_up(printer: QPrinter, image: QImage, dpi: int, title: str) -> None:
    printer.setDocName(title)
    printer.setCopyCount(1)
    printer.setResolution(dpi)
    points = QSizeF(ceil(image.width() * POINTS_PER_INCH / dpi), ceil(image.height() * POINTS_PER_INCH / dpi))
    printer.setPageSize(QPageSize(points, QPageSize.Unit.Point, "label", QPageSize.SizeMatchPolicy.ExactMatch))
    # A wide page is not a turned page: orientation stays portrait whatever the proportions.
    printer.setPageOrientation(QPageLayout.Orientation.Portrait)
    printer.setFullPage(True)
    printer.setPageMargins(QMarginsF(0, 0, 0, 0), QPageLayout.Unit.Point)


def _dots(printer_dpi: int, dpi: int) -> int:
    """How many of the printer's dots are one of ours; a broken number would make modules of unequal width."""
    if printer_dpi % dpi:
        raise NotDrawn(
            f"The printer prints {printer_dpi} dots per inch, the label is drawn at {dpi}. "
            "Set dpi in site.toml, [label], to that of the printer."
        )
    return printer_dpi // dpi
