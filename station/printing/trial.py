"""A label drawn and read back for trial: a library that changed is noticed before somebody stands at the door."""

import logging

from PIL import Image

from station.care.words import Alloy, Limit
from station.labels.content import of_filled, widest_content
from station.labels.faults import LabelFault
from station.labels.layout import Template
from station.labels.raster import render

LOG = logging.getLogger(__name__)


def trial(template: Template, dpi: int) -> Image.Image:
    """A label with the longest usual texts, drawn and read back. LabelFault, or OSError without its typeface."""
    content = widest_content(
        paste="SN-4",
        kind="jar 500 g",
        alloy=Alloy.SN_PB,
        lot="L12345678",
        who="P12",
        tip_down=True,
        zone_name="CEST",
    )
    render(template, of_filled(content, Limit.USED_PASTE, "HW-201-500"), dpi)
    return render(template, content, dpi)


def trial_trouble(template: Template, dpi: int) -> str:
    """Why this PC can't make labels now, in a sentence; "" where it can."""
    try:
        trial(template, dpi)
    except (LabelFault, OSError) as trouble:
        return f"No label can be made: {trouble}"
    except Exception as fault:  # whatever a changed library does instead of drawing
        LOG.exception("trial label")
        told = f"{type(fault).__name__}: {fault}"
        return f"No label can be made, a library of the program has changed ({told}). Install the program again."
    return ""
