"""CSV that spreadsheets neither run nor change, read back exactly (BR-67 to BR-70)."""

import csv
import io
from decimal import Decimal

import pytest

from station.reports.csv_file import CsvForm, CsvRefused, from_csv, to_csv
from station.reports.document import Column, Table

FORMS = [CsvForm(separator, decimal) for separator in ("semicolon", "comma", "tab") for decimal in ("point", "comma")]
FORMULAS = ["=1+1", "+49", "@SUM(A1)", "-1", "\tx", "\rx", "＝1", "\u200b=1", "(5)"]
CODES = [
    "000123",
    "47E08",
    "123456789012345678",
    "3-4",
    "1.33",
    "9.10",
    "SEP-12",
    "Jan 5",
    "R5",
    "kr 5",
    "true",
    "WAHR",
]
WORDS = ["Müller, Łódź, 冷藏", 'a;b,"c"\r\nd', "'quoted", "", "plain", "K7-298"]
TEXTS = FORMULAS + CODES + WORDS


def table(*texts: str) -> Table:
    columns = (Column("lot"), Column("grams", number=True))
    return Table("Waste", columns, tuple((text, Decimal("1.33")) for text in texts))


@pytest.mark.parametrize("form", FORMS)
def test_every_text_and_figure_comes_back_as_it_was(form: CsvForm) -> None:
    assert from_csv(to_csv(table(*TEXTS), form, (("operator", "=1+1"),))) == table(*TEXTS)


@pytest.mark.parametrize("text", FORMULAS + CODES)
def test_no_spreadsheet_takes_it_for_a_formula_a_number_or_a_date(text: str) -> None:
    # a cell's text begins with an apostrophe: as a formula, number or date that is nothing (common practice)
    lines = list(csv.reader(io.StringIO(to_csv(table(text), CsvForm()).decode("utf-8-sig"), newline=""), delimiter=";"))
    assert lines[-1] == [f"'{text}", "1.33"]


def test_words_and_our_own_container_numbers_stay_as_they_are_spoken() -> None:
    data = to_csv(table("K7-298", "put on hold at 06:00 because 2 of them leaked"), CsvForm()).decode("utf-8-sig")
    assert '"K7-298"' in data
    assert '"put on hold' in data


def test_rows_that_a_spreadsheet_filled_up_are_read_as_they_were() -> None:
    rows = ("station-csv-1;separator semicolon;decimal point;text;number", "title;Waste;;;", ";;;;", "lot;grams;;;")
    filled = "\r\n".join((*rows, "x;1.5;;;", "")).encode()
    assert from_csv(filled) == Table("Waste", (Column("lot"), Column("grams", number=True)), (("x", Decimal("1.50")),))


def test_a_figure_saved_with_the_other_decimal_sign_is_noticed_and_never_read_times_a_thousand() -> None:
    # BR-69: 1.500 is one and a half where a point was stated, and fifteen hundred in a German spreadsheet
    for form, written, saved in ((CsvForm(decimal="comma"), b"1,33", b"1.500"), (CsvForm(), b"1.33", b"1,500")):
        with pytest.raises(CsvRefused, match="no number"):
            from_csv(to_csv(table("x"), form).replace(written, saved))


def test_a_lone_empty_text_in_a_table_of_one_column_comes_back() -> None:
    lone = Table("Notes", (Column("note"),), (("",), ("x",)))
    assert from_csv(to_csv(lone, CsvForm())) == lone
    assert from_csv(to_csv(lone, CsvForm()).replace(b'""\r\n"x"', b'\r\n"x"')) == lone


def test_the_mark_is_there_and_a_file_without_it_is_read_too() -> None:
    data = to_csv(table("x"), CsvForm())
    assert data.startswith(b"\xef\xbb\xbf")
    assert from_csv(data.removeprefix(b"\xef\xbb\xbf")) == table("x")


def test_the_first_line_states_the_form_and_figures_follow_it() -> None:
    text = to_csv(table("x"), CsvForm("semicolon", "comma")).decode("utf-8-sig")
    assert text.startswith('"station-csv-1";"separator semicolon";"decimal comma";"text";"number"')
    assert '"1,33"' in text


def test_an_empty_figure_stays_empty() -> None:
    empty = Table("Waste", (Column("grams", number=True), Column("lot")), ((None, "A"),))
    assert from_csv(to_csv(empty, CsvForm())) == empty


def test_a_code_that_a_spreadsheet_changed_is_noticed() -> None:
    data = to_csv(table("000123"), CsvForm()).replace(b"'000123", b"123")
    with pytest.raises(CsvRefused, match="lot: '123' was changed"):
        from_csv(data)


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"\xff", "not UTF-8"),
        (b"", "no table written"),
        (b"a;b\n", "no table written"),
        (to_csv(table("x"), CsvForm()).replace(b'"x";', b""), "Row 5 has 1 columns"),
        (to_csv(table("x"), CsvForm()).replace(b"1.33", b"much"), "no number"),
    ],
)
def test_a_file_that_is_not_ours_is_refused_with_its_place(data: bytes, why: str) -> None:
    with pytest.raises(CsvRefused, match=why):
        from_csv(data)


def test_a_row_that_does_not_fit_is_no_table() -> None:
    with pytest.raises(ValueError, match="does not fit"):
        Table("Waste", (Column("grams", number=True),), (("12",),))
