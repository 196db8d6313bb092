"""Who takes stock or readings in by command: the badge stands in the record, and is wanted where the site wants it."""

import shutil
from collections.abc import Callable
from io import StringIO
from pathlib import Path

import pytest

from station.bootstrap import DEMO_KEYS, JOURNAL_NAME, NoPrinter, build_station
from station.care import facts as f
from station.cli.by_badge import proof_of
from station.journal.store import Journal
from station.rehearsal.clock import SetClock
from station.services.outcome import Refusal
from station.settings.load import load
from tests.cli.answers import DEMO, Answer
from tests.cli.conftest import START, Say
from tests.cli.test_import_readings import CALM
from tests.cli.test_import_stock import GOOD, HEAD

Run = Callable[..., Answer]
BADGE_REQUIRED = "badge_required = true"


@pytest.fixture
def strict(tmp_path: Path) -> Path:
    """The demo's settings at a site that wants to know who works."""
    folder = Path(shutil.copytree(DEMO, tmp_path / "config"))
    file = folder / "site.toml"
    text = file.read_text(encoding="utf-8")
    changed = text.replace(f"# {BADGE_REQUIRED}", BADGE_REQUIRED)
    assert changed != text
    file.write_text(changed, encoding="utf-8")
    return folder


def stock(station: Say, config: Path, data: Path, *words: str) -> Answer:
    file = data.parent / "stock.csv"
    file.write_text(f"{HEAD}\n{GOOD}\n", encoding="utf-8")
    return station("import-stock", file, "--config", config, "--data", data, *words)


def readings(station: Say, config: Path, data: Path, *words: str) -> Answer:
    file = data.parent / "log.csv"
    file.write_text("\n".join(["Time,Temperature (C)", *CALM, ""]), encoding="utf-8")
    where = ("--store", "FRIDGE", "--zone", "UTC", "--config", config, "--data", data)
    return station("import-readings", file, *where, *words)


def who(data: Path, kind: type) -> list[str | None]:
    with Journal.open(data / JOURNAL_NAME) as journal:
        return [fact.who for fact in journal.facts() if isinstance(fact.body, kind)]


@pytest.mark.parametrize(("run", "kind"), [(stock, f.StockImported), (readings, f.ReadingsImported)])
def test_a_strict_site_wants_a_badge_and_it_stands_in_the_record(
    station: Say, strict: Path, data: Path, run: Run, kind: type
) -> None:
    refused = run(station, strict, data)
    assert refused.code == 2
    assert "Add --by BADGE" in refused.err
    assert who(data, kind) == []
    assert run(station, strict, data, "--by", "P12").code in (0, 1)
    assert who(data, kind) == ["P12"]


@pytest.mark.parametrize("run", [stock, readings])
def test_a_badge_of_nobody_here_takes_nothing_in(station: Say, data: Path, run: Run) -> None:
    refused = run(station, DEMO, data, "--by", "P99")
    assert (refused.code, "Nobody here has badge 'P99'" in refused.err) == (2, True)
    assert who(data, f.StockImported) + who(data, f.ReadingsImported) == []


def test_the_pin_comes_from_what_is_typed_and_is_no_argument(data: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with Journal.open(data / JOURNAL_NAME) as journal:
        desk = build_station(load(DEMO), journal, SetClock(START), DEMO_KEYS, NoPrinter(), journal.own)
        monkeypatch.setattr("sys.stdin", StringIO("2020\nmore\n"))
        assert proof_of(desk, "P20", "This").pin == "2020"
        monkeypatch.setattr("sys.stdin", None)
        with pytest.raises(Refusal, match="on a terminal"):
            proof_of(desk, "P20", "This")
        with pytest.raises(Refusal, match="Add --by BADGE"):
            proof_of(desk, None, "This")


def test_a_report_is_made_by_somebody_who_works_here(station: Say, data: Path, tmp_path: Path) -> None:
    words = ("report", "stock", "--config", DEMO, "--data", data, "--out", tmp_path / "out")
    refused = station(*words, "--by", "P99")
    assert (refused.code, "Nobody here has badge 'P99'" in refused.err) == (2, True)
    assert not (tmp_path / "out").exists()
    assert station(*words, "--by", "P12").code == 0
