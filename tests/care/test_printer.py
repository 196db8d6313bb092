"""The printer: container = bead = job, top-ups, silence, and cards said of containers and positions."""

from dataclasses import replace
from datetime import timedelta

import pytest

from station.care.alarms import boards_between, open_alarms
from station.care.facts import Held
from station.care.limits import bead_near_from, container_near_from
from station.care.specification import Position
from station.care.words import Card, Ending, HoldReason, Limit
from tests.care.bench import Bench, berlin, site_t, with_limits, with_room_paste


def test_a_stencil_shift_is_eight_hours() -> None:
    # common practice, no source
    bench = Bench(start="2026-11-08T12:00")
    jar = bench.on_line()
    assert bench.position("1").bead is not None
    assert bench.scan(jar, "LINE1").headline == "BEAD ENDS 23:11"


def test_a_top_up_never_makes_a_bead_younger() -> None:
    bench = Bench()
    bench.on_line()
    end = bench.floor.bead_end(bench.position("1").bead)[1]  # type: ignore[arg-type]
    second = bench.ready()
    bench.scan(second, "LINE1")
    bench.card(Card.LOOKS_GOOD, "LINE1")
    assert bench.floor.bead_end(bench.position("1").bead)[1] == end  # type: ignore[arg-type]


def test_stencil_time_counts_in_open_life_unless_the_specification_says_otherwise() -> None:
    for counts, ends in ((True, "open life"), (False, "stencil life")):
        site = with_limits(site_t(), "SN-4", stencil_time_counts_as_open=counts, open_life=timedelta(hours=4), near=())
        bench = Bench(site)
        jar = bench.ready()
        bench.scan(jar, "LINE1")
        assert ends in bench.card(Card.LOOKS_GOOD, "LINE1").note


def test_after_two_silent_hours_the_bead_is_asked_about() -> None:
    bench = Bench()
    jar = bench.on_line()
    assert bench.later(120).scan(jar, "LINE1").asks == ()
    verdict = bench.later(121).scan(jar, "LINE1")
    assert verdict.asks == (Card.SAME_BEAD, Card.NEW_BEAD)
    assert "Nothing heard here since" in verdict.note
    assert bench.card(Card.SAME_BEAD, "LINE1").code == "same-bead"


def test_new_bead_closes_the_old_one_and_the_next_scan_starts_another() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.later(150).scan(jar, "LINE1")
    assert bench.card(Card.NEW_BEAD, "LINE1").code == "replaced"
    assert bench.position("1").bead is None
    bench.later(1).scan(jar, "LINE1")
    bead = bench.position("1").bead
    assert bead is not None
    assert bead.restart


def test_a_bead_started_long_after_a_removal_is_no_restart() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.tag_card("1", Card.REMOVE, "LINE1")
    bench.later(16).scan(jar, "LINE1")
    assert bench.position("1").bead is not None
    assert not bench.position("1").bead.restart  # type: ignore[union-attr]


@pytest.mark.parametrize("card", [Card.REMOVE, Card.NEW_BEAD, Card.SAME_BEAD, Card.CARRY_OVER, Card.PAUSE, Card.RESUME])
def test_a_card_about_a_bead_needs_one(card: Card) -> None:
    verdict = Bench().tag_card("1", card, "LINE1")
    assert (verdict.word, verdict.code, verdict.why) == ("STOP", "no-bead", "No bead is recorded on line 1.")


def test_a_bead_carried_over_is_traced_to_both_jobs() -> None:
    bench = Bench()
    bench.order("WO1", "CTRL", "LINE1")
    jar = bench.on_line()
    bench.order("WO2", "CTRL", "LINE1")
    bench.card(Card.CARRY_OVER, "LINE1")
    bench.later(1).scan(jar, "LINE1")
    assert bench.position("1").bead.work_orders == ("WO1", "WO2")  # type: ignore[union-attr]


def test_a_top_up_for_a_new_job_traces_the_bead_to_it_even_without_the_card() -> None:
    bench = Bench()
    bench.order("WO1", "CTRL", "LINE1")
    jar = bench.on_line()
    bench.order("WO2", "CTRL", "LINE1")
    bench.later(1).scan(jar, "LINE1")
    assert bench.position("1").bead.work_orders == ("WO1", "WO2")  # type: ignore[union-attr]


def test_a_carry_over_without_any_work_order_keeps_the_clock_too() -> None:
    bench = Bench()
    bench.on_line()
    assert "the new stencil" in bench.tag_card("1", Card.CARRY_OVER, "LINE1").why
    assert bench.position("1").bead.work_orders == ()  # type: ignore[union-attr]


def test_the_same_alloy_family_is_still_another_paste() -> None:
    site = with_room_paste(site_t())
    twin = replace(site.plant.pastes["SN-4"], id="SN-6", number=6)
    limits = replace(site.specifications[0], paste="SN-6")
    plant = replace(site.plant, pastes={**site.plant.pastes, "SN-6": twin})
    bench = Bench(replace(site, plant=plant, specifications=(*site.specifications, limits)))
    bench.order("WO1", "CTRL", "LINE1")
    verdict = bench.scan(bench.ready("SN-6"), "LINE1")
    assert (verdict.code, verdict.headline) == ("wrong-paste", "SN-6 ON AN SN-4 JOB")
    assert verdict.why == "Line 1 builds WO1 with SN-4."


def test_a_name_that_is_no_number_is_said_as_it_is() -> None:
    bench = Bench()
    bench.order("WO1", "POWER", "P1")
    assert bench.scan(bench.ready(), "P1").todo == "Take K7 001 away from P1."


def test_looks_good_needs_a_container_that_waits_for_it() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.later(1).scan(jar, "LINE1")
    verdict = bench.card(Card.LOOKS_GOOD, "LINE1")
    assert (verdict.code, verdict.why) == ("card-alone", "No opening check of K7 001 is waiting for an answer.")


def test_looks_good_belongs_to_the_printer_that_asked() -> None:
    bench = Bench()
    jar = bench.ready()
    bench.scan(jar, "LINE1")
    bench.scan(jar, "DESK")
    verdict = bench.card(Card.LOOKS_GOOD, "DESK")
    assert (verdict.code, verdict.why) == ("card-alone", "The opening check of K7 001 is recorded at the line.")


def test_looks_bad_needs_an_open_container() -> None:
    bench = Bench()
    jar = bench.ready()
    bench.scan(jar, "DESK")
    assert bench.card(Card.LOOKS_BAD, "DESK").code == "card-alone"


def test_a_check_waits_a_quarter_of_an_hour_without_being_named_again() -> None:
    bench = Bench()
    jar = bench.ready()
    bench.scan(jar, "LINE1")
    bench.later(16)
    assert bench.card(Card.LOOKS_GOOD, "LINE1").code == "card-alone"
    bench.scan(jar, "LINE1")
    bench.later(15)
    assert bench.card(Card.LOOKS_GOOD, "LINE1").word == "USE"


def test_a_second_jar_is_not_opened_before_it_is_said_how_the_first_one_looks() -> None:
    bench = Bench()
    one, other = bench.ready(), bench.ready()
    bench.scan(one, "LINE1")
    assert bench.later(1).scan(other, "LINE1").code == "check-first"
    bench.later(1)
    assert bench.card(Card.LOOKS_GOOD, "LINE1").code == "use"
    assert bench.later(1).scan(other, "LINE1").code == "opening-check"


def test_an_emptied_jar_feeds_nothing_but_its_paste_still_limits_the_bead() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.later(1).scan(jar, "LINE1")
    bench.card(Card.EMPTY, "LINE1")
    bead = bench.position("1").bead
    assert bead is not None
    assert bead.feeding is None
    assert bench.container(jar).ended is Ending.USED_UP
    assert Limit.OPEN in dict(bench.floor.bead_limits(bead))


def test_the_boards_in_question_lie_between_the_limit_and_the_removal() -> None:
    bench = Bench(start="2026-11-08T12:00")
    jar = bench.on_line()
    bench.at("2026-11-08T23:12")
    alarm, situation = open_alarms(bench.floor)[0]
    assert (alarm.since, situation.priority) == (berlin("2026-11-08T23:11"), "high")
    assert boards_between(bench.floor, alarm) == (berlin("2026-11-08T23:11"), None)
    bench.at("2026-11-08T23:20").tag_card("1", Card.REMOVE, "LINE1")
    assert boards_between(bench.floor, alarm) == (berlin("2026-11-08T23:11"), berlin("2026-11-08T23:20"))
    bench.at("2026-11-10T00:00")
    of_jar = next(found for found, _ in open_alarms(bench.floor) if found.subject == jar)
    assert boards_between(bench.floor, of_jar) is None


def test_the_bead_is_near_its_end_after_four_fifths() -> None:
    bench = Bench(start="2026-11-08T12:00")
    bench.on_line()
    bead = bench.position("1").bead
    assert bead is not None
    # plant T: a fifth of the length, at least 30 min: 96 of 480 minutes
    assert bead_near_from(bead, bead.stencil_end, bench.limits()) == bead.stencil_end - timedelta(minutes=96)


def test_a_container_is_near_by_the_limit_that_governs() -> None:
    bench = Bench()
    jar = bench.cold()
    shelf_end = bench.container(jar).shelf_end
    assert shelf_end is not None
    assert container_near_from(bench.container(jar), bench.limits()) == shelf_end - timedelta(hours=24)
    unlimited = replace(bench.container(jar), labelled_end=None)
    assert container_near_from(unlimited, bench.limits()) is None


def test_paste_without_any_end_tops_up_anything() -> None:
    bench = Bench(with_room_paste(site_t()))
    assert bench.plant.paste_numbered(9) is bench.plant.pastes["BI-9"]
    assert bench.plant.paste_numbered(99) is None
    assert bench.plant.positions["2A"] == Position("2A", "DUAL")


def test_undo_at_a_tag_takes_back_the_removal_not_the_end_of_some_jar() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.tag_card("1", Card.REMOVE, "LINE1")
    bench.scan(jar, "DESK")
    bench.card(Card.EMPTY, "DESK")
    bench.later(1)
    assert bench.tag_card("1", Card.UNDO, "LINE1").why.startswith("The removal of the bead on line 1")
    assert bench.container(jar).ended is Ending.USED_UP
    assert bench.position("1").bead is not None
    assert bench.position("1").bead.feeding is None  # type: ignore[union-attr]


def test_a_container_without_a_story_has_nothing_to_undo() -> None:
    bench = Bench()
    jar = bench.receive()
    bench.scan(jar, "DESK")
    assert bench.card(Card.UNDO, "DESK").code == "nothing-to-undo"


def test_a_position_nothing_happened_at_has_nothing_to_undo() -> None:
    assert Bench().tag_card("1", Card.UNDO, "LINE1").code == "nothing-to-undo"


def test_looks_bad_of_what_still_warms_says_it_was_opened_too_early() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(11).scan(jar, "FRIDGE")
    bench.later(5).scan(jar, "LINE1")
    assert bench.card(Card.LOOKS_BAD, "LINE1").code == "opened-early"


def test_looks_good_is_no_leave_to_use_what_was_held_meanwhile() -> None:
    bench = Bench()
    jar = bench.ready()
    bench.scan(jar, "LINE1")
    bench.tell(Held(jar, HoldReason.LOT, "recall"))
    verdict = bench.card(Card.LOOKS_GOOD, "LINE1")
    assert (verdict.word, verdict.code) == ("STOP", "held")
    assert bench.position("1").bead is None


def test_the_last_three_digits_are_read_from_two_metres() -> None:
    bench = Bench()
    assert bench.container(bench.receive()).last_three == "001"


def test_resume_alone_is_enough_where_one_bead_is_paused() -> None:
    bench = Bench()
    bench.on_line()
    bench.tag_card("1", Card.PAUSE, "LINE1")
    bench.later(5)
    assert bench.card(Card.RESUME, "LINE1").code == "resumed"
    bench.later(1)
    assert bench.card(Card.RESUME, "LINE1").code == "card-alone"


def test_a_bead_past_its_end_is_not_paused_but_stopped() -> None:
    bench = Bench()
    bench.on_line()
    bench.later(8 * 60 + 1)
    bench.tag("1", "LINE1")
    assert bench.card(Card.PAUSE, "LINE1").code == "bead-past"


def test_wipes_are_kept_apart_after_leaded_paste_and_only_then() -> None:
    bench = Bench()
    for paste, apart in (("SN-4", False), ("PB-1", True)):
        bench.on_line(paste=paste)
        bench.later(1).tag_card("1", Card.REMOVE, "LINE1")
        bench.later(1).tag("1", "LINE1")
        assert ("Keep the wipes apart" in bench.card(Card.CLEANED, "LINE1").todo) is apart


def test_a_stopped_jar_whose_paste_lies_in_the_bead_says_to_scrape_the_bead_off() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.tell(Held(jar, HoldReason.PERSON, ""))
    at_its_line = bench.later(1).scan(jar, "LINE1")
    assert (at_its_line.word, at_its_line.code) == ("STOP", "held")
    assert "its paste is in the bead on line 1. Scrape it off" in at_its_line.todo
    assert "bead" not in bench.scan(jar, "LINE2").todo
