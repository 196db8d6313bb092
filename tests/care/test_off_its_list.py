"""Paste that lies at a line and is not, or no longer, built with there: nothing lets it go on, and an alarm says so."""

from datetime import timedelta

import pytest

from station.care.alarms import Clearing, boards_between, dispositions, situation
from station.care.day_list import DayKind, day_list
from station.care.state import Alarm
from station.care.words import Boards, Card, Disposition, Limit, Priority, Word
from station.ui.present.alarm_cards import title_of
from tests.care.bench import LEAD, LEAD_PIN, Bench, site_t, with_limits
from tests.care.engineering import listed
from tests.care.fleet import Fleet
from tests.care.places import site_d
from tests.care.test_dispenser import cartridge
from tests.care.test_paste_lists import restarted, wide, with_list


def printing(bench: Bench, order: str = "WO10000") -> Bench:
    """Line 1 prints this order of CTRL with SN-4."""
    jar = bench.ready()
    bench.order(order, "CTRL", "LINE1")
    bench.scan(jar, "LINE1")
    assert bench.card(Card.LOOKS_GOOD, "LINE1").word is Word.USE
    return bench


def off_list(bench: Bench) -> list[Alarm]:
    return [found for found in bench.station.ledger.alarms.values() if found.limit is Limit.OFF_LIST]


def said(bench: Bench, card: Card) -> tuple[str, str]:
    verdict = bench.tag_card("1", card, "LINE1")
    return verdict.word, verdict.headline


GOING_ON = (Card.RESUME, Card.SAME_BEAD, Card.CARRY_OVER)


@pytest.mark.parametrize("card", GOING_ON)
def test_no_card_lets_a_bead_go_on_for_a_job_of_another_metal(card: Card) -> None:
    bench = printing(Bench(site_t()))
    bench.tag_card("1", Card.PAUSE, "LINE1")
    order = bench.later(5).order("WO77777", "POWER", "LINE1")
    assert (order.word, order.headline, order.asks) == (Word.STOP, "SN-4 ON A PB-1 JOB", (Card.REMOVE,))
    assert "The SN-4 bead still on it does not fit" in order.todo
    tag = bench.tag("1", "LINE1")
    assert (tag.word, tag.headline) == (Word.STOP, "SN-4 ON A PB-1 JOB")
    assert "Scrape the bead off" in tag.todo
    assert said(bench, card) == (Word.STOP, "SN-4 ON A PB-1 JOB")
    assert bench.badge(LEAD, "LINE1").headline == "SN-4 ON A PB-1 JOB"
    assert off_list(bench) == []


@pytest.mark.parametrize("card", [*GOING_ON, None])
@pytest.mark.parametrize("left", [(), ("SN-6",)])
def test_no_card_lets_a_bead_go_on_that_was_taken_off_the_list(card: Card | None, left: tuple[str, ...]) -> None:
    bench = printing(Bench(wide()))
    listed(bench, *left)
    if card is None:
        assert bench.tag("1", "LINE1").headline == "SN-4 IS OFF THE LIST"
    else:
        assert said(bench, card) == (Word.STOP, "SN-4 IS OFF THE LIST")


def test_a_bead_off_its_list_may_go_on_for_an_order_it_fits_or_come_off() -> None:
    bench = printing(Bench(wide()))
    listed(bench, "SN-6")
    listed(bench, "SN-4", "SN-6", order="WO10001")
    fits = bench.order("WO10001", "CTRL", "LINE1")
    assert "The bead on it fits: scan CARRY OVER" in fits.todo
    assert said(bench, Card.CARRY_OVER)[0] is Word.DONE
    assert bench.tag_card("1", Card.REMOVE, "LINE1").code == "removed"


def test_a_bead_that_goes_off_its_list_is_a_high_alarm_since_the_decision_until_it_is_off() -> None:
    bench = printing(Bench(wide())).later(60)
    decided = bench.clock.wall
    listed(bench, "SN-6")
    (alarm,) = off_list(bench.later(60))
    seen = situation(bench.floor, alarm)
    assert (alarm.subject, alarm.since, seen.active, seen.priority) == ("1", decided, True, Priority.HIGH)
    assert title_of(bench.floor, alarm) == "Paste off its list lies on line 1"
    assert [row.kind for row in day_list(bench.floor)] == [DayKind.ALARM]
    bench.restart().order("WO10000", "CTRL", "LINE1")
    assert off_list(bench.later(1)) == [alarm]
    bench.tag_card("1", Card.REMOVE, "LINE1")
    assert not situation(bench.floor, alarm).active
    bench.station.clear(Clearing(alarm.id, Disposition.BEAD_OFF, "scraped off", Boards.NONE), LEAD, LEAD_PIN)
    assert off_list(bench.later(1))[0].cleared_at is not None


def test_a_list_that_is_put_right_ends_it_and_the_next_change_rings_anew() -> None:
    bench = printing(Bench(wide()))
    listed(bench, "SN-6")
    (first,) = off_list(bench)
    listed(bench.later(1), "SN-4", "SN-6")
    assert not situation(bench.floor, first).active
    bench.station.clear(Clearing(first.id, Disposition.CHECKED, "a slip", Boards.NONE), LEAD, LEAD_PIN)
    listed(bench.later(1), "SN-6")
    assert [found.cleared_at is None for found in off_list(bench.later(1))] == [False, True]


def test_a_decision_that_comes_from_another_station_rings_here_and_once_only() -> None:
    fleet = Fleet(site=wide())
    printing(fleet["A"])
    listed(fleet["B"], "SN-6")
    fleet.meet("A", "B", 1)
    for bench in fleet.later(1).stations.values():
        assert len(off_list(bench)) == 1
    listed(fleet["A"])
    fleet.meet("A", "B", 2)
    fleet.later(1).meet("A", "B", 3)
    for bench in fleet.later(1).stations.values():
        assert len(off_list(bench)) == 1


def test_a_station_with_another_file_does_not_ring_about_a_bead_elsewhere_but_a_changed_file_does() -> None:
    fleet = Fleet(site=wide())
    restarted(fleet["B"], with_list(wide(), "SN-6"))
    printing(fleet["A"])
    fleet.meet("A", "B")
    assert off_list(fleet.later(1)["B"]) == []
    restarted(fleet["A"], with_list(wide(), "SN-6"))
    assert len(off_list(fleet["A"])) == 1


def test_what_is_mounted_and_goes_off_its_list_is_a_high_alarm_and_has_to_come_off() -> None:
    bench = Bench(site_d())
    bench.order("WO10000", "CTRL", "DOTS")
    name = cartridge(bench)
    bench.later(10)
    listed(bench, "PB-1")
    (alarm,) = off_list(bench)
    assert boards_between(bench.floor, alarm) == (bench.clock.wall, None)
    assert (alarm.subject, situation(bench.floor, alarm).priority) == (name, Priority.HIGH)
    assert title_of(bench.floor, alarm) == f"{name.replace('-', ' ')} is off its list in a dispenser"
    assert bench.tag("D1", "DOTS").headline == "SN-4 IS OFF THE LIST"
    assert Disposition.CHECKED in dispositions(bench.floor, alarm)
    bench.tag_card("D1", Card.DISMOUNT, "DOTS")
    assert not situation(bench.floor, alarm).active


def test_a_bead_off_its_list_is_good_paste_and_may_be_kept() -> None:
    bench = printing(Bench(with_limits(wide(), "SN-4", used_paste_life=timedelta(hours=8))))
    listed(bench, "SN-6")
    bench.tag_card("1", Card.REMOVE, "LINE1")
    assert bench.card(Card.KEEP_USED, "LINE1").code == "used-paste-kept"
