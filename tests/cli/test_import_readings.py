"""`station import-readings`: what a store's logger says is taken in once, and what is wrong is said with its remedy."""

from pathlib import Path

import pytest

from station.bootstrap import JOURNAL_NAME
from station.care import facts as f
from station.cli import import_readings
from station.journal.evidence import FOLDER, FolderEvidence
from station.journal.store import Journal
from tests.cli.answers import DEMO, Answer
from tests.cli.conftest import Say

CALM = [f"2026-11-02 06:{minute:02d}:00,7.0" for minute in range(0, 60, 5)]
WARM = [*CALM[:3], *(row.replace(",7.0", ",14.5") for row in CALM[3:9]), *CALM[9:]]


def run(station: Say, data: Path, rows: list[str], *words: str, store: str = "FRIDGE") -> Answer:
    file = data.parent / "logger.csv"
    file.write_text("\n".join(["Time,Temperature (C)", *rows, ""]), encoding="utf-8")
    zone = () if "--zone" in words else ("--zone", "UTC")
    return station("import-readings", file, "--store", store, "--config", DEMO, "--data", data, *zone, *words)


def imports(data: Path) -> list[f.ReadingsImported]:
    with Journal.open(data / JOURNAL_NAME) as journal:
        return [fact.body for fact in journal.facts() if isinstance(fact.body, f.ReadingsImported)]


def test_calm_readings_are_taken_in_with_their_file_and_a_second_time_nothing_is(station: Say, data: Path) -> None:
    """BR-87."""
    answer = run(station, data, CALM)
    assert (answer.code, answer.err) == (0, "")
    assert "12 new readings of Refrigerator, goods hall" in answer.out
    (imported,) = imports(data)
    assert FolderEvidence(data / FOLDER).fetch(imported.digest) == (data.parent / "logger.csv").read_bytes()
    assert (imported.zone, imported.logger) == ("UTC", "LOG-1")
    again = run(station, data, CALM)
    assert (again.code, len(imports(data))) == (0, 1)
    assert "NOTHING NEW" in again.out


def test_an_excursion_is_said_in_full_and_is_the_answer_no(station: Say, data: Path) -> None:
    answer = run(station, data, WARM)
    assert answer.code == 1
    assert "1 EXCURSION" in answer.out
    assert (
        "too warm 2026-11-02 06:15 to 2026-11-02 06:45 UTC, peak 14.5 C, 30 min out, mean kinetic 14.5 C" in answer.out
    )


@pytest.mark.parametrize(
    ("words", "rows", "said"),
    [
        (("--zone", "Europe/Nowhere"), CALM, "Europe/Nowhere"),
        (("--unit", "K"), CALM, "no unit"),
        (("--instrument", "LOG-9"), CALM, "no instrument 'LOG-9'"),
        ((), ["nonsense"], "logger.csv"),
    ],
)
def test_what_can_not_be_read_is_code_2_and_nothing_is_taken_in(
    station: Say, data: Path, words: tuple[str, ...], rows: list[str], said: str
) -> None:
    answer = run(station, data, rows, *words)
    assert answer.code == 2, answer.out
    assert said in answer.err
    assert imports(data) == []


def test_a_store_that_is_not_there_and_a_file_that_is_not_there(station: Say, data: Path) -> None:
    assert "no store 'CELLAR'" in run(station, data, CALM, store="CELLAR").err
    missing = station("import-readings", data / "x.csv", "--store", "FRIDGE", "--config", DEMO, "--data", data)
    assert (missing.code, "Name the logger's file" in missing.err) == (2, True)


def test_whoever_stops_it_leaves_nothing(station: Say, data: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(_rows: int) -> bool:
        raise KeyboardInterrupt

    monkeypatch.setattr(import_readings, "_progress", lambda: stopped)
    answer = run(station, data, CALM)
    assert (answer.code, "nothing of it was taken in" in answer.err) == (2, True)
    assert imports(data) == []
