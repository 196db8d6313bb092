"""PDF reports read back with another program's eyes, pdftotext (BR-90)."""

import subprocess
from datetime import UTC, datetime
from decimal import Decimal
from pathlib import Path

import pytest

from station.care.pace import EACH
from station.reports.document import NOTHING_FOUND, Column, Report, Table
from station.reports.pdf_file import to_pdf
from station.reports.pdf_table import shared

MADE_AT = datetime(2026, 11, 9, 6, tzinfo=UTC)


def report(*rows: tuple[str, Decimal | None]) -> Report:
    table = Table("By cause", (Column("who"), Column("grams", number=True)), rows)
    return Report("Waste", (("journal digest", "ab12"), ("unit", "°C")), (table,))


def text_of(told: Report, folder: Path) -> str:
    path = folder / "report.pdf"
    path.write_bytes(to_pdf(told, MADE_AT))
    done = subprocess.run(["pdftotext", "-layout", path, "-"], check=True, capture_output=True, timeout=30)
    return done.stdout.decode("utf-8")


NAMES = (
    *("Šćř Łódź", "Иванов", "Παπαδόπουλος", "Ω ≤ 5 µm", "office fi", "გიორგი", "Nguyễn Thị Hường"),
    *("张伟 Zhang Wei", "冷藏", "佐藤 サトウ", "김철수", "สมชาย ใจดี"),
    *("ناصر محمد", "דוד לוי"),
)


def test_names_of_many_alphabets_come_back_each_in_its_own_order(tmp_path: Path) -> None:
    text = text_of(report(*((name, Decimal("1.50")) for name in NAMES)), tmp_path)
    for shown in (*NAMES, "unit: °C", "1.50"):
        assert shown in text
    assert "U+" not in text


def test_a_letter_no_font_has_is_written_as_its_number_and_named_at_the_end(tmp_path: Path) -> None:
    text = text_of(report(("नर \x07", Decimal("1.50"))), tmp_path)
    assert "[U+0928][U+0930] [U+0007]" in text
    assert "[U+0928]: DEVANAGARI LETTER NA, not in these fonts" in text
    assert "[U+0007]: a letter without a name" in text


def test_a_name_written_from_the_right_stays_in_its_place_in_a_line(tmp_path: Path) -> None:
    text = text_of(report(("WO 12 محمد", None)), tmp_path)
    (line,) = [line for line in text.splitlines() if "محمد" in line]
    assert line.index("WO 12") < line.index("محمد")


def test_a_report_in_latin_letters_carries_no_font_it_does_not_need() -> None:
    small, large = to_pdf(report(("x", None)), MADE_AT), to_pdf(report(("冷", None)), MADE_AT)
    assert (small.count(b"/FontFile2"), large.count(b"/FontFile2")) == (1, 2)
    assert len(large) < 60_000  # only the letters used: the font itself has 3 MB


def test_long_texts_are_broken_and_nothing_of_them_is_lost(tmp_path: Path) -> None:
    words, without_blanks = " ".join(f"word{place}" for place in range(90)), "Z" * 400
    text = text_of(report((words, Decimal(1)), (without_blanks, Decimal(2)), ("two\nlines", None)), tmp_path)
    assert all(f"word{place}" in text for place in range(90))
    assert text.count("Z") == 400
    assert max(map(len, text.splitlines())) < 260


def test_a_cell_longer_than_a_page_goes_on_on_the_next_one(tmp_path: Path) -> None:
    text = text_of(report(("\n".join(f"line {place}." for place in range(120)), None), ("after", None)), tmp_path)
    assert all(f"line {place}." in text for place in range(120))
    pages = text.split("\f")[:-1]
    assert len(pages) > 2
    assert "after" in pages[-1]


def test_each_page_has_its_number_and_the_headings(tmp_path: Path) -> None:
    pages = text_of(report(*((f"row {place}", None) for place in range(60))), tmp_path).split("\f")[:-1]
    assert len(pages) > 1
    for place, page in enumerate(pages, start=1):
        assert f"Waste - page {place} of {len(pages)}" in page
        assert "grams" in page
    assert all(f"row {place}\n" in "".join(pages) for place in range(60))


def test_the_title_and_headings_of_a_table_stand_on_the_page_of_its_first_row(tmp_path: Path) -> None:
    columns = (Column("who"), Column("grams", number=True))
    tables = tuple(Table(f"Table {place}.", columns, ((f"row {place}.", Decimal(1)),)) for place in range(40))
    pages = text_of(Report("Many", (), tables), tmp_path).split("\f")[:-1]
    assert len(pages) > 2
    for place in range(40):
        (page,) = [page for page in pages if f"Table {place}." in page]
        assert f"row {place}." in page


def test_headings_that_need_many_lines_go_to_the_next_page_with_their_row(tmp_path: Path) -> None:
    columns = (Column("who\n" * 12 + "last"), Column("grams", number=True))
    fill = Table("Fill", (Column("x"),), tuple((f"{place}",) for place in range(26)))
    pages = text_of(Report("Many", (), (fill, Table("Tall", columns, (("row", None),)))), tmp_path).split("\f")[:-1]
    (page,) = [page for page in pages if "row" in page]
    assert page.count("who") == 12
    assert "last" in page


def test_nothing_found_is_said(tmp_path: Path) -> None:
    assert NOTHING_FOUND in text_of(report(), tmp_path)


def test_whoever_waits_is_told_how_far_it_is_and_may_end_it() -> None:
    told: list[tuple[str, int, int]] = []

    def pace(what: str, done: int, whole: int) -> None:
        told.append((what, done, whole))
        if len(told) == 3:
            raise InterruptedError

    many = report(*((f"row {place}", None) for place in range(5 * EACH)))
    with pytest.raises(InterruptedError):
        to_pdf(many, MADE_AT, pace)
    assert told == [("writing pages", place * EACH, 5 * EACH) for place in range(3)]


@pytest.mark.parametrize(
    ("wanted", "given"),
    [
        ([20.0, 30.0], [20.0, 30.0]),
        ([5.0, 30.0], [12.0, 30.0]),  # none is too narrow to read a heading
        ([20.0, 300.0, 50.0], [20.0, 40.0, 40.0]),  # wide ones share what narrow ones leave
        ([90.0, 90.0, 90.0, 90.0], [25.0, 25.0, 25.0, 25.0]),
    ],
)
def test_columns_share_the_width_of_the_page(wanted: list[float], given: list[float]) -> None:
    assert shared(wanted, 100.0) == given


def test_the_same_report_is_the_same_file() -> None:
    assert to_pdf(report(("x", None)), MADE_AT) == to_pdf(report(("x", None)), MADE_AT)
