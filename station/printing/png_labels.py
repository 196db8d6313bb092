"""Labels as PNG files in a folder, at their true size: for a command line, where no window is and none is needed."""

from dataclasses import dataclass
from pathlib import Path

from station.labels.content import LabelContent
from station.labels.identity import identity_template
from station.labels.layout import Template
from station.labels.raster import render
from station.printing.png import png_bytes
from station.printing.sheets.writing import write_whole


@dataclass(frozen=True, slots=True)
class PngLabels:
    """Writes `K7-311-identity.png` into `folder`. `template` is the site's time label; `dpi` dots per inch."""

    folder: Path
    template: Template
    dpi: int

    @property
    def name(self) -> str:
        """How people know it."""
        return f"folder {self.folder}"

    def send(self, content: LabelContent) -> str:
        """Write one label, whole or not at all; returns its path. LabelFault where it can't be made or written."""
        template = self.template if content.has_times else identity_template(self.template)
        kind = f"print-{content.print_number}" if content.has_times else "identity"
        image = render(template, content, self.dpi)
        return str(write_whole(self.folder / f"{content.container}-{kind}.png", png_bytes(image, self.dpi)))
