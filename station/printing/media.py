"""Whether a queue's label size and resolution go with ours: read from `lpoptions -l`, warned of before printing.

Only what is written plainly in a name counts; a size nobody can read from its name is neither right nor wrong.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

MM_PER_POINT = 25.4 / 72
# labels on a roll are cut to about this
TOLERANCE_MM = 1.0
_POINTS = re.compile(r"w([0-9]+(?:\.[0-9]+)?)h([0-9]+(?:\.[0-9]+)?)")
_METRIC = re.compile(r"(?:.*_)?([0-9]+(?:\.[0-9]+)?)x([0-9]+(?:\.[0-9]+)?)mm")
_DPI = re.compile(r"([0-9]+)(?:x([0-9]+))?dpi", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Media:
    """A label: millimetres across and down, and dots per inch."""

    width_mm: float
    height_mm: float
    dpi: int


@dataclass(frozen=True, slots=True)
class Choices:
    """What a queue offers under one heading; `default` is "" where none is marked."""

    default: str = ""
    names: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class QueueMedia:
    """The sizes and resolutions of a queue, as it names them."""

    sizes: Choices
    resolutions: Choices


def media_of(told: str) -> QueueMedia:
    """Read what `lpoptions -p QUEUE -l` wrote. A queue that hands data on as it is tells nothing."""
    found = {}
    for line in told.splitlines():
        heading, _, rest = line.partition(":")
        names = rest.split()
        default = next((name[1:] for name in names if name.startswith("*")), "")
        found[heading.split("/")[0]] = Choices(default, tuple(name.removeprefix("*") for name in names))
    return QueueMedia(found.get("PageSize", Choices()), found.get("Resolution", Choices()))


def size_mm(name: str) -> tuple[float, float] | None:
    """Millimetres across and down, from a name such as w170h113 (points) or 60x40mm; None for other names."""
    if (points := _POINTS.fullmatch(name)) is not None:
        return float(points[1]) * MM_PER_POINT, float(points[2]) * MM_PER_POINT
    if (metric := _METRIC.fullmatch(name)) is not None:
        return float(metric[1]), float(metric[2])
    return None


def options_for(media: Media, queue: QueueMedia) -> Iterator[str]:
    """The options that choose our size and resolution on this queue, where it offers them."""
    size = next((name for name in queue.sizes.names if _fits(name, media)), None)
    if size is not None:
        yield f"PageSize={size}"
    elif _takes_custom(queue):
        yield f"PageSize=Custom.{media.width_mm:g}x{media.height_mm:g}mm"
    resolution = next((name for name in queue.resolutions.names if _dpi(name) == (media.dpi, media.dpi)), None)
    if resolution is not None:
        yield f"Resolution={resolution}"


def warnings_for(queue_name: str, media: Media, queue: QueueMedia) -> tuple[str, ...]:
    """What clearly does not match, a sentence each, ending in how to mend it."""
    return (*_size_warnings(queue_name, media, queue), *_dpi_warnings(queue_name, media, queue))


def _size_warnings(queue_name: str, media: Media, queue: QueueMedia) -> Iterator[str]:
    sizes = [size_mm(name) for name in queue.sizes.names]
    if not sizes or None in sizes or _takes_custom(queue) or any(_fits(name, media) for name in queue.sizes.names):
        return
    ours = f"{media.width_mm:g} x {media.height_mm:g} mm"
    default = size_mm(queue.sizes.default)
    if any(_fits(name, _turned(media)) for name in queue.sizes.names):
        yield f"Printer queue {queue_name} has our label of {ours} turned only. Add the size {ours} to the queue."
        return
    theirs = f" is set to {default[0]:.0f} x {default[1]:.0f} mm and" if default is not None else ""
    yield (
        f"Printer queue {queue_name}{theirs} has no size for our label of {ours}. "
        "Add that size to the queue, or choose another template in site.toml."
    )


def _dpi_warnings(queue_name: str, media: Media, queue: QueueMedia) -> Iterator[str]:
    known = [_dpi(name) for name in queue.resolutions.names]
    if not known or None in known or (media.dpi, media.dpi) in known:
        return
    offered = ", ".join(f"{pair[0]} x {pair[1]}" for pair in known if pair is not None)
    yield (
        f"Printer queue {queue_name} prints at {offered} dots per inch, the label is drawn at {media.dpi}. "
        "Set dpi in site.toml, [label], to that of the printer."
    )


def _fits(name: str, media: Media) -> bool:
    size = size_mm(name)
    if size is None:
        return False
    return abs(size[0] - media.width_mm) <= TOLERANCE_MM and abs(size[1] - media.height_mm) <= TOLERANCE_MM


def _turned(media: Media) -> Media:
    return Media(media.height_mm, media.width_mm, media.dpi)


def _takes_custom(queue: QueueMedia) -> bool:
    return any(name.startswith("Custom.") for name in queue.sizes.names)


def _dpi(name: str) -> tuple[int, int] | None:
    found = _DPI.fullmatch(name)
    return (int(found[1]), int(found[2] or found[1])) if found else None
