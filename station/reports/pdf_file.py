"""A report as PDF: real text in an embedded font, the same bytes for the same report.

A letter the font lacks is written as its Unicode number, and named at the end of the report: nothing is dropped.
"""

from datetime import datetime
from unicodedata import name

from fontTools.ttLib import TTFont  # type: ignore[import-untyped]  # ships no stubs
from fpdf import FPDF
from fpdf.fonts import FontFace

from station.labels.resources import resource_path
from station.reports.document import NOTHING_FOUND, Cell, Report, Table

FONT = "DejaVuSans"
SIZE = 8
LINE_MM = 4.5


class _Pages(FPDF):
    """Pages with the title and their number below."""

    def __init__(self, title: str) -> None:
        super().__init__(orientation="landscape", format="A4")
        self._below = title

    def footer(self) -> None:
        """The last line of a page."""
        self.set_y(-12)
        self.set_font(FONT, size=SIZE)
        self.cell(text=f"{self._below} - page {self.page_no()} of {{nb}}")


def to_pdf(report: Report, made_at: datetime) -> bytes:
    """The report in A4 pages. `made_at` (aware) stands in the file as its date."""
    letters = _Letters()
    pages = _Pages(letters.shown(report.title))
    pages.set_creation_date(made_at)
    pages.add_font(FONT, "", resource_path("fonts", f"{FONT}.ttf"))
    pages.set_title(report.title)
    pages.add_page()
    _line(pages, letters.shown(report.title), 14)
    for what, value in report.told:
        _line(pages, letters.shown(f"{what}: {value}"))
    for table in report.tables:
        _table(pages, table, letters)
    for missing in letters.missing:
        _line(pages, f"{_number(missing)}: {name(missing, 'a letter without a name')}, not in this font")
    return bytes(pages.output())


def _line(pages: FPDF, text: str, size: int = SIZE) -> None:
    pages.set_font(FONT, size=size)
    pages.multi_cell(0, LINE_MM * size / SIZE, text, new_x="LMARGIN", new_y="NEXT", align="L")


def _table(pages: FPDF, table: Table, letters: "_Letters") -> None:
    pages.ln(LINE_MM)
    _line(pages, letters.shown(table.title), 11)
    if not table.rows:
        _line(pages, NOTHING_FOUND)
        return
    pages.set_font(FONT, size=SIZE)
    sides = tuple("RIGHT" if column.number else "LEFT" for column in table.columns)
    with pages.table(text_align=sides, line_height=LINE_MM, headings_style=_plain()) as drawn:
        for row in (tuple(column.heading for column in table.columns), *table.rows):
            drawn.row([letters.shown(_text(cell)) for cell in row])


def _plain() -> FontFace:
    return FontFace(emphasis="", fill_color=(230, 230, 230))


def _text(cell: Cell) -> str:
    return "" if cell is None else cell if isinstance(cell, str) else f"{cell:f}"


class _Letters:
    """What the font can show, and what was asked of it that it cannot."""

    def __init__(self) -> None:
        with TTFont(resource_path("fonts", f"{FONT}.ttf"), lazy=True) as font:
            self._known = frozenset(font.getBestCmap())
        self.missing: list[str] = []

    def shown(self, text: str) -> str:
        """The text, with the number of each letter the font lacks in its place; a line break stays one."""
        return "".join(self._one(letter) for letter in text)

    def _one(self, letter: str) -> str:
        if letter == "\n" or (ord(letter) in self._known and letter.isprintable()):
            return letter
        if letter not in self.missing:
            self.missing.append(letter)
        return _number(letter)


def _number(letter: str) -> str:
    return f"[U+{ord(letter):04X}]"
