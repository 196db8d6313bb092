"""A label as PNG: one bit per dot, with its resolution, so that any program can print it at its true size."""

from io import BytesIO

from PIL import Image


def png_bytes(image: Image.Image, dpi: int) -> bytes:
    """The PNG file of a 1-bit raster at `dpi` dots per inch; ValueError for a picture with greys or colours."""
    if image.mode != "1":
        raise ValueError(f"A label raster has mode 1, not {image.mode}.")
    buffer = BytesIO()
    image.save(buffer, "PNG", dpi=(dpi, dpi), optimize=True)
    return buffer.getvalue()
