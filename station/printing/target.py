"""A print target that needs no printer: each label as PNG and PDF in a folder."""

import errno
import os
from dataclasses import dataclass
from pathlib import Path

from PIL import Image

from station.labels.card_label import Stock, card_label
from station.labels.content import LabelContent
from station.labels.faults import LabelFault
from station.labels.identity import identity_template
from station.labels.layout import Template
from station.labels.raster import render
from station.labels.sheet_codes import SET_UP, SheetCode
from station.printing.pdf import pdf_bytes
from station.printing.png import png_bytes

_FULL = frozenset({errno.ENOSPC, errno.EFBIG, getattr(errno, "EDQUOT", errno.ENOSPC)})


@dataclass(frozen=True, slots=True)
class FolderTarget:
    """Writes labels into `folder`: `K7-311-identity.png` and `.pdf`, later `K7-311-print-1` and so on.

    `template` is the site's time label; identity labels go on the same stock. Needs a QGuiApplication for the PDF.
    """

    folder: Path
    template: Template
    dpi: int

    @property
    def name(self) -> str:
        """How people know it."""
        return f"folder {self.folder}"

    def send(self, content: LabelContent) -> str:
        """Write both files, or neither; returns the path of the PNG.

        LabelFault "disk-full" or "folder" if not written, "layout" or "decode-back" if the label is bad.
        """
        template = self.template if content.has_times else identity_template(self.template)
        image = render(template, content, self.dpi)
        stem = f"{content.container}-{f'print-{content.print_number}' if content.has_times else 'identity'}"
        return self._write(stem, image)

    def send_card(self, code: SheetCode) -> str:
        """Write one card, badge or tag on a label of its own; returns the path of the PNG. LabelFault as of `send`."""
        image = card_label(code, Stock(self.template.width_mm, self.template.height_mm, self.dpi))
        return self._write(f"{code.sort}-{code.text.rstrip('.')}" if code is not SET_UP else code.sort, image)

    def _write(self, stem: str, image: Image.Image) -> str:
        files = {".png": png_bytes(image, self.dpi), ".pdf": pdf_bytes(image, self.dpi)}
        parts = {self.folder / f"{stem}{ending}": data for ending, data in files.items()}
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            _write_all(parts)
        except OSError as trouble:
            raise self._fault(trouble) from trouble
        return str(next(iter(parts)))

    def _fault(self, trouble: OSError) -> LabelFault:
        if trouble.errno in _FULL:
            return LabelFault(
                "disk-full",
                f"The label was not written: the disk of {self.folder} is full. Free space, then print again.",
            )
        return LabelFault(
            "folder",
            f"The label was not written: {self.folder} cannot be written to ({trouble.strerror}). "
            "Choose another folder or ask for write permission.",
        )


def _write_all(files: dict[Path, bytes]) -> None:
    """Write under passing names first, so that a file with its final name is always whole."""
    passing = {path: path.with_name(f".{path.name}.part") for path in files}
    try:
        for path, data in files.items():
            _write_through(passing[path], data)
        for path, part in passing.items():
            part.replace(path)
    finally:
        for part in passing.values():
            _forget(part)


def _write_through(path: Path, data: bytes) -> None:
    with path.open("wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _forget(part: Path) -> None:
    # Whatever stopped the writing is already on its way to the person; a leftover must not hide it.
    try:
        part.unlink(missing_ok=True)
    except OSError:
        return
