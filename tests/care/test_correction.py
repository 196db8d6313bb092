"""What was said wrongly is put right by a shift lead; what follows from it changes, what has happened since stands.

Worked by hand on plant T: a jar received and put away on Sunday at 12:00 and taken out at 12:11 has room life until
the next Sunday 12:11 (seven days, common practice, no source). Every hour more at the dock takes an hour off it.
"""

from datetime import date, timedelta
from random import Random

import pytest

from station.care import facts as f
from station.care.correction import Correction, CorrectionRefused, correct_receipt, take_back
from station.care.words import Card, Ending, HoldReason, Limit, Word
from station.services import lead_acts
from station.services.outcome import Outcome
from tests.care.bench import EXPIRES, LEAD, Bench, berlin, site_t, with_limits, with_room_paste
from tests.care.fleet import Fleet
from tests.care.leading import ENGINEER, OPERATOR, PROOF, held_lot, recertified
from tests.care.places import site_d
from tests.care.test_folds import picture, replayed

HOUR = timedelta(hours=1)


def corrected(bench: Bench, jar: str, **told: object) -> Outcome:
    return lead_acts.correct_receipt(bench.station, Correction(jar, "misread", **told), PROOF)  # type: ignore[arg-type]


def taken_back(bench: Bench, kind: str, name: str) -> Outcome:
    return lead_acts.take_back(bench.station, (kind, name), "a slip", PROOF)


def refusal(bench: Bench, told: Correction, person: str | None = LEAD) -> str:
    with pytest.raises(CorrectionRefused) as refused:
        correct_receipt(bench.floor, told, person)
    return str(refused.value)


def reasons(bench: Bench, jar: str) -> list[HoldReason]:
    return [hold.reason for hold in bench.container(jar).holds]


# ---------------------------------------------------------------------- refused


@pytest.mark.parametrize("person", [OPERATOR, ENGINEER, None])
def test_only_a_shift_lead_corrects(person: str | None) -> None:
    bench = Bench()
    told = Correction(bench.cold(), "misread", lot="102")
    assert refusal(bench, told, person) == "Only a shift lead corrects a receipt. Badge in with your PIN."


NO_RECEIPT = (
    "There is no receipt of it to correct. Paste filled here has the dates of its sources: correct the receipt there."
)


def test_there_must_be_a_receipt() -> None:
    bench = Bench(site_d())
    assert refusal(bench, Correction("K7-999", "misread", lot="102")) == NO_RECEIPT
    jar = bench.ready()
    bench.scan(jar, "BENCH")
    small = bench.card(Card.DECANT, "BENCH").container
    assert small is not None
    assert refusal(bench, Correction(small, "misread", lot="102")) == NO_RECEIPT


@pytest.mark.parametrize(
    ("told", "sentence"),
    [
        ({"lot": "102", "reason": " "}, "Say in a few words what was wrong; it stands in the record."),
        ({}, "Nothing differs from what is recorded, so there is nothing to correct."),
        (
            {"lot": " 101 ", "temperature_c": 8.0, "expires": EXPIRES, "paste": "SN-4"},
            "Nothing differs from what is recorded, so there is nothing to correct.",
        ),
        ({"paste": "SN-9"}, "There is no paste 'SN-9' in this plant. Choose one from the list."),
        ({"lot": " "}, "The lot is missing. It stands on the maker's label."),
        ({"kind": "TUB-1"}, "SN-4 has no limits for TUB-1. Ask the process engineer to add this kind."),
        (
            {"arrived_at": berlin("2026-11-08T12:00:01")},
            "It can't have arrived after it was scanned in. Check the time.",
        ),
    ],
)
def test_what_cannot_be_is_refused_with_what_to_mend(told: dict[str, object], sentence: str) -> None:
    bench = Bench()
    jar = bench.receive()
    assert refusal(bench, Correction(**{"container": jar, "reason": "misread", **told})) == sentence  # type: ignore[arg-type]


def test_paste_that_was_handled_by_one_pastes_rules_cannot_become_another() -> None:
    bench = Bench()
    jar = bench.cold()
    assert refusal(bench, Correction(jar, "misread", paste="PB-1")) == (
        "K7 001 was handled as SN-4 already. Put it on hold and call the process engineer."
    )
    box = Bench(site_d())
    assert "was handled as SN-4 already" in refusal(box, Correction(box.cold(), "misread", kind="SYR-35"))


def test_it_never_arrived_after_its_first_put_away_though_it_went_back_into_the_cold_later() -> None:
    bench = Bench(with_limits(site_t(), "SN-4", cold_cycles=2, return_within=4 * HOUR))
    jar = bench.cold()
    bench.at("2026-11-09T06:00").scan(jar, "FRIDGE")
    bench.later(60)
    assert bench.scan(jar, "FRIDGE").code == "returned"
    told = Correction(jar, "misread", arrived_at=berlin("2026-11-08T13:00"))
    assert refusal(bench, told) == "It can't have arrived after it was scanned in. Check the time."


# ---------------------------------------------------------------------- what it changes


def test_both_stand_in_the_record_with_who_and_why_and_the_fact_put_right() -> None:
    bench = Bench()
    jar = bench.cold()
    outcome = corrected(bench, jar, lot="102")
    (fact,) = outcome.facts
    assert isinstance(fact.body, f.ReceiptCorrected)
    assert (fact.who, fact.body.reason, fact.body.fact) == (LEAD, "misread", bench.container(jar).received_key)
    receipt = bench.station.ledger.fact(fact.body.fact)
    assert receipt is not None
    assert isinstance(receipt.body, f.Received)
    assert (receipt.body.lot, bench.container(jar).lot) == ("101", "102")


def test_another_expiry_counts_at_once() -> None:
    bench = Bench()
    jar = bench.ready()
    corrected(bench, jar, expires=date(2026, 11, 9))
    assert bench.container(jar).shelf_end == berlin("2026-11-09T23:59")
    assert bench.at("2026-11-10T00:00").scan(jar, "LINE1").code == "shelf-life"


def test_the_suppliers_new_expiry_of_the_lot_stands_above_a_corrected_label() -> None:
    bench = Bench()
    jar = bench.cold()
    recertified(bench, date(2027, 6, 30))
    corrected(bench, jar, expires=date(2026, 12, 1))
    assert bench.container(jar).shelf_end == berlin("2027-06-30T23:59")


def test_an_earlier_arrival_shortens_room_life_that_is_running() -> None:
    bench = Bench()
    jar = bench.ready()
    before = bench.container(jar).room_end
    assert before == berlin("2026-11-15T12:11")
    corrected(bench, jar, arrived_at=berlin("2026-11-08T09:30"))
    container = bench.container(jar)
    assert container.room_end == berlin("2026-11-15T09:41")
    assert container.warm_spent == 2.5 * HOUR
    assert bench.at("2026-11-15T09:41").scan(jar, "LINE1").code == "opening-check"
    assert bench.later(1 / 60).scan(jar, "LINE1").code == "room-life"


def test_a_later_arrival_lengthens_it_by_the_lead_s_word() -> None:
    bench = Bench()
    jar = bench.receive(arrived_at=berlin("2026-11-08T09:00"))
    bench.scan(jar, "FRIDGE")
    bench.later(11).scan(jar, "FRIDGE")
    assert bench.container(jar).room_end == berlin("2026-11-15T09:11")
    corrected(bench, jar, arrived_at=berlin("2026-11-08T11:00"))
    assert bench.container(jar).room_end == berlin("2026-11-15T11:11")


def test_seconds_of_an_arrival_never_leave_an_end_between_two_minutes() -> None:
    bench = Bench()
    bench.later(0.5)
    jar = bench.ready()
    corrected(bench, jar, arrived_at=berlin("2026-11-08T09:00"))
    # out 12:11:30, and 3 h 0 min 30 s at the dock instead of none: 09:11 less half a minute, rounded down
    assert bench.container(jar).room_end == berlin("2026-11-15T09:10")


def test_an_arrival_corrected_before_it_is_put_away_counts_when_it_is() -> None:
    bench = Bench()
    jar = bench.receive()
    corrected(bench, jar, arrived_at=berlin("2026-11-08T10:00"))
    assert bench.container(jar).to_cold_by == berlin("2026-11-08T14:00")
    bench.scan(jar, "FRIDGE")
    assert bench.container(jar).warm_spent == 2 * HOUR


def test_an_arrival_so_early_that_it_is_late_for_the_cold_holds_it_with_an_alarm() -> None:
    bench = Bench()
    jar = bench.receive()
    corrected(bench, jar, arrived_at=berlin("2026-11-08T07:59"))
    assert reasons(bench, jar) == [HoldReason.LATE_TO_COLD]
    (alarm,) = bench.station.ledger.alarms.values()
    assert (alarm.limit, alarm.since) == (Limit.TO_COLD, berlin("2026-11-08T11:59"))


@pytest.mark.parametrize(
    ("arrived", "expected"), [("2026-11-08T08:00", []), ("2026-11-08T07:59", [HoldReason.LATE_TO_COLD])]
)
def test_put_away_late_by_a_corrected_arrival_it_is_held(arrived: str, expected: list[HoldReason]) -> None:
    bench = Bench()
    jar = bench.cold()
    corrected(bench, jar, arrived_at=berlin(arrived))
    assert reasons(bench, jar) == expected


def test_what_was_judged_late_and_released_is_not_held_again_by_another_correction() -> None:
    bench = Bench()
    jar = bench.cold()
    corrected(bench, jar, arrived_at=berlin("2026-11-08T07:00"))
    bench.release_all(jar)
    corrected(bench, jar, lot="102")
    assert reasons(bench, jar) == []
    corrected(bench, jar, arrived_at=berlin("2026-11-08T06:00"))
    assert reasons(bench, jar) == [HoldReason.LATE_TO_COLD]


@pytest.mark.parametrize(
    ("temperature", "expected"),
    [
        (37.8, []),
        (37.9, [HoldReason.ARRIVED_WARM]),
        (0.0, []),
        (-0.1, [HoldReason.ARRIVED_FROZEN]),
    ],
)
def test_a_corrected_temperature_holds_what_came_too_warm_or_frozen(
    temperature: float, expected: list[HoldReason]
) -> None:
    bench = Bench()
    jar = bench.cold()
    corrected(bench, jar, temperature_c=temperature)
    assert reasons(bench, jar) == expected
    assert bench.container(jar).temperature_c == temperature


def test_a_temperature_that_was_not_measured_is_measured_by_the_correction() -> None:
    bench = Bench()
    jar = bench.cold(temperature_c=None, temperature_answer="not measured")
    outcome = corrected(bench, jar, temperature_c=9.0)
    body = outcome.facts[0].body
    assert isinstance(body, f.ReceiptCorrected)
    assert (body.received.temperature_c, body.received.temperature_answer) == (9.0, "measured")


def test_a_hold_that_stands_is_not_put_twice_and_none_is_released() -> None:
    bench = Bench()
    jar = bench.cold(temperature_c=40)
    corrected(bench, jar, temperature_c=41.0)
    corrected(bench, jar, temperature_c=8.0)
    assert reasons(bench, jar) == [HoldReason.ARRIVED_WARM]


def test_as_another_paste_its_arrival_is_judged_by_the_limits_of_that_one() -> None:
    bench = Bench(with_limits(site_t(), "PB-1", arrival_hold_above_c=30, to_cold=2 * HOUR))
    jar = bench.receive(temperature_c=35)
    corrected(bench, jar, paste="PB-1")
    container = bench.container(jar)
    assert (container.paste, container.to_cold_by) == ("PB-1", berlin("2026-11-08T14:00"))
    assert reasons(bench, jar) == [HoldReason.ARRIVED_WARM]


def test_as_paste_that_is_never_refrigerated_it_has_no_time_to_the_cold() -> None:
    bench = Bench(with_room_paste(site_t()))
    jar = bench.receive()
    corrected(bench, jar, paste="BI-9", kind="CART-600")
    assert bench.container(jar).to_cold_by is None
    assert bench.later(10 * 60).alarms() == []
    assert bench.scan(jar, "SHELF").code == "put-away"


def test_a_second_correction_builds_on_the_first() -> None:
    bench = Bench()
    jar = bench.cold()
    corrected(bench, jar, lot="102")
    corrected(bench, jar, expires=date(2026, 12, 1))
    container = bench.container(jar)
    assert (container.lot, container.expires) == ("102", date(2026, 12, 1))


def test_a_correction_of_another_stations_receipt_changes_nothing_here() -> None:
    bench = Bench()
    jar = bench.cold()
    receipt = bench.station.ledger.fact(bench.container(jar).received_key)
    assert receipt is not None
    assert isinstance(receipt.body, f.Received)
    before = bench.container(jar)
    bench.tell(f.ReceiptCorrected(jar, "no such receipt", receipt.body, "misread"))
    assert bench.container(jar).lot == before.lot


# ---------------------------------------------------------------------- alarms


def test_a_limit_that_a_correction_moves_may_pass_anew_and_only_once() -> None:
    bench = Bench()
    jar = bench.ready(expires=date(2026, 11, 9))
    bench.at("2026-11-10T06:00")
    assert len(bench.alarms()) == 1
    corrected(bench, jar, expires=date(2026, 11, 11))
    bench.at("2026-11-12T06:00").later(1)
    bench.restart()
    shelf = [alarm.since for alarm in bench.station.ledger.alarms.values() if alarm.limit is Limit.SHELF]
    assert shelf == [berlin("2026-11-09T23:59"), berlin("2026-11-11T23:59")]


def test_a_limit_that_a_correction_does_not_move_raises_no_second_alarm() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.at("2026-11-16T06:00")
    before = sorted(bench.station.ledger.alarms)
    assert {alarm.limit for alarm in bench.station.ledger.alarms.values()} == {Limit.STENCIL, Limit.OPEN, Limit.ROOM}
    corrected(bench, jar, lot="102", expires=date(2027, 1, 31), temperature_c=9.0)
    assert sorted(bench.station.ledger.alarms) == before


# ---------------------------------------------------------------------- taken back by a lead


@pytest.mark.parametrize(
    ("person", "reason", "sentence"),
    [
        (OPERATOR, "a slip", "Only a shift lead takes this back. Badge in with your PIN."),
        (LEAD, " ", "Say in a few words why it is taken back; it stands in the record."),
    ],
)
def test_only_a_shift_lead_with_a_reason_takes_back(person: str, reason: str, sentence: str) -> None:
    bench = Bench()
    jar = bench.on_line()
    with pytest.raises(CorrectionRefused) as refused:
        take_back(bench.floor, "container", jar, reason, person)
    assert str(refused.value) == sentence


NOT_ONE = "The last act on it is not one that can be taken back. Correct or hold it instead."


@pytest.mark.parametrize("name", ["K7-999", "put away", "taken out"])
def test_what_says_where_paste_was_and_what_nobody_did_is_not_taken_back(name: str) -> None:
    bench = Bench()
    jar = bench.cold()
    subject = name if name == "K7-999" else jar
    if name == "taken out":
        bench.later(11).scan(jar, "FRIDGE")
    with pytest.raises(CorrectionRefused) as refused:
        take_back(bench.floor, "container", subject, "a slip", LEAD)
    assert str(refused.value) == NOT_ONE


def test_a_load_the_check_and_the_opening_are_taken_back_one_after_the_other() -> None:
    bench = Bench()
    jar = bench.on_line()
    said = [taken_back(bench, "container", jar).verdict for _ in range(3)]
    assert [verdict.why for verdict in said if verdict is not None] == [
        "The act 'loaded' of K7 001 is taken back; the record keeps both.",
        "The act 'inspected' of K7 001 is taken back; the record keeps both.",
        "The act 'opened' of K7 001 is taken back; the record keeps both.",
    ]
    container = bench.container(jar)
    assert (bench.position("1").bead, container.open_end, container.opened_at) == (None, None, None)
    assert container.room_end == berlin("2026-11-15T12:11")
    bench.later(60).scan(jar, "LINE1")
    assert bench.container(jar).open_end == berlin("2026-11-09T16:11")


def test_a_load_is_not_taken_back_from_under_what_was_done_on_its_line_since() -> None:
    bench = Bench()
    first = bench.on_line()
    second = bench.ready()
    bench.scan(second, "LINE1")
    bench.card(Card.LOOKS_GOOD, "LINE1")
    with pytest.raises(CorrectionRefused) as refused:
        take_back(bench.floor, "container", first, "a slip", LEAD)
    assert str(refused.value) == ("Something else was done on line 1 since (loaded, 18:22). Take that back first.")
    taken_back(bench, "container", second)
    taken_back(bench, "container", first)
    assert bench.position("1").bead is None


def test_a_jar_that_ended_elsewhere_is_no_act_on_the_line_it_fed() -> None:
    bench = Bench()
    first = bench.on_line()
    second = bench.ready()
    bench.scan(second, "LINE1")
    bench.card(Card.LOOKS_GOOD, "LINE1")
    bench.scan(first, "DESK")
    bench.card(Card.DISCARD, "DESK")
    taken_back(bench, "position", "1")
    bead = bench.position("1").bead
    assert bead is not None
    assert [portion.container for portion in bead.portions] == [first]
    assert bench.container(first).ended is Ending.DISCARDED


def test_a_removal_is_taken_back_long_after_and_the_bead_still_ends_when_it_did() -> None:
    bench = Bench()
    bench.on_line()
    bead = bench.position("1").bead
    bench.tag_card("1", Card.REMOVE, "LINE1")
    bench.later(120)
    taken_back(bench, "position", "1")
    assert bench.position("1").bead == bead
    assert bench.at("2026-11-08T23:12").alarms() != []


def test_a_removal_is_not_taken_back_from_under_the_next_bead() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.tag_card("1", Card.REMOVE, "LINE1")
    bench.later(1).scan(jar, "LINE1")
    taken_back(bench, "position", "1")
    assert bench.position("1").bead is None
    taken_back(bench, "position", "1")
    assert bench.position("1").bead is not None


def test_the_end_of_a_jar_is_taken_back_and_its_clocks_went_on() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.later(1).scan(jar, "LINE1")
    bench.card(Card.DISCARD, "LINE1")
    bench.later(60)
    taken_back(bench, "container", jar)
    assert bench.container(jar).ended is None
    assert bench.container(jar).open_end == berlin("2026-11-09T15:11")
    assert bench.at("2026-11-09T15:12").scan(jar, "LINE1").word is Word.STOP


def test_what_only_accompanies_an_act_does_not_stand_in_its_way() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.scan(jar, "DESK")
    bench.badge(LEAD, "DESK")
    bench.later(0.1).scan(jar, "DESK")
    bench.card(Card.HOLD, "DESK")
    bench.release_all(jar)
    corrected(bench, jar, lot="102")
    bench.step(-30)
    bench.station.confirm_clock(PROOF.badge, PROOF.pin)
    verdict = taken_back(bench, "container", jar).verdict
    assert verdict is not None
    assert "'loaded'" in verdict.why


def test_an_extension_stands_in_the_way_of_taking_back_the_opening_it_extends() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.tell(f.LimitExtended(jar, Limit.OPEN, HOUR, "C-1"))
    with pytest.raises(CorrectionRefused, match="not one that can be taken back"):
        take_back(bench.floor, "container", jar, "a slip", LEAD)


def test_a_dismount_is_not_taken_back_from_under_the_next_cartridge() -> None:
    bench = Bench(site_d())
    first, second = bench.ready(kind="CART-600"), bench.ready(kind="CART-600")
    for name in (first, second):
        bench.later(1).scan(name, "DOTS")
        bench.card(Card.LOOKS_GOOD, "DOTS")
        if name == first:
            bench.tag_card("D1", Card.DISMOUNT, "DOTS")
    with pytest.raises(CorrectionRefused, match="Something else was done on D1 since"):
        take_back(bench.floor, "container", first, "a slip", LEAD)
    taken_back(bench, "position", "D1")
    taken_back(bench, "position", "D1")
    mounted = bench.position("D1").mounted
    assert mounted is not None
    assert mounted.container == first


def test_a_bead_kept_as_used_paste_does_not_go_back_on() -> None:
    bench = Bench(site_d())
    bench.on_line()
    bench.later(60).tag_card("1", Card.REMOVE, "LINE1")
    kept = bench.card(Card.KEEP_USED, "LINE1").container
    assert kept is not None
    with pytest.raises(CorrectionRefused) as refused:
        take_back(bench.floor, "position", "1", "a slip", LEAD)
    assert str(refused.value) == "That bead was kept in K7 002, so it can't go back on."


# ---------------------------------------------------------------------- in any order, and at several stations


@pytest.mark.parametrize("seed", range(12))
def test_corrections_and_what_was_taken_back_add_up_the_same_in_any_order(seed: int) -> None:
    bench = Bench()
    jar = bench.on_line()
    corrected(bench, jar, arrived_at=berlin("2026-11-08T09:30"), lot="102")
    taken_back(bench, "container", jar)
    bench.later(1).scan(jar, "LINE1")
    bench.tag_card("1", Card.REMOVE, "LINE1")
    taken_back(bench, "position", "1")
    corrected(bench, jar, expires=date(2026, 11, 9), temperature_c=40.0)
    held_lot(bench, "102")
    bench.at("2026-11-10T06:00")
    facts = list(bench.journal.facts())
    shuffled = list(facts)
    Random(seed).shuffle(shuffled)
    assert picture(replayed(shuffled)) == picture(replayed(facts)) == picture(bench.station.ledger)


@pytest.mark.parametrize("busy", ["A", "B"])
@pytest.mark.parametrize("seed", range(4))
def test_corrected_here_while_taken_out_there_the_time_at_the_dock_counts_all_the_same(busy: str, seed: int) -> None:
    fleet = Fleet(start="2026-11-08T12:00")
    a, b = fleet["A"], fleet["B"]
    jar = a.cold()
    fleet.meet("A", "B", seed)
    # whoever wrote more facts stands later in the common order
    for _ in range(9):
        fleet[busy].station.read_room(23, 40, None)
    fleet.at("2026-11-08T12:11")
    b.scan(jar, "FRIDGE")
    corrected(a, jar, arrived_at=berlin("2026-11-08T09:30"))
    fleet.later(1).meet("A", "B", seed)
    assert a.container(jar).room_end == b.container(jar).room_end == berlin("2026-11-15T09:41")
    assert a.container(jar).room_given == timedelta(days=7)


# ---------------------------------------------------------------------- what was said of its bead since


def paused_and_resumed(bench: Bench, minutes: float) -> None:
    bench.tag_card("1", Card.PAUSE, "LINE1")
    bench.later(minutes)
    bench.tag_card("1", Card.RESUME, "LINE1")


@pytest.mark.parametrize("kind", ["container", "position"])
def test_a_pause_does_not_keep_a_wrong_load_on_its_line_for_good(kind: str) -> None:
    bench = Bench()
    jar = bench.on_line()
    paused_and_resumed(bench, 20)
    bench.later(1).tag_card("1", Card.PAUSE, "LINE1")
    verdict = taken_back(bench, kind, jar if kind == "container" else "1").verdict
    assert verdict is not None
    assert "'loaded'" in verdict.why
    assert bench.position("1").bead is None
    assert bench.container(jar).open_end == berlin("2026-11-09T15:11")


def test_a_wrong_top_up_taken_back_leaves_the_bead_its_end_and_its_pause() -> None:
    bench = Bench()
    bench.on_line()
    second = bench.ready()
    bench.scan(second, "LINE1")
    bench.card(Card.LOOKS_GOOD, "LINE1")
    paused_and_resumed(bench, 61)
    before = bench.position("1").bead
    assert before is not None
    assert before.replace
    taken_back(bench, "container", second)
    after = bench.position("1").bead
    assert after is not None
    assert (after.stencil_end, after.replace) == (before.stencil_end, True)
    assert [portion.container for portion in after.portions] == ["K7-001"]
    assert bench.tag("1", "LINE1").headline == "REPLACE THE BEAD"


def test_what_is_loaded_afterwards_knows_nothing_of_the_pause_of_a_bead_that_never_was() -> None:
    bench = Bench()
    jar = bench.on_line()
    paused_and_resumed(bench, 61)
    taken_back(bench, "container", jar)
    assert bench.later(1).scan(jar, "LINE1").word is Word.USE
    bead = bench.position("1").bead
    assert bead is not None
    assert (bead.replace, bead.started_at) == (False, berlin("2026-11-08T16:13"))
