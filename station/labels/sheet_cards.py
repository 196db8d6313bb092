"""Cards on sheets: where on the paper each code and each line of text lands."""

from collections.abc import Sequence

from station.labels.faults import LabelFault
from station.labels.fitting import CodeMark, Mark, Rectangle, TextMark
from station.labels.sheet_codes import SheetCode
from station.labels.sheet_fit import SheetPage, Words, outline, outside, set_words
from station.labels.sheet_paper import CARDS, Paper, card_cells, dots
from station.labels.symbol import QUIET_MODULES, modules_of

MODULE_DOTS = 12  # 1.0 mm: read from an arm's length, and whole dots at 300, 600 and 1200 per inch
MOST_CODE_MM = 38.0  # a longer text gets smaller modules
PAD_MM = 5.0
CUT_DOTS = 2
KIND_WIDE = 33.0
KIND = Words(2.4, 2.0)
SITE = Words(2.4, 1.1, lines=2, align="right", high_mm=4.4)
NAME = Words(6.2, 2.2, lines=4, face="bold", align="centre", high_mm=16.5)
TEXT = Words(2.0, 1.4, lines=2, face="mono", align="centre", high_mm=4.6)
DOES = Words(2.5, 1.6, lines=4, align="centre", high_mm=12.5)
FOOT = Words(2.0, 1.4)
KIND_AT, NAME_AT, CODE_MIDDLE, TEXT_AT, DOES_AT = 4.0, 9.5, 46.0, 65.0, 71.3  # millimetres below the card's top edge


def card_pages(codes: Sequence[SheetCode], paper: Paper, site: str) -> tuple[SheetPage, ...]:
    """The sheets for these cards, six on each. LabelFault "layout" where a name is too long for its card."""
    sheets = [codes[start : start + CARDS] for start in range(0, len(codes), CARDS)]
    pages = tuple(_page(sheet, paper, site, f"{number} of {len(sheets)}") for number, sheet in enumerate(sheets, 1))
    faults = tuple(dict.fromkeys(fault for page in pages for fault in page.faults))
    if faults:
        raise LabelFault("layout", " ".join(faults))
    return pages


def _page(codes: Sequence[SheetCode], paper: Paper, site: str, number: str) -> SheetPage:
    marks: list[Mark] = []
    faults: list[str] = []
    told = f"Print at 100 %, not fitted to the page. Cut along the lines. Sheet {number}."
    parts = [_card(code, cell, site) for code, cell in zip(codes, card_cells(paper), strict=False)]
    for drawn, wrong in (*parts, foot(paper, told)):
        marks += drawn
        faults += wrong
    return SheetPage(paper, tuple(marks), tuple(code.text for code in codes), (*faults, *outside(paper, tuple(marks))))


def foot(paper: Paper, text: str) -> tuple[tuple[TextMark, ...], tuple[str, ...]]:
    """The line at the foot of a sheet, and what is wrong with it."""
    left, _, right, bottom = paper.inside
    marks, wrong = set_words(text, FOOT, left, bottom - dots(FOOT.cap_mm * 1.5), right)
    return marks, (wrong,) if wrong else ()


def _card(code: SheetCode, cell: Rectangle, site: str) -> tuple[Sequence[Mark], Sequence[str]]:
    left, top, right, bottom = cell
    inner, outer = left + dots(PAD_MM), right - dots(PAD_MM)
    middle = (inner + outer) // 2
    rows = (
        (code.kind, KIND, KIND_AT, inner, inner + dots(KIND_WIDE)),
        (site, SITE, KIND_AT, inner + dots(KIND_WIDE + 1), outer),
        (code.name, NAME, NAME_AT, inner, outer),
        (code.text, TEXT, TEXT_AT, inner, outer),
        (code.does, DOES, DOES_AT, inner, outer),
    )
    marks: list[Mark] = [outline((left, top, right, bottom), CUT_DOTS), _code(code.text, middle, top)]
    faults = []
    for text, words, at, start, end in rows:
        drawn, wrong = set_words(text, words, start, top + dots(at), end)
        marks += drawn
        faults += [wrong] if wrong else []
    return marks, faults


def _code(text: str, middle: int, top: int) -> CodeMark:
    """The symbol with its middle where it is on every card, so that neighbours keep their distance."""
    modules = modules_of(text)
    across = len(modules) + 2 * QUIET_MODULES
    side = across * min(MODULE_DOTS, dots(MOST_CODE_MM) // across)
    x, y = middle - side // 2, top + dots(CODE_MIDDLE) - side // 2
    return CodeMark(modules, (x, y, x + side, y + side))
