"""A PDF file (ISO 32000-1) of 1-bit pages, dot for dot, made without a display or a print system.

A renderer grows a picture that ends exactly on a dot by one row and column, so each is set a hundredth of a dot
smaller than it is; that is far under what moves any dot at the printer's resolution.
"""

import zlib
from collections.abc import Iterable, Iterator, Sequence
from datetime import UTC, datetime

from PIL import Image

from station.labels.sheet_paper import Paper

POINTS_PER_INCH = 72
POINTS_PER_MM = POINTS_PER_INCH / 25.4
SHRINK_DOTS = 0.01
CATALOG, PAGES, INFORMATION, FIRST_PAGE = 1, 2, 3, 4
OBJECTS_A_PAGE = 3


def pdf_file(images: Sequence[Image.Image], paper: Paper, dpi: int, title: str, made_at: datetime) -> bytes:
    """The file: one page of `paper` for each image, its top left corner in the page's; `made_at` is aware."""
    kids = " ".join(f"{FIRST_PAGE + OBJECTS_A_PAGE * number} 0 R" for number in range(len(images)))
    objects = [
        f"<< /Type /Catalog /Pages {PAGES} 0 R >>".encode(),
        f"<< /Type /Pages /Kids [{kids}] /Count {len(images)} >>".encode(),
        f"<< /Title <{_hex(title)}> /CreationDate (D:{made_at.astimezone(UTC):%Y%m%d%H%M%S}Z) >>".encode(),
    ]
    for number, image in enumerate(images):
        objects += _page(image, paper, dpi, FIRST_PAGE + OBJECTS_A_PAGE * number)
    return b"".join(_whole(objects))


def _page(image: Image.Image, paper: Paper, dpi: int, number: int) -> Iterator[bytes]:
    """Three objects: the page, what it shows, and the picture."""
    width, height = paper.width_mm * POINTS_PER_MM, paper.height_mm * POINTS_PER_MM
    across, down = ((side - SHRINK_DOTS) * POINTS_PER_INCH / dpi for side in image.size)
    yield (
        f"<< /Type /Page /Parent {PAGES} 0 R /MediaBox [0 0 {width:.4f} {height:.4f}] /Contents {number + 1} 0 R "
        f"/Resources << /XObject << /Sheet {number + 2} 0 R >> >> >>"
    ).encode()
    yield _stream("", f"q {across:.6f} 0 0 {down:.6f} 0 {height - down:.6f} cm /Sheet Do Q".encode())
    look = f"/Type /XObject /Subtype /Image /Width {image.width} /Height {image.height} /ColorSpace /DeviceGray"
    yield _stream(f"{look} /BitsPerComponent 1 /Filter /FlateDecode", zlib.compress(image.tobytes()))


def _stream(words: str, data: bytes) -> bytes:
    return f"<< {words} /Length {len(data)} >>\nstream\n".encode() + data + b"\nendstream"


def _whole(objects: Iterable[bytes]) -> Iterator[bytes]:
    """The objects with their numbers, and the table of where each begins."""
    yield (head := b"%PDF-1.4\n%\xe2\xe3\xcf\xd3\n")
    starts, at = [], len(head)
    for number, content in enumerate(objects, 1):
        starts.append(at)
        yield (piece := f"{number} 0 obj\n".encode() + content + b"\nendobj\n")
        at += len(piece)
    rows = "".join(f"{start:010d} 00000 n \n" for start in starts)
    yield f"xref\n0 {len(starts) + 1}\n0000000000 65535 f \n{rows}".encode()
    yield f"trailer\n<< /Size {len(starts) + 1} /Root {CATALOG} 0 R /Info {INFORMATION} 0 R >>\n".encode()
    yield f"startxref\n{at}\n%%EOF\n".encode()


def _hex(text: str) -> str:
    """A text string as UTF-16 with its mark, which every character of a name survives."""
    return (b"\xfe\xff" + text.encode("utf-16-be")).hex()
