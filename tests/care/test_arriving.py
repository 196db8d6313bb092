"""Whoever comes to a line hears first of paste that must come off there, before being told to go on."""

import pytest

from station.care.scans import PlaceScan
from station.care.words import Card
from tests.care.bench import LEAD, Bench
from tests.care.leading import OPERATOR, held_lot
from tests.care.places import site_d

OVER, HELD = "THE BEAD IS OVER", "HELD PASTE IN THE BEAD"
ARRIVALS = ("badge", "place")


def coming(bench: Bench, how: str, place: str = "LINE1") -> tuple[str, str, str]:
    """Somebody comes to a line by a badge scanned there, or by its place card scanned elsewhere."""
    if how == "badge":
        verdict = bench.badge(OPERATOR, place)
        assert bench.station.sessions[place].context.person == OPERATOR
    else:
        verdict = bench.answer(PlaceScan(place), "DESK")
        assert bench.station.place == place
    assert verdict.position is None or verdict.word == "STOP"
    return verdict.word, verdict.headline, verdict.todo


@pytest.mark.parametrize("how", ARRIVALS)
def test_a_bead_past_its_end_is_said_before_anything_else(how: str) -> None:
    bench = Bench()
    bench.on_line()
    assert coming(bench, how)[2] == "Go on."
    bench.later(8 * 60 + 1)
    word, headline, todo = coming(bench, how)
    assert (word, headline) == ("STOP", OVER)
    assert todo == "Scrape it off, clean the stencil, then scan the tag and the REMOVE card."


@pytest.mark.parametrize("how", ARRIVALS)
def test_so_is_held_paste_in_it(how: str) -> None:
    bench = Bench()
    bench.on_line()
    held_lot(bench)
    word, headline, todo = coming(bench, how)
    assert (word, headline) == ("STOP", HELD)
    assert todo == "Stop printing, scrape the bead off, and call the shift lead."


@pytest.mark.parametrize("how", ARRIVALS)
def test_a_bead_that_paused_too_long_has_to_be_replaced(how: str) -> None:
    bench = Bench()
    bench.on_line()
    bench.tag_card("1", Card.PAUSE, "LINE1")
    bench.later(45)
    assert coming(bench, how)[0] == "DONE"
    bench.later(20)
    assert coming(bench, how)[:2] == ("STOP", "REPLACE THE BEAD")


def test_of_two_positions_both_are_named_and_who_works_there_too() -> None:
    bench = Bench()
    bench.ready()
    for position in ("2A", "2B"):
        bench.tag(position, "DUAL")
        bench.scan("K7-001", "DUAL")
        bench.card(Card.LOOKS_GOOD, "DUAL")
    bench.later(8 * 60 + 1)
    verdict = bench.badge(LEAD, "DUAL")
    assert (verdict.word, verdict.position) == ("STOP", "2A")
    assert verdict.why.startswith("The bead on line 2A ended ")
    assert verdict.note.startswith(f"Line 2B too: {OVER}. ")
    assert verdict.note.endswith("works here now (operator and shift lead).")


@pytest.mark.parametrize("how", ARRIVALS)
def test_what_is_mounted_in_a_dispenser_and_may_not_be_used_comes_off(how: str) -> None:
    bench = Bench(site_d())
    name = bench.ready(kind="CART-600")
    bench.scan(name, "DOTS")
    bench.card(Card.LOOKS_GOOD, "DOTS")
    assert coming(bench, how, "DOTS")[0] == "DONE"
    bench.later(24 * 60 + 1)
    word, headline, todo = coming(bench, how, "DOTS")
    assert (word, headline) == ("STOP", "OPEN LIFE IS OVER")
    assert todo == "Take it off and set it aside: scan the tag of D1, then DISMOUNT. Call the shift lead."


def test_the_tag_of_a_line_says_that_its_bead_is_over_and_still_leads_to_remove() -> None:
    bench = Bench()
    bench.on_line()
    bench.later(8 * 60 + 1)
    verdict = bench.tag("1", "LINE1")
    assert (verdict.word, verdict.code, verdict.headline) == ("STOP", "bead-past", OVER)
    assert bench.card(Card.REMOVE, "LINE1").code == "removed"


def test_a_work_order_set_up_over_a_bead_past_its_end_never_asks_to_carry_it_over() -> None:
    bench = Bench()
    bench.on_line()
    assert bench.order("WO1", "CTRL", "LINE1").asks == (Card.CARRY_OVER, Card.REMOVE)
    bench.later(8 * 60 + 1)
    verdict = bench.order("WO2", "CTRL", "LINE1")
    assert (verdict.word, verdict.headline, verdict.asks) == ("STOP", OVER, (Card.REMOVE,))
    assert bench.floor.position("1").work_order == "WO2"
    assert verdict.todo.startswith("The bead on line 1 ended 23:11 (stencil life). Scrape it off")


def test_nor_is_a_cartridge_past_its_end_said_to_fit() -> None:
    bench = Bench(site_d())
    name = bench.ready(kind="CART-600")
    bench.scan(name, "DOTS")
    bench.card(Card.LOOKS_GOOD, "DOTS")
    bench.later(24 * 60 + 1)
    verdict = bench.order("WO1", "CTRL", "DOTS")
    assert (verdict.word, verdict.headline, verdict.asks) == ("STOP", "OPEN LIFE IS OVER", (Card.DISMOUNT,))
    assert "Take it off and set it aside" in verdict.todo
