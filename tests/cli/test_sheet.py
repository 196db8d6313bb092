"""`station sheet`: cards to print, and down-station sheets whose numbers are kept."""

from collections.abc import Callable
from io import StringIO
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image

from station.bootstrap import DEMO_KEYS, JOURNAL_NAME, NoPrinter, build_station
from station.care.answers import plain
from station.care.facts import BadgesPrinted, Fact, NumbersReserved, PersonSet, StationStarted, StationStopped
from station.care.verdict import Decision
from station.care.words import Role, Word
from station.clock import SystemClock
from station.journal.store import Journal
from station.services.station import Proof
from station.settings.load import load
from tests.cli.answers import DEMO, Answer
from tests.cli.conftest import Say

GO_ON = plain(Word.DONE, "person-left", "TAKEN OFF", "", "")


def recorded(data: Path) -> list[Fact]:
    with Journal.open(data / JOURNAL_NAME) as journal:
        return list(journal.facts())


def reserved(data: Path) -> list[NumbersReserved]:
    with Journal.open(data / JOURNAL_NAME) as journal:
        return [fact.body for fact in journal.facts() if isinstance(fact.body, NumbersReserved)]


@pytest.mark.parametrize("paper", ["A4", "letter"])
def test_cards_are_written_as_pdf_and_the_answer_says_where(station: Say, tmp_path: Path, paper: str) -> None:
    file = tmp_path / "made here" / "cards.pdf"
    answer = station("sheet", file, "--config", DEMO, "--paper", paper, "--only", "place")
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
        (("badges.pdf", "--only", "badge"), "Add --by BADGE"),
        (("badges.pdf", "--only", "badge", "--only", "card", "--by", "P20"), "printed by themselves"),
        (("badges.pdf", "--only", "badge", "--by", "P99"), "Nobody here has badge 'P99'"),
    ],
)
def test_what_can_not_be_done_is_said_and_nothing_is_written(
    station: Say, data: Path, tmp_path: Path, words: tuple[str, ...], sentence: str
) -> None:
    before = len(recorded(data))
    answer = station("sheet", tmp_path / words[0], *words[1:], "--config", DEMO, "--data", data)
    assert answer.code == 2
    assert sentence in answer.err
    assert not (tmp_path / words[0]).exists()
    assert len(recorded(data)) == before


@pytest.fixture
def typed(monkeypatch: pytest.MonkeyPatch) -> Callable[[str], None]:
    """What is typed where the PIN is asked for."""
    return lambda pin: monkeypatch.setattr("sys.stdin", StringIO(f"{pin}\n"))


def badges(station: Say, data: Path, file: Path, by: str) -> Answer:
    return station("sheet", file, "--config", DEMO, "--data", data, "--only", "badge", "--by", by)


@pytest.mark.parametrize(("badge", "pin"), [("P20", "2020"), ("P30", "3030")])
def test_badges_are_printed_for_a_lead_or_an_engineer_who_types_the_pin(
    station: Say, data: Path, tmp_path: Path, typed: Callable[[str], None], badge: str, pin: str
) -> None:
    typed(pin)
    answer = badges(station, data, tmp_path / "badges.pdf", badge)
    assert answer.code == 0, answer.err
    assert (tmp_path / "badges.pdf").read_bytes().startswith(b"%PDF")
    told = [fact for fact in recorded(data) if isinstance(fact.body, BadgesPrinted)]
    assert [fact.who for fact in told] == [badge]


@pytest.mark.parametrize(("badge", "pin"), [("P20", "2021"), ("P12", "2020"), ("P20", "")])
def test_no_badge_is_printed_without_the_pin_of_who_may(
    station: Say, data: Path, tmp_path: Path, typed: Callable[[str], None], badge: str, pin: str
) -> None:
    typed(pin)
    assert badges(station, data, tmp_path / "badges.pdf", badge).code == 2
    assert not (tmp_path / "badges.pdf").exists()
    assert not any(isinstance(fact.body, BadgesPrinted) for fact in recorded(data))


def test_a_wrong_pin_on_the_command_line_is_on_record_and_leaves_the_clean_end_as_it_was(
    station: Say, data: Path, tmp_path: Path, typed: Callable[[str], None]
) -> None:
    typed("2021")
    badges(station, data, tmp_path / "badges.pdf", "P20")
    with Journal.open(data / JOURNAL_NAME) as journal:
        desk = build_station(load(DEMO), journal, SystemClock(), DEMO_KEYS, NoPrinter(), journal.own)
        assert desk.ledger.people["P20"].wrong_pins == 1
        started = desk.start("test").facts[0].body
    assert isinstance(started, StationStarted)
    assert started.clean


def test_all_cards_come_without_badges_and_it_is_said(station: Say, tmp_path: Path) -> None:
    answer = station("sheet", tmp_path / "cards.pdf", "--config", DEMO)
    assert answer.code == 0, answer.err
    assert "Badges are not in it" in answer.out


def test_who_left_by_the_record_has_no_sheet_printed(station: Say, data: Path, tmp_path: Path) -> None:
    gone = PersonSet("P12", "Robin Alder", (Role.OPERATOR,), None, left=True)
    with Journal.open(data / JOURNAL_NAME) as journal:
        desk = build_station(load(DEMO), journal, SystemClock(), DEMO_KEYS, NoPrinter(), journal.own)
        lead = Proof("P20", "2020")
        desk.decided(lead, Role.LEAD, lambda _floor, _by: Decision(GO_ON, (gone,)))
    words = ("--config", DEMO, "--data", data, "--down", "--by", "P12")
    answer = station("sheet", tmp_path / "down.pdf", *words)
    assert answer.code == 2
    assert "does not work here any more" in answer.err


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
        (changed / file.name).write_text(text.replace("Robin Alder", "Robin Oak"), encoding="utf-8")
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
    answer = station("sheet", tmp_path / "file" / "cards.pdf", "--config", DEMO, "--only", "place")
    assert answer.code == 2
    assert "cannot be written" in answer.err


# ---------------------------------------------------------------------- a single code on a label


@pytest.mark.parametrize(
    ("what", "text"), [("hold", "D1HOLD"), ("2A", "L12A"), ("Shift desk", "A1DESK"), ("A1", "B1A1")]
)
def test_a_single_card_or_tag_is_written_at_the_size_of_the_place_and_reads_back(
    station: Say, tmp_path: Path, what: str, text: str
) -> None:
    file = tmp_path / "one.png"
    answer = station("sheet", file, "--one", what, "--config", DEMO)
    assert answer.code == 0, answer.err
    assert "60 x 40 mm at 203 dots per inch" in answer.out
    with Image.open(file) as image:
        assert (image.width, image.height) == (479, 319)
        (found,) = zxingcpp.read_barcodes(image.convert("L"))
    assert found.text.startswith(text)


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("x.png", "--one", "HOLDE"), "no such card or tag here: 'HOLDE'"),
        (("x.png", "--one", "P12"), "add --only badge"),
        (("x.png", "--one", "FRIDGE"), "names several: store, place"),
        (("x.pdf", "--one", "HOLD"), "does not end with .png"),
        (("x.png", "--one", "HOLD", "--down"), "Leave out --down"),
        (("x.png", "--one", "HOLD", "--on", "LINE9"), "no place 'LINE9'"),
        (("x.pdf", "--on", "LINE1"), "--on is for a single code"),
        (("x.png", "--one", "P12", "--only", "badge"), "Add --by BADGE"),
    ],
)
def test_a_single_code_that_can_not_be_made_is_said_and_nothing_is_written(
    station: Say, data: Path, tmp_path: Path, words: tuple[str, ...], sentence: str
) -> None:
    answer = station("sheet", tmp_path / words[0], *words[1:], "--config", DEMO, "--data", data)
    assert answer.code == 2
    assert sentence in answer.err
    assert not (tmp_path / words[0]).exists()


@pytest.mark.parametrize(
    ("words", "sentence"),
    [((), "Name the PDF"), (("--one", "HOLD"), "with --on"), (("--one", "HOLD", "--on", "FRIDGE"), "no printer queue")],
)
def test_without_a_file_there_has_to_be_a_printer(station: Say, words: tuple[str, ...], sentence: str) -> None:
    answer = station("sheet", *words, "--config", DEMO)
    assert answer.code == 2
    assert sentence in answer.err


def test_a_single_badge_is_made_for_who_proves_it_and_stands_in_the_record(
    station: Say, data: Path, tmp_path: Path, typed: Callable[[str], None]
) -> None:
    words = ("--config", DEMO, "--data", data, "--only", "badge", "--one", "P12", "--by", "P20")
    typed("2021")
    assert station("sheet", tmp_path / "badge.png", *words).code == 2
    assert not (tmp_path / "badge.png").exists()
    typed("2020")
    answer = station("sheet", tmp_path / "badge.png", *words)
    assert answer.code == 0, answer.err
    (told,) = [fact for fact in recorded(data) if isinstance(fact.body, BadgesPrinted)]
    assert (told.who, told.body) == ("P20", BadgesPrinted(("P12",)))
