"""Where everything of a label lands, in whole printer dots, and what does not fit.

Drawing and checking use the same plan, so a template that passes the check is drawn without a surprise.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from math import ceil
from typing import TypeAlias

from station.labels.content import LabelContent
from station.labels.faults import LabelFault
from station.labels.language import in_language, phrase, shorter
from station.labels.layout import ArrowItem, BoxItem, CodeItem, Item, Template, TextItem, is_drawn
from station.labels.lettering import Line, letters_missing, set_line
from station.labels.symbol import modules_of, side_dots

MARGIN_MM = 0.5
RESOLUTIONS = (203, 300, 600)
Rectangle: TypeAlias = tuple[int, int, int, int]  # left, top, right, bottom in dots; right and bottom excluded


@dataclass(frozen=True, slots=True)
class TextMark:
    """A line to draw with the pen at `x`, `baseline`; white on `bar` where there is one."""

    line: Line
    x: int
    baseline: int
    bar: Rectangle | None


@dataclass(frozen=True, slots=True)
class CodeMark:
    """A symbol to draw: its modules, and the square it takes with its quiet zone."""

    modules: list[list[bool]]
    square: Rectangle


@dataclass(frozen=True, slots=True)
class FillMark:
    """Rectangles to fill with black."""

    parts: tuple[Rectangle, ...]


@dataclass(frozen=True, slots=True)
class ArrowMark:
    """A triangle in `bounds` that points down."""

    bounds: Rectangle


Mark: TypeAlias = TextMark | CodeMark | FillMark | ArrowMark


@dataclass(frozen=True, slots=True)
class Plan:
    """A label in dots. `faults` are sentences; a plan with faults must not be printed."""

    width: int
    height: int
    marks: tuple[Mark, ...]
    faults: tuple[str, ...]


def check_template(
    template: Template, longest: Iterable[LabelContent], resolutions: Iterable[int] = RESOLUTIONS
) -> tuple[str, ...]:
    """Everything that would not fit with the longest contents a site can have, at each dots-per-inch figure."""
    contents = tuple(longest)
    found = [fault for dpi in resolutions for content in contents for fault in plan(template, content, dpi).faults]
    found += [fault for content in contents for fault in _letters_missing(template, content)]
    return tuple(dict.fromkeys(found))


def _letters_missing(template: Template, content: LabelContent) -> Iterator[str]:
    """Only of a check: at the door a label with an empty box in a lot number is better than no label."""
    values = in_language(content, template.language).values
    for item in template.items:
        if isinstance(item, TextItem) and is_drawn(item, values):
            text = item.filled(values, template.language)
            if letters := letters_missing(text, item.face):
                yield f"{text!r} has letters that the label's typeface lacks: {letters}. Write it without them."


def plan(template: Template, content: LabelContent, dpi: int) -> Plan:
    """Place every item of `template`. OSError if the bundled typeface is missing."""
    # Rounded down: a raster a hair taller than the label would feed a blank one after each print.
    width, height = int(template.width_mm * dpi / 25.4), int(template.height_mm * dpi / 25.4)
    faults: list[str] = []
    placed: list[tuple[Item, Mark]] = []
    said = in_language(content, template.language)
    placer = _Placer(said.code, said.values, template.language, dpi, faults)
    for item in template.items:
        mark = placer.place(item)
        if mark is not None:
            placed.append((item, mark))
    faults += _outside(placed, width, height, dpi)
    faults += _overlaps(placed)
    return Plan(width, height, tuple(mark for _, mark in placed), tuple(faults))


@dataclass(frozen=True, slots=True)
class _Placer:
    code_text: str
    values: Mapping[str, str]
    language: str
    dpi: int
    faults: list[str]

    def place(self, item: Item) -> Mark | None:
        if not is_drawn(item, self.values):
            return None
        match item:
            case TextItem():
                return self.text(item)
            case CodeItem():
                return self.code(item)
            case BoxItem():
                return self.box(item)
            case ArrowItem():
                return self.arrow(item)

    def dots(self, millimetres: float) -> int:
        return round(millimetres * self.dpi / 25.4)

    def bounds(self, x: float, y: float, width: float, height: float) -> Rectangle:
        return self.dots(x), self.dots(y), self.dots(x + width), self.dots(y + height)

    def text(self, item: TextItem) -> TextMark | None:
        text = item.filled(self.values, self.language)
        if not text.strip():
            return None
        capital = self.dots(item.cap_mm)
        left, top, right, baseline = self.bounds(item.x_mm, item.y_mm, item.width_mm, 0)
        baseline = top + capital
        pad = ceil(0.3 * capital) if item.inverted else 0
        bar = (left, top - pad, right, baseline + pad) if item.inverted else None
        line = self.fitted(item, text, right - left - 2 * pad)
        start = {"left": left + pad, "right": right - pad - line.width, "centre": (left + right - line.width) // 2}
        # A line set smaller in a bar is kept in the bar's middle; elsewhere it keeps its neighbours' baseline.
        lift = (capital - line.capital) // 2 if item.inverted else 0
        return TextMark(line, start[item.align] - line.left, baseline - lift, bar)

    def fitted(self, item: TextItem, text: str, width: int) -> Line:
        line = self.largest(item, text, width)
        while line.width > width and (brief := shorter(text, self.language)):
            text = brief
            line = self.largest(item, text, width)
        if line.width > width and item.instead:
            text = phrase(item.instead, self.language).format_map(self.values)
            line = self.largest(item, text, width)
        if line.width <= width:
            return line
        needed = line.width * 25.4 / self.dpi
        self.faults.append(
            f"{text!r} needs {needed:.1f} mm of the {item.width_mm:g} mm for {item.text!r} even at "
            f"{item.smallest_mm:g} mm. Widen the item, lower its least_mm, or shorten the name."
        )
        return line

    def largest(self, item: TextItem, text: str, width: int) -> Line:
        """The largest setting that fits, or the smallest there may be."""
        for capital in range(self.dots(item.cap_mm), self.dots(item.smallest_mm) - 1, -1):
            line = set_line(text, item.face, capital)
            if line.width <= width:
                break
        return line

    def code(self, item: CodeItem) -> CodeMark | None:
        try:
            modules = modules_of(self.code_text)
        except LabelFault as fault:
            self.faults.append(fault.sentence)
            return None
        left, top, right, bottom = self.bounds(item.x_mm, item.y_mm, item.side_mm, item.side_mm)
        side = side_dots(len(modules), self.dpi)
        if side > min(right - left, bottom - top):
            self.faults.append(
                f"The code needs {side * 25.4 / self.dpi:.1f} mm with its quiet zone at {self.dpi} dpi; "
                f"its item has {item.side_mm:g} mm."
            )
        x, y = left + (right - left - side) // 2, top + (bottom - top - side) // 2
        return CodeMark(modules, (x, y, x + side, y + side))

    def box(self, item: BoxItem) -> FillMark:
        left, top, right, bottom = self.bounds(item.x_mm, item.y_mm, item.width_mm, item.height_mm)
        line = max(1, self.dots(item.line_mm))
        if not item.line_mm:
            return FillMark(((left, top, max(right, left + 1), max(bottom, top + 1)),))
        return FillMark(
            (
                (left, top, right, top + line),
                (left, bottom - line, right, bottom),
                (left, top + line, left + line, bottom - line),
                (right - line, top + line, right, bottom - line),
            )
        )

    def arrow(self, item: ArrowItem) -> ArrowMark:
        return ArrowMark(self.bounds(item.x_mm, item.y_mm, item.width_mm, item.height_mm))


def _covers(mark: Mark) -> tuple[Rectangle, ...]:
    """The rectangles a mark keeps for itself; an outline keeps its lines, not what it frames."""
    match mark:
        case TextMark():
            return (mark.bar or _ink(mark),)
        case CodeMark():
            return (mark.square,)
        case FillMark():
            return mark.parts
        case ArrowMark():
            return (mark.bounds,)


def _ink(mark: TextMark) -> Rectangle:
    line = mark.line
    return mark.x + line.left, mark.baseline + line.top, mark.x + line.right, mark.baseline + line.bottom


def _outside(placed: list[tuple[Item, Mark]], width: int, height: int, dpi: int) -> list[str]:
    """The quiet zone may reach the label's edge, as it is white; ink keeps the margin, or a feed error cuts it."""
    faults = []
    for item, mark in placed:
        margin = 0 if isinstance(mark, CodeMark) else int(MARGIN_MM * dpi / 25.4)
        for left, top, right, bottom in _covers(mark):
            if left < margin or top < margin or right > width - margin or bottom > height - margin:
                faults.append(f"{_name(item)} comes closer than {MARGIN_MM} mm to the edge of the label, or beyond it.")
                break
    return faults


def _overlaps(placed: list[tuple[Item, Mark]]) -> list[str]:
    """Pairs from top to bottom: what begins under a part's lower edge can't meet it, nor can anything after that."""
    parts = sorted(
        ((part, number) for number, (_, mark) in enumerate(placed) for part in _covers(mark)),
        key=lambda entry: entry[0][1],
    )
    found = set()
    for place, (part, number) in enumerate(parts):
        for other, other_number in parts[place + 1 :]:
            if other[1] >= part[3]:
                break
            if number != other_number and _meet(part, other):
                found.add((min(number, other_number), max(number, other_number)))
    return [_overlap(placed[one][0], placed[other][0]) for one, other in sorted(found)]


def _overlap(one: Item, other: Item) -> str:
    code = next((item for item in (one, other) if isinstance(item, CodeItem)), None)
    if code is None:
        return f"{_name(one)} and {_name(other)} overlap."
    intruder = other if code is one else one
    return f"{_name(intruder)} stands in {_name(code).lower()} or its quiet zone, 4 modules of white all round."


def _meet(one: Rectangle, other: Rectangle) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _name(item: Item) -> str:
    if isinstance(item, TextItem):
        return f"The text {item.text!r}"
    words = {CodeItem: "code", BoxItem: "box", ArrowItem: "arrow"}
    return f"The {words[type(item)]} at {item.x_mm:g}, {item.y_mm:g} mm"
