"""Reports from the command line, out of a journal another program may be at work on."""

import io
from decimal import Decimal
from pathlib import Path

import pytest

from station.bootstrap import JOURNAL_NAME
from station.journal.store import Journal
from station.journal.verify import verify
from station.reports.csv_file import from_csv
from tests.cli.answers import DEMO
from tests.cli.conftest import Say


def test_a_report_is_written_as_csv_and_pdf_while_the_station_is_at_work(
    station: Say, data: Path, tmp_path: Path
) -> None:
    out = tmp_path / "new" / "folder"
    with Journal.open(data / JOURNAL_NAME):
        answer = station("report", "stock", "--config", DEMO, "--data", data, "--out", out, "--by", "P12")
    assert (answer.code, answer.err) == (0, "")
    names = {path.name for path in out.iterdir()}
    assert names == {"stock.csv", "stock-reserve.csv", "stock-shelf-life-ends-soon.csv", "stock.pdf"}
    assert "Stock: 1 row\n" in answer.out
    table = from_csv((out / "stock.csv").read_bytes())
    (row,) = table.rows
    assert row[:4] == ("SN-4", "101", "received", Decimal(2))


def test_a_report_names_the_end_of_the_journal_that_verify_says(station: Say, data: Path, tmp_path: Path) -> None:
    station("report", "trace", "--config", DEMO, "--data", data, "--out", tmp_path)
    (chain,) = verify(data / JOURNAL_NAME).chains
    assert chain.head in (tmp_path / "trace.csv").read_text(encoding="utf-8-sig")


def test_separator_and_decimal_sign_are_those_asked_for(station: Say, data: Path, tmp_path: Path) -> None:
    words = ("--config", DEMO, "--data", data, "--out", tmp_path, "--separator", "tab", "--decimal", "comma")
    station("report", "stock", *words)
    assert "1000,0" in (tmp_path / "stock.csv").read_text(encoding="utf-8-sig")
    assert from_csv((tmp_path / "stock.csv").read_bytes()).rows[0][5] == Decimal("1000.0")


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (("--from", "2026-11-10", "--to", "2026-11-09"), "ends before it begins"),
        (("--from", "yesterday"), "is no date and time"),
    ],
)
def test_a_period_that_can_not_be_is_refused_and_nothing_written(
    station: Say, data: Path, tmp_path: Path, words: tuple[str, ...], why: str
) -> None:
    answer = station("report", "waste", "--config", DEMO, "--data", data, "--out", tmp_path / "out", *words)
    assert (answer.code, answer.out) == (2, "")
    assert why in answer.err
    assert not (tmp_path / "out").exists()


def test_a_folder_that_can_not_be_written_leaves_no_part_of_a_report(station: Say, data: Path, tmp_path: Path) -> None:
    (tmp_path / "stock.pdf").mkdir()  # in the way of the last file
    answer = station("report", "stock", "--config", DEMO, "--data", data, "--out", tmp_path)
    assert answer.code == 2
    assert "no report was written" in answer.err
    assert {path.name for path in tmp_path.iterdir()} == {"data", "stock.pdf"}


def test_without_a_journal_there_is_no_report(station: Say, tmp_path: Path) -> None:
    answer = station("report", "stock", "--config", DEMO, "--data", tmp_path, "--out", tmp_path)
    assert answer.code == 2
    assert "no journal" in answer.err
    assert list(tmp_path.iterdir()) == []


class Terminal(io.StringIO):
    """Standard error as somebody looks at it."""

    def isatty(self) -> bool:
        return True


def test_somebody_at_a_terminal_sees_how_far_it_is_and_the_line_is_free_again_at_the_end(
    station: Say, data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    terminal = Terminal()
    monkeypatch.setattr("sys.stderr", terminal)
    assert station("report", "trace", "--config", DEMO, "--data", data, "--out", tmp_path / "out").code == 0
    shown = terminal.getvalue()
    assert "adding up the record: 0 %" in shown
    assert shown.endswith("\r\x1b[K")


def test_a_report_that_is_ended_leaves_no_file(
    station: Say, data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def ended(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("station.reports.files.os.fsync", ended)  # while the first file is being written
    answer = station("report", "stock", "--config", DEMO, "--data", data, "--out", tmp_path / "out")
    assert (answer.code, answer.err) == (130, "Stopped.\n")
    assert list((tmp_path / "out").iterdir()) == []
