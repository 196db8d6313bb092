"""What a dispenser and a preparation bench show, and how paste filled here stands on the board."""

import pytest
from pytestqt.qtbot import QtBot

from station.care.alarms import Clearing
from station.care.facts import Held
from station.care.words import Boards, Card, Disposition, HoldReason
from station.ui.desk_work import DeskWork
from station.ui.dialogs.clear_dialog import ClearDialog, ClearWord
from station.ui.screen import PlaceScreen
from station.ui.view_models import BoardRow, ScreenModel
from station.ui.window import StationWindow
from tests.care.bench import LEAD, LEAD_PIN, Bench
from tests.care.places import site_d


@pytest.fixture
def bench() -> Bench:
    return Bench(site_d())


def screen(bench: Bench, place: str) -> ScreenModel:
    work = DeskWork(bench.station)
    bench.station.place = place
    return work.screen()


def row(model: ScreenModel, title: str) -> BoardRow:
    return next(found for found in model.board.rows if found.title == title)


def labels(model: ScreenModel) -> list[str]:
    return [action.label for action in model.actions]


def mount(bench: Bench) -> str:
    name = bench.ready(kind="CART-600")
    bench.scan(name, "DOTS")
    assert bench.card(Card.LOOKS_GOOD, "DOTS").word == "USE"
    return name


def test_a_dispenser_shows_what_is_mounted_first_and_what_may_come_next(bench: Bench) -> None:
    mount(bench)
    other = bench.ready(kind="SYR-35")
    model = screen(bench, "DOTS")
    assert [found.title for found in model.board.rows] == ["K7 001", other.replace("-", " ")]
    first = model.board.rows[0]
    assert first.subtitle == "SN-4 cartridge 600 g, lot 101, feeding D1"
    assert (first.feeding, first.caption) == (True, "open life")
    assert labels(model)[:4] == ["Empty", "Discard", "Dismount", "Cleaned"]
    assert model.bottom == "Scan a cartridge, a card or a badge. This is D1."
    assert model.just_scanned


def test_the_bench_says_what_belongs_to_mixing_and_to_filling(bench: Bench) -> None:
    hint = screen(bench, "BENCH").empty_hint
    assert "lid closed" in hint
    assert "the holder with its own wipes" in hint
    assert "the maker's hazard information" in hint


def test_an_empty_dispenser_says_how_it_is_used(bench: Bench) -> None:
    assert "USE counts it as mounted" in screen(bench, "DOTS").empty_hint


def test_a_mount_told_of_a_container_nobody_knows_here_shows_no_row(bench: Bench) -> None:
    mount(bench)
    del bench.station.ledger.containers["K7-001"]
    assert screen(bench, "DOTS").board.rows == ()


def test_a_touch_takes_off_what_is_mounted(bench: Bench) -> None:
    mount(bench)
    work = DeskWork(bench.station)
    bench.station.place = "DOTS"
    bench.later(1)
    outcome = work.card(Card.DISMOUNT)
    assert outcome is not None
    assert outcome.verdict is not None
    assert outcome.verdict.code == "dismounted"


def test_the_bench_offers_mixing_and_decanting(bench: Bench) -> None:
    model = screen(bench, "BENCH")
    assert labels(model)[:2] == ["Mixed", "Decant"]
    assert "then MIXED" in model.empty_hint
    assert "saves no time" in model.bottom


def test_decanted_and_used_paste_say_on_the_board_where_they_come_from(bench: Bench) -> None:
    jar = bench.on_line()
    bench.later(1).scan(jar, "BENCH")
    bench.card(Card.DECANT, "BENCH")
    bench.later(60).tag_card("1", Card.REMOVE, "LINE1")
    bench.card(Card.KEEP_USED, "LINE1")
    model = screen(bench, "LINE1")
    assert row(model, "K7 002").subtitle == "SN-4 decanted from K7 001, lot 101"
    assert row(model, "K7 002").caption == "decanted life"
    assert row(model, "K7 003").subtitle == "SN-4 used paste of K7 001, lot 101"


def test_the_verdict_names_what_was_filled(bench: Bench) -> None:
    jar = bench.on_line()
    work = DeskWork(bench.station)
    bench.station.place = "BENCH"
    bench.later(1).scan(jar, "BENCH")
    work.card(Card.DECANT)
    shown = work.screen().verdict
    assert shown is not None
    assert (shown.headline, shown.subject) == ("K7 002", "K7 002 SN-4, decanted from K7 001")


def test_after_a_removal_the_printer_offers_to_keep_the_bead_for_a_quarter_of_an_hour(bench: Bench) -> None:
    bench.on_line()
    assert "Remove bead" in labels(screen(bench, "LINE1"))
    bench.later(60).tag_card("1", Card.REMOVE, "LINE1")
    assert "Keep used" in labels(screen(bench, "LINE1"))
    bench.later(16)
    assert "Keep used" not in labels(screen(bench, "LINE1"))


def test_a_bead_is_offered_to_be_kept_once(bench: Bench) -> None:
    bench.on_line()
    bench.tag_card("1", Card.REMOVE, "LINE1")
    bench.card(Card.KEEP_USED, "LINE1")
    assert "Keep used" not in labels(screen(bench, "LINE1"))


def test_the_desk_counts_what_is_in_dispensers(bench: Bench) -> None:
    mount(bench)
    assert ("in dispensers", "1") in screen(bench, "DESK").summary


def test_past_its_limit_the_desk_says_to_take_it_off_before_it_is_cleared(bench: Bench) -> None:
    mount(bench)
    bench.later(24 * 60 + 5)
    (card,) = screen(bench, "DESK").alarm_cards
    assert card.lines[1] == "It is still on D1: stop, take it off, and record DISMOUNT."
    clear = card.actions[-1]
    assert (clear.enabled, clear.hint) == (False, "take it off first")
    bench.tag_card("D1", Card.DISMOUNT, "DOTS")
    (card,) = screen(bench, "DESK").alarm_cards
    assert card.lines[1] == "Say what became of the boards printed between 15:11 and 15:16."
    assert card.actions[-1].enabled


def test_held_in_a_dispenser_is_said_as_that(bench: Bench) -> None:
    name = mount(bench)
    bench.tell(Held(name, HoldReason.PERSON, ""))
    bench.station.tick()
    (card,) = screen(bench, "DESK").alarm_cards
    assert card.title == "K7 001 is on hold in a dispenser"
    bench.release_all(name)
    (alarm,) = bench.alarms()
    clearing = Clearing(alarm, Disposition.CHECKED, "good", boards=Boards.NONE)
    bench.station.clear(clearing, LEAD, LEAD_PIN)
    assert screen(bench, "DESK").alarm_cards == ()


def test_a_touch_a_minute_after_the_scan_still_means_the_only_position(bench: Bench) -> None:
    bench.on_line()
    bench.station.place = "LINE1"
    bench.later(1)
    outcome = DeskWork(bench.station).card(Card.PAUSE)
    assert outcome is not None
    assert outcome.verdict is not None
    assert outcome.verdict.code == "paused"


def test_released_where_it_is_mounted_the_form_asks_for_boards_since_then(bench: Bench, qtbot: QtBot) -> None:
    name = mount(bench)
    bench.tell(Held(name, HoldReason.PERSON, ""))
    bench.station.tick()
    bench.release_all(name)
    bench.station.place = "DESK"
    window = StationWindow(DeskWork(bench.station), None)
    qtbot.addWidget(window)
    window.show()
    window.act(f"clear:{bench.alarms()[0]}")
    (dialog,) = window.findChildren(ClearDialog)
    assert dialog.boards.caption.text() == "Boards printed since 15:11"
    dialog.offered.emit(ClearWord(LEAD, LEAD_PIN, "good", Disposition.CHECKED, Boards.NONE, "", None))
    assert bench.alarms() == []
    window.close()


@pytest.mark.parametrize("place", ["DOTS", "BENCH"])
def test_nothing_is_cut_off_on_their_screens(bench: Bench, place: str, qtbot: QtBot) -> None:
    mount(bench)
    view = PlaceScreen()
    qtbot.addWidget(view)
    view.resize(1366, 768)
    view.show_model(screen(bench, place))
    view.show()
    view.grab()
    painted = view.lettered()
    assert any(record.text for _, record in painted)
    assert [record.text for _, record in painted if not record.fits] == []
