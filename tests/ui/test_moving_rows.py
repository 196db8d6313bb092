"""Paste on its way between two refrigerators at the window: its time on the board, the touch, the alarm's title."""

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from station.bootstrap import DEMO_KEYS
from station.care.scans import ContainerScan
from station.care.words import Card
from station.labels.containercode import container_numbers, pack_container
from station.labels.plaincodes import TagKind, card_text, tag_text
from station.scanning.heard import HeardScan
from station.ui.desk_work import DeskWork
from station.ui.view_models import BoardRow, ScreenModel, StretchKind, Tone
from station.ui.window import StationWindow
from tests.care.bench import Bench
from tests.care.test_move_away import away
from tests.care.test_stores import two_stores
from tests.ui.test_counting import touch


@pytest.fixture
def bench() -> Bench:
    return Bench(two_stores(), start="2026-11-09T06:00")


@pytest.fixture
def window(bench: Bench, qtbot: QtBot) -> Iterator[StationWindow]:
    shown = StationWindow(DeskWork(bench.station), None)
    qtbot.addWidget(shown)
    shown.resize(1024, 768)
    shown.show()
    shown.hear(HeardScan(tag_text(TagKind.PLACE, "FRIDGE"), ""))
    yield shown
    shown.close()


def screen(bench: Bench, place: str) -> ScreenModel:
    work = DeskWork(bench.station)
    bench.station.place = place
    return work.screen()


def row(bench: Bench, place: str = "SECOND") -> BoardRow:
    (found,) = screen(bench, place).board.rows
    return found


def gone(bench: Bench) -> str:
    """A jar that left the first refrigerator at 07:00 and a few seconds."""
    jar = bench.cold()
    bench.at("2026-11-09T07:00")
    away(bench, jar)
    return jar


@pytest.mark.parametrize("place", ["FRIDGE", "SECOND", "DESK"])
def test_every_door_and_the_desk_show_how_long_it_has_left(bench: Bench, place: str) -> None:
    gone(bench)
    bench.at("2026-11-09T07:15")
    found = row(bench, place)
    assert (found.countdown, found.caption, found.tone) == ("45 min 00 s", "to put away", Tone.CALM)
    assert found.subtitle.endswith("on its way from Refrigerator")
    assert [stretch.kind for stretch in found.stretches] == [StretchKind.CONDITIONING]


def test_ten_minutes_before_its_end_it_is_near_and_after_it_late_with_an_alarm(bench: Bench) -> None:
    gone(bench)
    bench.at("2026-11-09T07:50")
    assert row(bench).tone is Tone.NEAR
    bench.at("2026-11-09T08:05")
    found = row(bench)
    assert (found.tone, found.caption, found.unacknowledged) == (Tone.PAST, "to put away, late", True)
    titles = [card.title for card in screen(bench, "DESK").alarm_cards]
    assert titles == ["K7 001 is too long on its way between stores"]


def test_put_away_it_leaves_the_board(bench: Bench) -> None:
    jar = gone(bench)
    bench.later(5).scan(jar, "SECOND")
    assert screen(bench, "SECOND").board.rows == ()


def test_a_touch_says_move_and_the_scan_after_it_goes(bench: Bench, window: StationWindow) -> None:
    jar = bench.cold()
    bench.at("2026-11-09T07:00")
    window.refresh()
    touch(window, "Move")
    bench.later(0.1)
    window.work.scanned(ContainerScan(jar))
    assert bench.container(jar).on_its_way
    window.refresh()
    window.view.grab()
    said = " ".join(record.text for _, record in window.view.lettered())
    assert "PUT AWAY BY 08:00" in said


def test_the_desk_offers_it_for_what_lies_in_the_cold_and_a_plant_with_one_refrigerator_never(bench: Bench) -> None:
    def offers(of: Bench, place: str) -> bool:
        of.station.place = place
        work = DeskWork(of.station)
        work.scanned(ContainerScan(next(iter(of.station.ledger.containers))))
        return "card:MOVE" in [action.id for action in work.screen().actions]

    bench.cold()
    bench.later(60)
    assert offers(bench, "DESK")
    alone = Bench()
    alone.cold()
    alone.later(60)
    assert not offers(alone, "DESK")
    assert "card:MOVE" not in [action.id for action in screen(alone, "FRIDGE").actions]


def test_n_containers_to_another_store_take_one_card_and_a_scan_each_at_both_doors(
    bench: Bench, window: StationWindow
) -> None:
    """Put away and take out take one scan each; a move is both, and the card that says so is scanned once."""
    jars = [bench.cold() for _ in range(3)]
    bench.at("2026-11-09T07:00")
    window.hear(HeardScan(card_text(Card.MOVE), ""))
    for jar in jars:
        bench.later(0.1)
        window.hear(HeardScan(identity_text(jar), ""))
    assert all(bench.container(jar).on_its_way for jar in jars)
    window.hear(HeardScan(tag_text(TagKind.PLACE, "SECOND"), ""))
    for jar in jars:
        bench.later(0.2)
        window.hear(HeardScan(identity_text(jar), ""))
    assert {bench.container(jar).store for jar in jars} == {"SECOND"}


def identity_text(jar: str) -> str:
    return pack_container(*container_numbers(jar), DEMO_KEYS)
