"""PDF reports read back with another program's eyes, pdftotext (BR-90)."""

import subprocess
from datetime import UTC, datetime
from decimal import Decimal
from pathlib import Path

from station.reports.document import NOTHING_FOUND, Column, Report, Table
from station.reports.pdf_file import to_pdf

MADE_AT = datetime(2026, 11, 9, 6, tzinfo=UTC)


def report(*rows: tuple[str, Decimal | None]) -> Report:
    table = Table("By cause", (Column("who"), Column("grams", number=True)), rows)
    return Report("Waste", (("journal digest", "ab12"), ("unit", "°C")), (table,))


def text_of(told: Report, folder: Path) -> str:
    path = folder / "report.pdf"
    path.write_bytes(to_pdf(told, MADE_AT))
    done = subprocess.run(["pdftotext", "-layout", path, "-"], check=True, capture_output=True, timeout=30)
    return done.stdout.decode("utf-8")


def test_names_of_many_alphabets_come_back_and_no_letter_is_lost(tmp_path: Path) -> None:
    names = ["Šćř Łódź", "Иванов", "Παπαδόπουλος", "冷 Ω ≤", "office fi"]
    text = text_of(report(*((name, Decimal("1.50")) for name in names)), tmp_path)
    for shown in ("Šćř Łódź", "Иванов", "Παπαδόπουλος", "[U+51B7] Ω ≤", "office fi", "unit: °C", "1.50"):
        assert shown in text
    assert "[U+51B7]: CJK UNIFIED IDEOGRAPH-51B7, not in this font" in text


def test_each_page_has_its_number_and_the_headings(tmp_path: Path) -> None:
    pages = text_of(report(*((f"row {place}", None) for place in range(60))), tmp_path).split("\f")[:-1]
    assert len(pages) > 1
    for place, page in enumerate(pages, start=1):
        assert f"Waste - page {place} of {len(pages)}" in page
        assert "grams" in page
    assert all(f"row {place}\n" in "".join(pages) for place in range(60))


def test_nothing_found_is_said(tmp_path: Path) -> None:
    assert NOTHING_FOUND in text_of(report(), tmp_path)


def test_the_same_report_is_the_same_file() -> None:
    assert to_pdf(report(("x", None)), MADE_AT) == to_pdf(report(("x", None)), MADE_AT)
