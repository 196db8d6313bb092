"""What a scan means before it is anybody's in particular: bounce, old and new labels, badges, cards, tags."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from station.care.alarms import open_alarms
from station.care.facts import PersonSet, Received, Removed, Undone
from station.care.scans import ContainerScan, PlaceScan, SeenLabel, UnreadScan
from station.care.words import Card, Ending, Priority, Word
from tests.care.bench import Bench, berlin, site_t, with_limits, with_room_paste, with_rules
from tests.care.told import kept

T0 = berlin("2026-11-09T06:00")


def label(number: int) -> SeenLabel:
    return SeenLabel(number, T0, T0 + timedelta(hours=3), T0 + timedelta(days=7), timedelta(hours=24), 4, leaded=False)


def test_a_container_nobody_received_is_no_paste_to_use() -> None:
    bench = Bench()
    verdict = bench.scan("K7-999", "LINE1")
    assert (verdict.word, verdict.code) == ("STOP", "unknown")
    assert verdict.why == "K7 999 is not in the record of this station."


def test_the_first_scan_of_a_time_label_confirms_that_it_exists() -> None:
    bench = Bench()
    jar = bench.ready()
    bench.scan(jar, "LINE1", label(1))
    assert bench.container(jar).print_confirmed == 1


def test_an_old_label_is_named_and_restarts_nothing() -> None:
    bench = Bench()
    jar = bench.ready()
    bench.scan(jar, "DESK")
    bench.card(Card.REPRINT, "DESK")
    before = bench.container(jar).earliest_use
    verdict = bench.scan(jar, "LINE1", label(1))
    assert verdict.code == "opening-check"
    assert "This label is an old one; label 2 replaced it. Tear it off." in verdict.note
    assert bench.container(jar).earliest_use == before


def test_a_label_the_record_knows_nothing_of_is_stopped() -> None:
    bench = Bench()
    jar = bench.ready()
    verdict = bench.scan(jar, "LINE1", label(2))
    assert (verdict.word, verdict.code) == ("STOP", "label-newer")
    assert bench.container(jar).opened_at is None


def test_a_label_of_the_same_number_that_went_out_before_the_record_says_is_stopped() -> None:
    """Restored from a backup that lacks the take-out, the station took it out again and printed its number anew."""
    bench = Bench(start="2026-11-10T06:00")
    jar = bench.ready()
    verdict = bench.scan(jar, "LINE1", label(1))
    assert (verdict.word, verdict.code) == ("STOP", "label-newer")
    assert "was out Mon 9 Nov" in verdict.why
    assert bench.container(jar).opened_at is None


@pytest.mark.parametrize(("paste", "kind"), [("OLD-1", "JAR-500"), ("SN-4", "JAR-1000")])
@pytest.mark.parametrize("place", ["FRIDGE", "LINE1", "DESK"])
def test_what_only_another_stations_settings_have_is_stopped_wherever_it_is_scanned(
    paste: str, kind: str, place: str
) -> None:
    bench = Bench()
    bench.receive()
    (receipt,) = kept(bench, Received)
    bench.tell(replace(receipt, container="K9-011", paste=paste, kind=kind))
    verdict = bench.later(1).scan("K9-011", place)
    assert (verdict.word, verdict.code) == ("STOP", "by-label-paste")


def test_a_label_scanned_again_later_needs_no_note() -> None:
    bench = Bench()
    jar = bench.ready()
    bench.scan(jar, "LINE1", label(1))
    assert "old one" not in bench.later(1).scan(jar, "LINE1", label(1)).note


def test_br_11_a_second_read_of_one_take_out_is_no_return() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(11)
    first = bench.scan(jar, "FRIDGE")
    printed = len(bench.printer.sent)
    bench.clock.go_on(timedelta(milliseconds=150))
    again = bench.scan(jar, "FRIDGE")
    assert again.headline == first.headline
    assert again.note.startswith("Just scanned: nothing was recorded twice.")
    assert len(bench.printer.sent) == printed


def test_use_is_not_repeated_by_a_bounce_once_its_bead_is_gone() -> None:
    bench = Bench(with_room_paste(site_t()))
    jar = bench.on_line()
    bench.later(1)
    assert bench.scan(jar, "LINE1").word == "USE"
    bead = bench.position("1").bead
    assert bead is not None
    bench.tell(Removed("1", bead.key, replaced_earlier=False))  # at another place of the same line
    told = bench.outcome(ContainerScan(jar), "LINE1").facts
    assert [fact.body.NAME for fact in told] == ["loaded"]


def test_a_bounce_of_a_bounce_says_it_once() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.later(1).scan(jar, "LINE1")
    bench.scan(jar, "LINE1")
    note = bench.scan(jar, "LINE1").note
    assert note.count("Just scanned") == 1
    assert "its bead ends" in note


@pytest.mark.parametrize("person", ["P99", "P12"])
def test_only_people_who_work_here_sign_in(person: str) -> None:
    bench = Bench()
    verdict = bench.badge(person, "LINE1")
    known = person == "P12"
    assert (verdict.word, verdict.code) == (("DONE", "signed-in") if known else ("STOP", "badge-unknown"))
    assert bench.station.sessions["LINE1"].context.person == ("P12" if known else None)


def test_somebody_who_left_does_not_sign_in() -> None:
    bench = Bench()
    bench.tell(PersonSet("P12", "Robin Alder", (), None, left=True))
    assert bench.badge("P12", "LINE1").code == "badge-unknown"


def test_a_place_card_switches_the_place() -> None:
    bench = Bench()
    bench.answer(PlaceScan("LINE1"), "FRIDGE")
    assert bench.station.place == "LINE1"


def test_what_can_not_be_read_is_said_and_kept() -> None:
    bench = Bench()
    outcome = bench.outcome(UnreadScan("x" * 200, "Read too little.", "Scan it again."), "LINE1")
    assert outcome.verdict is not None
    assert (outcome.verdict.word, outcome.verdict.why, outcome.verdict.todo) == (
        "STOP",
        "Read too little.",
        "Scan it again.",
    )
    assert [fact.body.NAME for fact in outcome.facts] == ["scan-refused"]


def test_look_changes_nothing_and_lasts_ten_seconds() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(11)
    bench.card(Card.LOOK, "FRIDGE")
    assert bench.scan(jar, "FRIDGE").code == "look"
    assert bench.container(jar).store == "FRIDGE"
    bench.later(1).card(Card.LOOK, "FRIDGE")
    bench.clock.go_on(timedelta(seconds=11))
    assert bench.scan(jar, "FRIDGE").code == "taken-out"


def test_nothing_stays_armed_when_the_clock_is_set_back() -> None:
    bench = Bench()
    jar = bench.ready()
    bench.scan(jar, "DESK")
    bench.step(-1)
    assert bench.card(Card.EMPTY, "DESK").code == "card-alone"


@pytest.mark.parametrize("card", [card for card in Card if card not in (Card.LOOK, Card.SILENCE)])
def test_a_card_alone_only_says_what_to_scan_first(card: Card) -> None:
    bench = Bench()
    outcome = bench.card(card, "LINE1")
    assert (outcome.word, outcome.code) == ("WAIT", "card-alone")
    assert outcome.todo.startswith("Scan the ")


def test_silence_acknowledges_what_is_open() -> None:
    bench = Bench()
    bench.on_line()
    bench.later(481)
    bench.card(Card.SILENCE, "LINE1")
    alarm = bench.station.ledger.alarms[bench.alarms()[0]]
    assert alarm.acknowledged_at == bench.clock.wall


def test_a_desk_and_a_bench_only_look() -> None:
    bench = Bench(with_room_paste(site_t()))
    jar = bench.ready()
    for place in ("DESK", "BENCH"):
        assert bench.later(1).scan(jar, place).code == "look"
    assert bench.container(jar).opened_at is None


def test_looking_at_a_cold_container_says_where_it_lies_and_when_it_expires() -> None:
    bench = Bench()
    jar = bench.cold(temperature_c=50)
    verdict = bench.scan(jar, "DESK")
    assert (verdict.word, verdict.headline) == ("STOP", "ON HOLD")
    assert verdict.todo == "Looked at only; nothing was recorded."
    assert verdict.note == f"It lies in Refrigerator, bin {bench.container(jar).bin}."
    other = bench.cold()
    found = bench.scan(other, "DESK")
    assert (found.word, found.headline) == ("DONE", "IN COLD STORAGE")
    lies = f"is put away in Refrigerator, bin {bench.container(other).bin}."
    assert found.why == f"K7 002 {lies} It expires Wed 31 Mar 2027 23:59 (shelf life)."
    assert found.todo == "To use it, scan it at the door of its store. Looked at only; nothing was recorded."


def test_a_cold_container_past_its_expiry_is_said_to_be_over_first() -> None:
    bench = Bench()
    jar = bench.cold(expires=date(2026, 11, 8))
    verdict = bench.at("2026-11-09T06:00").scan(jar, "DESK")
    assert (verdict.word, verdict.headline) == ("STOP", "SHELF LIFE IS OVER")
    assert verdict.note.startswith("It lies in Refrigerator, bin ")


def test_what_was_received_and_not_put_away_lies_nowhere_yet() -> None:
    bench = Bench()
    verdict = bench.scan(bench.receive(), "DESK")
    assert (verdict.word, verdict.headline, verdict.note) == ("DONE", "NOT PUT AWAY YET", "")


def test_looking_at_what_feeds_a_line_says_so() -> None:
    bench = Bench()
    jar = bench.on_line()
    verdict = bench.scan(jar, "DESK")
    assert verdict.why == "Nothing speaks against K7 001. It feeds line 1."
    assert verdict.headline.startswith("OPEN since ")


def test_a_shift_lead_holds_at_the_desk_and_an_operator_does_not() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.badge("P12", "DESK")
    bench.scan(jar, "DESK")
    assert bench.card(Card.HOLD, "DESK").code == "needs-lead"
    bench.badge("P20", "DESK")
    bench.scan(jar, "DESK")
    assert bench.card(Card.HOLD, "DESK").code == "held-now"
    assert bench.scan(jar, "LINE1").code == "held"
    assert any(alarm.startswith("held/1/") for alarm in bench.alarms())


def test_before_it_is_out_its_identity_label_prints_once_more_and_no_clock_changes() -> None:
    bench = Bench()
    jar = bench.cold()
    before = bench.container(jar)
    bench.scan(jar, "DESK")
    said = bench.card(Card.REPRINT, "DESK")
    assert (said.word, said.code, said.headline) == ("DONE", "reprint-identity", "IDENTITY LABEL")
    assert [label.container for label in bench.printer.sent] == [jar, jar]
    assert bench.container(jar) == before


def test_what_is_ended_needs_no_label() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.scan(jar, "DESK")
    bench.card(Card.DISCARD, "DESK")
    assert bench.card(Card.REPRINT, "DESK").code == "card-alone"


def test_a_draft_gives_use_nowhere_but_in_a_demo() -> None:
    draft = with_limits(site_t(), "SN-4", approved_by=None)
    bench = Bench(draft)
    jar = bench.cold()
    assert bench.later(11).scan(jar, "FRIDGE").code == "draft"
    demo = Bench(with_rules(draft, demo=True))
    assert demo.on_line() in demo.station.ledger.containers


def test_where_the_site_asks_for_work_orders_nothing_is_used_without_one() -> None:
    bench = Bench(with_rules(site_t(), work_order_required=True))
    jar = bench.ready()
    verdict = bench.scan(jar, "LINE1")
    assert (verdict.code, verdict.why) == ("no-work-order", "Line 1 is not set up for a work order.")
    bench.order("WO1", "CTRL", "LINE1")
    assert bench.later(1).scan(jar, "LINE1").code == "opening-check"


def test_a_work_order_needs_a_printer_and_a_known_product() -> None:
    bench = Bench()
    assert bench.order("WO1", "TOASTER", "LINE1").code == "product-unknown"
    assert bench.order("WO1", "CTRL", "DESK").code == "which-position"


def test_a_used_up_container_may_not_come_back_by_a_second_end() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.later(1).scan(jar, "LINE1")
    bench.card(Card.EMPTY, "LINE1")
    assert bench.card(Card.DISCARD, "LINE1").code == "ended"
    assert bench.container(jar).ended is Ending.USED_UP


@pytest.mark.parametrize("place", ["FRIDGE", "LINE1"])
def test_ended_paste_seen_again_at_a_door_or_a_line_raises_one_alarm(place: str) -> None:
    bench = Bench()
    jar = bench.ready()
    bench.scan(jar, "DESK")
    bench.card(Card.DISCARD, "DESK")
    bench.later(4).scan(jar, place)
    assert bench.alarms() == []  # its end was told a moment ago
    bench.later(10).scan(jar, place)
    bench.later(1).scan(jar, place)
    assert [alarm.split("/")[0] for alarm in bench.alarms()] == ["seen after its end"]
    alarm, situation = open_alarms(bench.floor)[0]
    assert (situation.priority, alarm.in_use) == (Priority.LOW, False)


@pytest.mark.parametrize("card", [Card.DISCARD, Card.DECANT, Card.MIXED])
def test_a_scan_that_only_named_a_jar_for_such_a_card_leaves_no_bead(card: Card) -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.tag_card("1", Card.REMOVE, "LINE1")
    assert bench.later(1).scan(jar, "LINE1").word is Word.USE
    assert bench.card(card, "LINE1").word is Word.DONE
    assert bench.position("1").bead is None


def test_leave_to_use_is_not_said_again_of_a_jar_whose_receipt_was_just_taken_back() -> None:
    bench = Bench()
    jar = bench.on_line()
    assert bench.later(1).scan(jar, "LINE1").word is Word.USE
    bench.tell(Undone(bench.container(jar).received_key, "not ours"))
    assert bench.scan(jar, "LINE1").code == "unknown"
