"""A report as PDF: real text in embedded fonts, the same bytes for the same report.

A letter that none of the fonts has is written as its Unicode number, and named at the end: nothing is dropped.
"""

from collections.abc import Iterator
from datetime import datetime

from fpdf import FPDF
from fpdf.fonts import TTFFont

from station.care.pace import Pace, paced, unhurried
from station.reports.document import NOTHING_FOUND, Cell, Report, Table
from station.reports.pdf_letters import FONT, Letters, font_path
from station.reports.pdf_table import TablePages

SIZE = 8
LINE_MM = 4.5
TABLE_BEGINS_MM = 6 * LINE_MM  # a title, headings of two lines and a row: not parted by the end of a page
WRITING = "writing pages"


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


def to_pdf(report: Report, made_at: datetime, pace: Pace = unhurried) -> bytes:
    """The report in A4 pages. `made_at` (aware) stands in the file as its date; `pace` is told of every page's rows."""
    letters = Letters(_texts(report))
    pages = _Pages(letters.shown(report.title))
    pages.set_creation_date(made_at)
    for font in (FONT, *letters.fonts):
        pages.add_font(font, "", font_path(font))
    try:
        _write(pages, report, letters, pace)
        return bytes(pages.output())
    finally:  # the library leaves the files of its fonts open where the work ended early
        for added in pages.fonts.values():
            if isinstance(added, TTFFont):
                added.close()


def _write(pages: _Pages, report: Report, letters: Letters, pace: Pace) -> None:
    pages.set_fallback_fonts(letters.fonts, exact_match=False)
    if letters.shaped:
        pages.set_text_shaping(use_shaping_engine=True, direction="ltr")  # a line begins at the left, names do not
    pages.set_title(report.title)
    pages.add_page()
    _line(pages, letters.shown(report.title), 14)
    for what, value in report.told:
        _line(pages, letters.shown(f"{what}: {value}"))
    for table in report.tables:
        _table(pages, table, letters, pace)
    for missing in letters.named():
        _line(pages, missing)


def _texts(report: Report) -> Iterator[str]:
    yield report.title
    yield NOTHING_FOUND
    for what, value in report.told:
        yield f"{what}: {value}"
    for table in report.tables:
        yield table.title
        yield from (column.heading for column in table.columns)
        yield from (cell for row in table.rows for cell in row if isinstance(cell, str))


def _line(pages: FPDF, text: str, size: int = SIZE) -> None:
    pages.set_font(FONT, size=size)
    pages.multi_cell(0, LINE_MM * size / SIZE, text, new_x="LMARGIN", new_y="NEXT", align="L")


def _table(pages: FPDF, table: Table, letters: Letters, pace: Pace) -> None:
    if pages.will_page_break(TABLE_BEGINS_MM):
        pages.add_page()
    pages.ln(LINE_MM)
    _line(pages, letters.shown(table.title), 11)
    if not table.rows:
        _line(pages, NOTHING_FOUND)
        return
    pages.set_font(FONT, size=SIZE)
    drawn = TablePages(pages, letters, [column.number for column in table.columns])
    rows = [[letters.shown(_text(cell)) for cell in row] for row in table.rows]
    drawn.begin([letters.shown(column.heading) for column in table.columns], rows)
    for row in paced(rows, pace, WRITING):
        drawn.row(row)


def _text(cell: Cell) -> str:
    return "" if cell is None else cell if isinstance(cell, str) else f"{cell:f}"
