"""Small print of answers away from the line: each says all of its parts, names what it is about, and is recorded."""

from datetime import date, timedelta

import pytest

from station.care import facts as f
from station.care.late import Late
from station.care.scans import BadgeScan, CardScan, ContainerScan, PlaceScan
from station.care.specification import BestChoice
from station.care.words import Card
from station.services import lead_acts
from station.services.outcome import Outcome
from tests.care.bench import LEAD, Bench, site_f, site_t, with_limits, with_room_paste, with_rules
from tests.care.leading import PROOF
from tests.care.places import site_d
from tests.care.test_thaw import frozen, thawing
from tests.care.told import FIRST, SECOND, Answer, Answering, Told, kept, told_by, unsaid

UNDO = (Card.UNDO,)


def at_door(bench: Bench, name: str, door: str = "FRIDGE") -> Outcome:
    return bench.outcome(ContainerScan(name), door)


def rested(site: Bench | None = None, **told: object) -> tuple[Bench, str]:
    """A container put away long enough to be taken out."""
    bench = site or Bench()
    jar = bench.cold(**told)  # type: ignore[arg-type]
    return bench.later(11), jar


def not_known() -> Outcome:
    return at_door(Bench(), "K9-001", "DESK")


def not_its_store() -> Outcome:
    bench = Bench(site_f())
    return at_door(bench, bench.receive("FZ-7", temperature_c=-18))


def no_room_left() -> Outcome:
    bench = Bench(with_room_paste(site_t()))
    bench.scan(bench.receive("BI-9"), "SHELF")
    return at_door(bench, bench.receive("BI-9"), "SHELF")


def just_put_away() -> Outcome:
    bench = Bench()
    jar = bench.cold()
    return at_door(bench.later(1), jar)


def in_another_store() -> Outcome:
    bench, jar = rested(Bench(site_f()))
    return at_door(bench, jar, "FREEZER")


def on_hold_in_the_cold() -> Outcome:
    return at_door(*rested(leaking=True))


def ended_at_the_door() -> Outcome:
    bench, jar = rested()
    bench.scan(jar, "DESK")
    bench.card(Card.DISCARD, "DESK")
    return at_door(bench.later(1), jar)


def thrown_away_twice() -> Outcome:
    bench, jar = rested()
    bench.scan(jar, "DESK")
    bench.card(Card.DISCARD, "DESK")
    bench.later(1).scan(jar, "DESK")
    return bench.outcome(CardScan(Card.DISCARD), "DESK")


def a_judged_one_without_an_end_first() -> Outcome:
    """Another station told of undated paste; it thawed too long here and a shift lead judged it good."""
    bench = Bench(with_rules(site_f(), best_choice=BestChoice.BLOCK))
    now, name = bench.clock.wall, "K9-001"
    bench.tell_own(
        f.Received(name, "FZ-7", "JAR-500", "101", None, None, now, None, "not measured", False, None),
        f.PutAway(name, "FREEZER", "F1", returning=False),
        f.ThawBegun(name, "FREEZER", now + timedelta(hours=12), now + timedelta(hours=48), "FZ-7 version 1"),
        f.PutAway(name, "FRIDGE", "A1", returning=False),
    )
    bench.later(49 * 60)
    bench.release_all(name)
    return at_door(bench, frozen(bench), "FREEZER")


def an_older_one_first() -> Outcome:
    bench = Bench(with_rules(site_t(), best_choice=BestChoice.BLOCK))
    bench.cold(expires=date(2027, 1, 31))
    return at_door(*rested(bench))


def room_too_cold() -> Outcome:
    bench, jar = rested()
    bench.station.read_room(18.5, 40, None)
    return at_door(bench, jar)


def room_too_humid() -> Outcome:
    bench, jar = rested()
    bench.station.read_room(23, 95, None)
    return at_door(bench, jar)


def clock_moved_while_out() -> Outcome:
    bench, jar = rested(Bench(site_f()), paste="SN-6")
    at_door(bench, jar)
    bench.later(30).step(20)
    return at_door(bench, jar)


def taken_out() -> Outcome:
    return at_door(*rested())


def scanned_twice_at_the_door() -> Outcome:
    bench, jar = rested()
    at_door(bench, jar)
    return at_door(bench.later(1), jar)


def shelf_of_room_paste() -> Outcome:
    bench = Bench(with_room_paste(site_t()))
    jar = bench.receive("BI-9")
    bench.scan(jar, "SHELF")
    return at_door(bench.later(11), jar, "SHELF")


def thaw_begun() -> Outcome:
    bench = Bench(site_f())
    return at_door(bench, frozen(bench), "FREEZER")


def thaw_begun_twice() -> Outcome:
    bench = Bench(site_f())
    jar = frozen(bench)
    at_door(bench, jar, "FREEZER")
    return at_door(bench.later(1), jar, "FREEZER")


def thawing_still() -> Outcome:
    bench = Bench(site_f())
    return at_door(bench, thawing(bench))


def back_in_the_freezer() -> Outcome:
    bench = Bench(site_f())
    return at_door(bench, thawing(bench), "FREEZER")


def undo_too_late() -> Outcome:
    bench, jar = rested()
    at_door(bench, jar)
    at_door(bench.later(6), jar, "DESK")
    return bench.outcome(CardScan(Card.UNDO), "DESK")


def held_by_the_lead() -> Outcome:
    bench, jar = rested()
    bench.badge(LEAD, "DESK")
    bench.scan(jar, "DESK")
    return bench.outcome(CardScan(Card.HOLD), "DESK")


def label_of_what_lies_cold() -> Outcome:
    bench, jar = rested()
    bench.scan(jar, "DESK")
    return bench.outcome(CardScan(Card.REPRINT), "DESK")


def no_time_for_a_label() -> Outcome:
    bench, jar = rested()
    bench.station.read_room(18.5, 40, None)
    late = Late(jar, bench.clock.wall, bench.clock.wall, "card on bin A1")
    lead_acts.take_out_late(bench.station, late, PROOF)
    bench.scan(jar, "DESK")
    return bench.outcome(CardScan(Card.REPRINT), "DESK")


def another_label() -> Outcome:
    bench = Bench()
    bench.scan(bench.ready(), "DESK")
    return bench.outcome(CardScan(Card.REPRINT), "DESK")


def decant(bench: Bench, name: str, place: str = "BENCH") -> Outcome:
    bench.later(1).scan(name, place)
    return bench.outcome(CardScan(Card.DECANT), place)


def decanting_forbidden() -> Outcome:
    bench = Bench(with_limits(site_d(), "SN-4", decanted_life=None))
    return decant(bench, bench.ready())


def decanted_twice() -> Outcome:
    bench = Bench(site_d())
    decant(bench, bench.ready())
    return decant(bench, SECOND)


def looking() -> Outcome:
    return Bench().outcome(CardScan(Card.LOOK), "DESK")


def another_place() -> Outcome:
    return Bench().outcome(PlaceScan("LINE1"), "DESK")


BETTER = ("better-choice", "K9-001")
ANSWERS: list[Answer] = [
    (not_known, Told("unknown", "K9-001", refused=(None, "DESK", "unknown", "K9-001"))),
    (not_its_store, Told("wrong-store", FIRST, refused=(FIRST, "FRIDGE", "wrong-store", ""))),
    (no_room_left, Told("store-full", SECOND, refused=(SECOND, "SHELF", "store-full", ""))),
    (just_put_away, Told("already-away", FIRST, asks=UNDO)),
    (in_another_store, Told("other-store", FIRST, refused=(FIRST, "FREEZER", "other-store", ""))),
    (on_hold_in_the_cold, Told("held", FIRST, refused=(FIRST, "FRIDGE", "held", ""))),
    (ended_at_the_door, Told("ended", FIRST, refused=(FIRST, "FRIDGE", "ended", ""))),
    (an_older_one_first, Told("better-choice", SECOND, refused=(SECOND, "FRIDGE", "better-choice", FIRST))),
    (thrown_away_twice, Told("ended", FIRST)),
    (
        a_judged_one_without_an_end_first,
        Told("better-choice", FIRST, None, (FIRST, "FREEZER", "better-choice", "K9-001")),
    ),
    (room_too_cold, Told("room-too-cold", FIRST, refused=(FIRST, "FRIDGE", "room-too-cold", ""))),
    (room_too_humid, Told("room-too-humid", FIRST, refused=(FIRST, "FRIDGE", "room-too-humid", ""))),
    (clock_moved_while_out, Told("clock-doubt", FIRST, refused=(FIRST, "FRIDGE", "clock-doubt", ""))),
    (taken_out, Told("taken-out", FIRST, asks=UNDO)),
    (scanned_twice_at_the_door, Told("already-out", FIRST, asks=UNDO)),
    (shelf_of_room_paste, Told("room-shelf", FIRST)),
    (thaw_begun, Told("thaw-begun", FIRST, asks=UNDO)),
    (thaw_begun_twice, Told("already-thawing", FIRST, asks=UNDO)),
    (thawing_still, Told("thawing", FIRST, refused=(FIRST, "FRIDGE", "thawing", ""))),
    (back_in_the_freezer, Told("never-back", FIRST)),
    (undo_too_late, Told("undo-too-late")),
    (held_by_the_lead, Told("held-now", FIRST)),
    (label_of_what_lies_cold, Told("reprint-identity", FIRST)),
    (no_time_for_a_label, Told("card-alone")),
    (another_label, Told("reprint", FIRST)),
    (decanting_forbidden, Told("decant-not-allowed", FIRST, refused=(FIRST, "BENCH", "decant-not-allowed", ""))),
    (decanted_twice, Told("decant-twice", SECOND, refused=(SECOND, "BENCH", "decant-twice", ""))),
    (looking, Told("look")),
    (another_place, Told("place")),
]


@pytest.mark.parametrize(("answer", "expected"), ANSWERS, ids=[answer.__name__ for answer, _ in ANSWERS])
def test_each_answer_says_all_its_parts_and_what_it_is_about(answer: Answering, expected: Told) -> None:
    outcome = answer()
    assert unsaid(outcome.verdict) == []
    assert told_by(outcome) == expected


def test_a_room_is_called_what_it_is() -> None:
    cold, humid = room_too_cold().verdict, room_too_humid().verdict
    assert cold is not None
    assert humid is not None
    assert ("COLD" in cold.headline, "HUMID" in cold.headline) == (True, False)
    assert ("COLD" in humid.headline, "HUMID" in humid.headline) == (False, True)


def test_said_of_what_has_ended_a_card_is_answered_with_its_end_in_capitals() -> None:
    verdict = thrown_away_twice().verdict
    assert verdict is not None
    assert "DISCARDED" in verdict.headline


@pytest.mark.parametrize("answer", [label_of_what_lies_cold, no_time_for_a_label, another_label])
def test_whatever_comes_of_reprint_it_names_the_container(answer: Answering) -> None:
    verdict = answer().verdict
    assert verdict is not None
    assert "K7 001" in verdict.why


def test_what_room_paste_was_taken_from_its_shelf_stands_in_the_record() -> None:
    assert f.Sighted(FIRST, "SHELF", warm=False) in [fact.body for fact in shelf_of_room_paste().facts]


def test_who_tried_to_freeze_it_again_stands_in_the_record_with_the_store() -> None:
    assert f.ReturnRefused(FIRST, "FREEZER") in [fact.body for fact in back_in_the_freezer().facts]


def test_from_the_freezer_into_the_refrigerator_is_no_return() -> None:
    bench = Bench(site_f())
    jar = thawing(bench)
    puts = [body for body in kept(bench, f.PutAway) if body.store == "FRIDGE"]
    assert puts == [f.PutAway(jar, "FRIDGE", "A1", returning=False)]


def test_a_beginning_thaw_is_taken_back_by_the_card_alone() -> None:
    bench = Bench(site_f())
    jar = frozen(bench)
    at_door(bench, jar, "FREEZER")
    assert bench.later(0.1).card(Card.UNDO, "FREEZER").code == "undone"
    assert bench.container(jar).store == "FREEZER"


def test_a_badge_is_greeted_by_name_in_capitals() -> None:
    verdict = Bench().outcome(BadgeScan(LEAD), "DESK").verdict
    assert verdict is not None
    assert verdict.headline == "TONI ROWAN"
