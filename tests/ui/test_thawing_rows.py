"""Frozen paste on its way through the refrigerator, as the board at the door and at the desk shows it."""

from datetime import timedelta

import pytest

from station.care.facts import Held
from station.care.words import HoldReason
from station.ui.desk_work import DeskWork
from station.ui.view_models import BoardRow, ScreenModel, StretchKind, Tone
from tests.care.bench import Bench, site_f


@pytest.fixture
def bench() -> Bench:
    return Bench(site_f(), start="2026-11-09T06:00")


def begun(bench: Bench) -> str:
    """A jar that has just left the freezer."""
    jar = bench.receive("FZ-7", temperature_c=-18)
    bench.scan(jar, "FREEZER")
    bench.later(11)
    bench.scan(jar, "FREEZER")
    return jar


def put_to_thaw(bench: Bench) -> str:
    """A jar that lies in the refrigerator since a minute after."""
    jar = begun(bench)
    bench.later(1).scan(jar, "FRIDGE")
    return jar


def screen(bench: Bench, place: str) -> ScreenModel:
    work = DeskWork(bench.station)
    bench.station.place = place
    return work.screen()


def row(bench: Bench, place: str = "FRIDGE") -> BoardRow:
    (found,) = screen(bench, place).board.rows
    return found


def test_at_the_door_it_waits_until_it_has_thawed(bench: Bench) -> None:
    put_to_thaw(bench)
    found = row(bench)
    assert found.title == "K7 001"
    assert (found.tone, found.caption) == (Tone.WAIT, "thawed 18:11")
    assert found.countdown == "11 h 59"
    assert [stretch.kind for stretch in found.stretches][:2] == [StretchKind.CONDITIONING, StretchKind.USABLE]
    assert ", bin " in found.subtitle


def test_on_its_way_it_says_that_it_is_not_there_yet(bench: Bench) -> None:
    begun(bench)
    assert row(bench).subtitle.endswith("not yet in the refrigerator")


def test_once_thawed_it_counts_down_to_when_it_must_be_out(bench: Bench) -> None:
    put_to_thaw(bench)
    bench.later(12 * 60)
    found = row(bench)
    assert found.caption == "take out, thaw in the refrigerator"
    assert found.countdown == "35 h" or found.countdown.startswith("1 d")
    assert found.tone is Tone.CALM


def test_left_there_too_long_it_is_past(bench: Bench) -> None:
    put_to_thaw(bench)
    bench.later(timedelta(days=3) / timedelta(minutes=1))
    found = row(bench)
    assert (found.tone, found.countdown) == (Tone.PAST, "on hold")


def test_on_hold_it_says_so_in_the_row(bench: Bench) -> None:
    jar = put_to_thaw(bench)
    bench.tell(Held(jar, HoldReason.PERSON, ""))
    found = row(bench)
    assert (found.countdown, found.caption, found.tone) == ("on hold", "held by a person", Tone.PAST)


def test_while_the_clock_is_in_doubt_it_does_not_become_ready(bench: Bench) -> None:
    put_to_thaw(bench)
    bench.later(60)
    bench.step(12 * 60)
    assert row(bench).caption == "clock in doubt"


def test_the_desk_shows_it_and_counts_it(bench: Bench) -> None:
    put_to_thaw(bench)
    assert row(bench, "DESK").title == "K7 001"
    assert ("of them thawing", "1") in screen(bench, "DESK").summary


def test_taken_to_the_room_it_is_a_row_like_any_other(bench: Bench) -> None:
    jar = put_to_thaw(bench)
    bench.later(12 * 60 + 5)
    bench.scan(jar, "FRIDGE")
    assert row(bench).caption.startswith("ready ")


def test_without_frozen_paste_nothing_is_said_of_thawing() -> None:
    bench = Bench()
    bench.cold()
    assert all(name != "of them thawing" for name, _ in screen(bench, "DESK").summary)
