"""A card after a scan that was refused, a look at a label alone, and advice that must never say: use it."""

from dataclasses import replace

import pytest

from station.care.specification import BestChoice
from station.care.words import Card, Word
from tests.care.bench import LEAD, Bench, site_f, with_rules
from tests.care.fleet import Fleet, by_label
from tests.care.places import site_d


def test_a_container_refused_at_the_door_may_be_told_a_card_there() -> None:
    """The label printer often stands at that door: who needs a new label scans the jar there, is told STOP, prints."""
    bench = Bench()
    jar = bench.ready()
    assert bench.scan(jar, "FRIDGE").code == "never-back"
    assert bench.card(Card.REPRINT, "FRIDGE").code == "reprint"
    assert bench.container(jar).print_number == 2


def test_what_lies_held_in_the_cold_can_be_discarded_at_its_door() -> None:
    bench = Bench()
    jar = bench.cold(temperature_c=39)
    assert bench.later(11).scan(jar, "FRIDGE").code == "held"
    assert bench.card(Card.DISCARD, "FRIDGE").code == "discarded"


@pytest.mark.parametrize("card", [Card.LOOKS_GOOD, Card.LOOKS_BAD])
def test_at_the_door_nothing_counts_as_opened(card: Card) -> None:
    bench = Bench()
    jar = bench.cold()
    assert bench.later(11).scan(jar, "FRIDGE").code == "taken-out"
    assert bench.card(card, "FRIDGE").code == "card-alone"
    assert (bench.container(jar).opened_at, bench.container(jar).holds) == (None, ())


def test_a_look_at_a_label_alone_starts_no_bead() -> None:
    """The site goes by labels, so the same scan without LOOK says USE."""
    fleet = Fleet()
    a, b = fleet["A"], fleet["B"]
    jar = b.ready()
    label = fleet.label_of(jar, "B")
    fleet.later(200)
    a.card(Card.LOOK, "LINE1")
    verdict = by_label(a, jar, "LINE1", label)
    assert (verdict.word, verdict.code, verdict.by_label) == (Word.DONE, "look", True)
    assert verdict.headline == "KNOWN BY ITS LABEL"
    assert a.position("1").bead is None
    assert by_label(a.later(1), jar, "LINE1", label).word is Word.USE


def test_a_look_at_a_label_that_is_over_says_so_at_the_desk_too() -> None:
    fleet = Fleet()
    a, b = fleet["A"], fleet["B"]
    jar = b.ready()
    label = fleet.label_of(jar, "B")
    fleet.later(9 * 24 * 60)
    a.card(Card.LOOK, "DESK")
    verdict = by_label(a, jar, "DESK", label)
    assert (verdict.word, verdict.code, verdict.headline) == (Word.STOP, "look", "ROOM LIFE IS OVER")


def test_a_look_at_a_label_of_a_paste_not_set_up_here_says_so() -> None:
    fleet = Fleet()
    a, b = fleet["A"], fleet["B"]
    jar = b.ready()
    label = replace(fleet.label_of(jar, "B"), paste_number=60)
    a.card(Card.LOOK, "LINE1")
    assert by_label(a, jar, "LINE1", label).code == "by-label-paste"


@pytest.mark.parametrize(
    ("minutes", "todo"),
    [
        (60, "Keep the jar closed at room temperature and use it in time."),
        (8 * 24 * 60, "Do not use it. Discard it by the local rules for paste waste."),
    ],
)
def test_what_may_not_be_used_is_not_told_to_be_used_in_time(minutes: int, todo: str) -> None:
    bench = Bench()
    jar = bench.ready()
    assert bench.later(minutes).scan(jar, "FRIDGE").todo == todo


def test_a_jar_out_of_the_cold_that_is_held_stays_apart() -> None:
    bench = Bench()
    jar = bench.ready()
    bench.badge(LEAD, "DESK")
    bench.scan(jar, "DESK")
    bench.card(Card.HOLD, "DESK")
    assert bench.scan(jar, "FRIDGE").todo == "Set it aside and call the shift lead."


def test_a_take_out_of_what_was_seen_outside_says_that_it_is_held() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.scan(jar, "LINE1")
    note = bench.later(11).scan(jar, "FRIDGE").note
    assert note.startswith("It goes on hold, because it was seen outside before: call the shift lead.")


def test_just_put_away_it_says_when_it_can_be_taken_out() -> None:
    """Ten minutes after the put-away of 12:00 the eleventh minute is the first; UNDO is offered for five."""
    bench = Bench()
    jar = bench.cold()
    verdict = bench.later(1).scan(jar, "FRIDGE")
    assert verdict.todo == (
        "Leave it in; it can be taken out from 12:11 on. If putting it away was a mistake, scan UNDO."
    )
    assert verdict.asks == (Card.UNDO,)
    later = bench.later(5).scan(jar, "FRIDGE")
    assert (later.todo, later.asks) == ("Leave it in; it can be taken out from 12:11 on.", ())
    assert bench.later(4).scan(jar, "FRIDGE").code == "already-away"
    assert bench.later(1).scan(jar, "FRIDGE").code == "taken-out"


def test_just_put_away_on_hold_no_time_is_promised() -> None:
    bench = Bench()
    jar = bench.cold(temperature_c=39)
    verdict = bench.later(6).scan(jar, "FRIDGE")
    assert (verdict.code, verdict.todo) == ("already-away", "Leave it in.")


def test_a_better_one_that_nobody_has_seen_since_is_out_of_its_store() -> None:
    bench = Bench(with_rules(site_f(), best_choice=BestChoice.WARN))
    bench.ready()
    cold = bench.cold()
    assert bench.later(11).scan(cold, "FRIDGE").why.startswith("K7 001 is ready, out of Refrigerator, 6 d")


def test_a_card_about_beads_at_a_dispenser_names_the_cards_that_belong_there() -> None:
    bench = Bench(site_d())
    verdict = bench.tag_card("D1", Card.REMOVE, "DOTS")
    assert (verdict.code, verdict.why) == ("no-bead", "D1 is a dispenser; no bead lies in it.")
    assert verdict.todo == "Scan DISMOUNT when it is taken off, EMPTY when it is used up."


def test_resume_of_a_bead_that_is_over_does_not_say_go_on() -> None:
    bench = Bench()
    bench.on_line()
    bench.later(8 * 60 + 2)
    assert bench.tag_card("1", Card.RESUME, "LINE1").code == "bead-past"


def test_paste_used_up_that_was_never_opened_is_for_the_shift_lead_to_know() -> None:
    bench = Bench()
    jar = bench.ready()
    bench.scan(jar, "DESK")
    verdict = bench.card(Card.EMPTY, "DESK")
    assert (verdict.code, verdict.why) == ("emptied", "K7 001 is used up.")
    assert verdict.note == "No opening is on record: call the shift lead, who can add where it was used."
