"""What a spreadsheet makes of our CSV files, asked of one: opened, saved, read back (BR-67 to BR-70)."""

import os
import shutil
import subprocess
from collections.abc import Callable
from decimal import Decimal
from xml.etree import ElementTree

import pytest

from station.reports.csv_file import CsvForm, from_csv, to_csv
from station.reports.document import Column, Table

PROGRAM = "soffice"
# Import filter: separator, quote, UTF-8, first row, no formats, language, quoted text is no text, look for dates and
# money. The last two are what a double click does at its worst (filter options for CSV, as named by LibreOffice's
# documentation).
OPENED = "CSV:{separator},34,76,1,,{language},false,true"
SAVED = "csv:Text - txt - csv (StarCalc):{separator},34,76,1,,{language},false,true"
ENGLISH, GERMAN, SOUTH_AFRICAN = 1033, 1031, 7177
OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
TEXT = "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}"

FORMULAS = ("=1+1", "+49", "-1", "@SUM(A1)", "＝1", "\tx", "\u200b=1", "\u00a05", "(5)")
CODES = (
    "000123",
    "47E08",
    "123456789012345678",
    "3-4",
    "1.33",
    "9.10",
    "1/2",
    "SEP-12",
    "Jan 5",
    "R5",
    "R-5",
    "K7-298",
)
WORDS = ("true", "WAHR", "Müller, Łódź, 冷藏", "ناصر", 'a;b,"c"\nd', "'quoted", " lead", "plain", "")
TOLD = (("of", "=1+1"), ("operator", "@SUM(A1)"))


def table() -> Table:
    """Each text beside a figure, in a list of two columns."""
    columns = (Column("lot"), Column("grams", number=True))
    return Table("Waste", columns, tuple((text, Decimal("1.50")) for text in FORMULAS + CODES + WORDS))


@pytest.fixture(scope="module")
def spreadsheet(tmp_path_factory: pytest.TempPathFactory) -> Callable[[bytes, str, str], bytes]:
    """Opens a file as told and saves it as told; the answer is what was saved."""
    program = shutil.which(PROGRAM) or ""
    if not program:
        told = f"{PROGRAM} is not installed (Debian: libreoffice-calc-nogui)"
        pytest.fail(told) if os.environ.get("STATION_TOOLS_REQUIRED") else pytest.skip(told)
    folder = tmp_path_factory.mktemp("spreadsheet")

    def convert(content: bytes, opened: str, saved: str) -> bytes:
        (folder / "table.csv").write_bytes(content)
        alone = f"-env:UserInstallation={(folder / 'profile').as_uri()}"  # nobody's own settings, no other program
        words = ("--headless", f"--infilter={opened}", "--convert-to", saved, "--outdir", str(folder / "out"))
        subprocess.run([program, alone, *words, folder / "table.csv"], check=True, capture_output=True, timeout=90)
        return (folder / "out" / f"table.{saved.partition(':')[0]}").read_bytes()

    return convert


def cells(flat: bytes) -> list[list[tuple[str | None, str]]]:
    """Kind and text of every cell of an OpenDocument spreadsheet in one file."""
    rows = ElementTree.fromstring(flat).iter(f"{TABLE}table-row")
    return [
        [(cell.get(f"{OFFICE}value-type"), _shown(cell)) for cell in row.iter(f"{TABLE}table-cell")] for row in rows
    ]


def _shown(cell: ElementTree.Element) -> str:
    return "\n".join("".join(line.itertext()) for line in cell.iter(f"{TEXT}p"))


@pytest.mark.parametrize("language", [GERMAN, SOUTH_AFRICAN])  # months, truth and money of their own
def test_a_spreadsheet_takes_no_text_for_anything_but_text(
    spreadsheet: Callable[[bytes, str, str], bytes], language: int
) -> None:
    opened = OPENED.format(separator=ord(";"), language=language)
    found = cells(spreadsheet(to_csv(table(), CsvForm(decimal="comma"), TOLD), opened, "fods"))
    texts = [cell for row in found for cell in row[:1] if cell[1]]
    assert {kind for kind, _ in texts} == {"string"}
    shown = [text.removeprefix("'") for _, text in texts]
    for text in ("000123", "47E08", "123456789012345678", "=1+1", "SEP-12", "Jan 5", "WAHR", "R5", "冷藏"):
        assert any(text in one for one in shown)


def test_what_a_spreadsheet_saved_again_is_read_back_as_it_was(
    spreadsheet: Callable[[bytes, str, str], bytes],
) -> None:
    comma = {"separator": ord(","), "language": ENGLISH}
    saved = spreadsheet(to_csv(table(), CsvForm("comma"), TOLD), OPENED.format(**comma), SAVED.format(**comma))
    assert b'"lot"' not in saved  # it was the spreadsheet that wrote it: it quotes only where it must
    assert from_csv(saved) == table()
