"""One card, badge or tag on a label of the station's own printer: whatever size the labels there have.

The code stands at the right, its square as large as leaves half of the label to the words.
"""

from dataclasses import dataclass

from PIL import Image

from station.labels.faults import LabelFault
from station.labels.fitting import MARGIN_MM, CodeMark, Mark, Plan, Rectangle
from station.labels.raster import drawn
from station.labels.sheet_codes import SET_UP, SheetCode
from station.labels.sheet_fit import LEADING, Words, reach, set_words
from station.labels.sheet_paper import dots
from station.labels.symbol import QUIET_MODULES, modules_of, side_dots

PAD_MM = 0.8
GAP_MM = 1.1
SMALLEST_MM = 1.25
LOW_MM = 22.0  # a label lower than this has no room for what the code does
MOST_CODE_MM = 24.0
SHARE = 0.52


@dataclass(frozen=True, slots=True)
class Stock:
    """Labels in a printer: their size in millimetres and the printer's dots per inch."""

    width_mm: float
    height_mm: float
    dpi: int


def card_label(code: SheetCode, stock: Stock) -> Image.Image:
    """The label as a 1-bit image, read back. LabelFault "layout" where something does not fit, "decode-back"."""
    planned = plan_card(code, stock)
    if planned.faults:
        raise LabelFault("layout", " ".join(planned.faults))
    return drawn(planned, code.text, stock.dpi)


def plan_card(code: SheetCode, stock: Stock) -> Plan:
    """Where everything of the label lands, and what does not fit."""
    # rounded down, as all labels are: a hair too tall would feed a blank one
    width, height = (int(side * stock.dpi / 25.4) for side in (stock.width_mm, stock.height_mm))
    square = _code(code.text, width, height, stock)
    marks, faults = _words(code, (dots(PAD_MM, stock.dpi), 0, square.square[0], height), stock)
    every = (*marks, square)
    if _outside(every, (width, height), stock.dpi):
        size = f"{stock.width_mm:g} x {stock.height_mm:g} mm"
        faults = (*faults, f"{code.name} does not fit a label of {size}. Print it on a sheet, or on a larger label.")
    return Plan(width, height, every, faults)


def _code(text: str, width: int, height: int, stock: Stock) -> CodeMark:
    modules = modules_of(text)
    across = len(modules) + 2 * QUIET_MODULES
    room = min(height, round(width * (1 - SHARE)), dots(MOST_CODE_MM, stock.dpi))
    side = max(side_dots(len(modules), stock.dpi), room // across * across)
    left, top = width - side, (height - side) // 2
    return CodeMark(modules, (left, top, left + side, top + side))


def _words(code: SheetCode, area: Rectangle, stock: Stock) -> tuple[tuple[Mark, ...], tuple[str, ...]]:
    """What it is above, its name large, what it does, and its text at the foot."""
    left, _, right, _ = area
    marks: list[Mark] = []
    faults: list[str] = []
    for text, words, top in _lines(code, stock):
        set_text, wrong = set_words(text, words, left, dots(top, stock.dpi), right, stock.dpi)
        marks += set_text
        # what it does is on the sheets too, and no name has to be shortened for it
        faults += [wrong] if wrong and text != code.does else []
    return tuple(marks), tuple(faults)


def _lines(code: SheetCode, stock: Stock) -> tuple[tuple[str, Words, float], ...]:
    """Each text, how it is set, and where its first capitals begin, in millimetres from the upper edge."""
    high = stock.height_mm
    kind, text = max(SMALLEST_MM, high / 22), max(SMALLEST_MM, high / 30)
    foot = text * (1 + LEADING) + 0.1  # two lines, as the longest id needs on the smallest label
    name_at = PAD_MM + kind + GAP_MM
    text_at = high - PAD_MM - foot
    room = text_at - GAP_MM - name_at
    lines = (
        (code.kind, Words(kind, SMALLEST_MM), PAD_MM),
        (_typed(code), Words(text, SMALLEST_MM, lines=2, face="mono", high_mm=foot), text_at),
    )
    if high < LOW_MM:
        return (*lines, (code.name, Words(high / 6, SMALLEST_MM, lines=4, face="bold", high_mm=room), name_at))
    name = Words(high / 7, SMALLEST_MM, lines=4, face="bold", high_mm=0.55 * room)
    does = Words(kind, SMALLEST_MM, lines=6, high_mm=0.45 * room - GAP_MM)
    return (*lines, (code.name, name, name_at), (code.does, does, name_at + 0.55 * room + GAP_MM))


def _typed(code: SheetCode) -> str:
    """What somebody types who has no scanner; nobody types all characters there are."""
    return "" if code.sort == SET_UP.sort else code.text


def _outside(marks: tuple[Mark, ...], size: tuple[int, int], dpi: int) -> bool:
    """Whether ink comes into the margin, or the code with its quiet zone over the edge or into the words."""
    margin = int(MARGIN_MM * dpi / 25.4)
    for mark in marks:
        edge = 0 if isinstance(mark, CodeMark) else margin
        left, top, right, bottom = reach(mark)
        if left < edge or top < edge or right > size[0] - edge or bottom > size[1] - edge:
            return True
    return False
