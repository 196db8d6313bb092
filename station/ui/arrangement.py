"""Where the parts of a place's screen stand: plain arithmetic over heights the parts ask for."""

from dataclasses import dataclass

SIDE_SHARE = 0.335
NARROW_SIDE_SHARE = 0.36
NARROW_ASPECT = 1.5


@dataclass(frozen=True)
class Box:
    """A place on the screen in whole pixels."""

    left: int
    top: int
    width: int
    height: int

    @property
    def right(self) -> int:
        """First pixel to the right of the box."""
        return self.left + self.width

    @property
    def bottom(self) -> int:
        """First pixel below the box."""
        return self.top + self.height


@dataclass(frozen=True)
class Bands:
    """The screen from top to bottom: bar, banner, strips, body, bottom line."""

    bar: Box
    banner: Box
    strips: Box
    body: Box
    bottom: Box


def bands(width: int, height: int, bar: float, banner: float, strips: float, bottom: float, gap: float) -> Bands:
    """Stack the bands, each as high as it asks for in pixels, and give the rest to the body."""
    down = round(bar)
    banner_box = Box(0, down, width, round(banner))
    down = banner_box.bottom
    edge = round(gap)
    strip_top = down + (edge if strips else 0)
    strip_box = Box(edge, strip_top, width - 2 * edge, round(strips))
    down = (strip_box.bottom if strips else down) + edge
    foot = height - round(bottom)
    return Bands(
        bar=Box(0, 0, width, round(bar)),
        banner=banner_box,
        strips=strip_box,
        body=Box(edge, down, width - 2 * edge, max(1, foot - edge - down)),
        bottom=Box(0, foot, width, height - foot),
    )


def split_side(body: Box, gap: float, *, narrow: bool) -> tuple[Box, Box]:
    """The verdict's side on the left and the board's on the right."""
    wide = round(body.width * (NARROW_SIDE_SHARE if narrow else SIDE_SHARE))
    left = body.left + wide + round(gap)
    return Box(body.left, body.top, wide, body.height), Box(left, body.top, body.right - left, body.height)


def split_height(area: Box, upper: float, lower: float, lower_least: float, gap: float) -> tuple[Box, Box]:
    """The board above and what stands below it, pixels.

    The board gets what it wants as long as the part below keeps its least height; what is left over goes
    to the part below.
    """
    if lower <= 0:
        return area, Box(area.left, area.bottom, area.width, 0)
    high = round(min(upper, area.height - gap - lower_least))
    top = area.top + high + round(gap)
    return Box(area.left, area.top, area.width, high), Box(area.left, top, area.width, max(0, area.bottom - top))


def split_width(area: Box, share: float, gap: float) -> tuple[Box, Box]:
    """Two parts side by side; the left one takes `share` of the width."""
    wide = round((area.width - gap) * share)
    left = area.left + wide + round(gap)
    return Box(area.left, area.top, wide, area.height), Box(left, area.top, area.right - left, area.height)
