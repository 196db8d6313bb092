"""The time board tells the truth of every row: what must come off is red, what was delivered is there, worst first."""

from dataclasses import replace
from datetime import timedelta

import pytest
from pytestqt.qtbot import QtBot

from station.care.alarms import situation
from station.care.facts import Held
from station.care.scans import CardScan, TagScan
from station.care.words import Card, HoldReason, Limit, Word
from station.ui.desk_work import DeskWork
from station.ui.present.alarm_cards import title_of
from station.ui.view_models import BoardModel, BoardRow, ScreenModel, StretchKind, Tone
from station.ui.widgets.time_board import TimeBoard
from tests.care.bench import Bench, site_t, with_limits
from tests.care.engineering import listed
from tests.care.places import site_d
from tests.care.test_dispenser import cartridge
from tests.care.test_off_its_list import off_list, printing
from tests.care.test_paste_lists import wide

RED = Tone.PAST


def screen(bench: Bench, place: str) -> ScreenModel:
    work = DeskWork(bench.station)
    bench.station.place = place
    return work.screen()


def rows(bench: Bench, place: str) -> list[BoardRow]:
    return list(screen(bench, place).board.rows)


def usable_later(bench: Bench, row: BoardRow) -> bool:
    """Whether the bar promises time in which it may be used."""
    good = (StretchKind.USABLE, StretchKind.NEAR)
    return any(piece.kind in good and piece.end > bench.clock.wall for piece in row.stretches)


def said(row: BoardRow) -> tuple[str, str, Tone]:
    return row.countdown, row.caption, row.tone


# ---------------------------------------------------------------------- delivered, not put away


@pytest.mark.parametrize("place", ["FRIDGE", "DESK"])
def test_what_was_delivered_counts_down_at_the_door_and_the_desk_until_it_is_put_away(place: str) -> None:
    bench = Bench()
    jar = bench.receive()
    end = bench.container(jar).to_cold_by
    assert end is not None
    minutes = (end - bench.clock.wall) / timedelta(minutes=1)
    bench.later(minutes / 4)
    (row,) = rows(bench, place)
    assert (row.title, row.caption, row.tone) == ("K7 001", "to put away", Tone.CALM)
    assert row.subtitle.endswith("lot 101, delivered")
    assert [stretch.kind for stretch in row.stretches] == [StretchKind.CONDITIONING]
    bench.later(minutes * 3 / 4 - 1)
    assert rows(bench, place)[0].tone is Tone.NEAR
    bench.later(2)
    (row,) = rows(bench, place)
    assert (row.caption, row.tone, row.unacknowledged) == ("to put away, late", RED, True)
    assert [card.title for card in screen(bench, "DESK").alarm_cards] == ["K7 001 is late to cold storage"]
    bench.scan(jar, "FRIDGE")
    assert rows(bench, "FRIDGE") == []
    assert [card.title for card in screen(bench, "DESK").alarm_cards] == ["K7 001 was late to cold storage"]


def test_a_hold_of_its_lot_does_not_hide_that_it_has_to_go_into_the_cold() -> None:
    bench = Bench()
    bench.tell(Held(bench.receive(), HoldReason.PERSON, ""))
    (row,) = rows(bench, "FRIDGE")
    assert (row.caption, row.tone) == ("on hold, put it away", RED)


# ---------------------------------------------------------------------- red, and no time left


@pytest.mark.parametrize("place", ["LINE1", "DESK"])
def test_a_bead_off_its_list_is_red_and_says_so(place: str) -> None:
    bench = printing(Bench(wide()))
    assert rows(bench, place)[0].tone is Tone.CALM
    assert usable_later(bench, rows(bench, place)[0])
    listed(bench.later(5), "SN-6")
    assert said(rows(bench, place)[0]) == ("scrape off", "off its list", RED)
    assert not usable_later(bench, rows(bench, place)[0])


def test_so_is_a_bead_that_does_not_fit_the_order_set_up_since() -> None:
    bench = printing(Bench(site_t()))
    bench.later(5).order("WO77777", "POWER", "LINE1")
    assert said(rows(bench, "LINE1")[0]) == ("scrape off", "not for this job", RED)


def test_so_is_what_is_mounted() -> None:
    bench = Bench(site_d())
    bench.order("WO10000", "CTRL", "DOTS")
    cartridge(bench)
    listed(bench.later(10), "PB-1")
    assert said(rows(bench, "DOTS")[0]) == ("take off", "off its list", RED)


def test_a_bead_past_its_end_still_says_by_how_much() -> None:
    bench = Bench()
    bench.on_line()
    bench.later(8 * 60 + 1)
    row = rows(bench, "LINE1")[0]
    assert row.countdown.endswith(" past")
    assert (row.caption, row.tone) == ("stencil life passed", RED)


def test_labels_of_its_paste_that_were_swapped_stop_it_as_at_a_scan() -> None:
    bench = Bench()
    first, second = bench.ready(), bench.ready()
    bench.scan(first, "LINE1")
    bench.card(Card.LOOKS_GOOD, "LINE1")
    bench.station.ledger.containers[first] = replace(bench.container(first), swapped_with=second)
    assert said(rows(bench, "LINE1")[0]) == ("stop", "labels swapped", RED)


@pytest.mark.parametrize("use", ["ready", "conditioning"])
def test_what_is_on_hold_counts_down_to_nothing(use: str) -> None:
    bench = Bench()
    if use == "ready":
        jar = bench.ready()
    else:
        jar = bench.cold()
        bench.later(11)
        bench.scan(jar, "FRIDGE")
    bench.tell(Held(jar, HoldReason.PERSON, ""))
    assert not usable_later(bench, rows(bench, "FRIDGE")[0])
    assert said(rows(bench, "FRIDGE")[0]) == ("on hold", "held by a person", RED)


def test_a_pause_is_black_then_wants_kneading_then_a_new_bead() -> None:
    """30 and 60 minutes: figures of the test plant, common practice, no source."""
    bench = Bench()
    bench.on_line()
    bench.tag_card("1", Card.PAUSE, "LINE1")
    since = rows(bench, "LINE1")[0].caption
    assert since.startswith("paused since ")
    assert rows(bench.later(29), "LINE1")[0].tone is Tone.CALM
    row = rows(bench.later(6), "LINE1")[0]
    assert (row.caption, row.tone) == (f"{since}, knead it", Tone.NEAR)
    assert said(rows(bench.later(26), "LINE1")[0]) == ("replace", "paused too long", RED)


def test_the_stop_of_a_tag_leaves_no_strip_behind_once_the_bead_is_off() -> None:
    bench = Bench()
    bench.on_line()
    bench.later(8 * 60 + 1)
    bench.station.place = "LINE1"
    work = DeskWork(bench.station)
    work.scanned(TagScan("1"))
    shown = work.screen().verdict
    assert shown is not None
    assert (shown.word, shown.headline) == (Word.STOP, "THE BEAD IS OVER")
    work.scanned(CardScan(Card.REMOVE))
    after = work.screen()
    assert after.verdict is not None
    assert (after.verdict.word, after.strips) == (Word.DONE, ())


# ---------------------------------------------------------------------- what a title says after the act


def test_an_alarm_of_a_bead_off_its_list_says_lay_once_it_is_off() -> None:
    bench = printing(Bench(wide()))
    listed(bench, "SN-6")
    (alarm,) = off_list(bench.later(1))
    assert title_of(bench.floor, alarm) == "Paste off its list lies on line 1"
    bench.tag_card("1", Card.REMOVE, "LINE1")
    assert title_of(bench.later(120).floor, alarm) == "Paste off its list lay on line 1"


def test_so_does_one_of_held_paste_in_a_bead_and_in_a_dispenser() -> None:
    bench = Bench()
    bench.tell(Held(bench.on_line(), HoldReason.PERSON, ""))
    (alarm,) = [one for one in bench.later(1).station.ledger.alarms.values() if one.limit is Limit.HOLD]
    assert title_of(bench.floor, alarm) == "Paste on hold lies on line 1"
    bench.tag_card("1", Card.REMOVE, "LINE1")
    assert title_of(bench.floor, alarm) == "Paste on hold lay on line 1"
    dots = Bench(site_d())
    name = cartridge(dots)
    dots.tell(Held(name, HoldReason.PERSON, ""))
    (alarm,) = dots.later(1).station.ledger.alarms.values()
    dots.tag_card("D1", Card.DISMOUNT, "DOTS")
    assert not situation(dots.floor, alarm).active
    assert title_of(dots.floor, alarm) == f"{name.replace('-', ' ')} was on hold in a dispenser"


# ---------------------------------------------------------------------- the worst first


def past_jar_and_fresh_bead() -> Bench:
    """A jar past its room life, and a bead that was begun with another just now."""
    bench = Bench(with_limits(site_t(), "SN-4", room_life=timedelta(hours=9)))
    bench.ready()
    bench.later(9 * 60)
    bench.on_line()
    return bench


def test_at_the_desk_what_is_past_stands_above_beads_with_hours_left() -> None:
    found = rows(past_jar_and_fresh_bead(), "DESK")
    assert [row.title for row in found] == ["K7 001", "LINE 1 BEAD", "K7 002"]
    assert [row.tone is RED for row in found] == [True, False, False]


def test_of_what_is_red_the_most_urgent_alarm_stands_on_top() -> None:
    """Boards are made with a bead past its end, however long a jar elsewhere is past its own."""
    bench = past_jar_and_fresh_bead().later(8 * 60)
    found = rows(bench, "DESK")
    assert [row.tone for row in found] == [RED] * 3
    assert (found[0].title, found[-1].title) == ("LINE 1 BEAD", "K7 001")


def test_at_the_line_its_own_bead_stays_on_top() -> None:
    assert rows(past_jar_and_fresh_bead(), "LINE1")[0].title == "LINE 1 BEAD"


def test_the_line_under_the_board_says_how_many_unseen_rows_are_red(qtbot: QtBot) -> None:
    now = Bench().clock.wall
    board = TimeBoard()
    qtbot.addWidget(board)
    board.resize(900, 300)

    def foot(*tones: Tone) -> str:
        board.show_model(BoardModel(now, tuple(BoardRow(f"K7 {n}", tone=tone) for n, tone in enumerate(tones))))
        board.grab()
        return next(record.text for record in board.lettered if record.text.startswith("and "))

    assert foot(*[Tone.CALM] * 20) == f"and {board.hidden_rows} more"
    assert foot(*[RED] * 20) == f"and {board.hidden_rows} more, {board.hidden_rows} of them red"
