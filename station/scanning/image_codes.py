"""Codes in a picture: a photo from a file, or one frame of a camera. QR and Data Matrix, as a scanner would send them.

A picture is tried as it is, and then brightened, freed of speckles and enlarged; what any of them gives counts once.
Both kinds of code correct and check themselves, so a picture too bad to read gives nothing rather than a wrong text.
"""

import warnings
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import zxingcpp
from PIL import Image, ImageFilter, ImageOps, UnidentifiedImageError

_ENLARGED_TO = 1600
"""Small pictures are enlarged to about this many pixels on their longer side; larger ones are not."""

_SPECKLE = 3
_FORMATS = zxingcpp.barcode_formats_from_str("QRCode,DataMatrix")
_NAMES = {"]Q": "QR code", "]d": "Data Matrix code"}
"""By the beginning of the symbology identifier (ISO/IEC 15424)."""


class NoPicture(Exception):
    """The file can't be read as a picture; the text is a sentence that says why and how to mend it."""


@dataclass(frozen=True, slots=True)
class SeenCode:
    """One code of a picture. `scan` is what a scanner with its symbology identifier switched on would send."""

    scan: str

    @property
    def kind(self) -> str:
        """What kind of code it is, for people."""
        return _NAMES.get(self.scan[:2], "code")

    @property
    def text(self) -> str:
        """The data alone."""
        return self.scan.removeprefix(self.identifier)

    @property
    def identifier(self) -> str:
        """The symbology identifier, such as "]Q1"."""
        return self.scan[:3]


def picture_in(file: Path) -> Image.Image:
    """The picture in a file as levels of grey. NoPicture if there is none to be read."""
    try:
        with warnings.catch_warnings():
            # Pillow only warns of a picture that would fill the memory
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(file) as opened:
                return _grey(opened)
    except UnidentifiedImageError:
        raise NoPicture(f"{file} is no picture this program can read. Save it as PNG or JPEG.") from None
    except (Image.DecompressionBombWarning, Image.DecompressionBombError):
        raise NoPicture(f"{file} is too large. Crop it to the code, or save it smaller.") from None
    except OSError as fault:
        why = fault.strerror or "the picture is cut short or damaged"
        raise NoPicture(f"{file} can't be read: {why}. Check the name, or take the photo again.") from None
    except (SyntaxError, ValueError, EOFError):
        raise NoPicture(f"{file} is a damaged picture. Take the photo again.") from None


def _grey(opened: Image.Image) -> Image.Image:
    """What is transparent counts as white paper."""
    if opened.has_transparency_data:
        paper = Image.new("RGBA", opened.size, "white")
        return Image.alpha_composite(paper, opened.convert("RGBA")).convert("L")
    if opened.mode.startswith("I;16") or opened.mode == "I":
        return opened.convert("I").point(lambda level: level / 256).convert("L")
    return opened.convert("L")


def codes_in(picture: Image.Image) -> tuple[SeenCode, ...]:
    """Every code of a picture, each text once, from top to bottom."""
    found: dict[SeenCode, tuple[float, float]] = {}
    for form, scale in _forms(picture.convert("L")):
        for code, (top, left) in _read(form):
            found.setdefault(code, (top / scale, left / scale))
    return tuple(sorted(found, key=lambda code: found[code]))


def codes_in_frame(grey: bytes, width: int, height: int, bytes_per_line: int | None = None) -> tuple[SeenCode, ...]:
    """Every code of one camera frame of 8-bit grey levels, row by row. ValueError if the figures do not fit.

    Tried as it is only: the next frame is better than a longer look at this one.
    """
    stride = width if bytes_per_line is None else bytes_per_line
    if width < 1 or height < 1 or stride < width or len(grey) < stride * (height - 1) + width:
        raise ValueError(f"a frame of {width} x {height} pixels, {stride} bytes a line, does not fit {len(grey)} bytes")
    picture = Image.frombytes("L", (width, height), grey, "raw", "L", stride)
    seen = sorted(_read(picture), key=lambda item: item[1])
    return tuple(dict.fromkeys(code for code, _ in seen))


def _forms(grey: Image.Image) -> Iterator[tuple[Image.Image, float]]:
    """The picture in each form that is tried, and how much larger it is."""
    yield grey, 1.0
    lit = ImageOps.autocontrast(grey, cutoff=1)
    yield lit, 1.0
    yield lit.filter(ImageFilter.MedianFilter(_SPECKLE)), 1.0
    longer = max(grey.size)
    if longer * 2 <= _ENLARGED_TO:
        scale = _ENLARGED_TO // longer
        size = (grey.width * scale, grey.height * scale)
        large = lit.resize(size, Image.Resampling.BICUBIC)
        yield large, float(scale)
        yield large.filter(ImageFilter.GaussianBlur(scale)), float(scale)


def _read(picture: Image.Image) -> Iterator[tuple[SeenCode, tuple[float, float]]]:
    """Codes with the place of their first corner, top and left, in pixels."""
    # A shaped buffer, since the reader would otherwise want numpy for a picture.
    pixels = memoryview(picture.tobytes()).cast("B", shape=[picture.height, picture.width])
    for found in zxingcpp.read_barcodes(pixels, formats=_FORMATS, text_mode=zxingcpp.TextMode.Plain):
        corner = found.position.top_left
        yield SeenCode(f"{found.symbology_identifier}{found.text}"), (corner.y, corner.x)
