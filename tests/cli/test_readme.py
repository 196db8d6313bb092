"""What README.md tells people is true: its script plays, its lines are in use, its first minutes happen."""

import re
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from station.bootstrap import DEMO_KEYS, NoPrinter, build_station
from station.care.scans import CardScan, ContainerScan, TagScan
from station.care.words import Card
from station.cli.script_values import ALARM_PARTS, EXPECTATIONS, TABLES
from station.rehearsal.clock import SetClock
from station.rehearsal.midshift import MidShift
from station.rehearsal.script import ACTIONS
from station.services.memory import MemoryJournal
from station.services.station import Station
from station.settings.load import load
from tests.cli.answers import DEMO, ROOT
from tests.cli.conftest import Say
from tests.cli.test_program import COMMANDS

README = (ROOT / "README.md").read_text(encoding="utf-8")
CI = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
NOW = datetime(2026, 11, 24, 12, 0, tzinfo=UTC)


def section(title: str) -> str:
    """The text under a heading, up to the next of its kind."""
    return README.split(f"\n## {title}\n")[1].split("\n## ")[0]


def test_the_example_script_plays_as_it_says(station: Say, tmp_path: Path) -> None:
    (example,) = re.findall(r"```jsonl\n(.*?)```", README, flags=re.DOTALL)
    script = tmp_path / "example.jsonl"
    script.write_text(example, encoding="utf-8")
    answer = station("rehearse", script, "--config", DEMO, "--json")
    assert (answer.code, answer.err) == (0, "")
    assert len(answer.out.splitlines()) == 10


@pytest.mark.parametrize("name", [*ACTIONS, *EXPECTATIONS])
def test_every_word_of_a_script_is_explained(name: str) -> None:
    assert f"\n| `{name}` | " in section("Rehearsal scripts")


@pytest.mark.parametrize("action", sorted(TABLES))
def test_every_part_of_an_action_is_named_beside_it(action: str) -> None:
    (row,) = re.findall(rf"\n\| `{action}` \| (.*) \|", section("Rehearsal scripts"))
    required, optional = TABLES[action]
    assert [part for part in (*required, *optional) if f"`{part}`" not in row] == []


def test_the_parts_of_an_expected_alarm_are_named() -> None:
    (row,) = re.findall(r"\n\| `alarm` \| (.*) \|", section("Rehearsal scripts"))
    assert set(re.findall(r"`(\w+)`", row)) == ALARM_PARTS


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_stands_in_the_reference(command: str) -> None:
    assert f"\n| `station {command} " in section("Commands")


def test_the_apt_line_is_the_list_the_checks_install() -> None:
    (line,) = re.findall(r"\napt-get install -y --no-install-recommends (.*)\n", README)
    (window,) = re.findall(r"\nwindow=\((.*?)\)", CI, flags=re.DOTALL)
    assert line.split() == window.split()
    (checks,) = re.findall(r"\nchecks=\((.*?)\)", CI)
    assert f"`{checks}`" in README


def test_each_way_to_begin_is_one_line() -> None:
    begin = section("Two commands on a fresh machine")
    lines = re.findall(r"```(?:bash|powershell)\n(.*?)```", begin, flags=re.DOTALL)
    assert [line.count("\n") for line in lines] == [1] * 5
    assert [("station demo" in line, "tests.run check" in line) for line in lines[:4]] == [
        (True, False),
        (False, True),
    ] * 2


def test_pictures_are_where_the_text_says() -> None:
    named = re.findall(r"\]\((resources/[^)]+)\)", README)
    assert len(named) == 4
    if not (ROOT / "resources" / "pictures").exists():
        pytest.skip("the pictures are not made yet")
    assert [name for name in named if not (ROOT / name).is_file()] == []


def test_links_lead_somewhere() -> None:
    for name in re.findall(r"\]\((?!resources|#|http)([^)]+)\)", README):
        assert (ROOT / name).exists(), name


@pytest.fixture
def demo() -> Station:
    """The demo as it opens."""
    site, journal = load(DEMO), MemoryJournal()
    past = SetClock(NOW - timedelta(days=16))
    lived = build_station(site, journal, past, DEMO_KEYS, NoPrinter())
    lived.start("test")
    MidShift(lived, past, NOW).live()
    station = build_station(site, journal, SetClock(NOW), DEMO_KEYS, NoPrinter())
    station.start("test")
    return station


FIRST_MINUTES = (
    ("FRIDGE", "K1 016", "DONE", "put-away"),
    ("FRIDGE", "K1 006", "WAIT", "better-choice"),
    ("FRIDGE", "K1 004", "STOP", "never-back"),
    ("LINE1", "K1 007", "WAIT", "conditioning"),
    ("LINE1", "K1 009", "STOP", "wrong-alloy"),
    ("LINE1", "K1 002", "USE", "use"),
    ("DOTS", "K1 012", "USE", "use"),
)


@pytest.mark.parametrize(("place", "name", "word", "code"), FIRST_MINUTES)
def test_the_first_five_minutes_are_answered_as_told(
    demo: Station, place: str, name: str, word: str, code: str
) -> None:
    (told,) = re.findall(rf"\| {name}, .*? \| (\w+)", section("The first five minutes"))
    verdict = demo.scanned(ContainerScan(name.replace(" ", "-")), place).verdict
    assert verdict is not None
    assert (verdict.word.value, verdict.code) == (word, code)
    assert told == word


def test_insisting_within_ten_seconds_takes_it_out(demo: Station) -> None:
    demo.scanned(ContainerScan("K1-006"), "FRIDGE")
    _clock(demo).go_on(timedelta(seconds=5))
    verdict = demo.scanned(ContainerScan("K1-006"), "FRIDGE").verdict
    assert verdict is not None
    assert verdict.code == "taken-out"


def test_within_two_minutes_the_bead_of_line_1_is_over_and_can_be_removed(demo: Station) -> None:
    before = set(demo.ledger.alarms)
    _clock(demo).go_on(timedelta(minutes=2))
    demo.tick()
    (new,) = set(demo.ledger.alarms) - before
    assert demo.ledger.alarms[new].subject == "1"
    demo.scanned(TagScan("1"), "LINE1")
    verdict = demo.scanned(CardScan(Card.REMOVE), "LINE1").verdict
    assert verdict is not None
    assert verdict.code == "removed"


def _clock(station: Station) -> SetClock:
    clock = station._clock
    assert isinstance(clock, SetClock)
    return clock
