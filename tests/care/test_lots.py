"""A lot in one act: a hold reaches everything of it, now and later, and a new expiry is the only way shelf life moves.

Worked by hand on plant T: a jar used at 15:11 makes a bead that ends 23:11 (eight hours, common practice, no source).
"""

from datetime import date
from random import Random

import pytest

from station.care import facts as f
from station.care.alarms import dispositions, situation
from station.care.correction import Correction
from station.care.fold_lot import lot_name, lot_step
from station.care.ledger import Ledger
from station.care.lots import LotRefused, hold_lot, reach, reach_sentence, recertify, release_lot
from station.care.state import Lot
from station.care.words import Card, Disposition, Ending, Limit, Word
from station.services.lead_acts import correct_receipt
from tests.care.bench import EXPIRES, LEAD, Bench, berlin, site_t
from tests.care.fleet import Fleet
from tests.care.leading import ENGINEER, OPERATOR, PROOF, held_lot, recertified, released_lot
from tests.care.places import site_d
from tests.care.test_folds import picture, replayed

LOT = "SN-4/101"


def spoken(bench: Bench, name: str = LOT) -> str:
    return reach_sentence(reach(bench.floor, name))


def held_alarms(bench: Bench) -> list[str]:
    return [alarm.split("/")[1] for alarm in bench.alarms() if alarm.startswith("held/")]


# ---------------------------------------------------------------------- who may, and what has to be said


@pytest.mark.parametrize(
    ("paste", "lot", "note", "person", "sentence"),
    [
        ("SN-4", "101", "recall", OPERATOR, "Only a shift lead decides about a lot. Badge in with your PIN."),
        ("SN-4", "101", "recall", None, "Only a shift lead decides about a lot. Badge in with your PIN."),
        ("SN-9", "101", "recall", LEAD, "There is no paste 'SN-9' in this plant. Choose one from the list."),
        ("SN-4", "  ", "recall", LEAD, "The lot is missing. It stands on the maker's label."),
        ("SN-4", "101", " ", LEAD, "Say in a few words why the lot is held; it stands in the record."),
    ],
)
def test_a_lot_is_held_by_a_shift_lead_with_a_reason(
    paste: str, lot: str, note: str, person: str | None, sentence: str
) -> None:
    with pytest.raises(LotRefused) as refused:
        hold_lot(Bench().floor, paste, lot, note, person)
    assert str(refused.value) == sentence


@pytest.mark.parametrize(
    ("lot", "stands", "note", "person", "sentence"),
    [
        (LOT, True, "good", OPERATOR, "Only a shift lead releases a lot. Badge in with your PIN."),
        ("SN-4/102", True, "good", LEAD, "That hold of the lot does not stand any more."),
        (LOT, False, "good", LEAD, "That hold of the lot does not stand any more."),
        (LOT, True, " ", LEAD, "Say in a few words why the lot is released; it stands in the record."),
    ],
)
def test_a_lot_is_released_by_a_shift_lead_with_a_reason_and_only_a_hold_that_stands(
    lot: str, stands: bool, note: str, person: str, sentence: str
) -> None:
    bench = Bench()
    held_lot(bench)
    key = bench.station.ledger.lots[LOT].holds[0].key if stands else "no such hold"
    with pytest.raises(LotRefused) as refused:
        release_lot(bench.floor, lot, key, note, person)
    assert str(refused.value) == sentence


@pytest.mark.parametrize(
    ("people", "document", "expires", "sentence"),
    [
        ((OPERATOR, ENGINEER), "letter", EXPIRES, "Only a shift lead decides about a lot. Badge in with your PIN."),
        (
            (LEAD, LEAD),
            "letter",
            EXPIRES,
            "Re-certifying a lot takes two people: a shift lead, and a process engineer with badge and PIN.",
        ),
        (
            (LEAD, OPERATOR),
            "letter",
            EXPIRES,
            "Re-certifying a lot takes two people: a shift lead, and a process engineer with badge and PIN.",
        ),
        ((LEAD, ENGINEER), " ", EXPIRES, "Name the supplier's document that gives the new expiry."),
        (
            (LEAD, ENGINEER),
            "letter",
            date(2026, 11, 7),
            "The new expiry 2026-11-07 is not within the next five years. Check the date.",
        ),
        (
            (LEAD, ENGINEER),
            "letter",
            date(2031, 11, 13),
            "The new expiry 2031-11-13 is not within the next five years. Check the date.",
        ),
    ],
)
def test_a_new_expiry_takes_two_people_a_document_and_a_date_that_can_be(
    people: tuple[str, str], document: str, expires: date, sentence: str
) -> None:
    with pytest.raises(LotRefused) as refused:
        recertify(Bench().floor, "SN-4", "101", expires, document, people)
    assert str(refused.value) == sentence


def test_one_person_with_both_roles_is_still_one_person() -> None:
    bench = Bench()
    both = site_t().people[1].roles + site_t().people[2].roles
    bench.tell(f.PersonSet(LEAD, "Toni Rowan", both, None, left=False))
    with pytest.raises(LotRefused, match="takes two people"):
        recertify(bench.floor, "SN-4", "101", EXPIRES, "letter", (LEAD, LEAD))


@pytest.mark.parametrize("expires", [date(2026, 11, 8), date(2031, 11, 11)])
def test_today_and_the_last_day_of_five_years_are_dates_that_can_be(expires: date) -> None:
    # 5 x 366 d after 8 Nov 2026 12:00 is 12 Nov 2031 12:00, which the end of the 11th does not pass
    assert recertify(Bench().floor, "SN-4", "101", expires, "letter", (LEAD, ENGINEER)).expires == expires


# ---------------------------------------------------------------------- what a hold reaches


def test_a_hold_stops_every_jar_of_the_lot_and_no_other() -> None:
    bench = Bench()
    jar, other = bench.ready(), bench.ready(lot="102")
    held_lot(bench)
    assert bench.scan(jar, "LINE1").code == "held"
    assert bench.scan(other, "LINE1").code == "opening-check"


def test_the_lot_of_another_paste_with_the_same_code_is_another_lot() -> None:
    bench = Bench()
    leaded = bench.ready("PB-1")
    held_lot(bench)
    assert not bench.container(leaded).held


@pytest.mark.parametrize("written", ["26-a1", " 26-A1 ", "26-A1"])
def test_small_letters_and_blanks_make_no_other_lot(written: str) -> None:
    bench = Bench()
    jar = bench.cold(lot="26-A1 ")
    held_lot(bench, written)
    assert bench.container(jar).held
    assert lot_name("SN-4", "26  a1") == "SN-4/26 A1"


def test_what_arrives_later_is_held_from_the_start_and_goes_to_the_hold_bin() -> None:
    bench = Bench()
    held_lot(bench)
    jar = bench.receive()
    assert bench.scan(jar, "FRIDGE").headline == "BIN H1"
    assert bench.later(11).scan(jar, "FRIDGE").code == "held"


def test_a_bead_whose_jar_is_used_up_is_stopped_with_a_high_alarm() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.later(1).scan(jar, "LINE1")
    bench.card(Card.EMPTY, "LINE1")
    outcome = held_lot(bench)
    assert [fact.body.NAME for fact in outcome.facts] == ["lot-held", "alarm-raised"]
    assert outcome.verdict is not None
    assert outcome.verdict.why == "0 containers of it are here. Stop there and take it off: line 1."
    assert held_alarms(bench) == ["1"]
    fresh = bench.ready(lot="102")
    stopped = bench.scan(fresh, "LINE1")
    assert (stopped.code, stopped.headline) == ("held", "HELD PASTE IN THE BEAD")
    assert stopped.why == "Paste of K7 001 on line 1 is on hold: lot on hold since 15:12: recall."


def test_two_jars_of_the_lot_in_one_bead_make_one_alarm() -> None:
    bench = Bench()
    bench.on_line()
    second = bench.ready()
    bench.scan(second, "LINE1")
    bench.card(Card.LOOKS_GOOD, "LINE1")
    held_lot(bench)
    assert held_alarms(bench) == ["1"]


def test_a_second_hold_of_the_lot_is_told_and_released_by_itself() -> None:
    bench = Bench()
    jar = bench.on_line()
    held_lot(bench)
    held_lot(bench, note="supplier's second letter")
    assert [hold.note for hold in bench.container(jar).all_holds] == ["recall", "supplier's second letter"]
    assert held_alarms(bench) == ["1", "1"]
    released_lot(bench)
    assert [hold.note for hold in bench.container(jar).all_holds] == ["supplier's second letter"]
    assert bench.scan(jar, "LINE1").code == "held"
    released_lot(bench)
    assert bench.later(1).scan(jar, "LINE1").word is Word.USE


def test_an_alarm_of_a_released_hold_waits_for_the_lead_but_is_true_no_more() -> None:
    bench = Bench()
    bench.on_line()
    held_lot(bench)
    released_lot(bench)
    (alarm,) = bench.station.ledger.alarms.values()
    assert alarm.cleared_at is None
    assert not situation(bench.floor, alarm).active
    assert Disposition.CHECKED in dispositions(bench.floor, alarm)


def test_releasing_the_lot_leaves_what_holds_a_jar_by_itself() -> None:
    bench = Bench()
    jar = bench.cold(leaking=True)
    held_lot(bench)
    released_lot(bench)
    assert [hold.reason.value for hold in bench.container(jar).all_holds] == ["leaking or damaged on arrival"]


def test_a_release_told_before_its_hold_releases_nothing() -> None:
    held = f.Fact(1, 2, 2, berlin("2026-11-08T12:00"), 7, LEAD, f.Segment("a", 0), f.LotHeld(LOT, "recall"))
    released = f.Fact(1, 1, 1, held.at, 7, LEAD, f.Segment("a", 0), f.LotReleased(LOT, held.key, "good"))
    ledger = Ledger()
    for fact in (held, released):
        ledger.apply(fact)
    assert len(ledger.lots[LOT].holds) == 1


def test_what_is_no_act_on_a_lot_leaves_it_alone() -> None:
    fact = f.Fact(1, 1, 1, berlin("2026-11-08T12:00"), 7, LEAD, f.Segment("a", 0), f.Cleaned("1"))
    assert lot_step(None, fact, LOT) == Lot(LOT)


def test_a_lot_held_by_mistake_and_taken_back_holds_nothing() -> None:
    bench = Bench()
    jar = bench.cold()
    (held,) = bench.tell(f.LotHeld(LOT, "recall"))
    assert bench.container(jar).held
    bench.tell(f.Undone(held.key, "wrong lot"))
    assert not bench.container(jar).held
    assert bench.station.ledger.lots[LOT].holds == ()


def test_a_mounted_cartridge_of_the_lot_is_in_use_and_its_orders_are_named() -> None:
    bench = Bench(site_d())
    cartridge = bench.ready(kind="CART-600")
    bench.order("WO7", "CTRL", "DOTS")
    bench.scan(cartridge, "DOTS")
    bench.card(Card.LOOKS_GOOD, "DOTS")
    outcome = held_lot(bench)
    assert [fact.body.NAME for fact in outcome.facts] == ["lot-held", "alarm-raised"]
    found = reach(bench.floor, LOT)
    assert [(stay.position, stay.until) for stay in found.on_boards] == [("D1", None)]
    bench.tag_card("D1", Card.DISMOUNT, "DOTS")
    assert reach(bench.floor, LOT).on_boards[0].until == bench.clock.wall


# ---------------------------------------------------------------------- decanted, used, corrected


def decanted(bench: Bench) -> tuple[str, str]:
    """A jar that was opened, and the container filled from it."""
    jar = bench.ready()
    bench.scan(jar, "BENCH")
    new = bench.card(Card.DECANT, "BENCH")
    assert new.container is not None
    return jar, new.container


def test_decanted_paste_is_held_with_the_lot_it_came_out_of() -> None:
    bench = Bench(site_d())
    jar, small = decanted(bench)
    held_lot(bench)
    assert {found.id for found in reach(bench.floor, LOT).containers} == {jar, small}
    assert bench.container(small).held
    assert bench.scan(small, "LINE1").code == "held"


def test_decanted_paste_is_held_with_what_it_came_out_of_though_its_own_label_names_another_lot() -> None:
    bench = Bench(site_d())
    jar, small = decanted(bench)
    told = Correction(jar, "misread", lot="102")
    correct_receipt(bench.station, told, PROOF)
    held_lot(bench, "102")
    assert bench.container(small).held
    assert {found.id for found in reach(bench.floor, "SN-4/102").containers} == {jar, small}


def test_paste_filled_from_something_unknown_here_is_of_the_lot_its_label_says() -> None:
    bench = Bench()
    bench.tell(f.Decanted("K9-005", ("K9-001",), "SN-4", "JAR-500", "102", berlin("2026-11-08T20:00")))
    assert reach(bench.floor, LOT).containers == ()
    assert [found.id for found in reach(bench.floor, "SN-4/102").containers] == ["K9-005"]


def test_a_corrected_lot_moves_a_jar_and_its_bead_under_the_hold_of_that_lot() -> None:
    bench = Bench()
    jar = bench.on_line(lot="102")
    held_lot(bench)
    assert not bench.container(jar).held
    correct_receipt(bench.station, Correction(jar, "misread", lot="101"), PROOF)
    assert bench.container(jar).held
    assert held_alarms(bench) == ["1"]
    assert bench.later(1).scan(jar, "LINE1").code == "held"


def test_a_corrected_lot_moves_a_jar_out_of_the_hold_of_the_other() -> None:
    bench = Bench()
    jar = bench.on_line()
    held_lot(bench)
    correct_receipt(bench.station, Correction(jar, "misread", lot="102"), PROOF)
    assert not bench.container(jar).held
    assert bench.later(1).scan(jar, "LINE1").word is Word.USE
    assert held_alarms(bench) == ["1"]  # it was raised, so a shift lead still clears it


def test_a_bead_another_station_told_of_is_stopped_by_the_lot_its_load_named() -> None:
    bench = Bench()
    bench.tell(f.Loaded("K9-001", "1", "SN-4", "101", "WO3", True, berlin("2026-11-08T20:00"), (), False))
    held_lot(bench)
    assert held_alarms(bench) == ["1"]
    assert bench.scan(bench.ready(lot="102"), "LINE1").why == (
        "Paste of K9 001 on line 1 is on hold: lot on hold since 12:00: recall."
    )
    assert reach(bench.floor, LOT).work_orders == ("WO3",)
    assert reach(bench.floor, "SN-4/102").on_boards == ()


# ---------------------------------------------------------------------- what it has come to


def test_the_work_orders_built_with_it_are_named_each_once_in_order_of_time() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.order("WO1", "CTRL", "LINE1")
    bench.tag_card("1", Card.CARRY_OVER, "LINE1")
    bench.later(1).scan(jar, "LINE2")
    bench.order("WO2", "CTRL", "LINE2")
    bench.tag_card("2", Card.CARRY_OVER, "LINE2")
    bench.order("WO1", "CTRL", "LINE2")
    bench.tag_card("2", Card.CARRY_OVER, "LINE2")
    bench.tag_card("2", Card.REMOVE, "LINE2")
    assert spoken(bench) == (
        "1 container of it is here. Stop there and take it off: line 1. Work orders built with it: WO1, WO2."
    )
    other = reach(bench.floor, "SN-4/102")
    assert (other.containers, other.on_boards) == ((), ())


def test_beads_of_weeks_ago_are_found_though_a_position_only_remembers_the_last_ones() -> None:
    bench = Bench()
    recalled = bench.on_line()
    bench.tag_card("1", Card.REMOVE, "LINE1")
    removed_at = bench.clock.wall
    jar = bench.ready(lot="102")
    bench.scan(jar, "LINE1")
    bench.card(Card.LOOKS_GOOD, "LINE1")
    bench.tag_card("1", Card.REMOVE, "LINE1")
    for _ in range(61):
        bench.later(1).scan(jar, "LINE1")
        bench.tag_card("1", Card.REMOVE, "LINE1")
    assert recalled not in str(bench.position("1").gone)
    (stay,) = reach(bench.floor, LOT).on_boards
    assert (stay.position, stay.until) == ("1", removed_at)


def test_a_load_that_was_taken_back_lay_nowhere() -> None:
    bench = Bench()
    bench.on_line()
    load = next(fact for fact in bench.journal.facts() if isinstance(fact.body, f.Loaded))
    bench.tell(f.Undone(load.key, "another jar"))
    assert reach(bench.floor, LOT).on_boards == ()


# ---------------------------------------------------------------------- another expiry


def test_a_longer_expiry_makes_paste_usable_until_the_end_of_its_last_day() -> None:
    bench = Bench(start="2026-11-08T12:00")
    jar = bench.ready(expires=date(2026, 11, 10))
    bench.at("2026-11-11T00:00")
    assert bench.scan(jar, "LINE1").code == "shelf-life"
    recertified(bench, date(2026, 11, 12))
    bench.at("2026-11-12T23:59")
    assert bench.scan(jar, "LINE1").code == "opening-check"
    assert bench.later(1 / 60).scan(jar, "LINE1").code == "shelf-life"


def test_a_shorter_expiry_counts_at_once_for_a_jar_in_the_cold_and_one_that_arrives_later() -> None:
    bench = Bench(start="2026-11-08T12:00")
    jar = bench.cold()
    recertified(bench, date(2026, 11, 9))
    late = bench.cold()
    bench.at("2026-11-09T23:59")
    assert bench.alarms() == []
    bench.later(1 / 60)
    assert sorted(alarm.split("/")[1] for alarm in bench.alarms()) == sorted((jar, late))
    assert bench.scan(jar, "FRIDGE").code == "shelf-life"


def test_a_moved_expiry_that_passes_again_raises_its_alarm_anew_and_once() -> None:
    bench = Bench(start="2026-11-08T12:00")
    bench.cold(expires=date(2026, 11, 9))
    bench.at("2026-11-10T06:00").later(1)
    assert len(bench.alarms()) == 1
    recertified(bench, date(2026, 11, 11))
    bench.at("2026-11-11T23:59")
    assert len(bench.alarms()) == 1
    bench.at("2026-11-12T00:00").later(1)
    bench.restart()
    shelf = [alarm for alarm in bench.station.ledger.alarms.values() if alarm.limit is Limit.SHELF]
    assert [alarm.since for alarm in shelf] == [berlin("2026-11-09T23:59"), berlin("2026-11-11T23:59")]


def test_a_bead_passes_anew_by_the_new_expiry_of_what_lies_in_it_and_once() -> None:
    bench = Bench(start="2026-11-08T18:00")
    bench.on_line(expires=date(2026, 11, 8))
    bench.at("2026-11-09T00:00")
    assert sorted(alarm.split("/")[0] for alarm in bench.alarms()) == ["bead", "shelf life"]
    recertified(bench, date(2026, 11, 9))
    bench.at("2026-11-09T05:00")
    assert len(bench.alarms()) == 2
    # its own stencil life ends it at 05:11
    bench.at("2026-11-09T05:12").later(5)
    assert [alarm.split("/")[3] for alarm in bench.alarms() if alarm.startswith("bead")] == [
        "shelf life",
        "stencil life",
    ]


def test_the_only_thing_that_moves_is_shelf_life() -> None:
    bench = Bench()
    jar = bench.on_line()
    before = dict(bench.floor.standing(bench.container(jar)).limits)
    recertified(bench, date(2027, 6, 30))
    after = dict(bench.floor.standing(bench.container(jar)).limits)
    assert after[Limit.SHELF] == berlin("2027-06-30T23:59")
    assert {**after, Limit.SHELF: None} == {**before, Limit.SHELF: None}


# ---------------------------------------------------------------------- several stations


@pytest.mark.parametrize("seed", range(10))
def test_holds_and_expiries_add_up_the_same_in_any_order_of_delivery(seed: int) -> None:
    bench = Bench(site_d())
    jar, _ = decanted(bench)
    held_lot(bench)
    held_lot(bench, note="second")
    released_lot(bench)
    recertified(bench, date(2027, 6, 30))
    correct_receipt(bench.station, Correction(jar, "misread", lot="102"), PROOF)
    bench.receive()
    held_lot(bench, "102")
    facts = list(bench.journal.facts())
    shuffled = list(facts)
    Random(seed).shuffle(shuffled)
    assert picture(replayed(shuffled)) == picture(replayed(facts)) == picture(bench.station.ledger)


@pytest.mark.parametrize("seed", range(6))
def test_a_lot_held_at_one_station_stops_a_bead_at_another_when_they_meet(seed: int) -> None:
    fleet = Fleet()
    a, b = fleet["A"], fleet["B"]
    jar = a.cold()
    fleet.meet("A", "B", seed)
    fleet.at("2026-11-09T06:00")
    a.scan(jar, "FRIDGE")
    fleet.meet("A", "B", seed)
    fleet.later(180)
    b.scan(jar, "LINE2")
    b.card(Card.LOOKS_GOOD, "LINE2")
    held_lot(a)
    assert b.alarms() == []
    fleet.later(5).meet("A", "B", seed)
    assert held_alarms(b) == ["2"]
    assert a.container(jar) == b.container(jar)
    fleet.later(1)
    assert b.scan(jar, "LINE2").code == "held"
    fleet.meet("A", "B", seed)
    assert held_alarms(a) == held_alarms(b) == ["2"]


def test_ended_jars_do_not_count_as_in_house() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.cold()
    bench.tell(f.Ended(jar, Ending.NOT_FOUND, "", "", None))
    assert spoken(bench) == "1 container of it is here."


def test_a_jar_whose_receipt_was_taken_back_is_reached_by_no_hold() -> None:
    bench = Bench()
    jar = bench.receive()
    bench.tell(f.Undone(bench.container(jar).received_key, "twice scanned"))
    held_lot(bench)
    assert jar not in bench.station.ledger.containers
    assert spoken(bench) == "0 containers of it are here."
