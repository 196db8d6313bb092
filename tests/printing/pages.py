"""Pages of PDF as poppler draws them, compared dot by dot."""

import subprocess
from pathlib import Path

from PIL import Image, ImageChops


def rasterised(pdf: bytes, dpi: int, folder: Path) -> Image.Image:
    """The page as poppler draws it, in greys; exactly one page, or the test ends here."""
    path = folder / "label.pdf"
    path.write_bytes(pdf)
    information = tool("pdfinfo", path)
    assert "Pages:           1\n" in information
    subprocess.run(["pdftoppm", "-r", str(dpi), "-gray", "-singlefile", path, folder / "page"], check=True)
    return Image.open(folder / "page.pgm").copy()


def tool(*command: str | Path) -> str:
    return subprocess.run(list(command), check=True, capture_output=True, text=True).stdout


def assert_same_dots(page: Image.Image, image: Image.Image) -> None:
    inside = page.crop((0, 0, image.width, image.height))
    assert ImageChops.difference(inside, image.convert("L")).getbbox() is None
    blank = page.copy()
    blank.paste(255, (0, 0, image.width, image.height))
    assert blank.getextrema() == (255, 255)
