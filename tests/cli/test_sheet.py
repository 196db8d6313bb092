"""`station sheet`: cards to print, and down-station sheets whose numbers are kept."""

from pathlib import Path

import pytest

from station.bootstrap import JOURNAL_NAME
from station.care.facts import NumbersReserved, StationStopped
from station.journal.store import Journal
from tests.cli.answers import DEMO
from tests.cli.conftest import Say


def facts(data: Path) -> list[object]:
    with Journal.open(data / JOURNAL_NAME) as journal:
        return list(journal.facts())


def reserved(data: Path) -> list[NumbersReserved]:
    with Journal.open(data / JOURNAL_NAME) as journal:
        return [fact.body for fact in journal.facts() if isinstance(fact.body, NumbersReserved)]


@pytest.mark.parametrize("paper", ["A4", "letter"])
def test_cards_are_written_as_pdf_and_the_answer_says_where(station: Say, tmp_path: Path, paper: str) -> None:
    file = tmp_path / "made here" / "cards.pdf"
    answer = station("sheet", file, "--config", DEMO, "--paper", paper, "--only", "badge")
    assert answer.code == 0
    assert str(file) in answer.out
    assert paper.lower() in answer.out.lower()
    assert file.read_bytes().startswith(b"%PDF")


def test_down_station_sheets_keep_six_numbers_a_paste_and_name_who_had_them_printed(
    station: Say, data: Path, tmp_path: Path
) -> None:
    answer = station("sheet", tmp_path / "down.pdf", "--config", DEMO, "--data", data, "--down", "--by", "P20")
    assert answer.code == 0, answer.err
    with Journal.open(data / JOURNAL_NAME) as journal:
        told = [fact for fact in journal.facts() if isinstance(fact.body, NumbersReserved)]
    assert {fact.who for fact in told} == {"P20"}
    assert [fact.body.paste for fact in told] == ["SN-4", "SN-6", "PB-1", "BI-2", "RT-3"]  # type: ignore[union-attr]
    numbers = [name for body in reserved(data) for name in body.numbers]
    # two containers are there already
    assert numbers == [f"K1-{counter:03d}" for counter in range(3, 33)]


def test_a_second_sheet_gets_other_numbers(station: Say, data: Path, tmp_path: Path) -> None:
    for _ in range(2):
        words = ("--config", DEMO, "--data", data, "--down", "--paste", "PB-1")
        assert station("sheet", tmp_path / "down.pdf", *words).code == 0
    first, second = reserved(data)
    assert set(first.numbers).isdisjoint(second.numbers)
    assert station("verify", "--data", data).code == 0


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("cards.pdf", "--paper", "A5"), "choose A4 or Letter"),
        (("site.toml",), "does not end with .pdf"),
        (("cards.pdf", "--only", "cards"), "no cards of sort 'cards'"),
        (("down.pdf", "--down", "--only", "card"), "--only is for cards"),
        (("down.pdf", "--down", "--by", "P99"), "Nobody here has badge 'P99'"),
        (("down.pdf", "--down", "--paste", "SN-5"), "no paste 'SN-5'"),
    ],
)
def test_what_can_not_be_done_is_said_and_nothing_is_written(
    station: Say, data: Path, tmp_path: Path, words: tuple[str, ...], sentence: str
) -> None:
    before = len(facts(data))
    answer = station("sheet", tmp_path / words[0], *words[1:], "--config", DEMO, "--data", data)
    assert answer.code == 2
    assert sentence in answer.err
    assert not (tmp_path / words[0]).exists()
    assert len(facts(data)) == before


def test_without_a_station_there_is_nothing_to_keep_numbers_in(station: Say, tmp_path: Path) -> None:
    words = ("--config", DEMO, "--data", tmp_path / "nothing", "--down")
    answer = station("sheet", tmp_path / "down.pdf", *words)
    assert answer.code == 2
    assert "Start the station there once" in answer.err


def test_while_the_station_runs_its_numbers_are_given_at_the_desk_only(
    station: Say, data: Path, tmp_path: Path
) -> None:
    with Journal.open(data / JOURNAL_NAME):
        answer = station("sheet", tmp_path / "down.pdf", "--config", DEMO, "--data", data, "--down")
    assert answer.code == 2
    assert not (tmp_path / "down.pdf").exists()


def test_changed_settings_are_not_printed_before_the_station_works_by_them(
    station: Say, data: Path, tmp_path: Path
) -> None:
    changed = tmp_path / "config"
    changed.mkdir()
    for file in DEMO.iterdir():
        text = file.read_text(encoding="utf-8")
        (changed / file.name).write_text(text.replace('open_life = "24 h"', 'open_life = "12 h"'), encoding="utf-8")
    answer = station("sheet", tmp_path / "down.pdf", "--config", changed, "--data", data, "--down")
    assert answer.code == 2
    assert "Start it once with them" in answer.err


def test_printing_a_sheet_leaves_the_stations_clean_end_as_it_was(station: Say, data: Path, tmp_path: Path) -> None:
    station("sheet", tmp_path / "down.pdf", "--config", DEMO, "--data", data, "--down", "--paste", "SN-4")
    with Journal.open(data / JOURNAL_NAME) as journal:
        bodies = [fact.body for fact in journal.facts()]
    assert isinstance(bodies[-2], StationStopped)
    assert isinstance(bodies[-1], NumbersReserved)


def test_a_place_that_can_not_be_written_is_named(station: Say, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    answer = station("sheet", tmp_path / "file" / "cards.pdf", "--config", DEMO, "--only", "badge")
    assert answer.code == 2
    assert "cannot be written" in answer.err
