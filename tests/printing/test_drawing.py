"""A label on a printer of Qt, as the print helper draws it: into a PDF, and through a real print service."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtPrintSupport import QPrinter

from station.labels.builtin import builtin_templates
from station.labels.raster import read_back, render
from station.labels.resources import resource_path
from station.printing.drawing import NotDrawn, draw
from station.printing.png import png_bytes
from tests.labels.samples import content
from tests.printing.pages import assert_same_dots, rasterised
from tests.printing.service import DEADLINE_S, Printer, Service

TEMPLATES = builtin_templates()


def into_file(path: Path) -> QPrinter:
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(path))
    return printer


def helper(service: Service, what: str, *more: str, data: bytes = b"") -> dict[str, object]:
    """What the print helper answers."""
    environment = {**os.environ, **service.environment, "QT_QPA_PLATFORM": "offscreen"}
    done = subprocess.run(
        [sys.executable, "-m", "station.printing.print_helper", what, "labels", *more],
        input=data,
        env=environment,
        cwd=resource_path().parent,
        capture_output=True,
        check=True,
        timeout=DEADLINE_S,
    )
    answer: dict[str, object] = json.loads(done.stdout)
    return answer


@pytest.mark.parametrize(("name", "dpi"), [("60x40", 203), ("50x25", 300), ("60x40", 600)])
def test_each_dot_of_the_label_is_one_of_the_printer(tmp_path: Path, name: str, dpi: int) -> None:
    """BR-18, BR-19, BR-22, BR-24, BR-25."""
    image = render(TEMPLATES[name], content(), dpi)
    draw(into_file(tmp_path / "out.pdf"), png_bytes(image, dpi), dpi, "a label")
    page = rasterised((tmp_path / "out.pdf").read_bytes(), dpi, tmp_path)
    assert_same_dots(page, image)
    read_back(page.convert("1"), content().code)


def test_half_a_picture_is_no_label(tmp_path: Path) -> None:
    with pytest.raises(NotDrawn, match="did not reach the print helper whole"):
        draw(into_file(tmp_path / "out.pdf"), b"\x89PNG", 203, "a label")
    assert not (tmp_path / "out.pdf").exists()


@pytest.mark.qt_log_ignore("QPainter::begin")
def test_a_printer_that_does_not_begin_is_told(tmp_path: Path) -> None:
    png = png_bytes(render(TEMPLATES["60x40"], content(), 203), 203)
    with pytest.raises(NotDrawn, match="did not begin the page"):
        draw(into_file(tmp_path / "no folder" / "out.pdf"), png, 203, "a label")


class Coarse(QPrinter):
    """A printer that keeps its own resolution, 300 across and 450 down, whatever it is told."""

    def logicalDpiX(self) -> int:  # noqa: N802  Qt's name
        return 300

    def logicalDpiY(self) -> int:  # noqa: N802  Qt's name
        return 450


def test_dots_that_do_not_divide_are_refused_rather_than_smeared(tmp_path: Path) -> None:
    """BR-18, BR-23."""
    printer = Coarse(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "out.pdf"))
    png = png_bytes(render(TEMPLATES["60x40"], content(), 300), 300)
    with pytest.raises(NotDrawn, match="prints 450 dots per inch, the label is drawn at 300"):
        draw(printer, png, 300, "a label")


def test_the_helper_prints_one_label_and_ends(service: Service, label_printer: Printer, tmp_path: Path) -> None:
    """BR-18, BR-25: by Qt and a real queue, the way it goes on Windows."""
    service.add_queue("labels", label_printer.port)
    image = render(TEMPLATES["60x40"], content(), 203)
    assert helper(service, "state") == {"found": True, "status": 0, "attributes": 0}
    told = helper(service, "print", "203", "K7-311-print-1", data=png_bytes(image, 203))
    assert told == {"job": None}  # job numbers are known on Windows only
    page = rasterised(label_printer.label(), 203, tmp_path)
    assert_same_dots(page, image)


def test_the_helper_says_what_is_not_there(service: Service, label_printer: Printer) -> None:
    service.add_queue("others", label_printer.port)
    assert helper(service, "state") == {"found": False}
    assert helper(service, "jobs") == {"jobs": []}
    assert helper(service, "cancel", "7") == {"cancelled": False}


def test_the_helper_tells_sizes_and_resolutions(service: Service, label_printer: Printer) -> None:
    service.add_queue("labels", label_printer.port)
    told = helper(service, "media")
    assert set(told) == {"sizes", "custom", "resolutions"}
