"""EMPTY asked of the last jar when the first scan of the next one is made, and what EMPTY then means."""

from station.care import facts as f
from station.care.decide import TRIGGER
from station.care.words import Card, Ending, Word
from tests.care.bench import Bench

ASKS = " Is K7 001 empty? Then scan EMPTY now."


def next_one(bench: Bench, place: str = "LINE1") -> tuple[str, str, tuple[str, ...]]:
    """Another jar is used for the first time: its number, the note of the answer, the cards it asks for."""
    jar = bench.ready()
    bench.scan(jar, place)
    verdict = bench.card(Card.LOOKS_GOOD, place)
    assert verdict.word is Word.USE
    return jar, verdict.note, verdict.asks


def test_a_new_jar_on_the_line_brings_up_whether_the_one_before_is_empty() -> None:
    bench = Bench()
    bench.on_line()
    _, note, asks = next_one(bench)
    assert ASKS in note
    assert Card.EMPTY in asks


def test_empty_then_ends_the_last_one_and_not_the_fresh_one() -> None:
    bench = Bench()
    last = bench.on_line()
    fresh, _, _ = next_one(bench)
    verdict = bench.card(Card.EMPTY, "LINE1")
    assert (verdict.code, verdict.container) == ("emptied", last)
    assert verdict.why == "K7 001 is used up; its bead goes on."
    assert (bench.container(last).ended, bench.container(fresh).ended) == (Ending.USED_UP, None)
    bead = bench.position("1").bead
    assert bead is not None
    assert bead.feeding == fresh


def test_undo_right_after_takes_back_the_end_of_the_last_one() -> None:
    bench = Bench()
    last = bench.on_line()
    next_one(bench)
    bench.card(Card.EMPTY, "LINE1")
    assert bench.card(Card.UNDO, "LINE1").code == "undone"
    assert bench.container(last).ended is None


def test_unanswered_nothing_is_ended() -> None:
    bench = Bench()
    last = bench.on_line()
    fresh, _, _ = next_one(bench)
    bench.later(1)
    assert bench.card(Card.EMPTY, "LINE1").code == "card-alone"
    assert (bench.container(last).ended, bench.container(fresh).ended) == (None, None)


def test_the_question_stands_for_ten_seconds_and_no_longer() -> None:
    for seconds, code in ((10, "emptied"), (11, "card-alone")):
        bench = Bench()
        bench.on_line()
        next_one(bench)
        bench.later(seconds / 60)
        assert bench.card(Card.EMPTY, "LINE1").code == code


def test_scanned_again_the_fresh_one_is_what_empty_means() -> None:
    bench = Bench()
    last = bench.on_line()
    fresh, _, _ = next_one(bench)
    again = bench.later(1).scan(fresh, "LINE1")
    assert ASKS not in again.note
    assert Card.EMPTY not in again.asks
    assert bench.card(Card.EMPTY, "LINE1").container == fresh
    assert bench.container(last).ended is None


def test_a_bounce_of_the_first_scan_changes_neither_question_nor_answer() -> None:
    bench = Bench()
    last = bench.on_line()
    jar = bench.ready()
    bench.scan(jar, "LINE1")
    bench.card(Card.LOOKS_GOOD, "LINE1")
    bench.later(TRIGGER.total_seconds() / 60)
    assert bench.card(Card.EMPTY, "LINE1").container == last


def test_discard_right_after_means_the_fresh_one() -> None:
    bench = Bench()
    last = bench.on_line()
    fresh, _, _ = next_one(bench)
    assert bench.card(Card.DISCARD, "LINE1").container == fresh
    assert bench.container(last).ended is None
    bead = bench.position("1").bead
    assert bead is not None
    assert [portion.container for portion in bead.portions] == [last]


def test_a_jar_that_was_on_another_line_before_asks_nothing() -> None:
    bench = Bench()
    bench.on_line()
    other = bench.on_line("LINE2")
    verdict = bench.later(1).scan(other, "LINE1")
    assert (verdict.word, ASKS in verdict.note) == (Word.USE, False)
    assert bench.card(Card.EMPTY, "LINE1").container == other


def test_a_first_use_that_was_taken_back_makes_the_next_one_the_first() -> None:
    bench = Bench()
    bench.on_line()
    fresh, _, _ = next_one(bench)
    load = bench.station.ledger.history("container", fresh)[-1]
    assert isinstance(load.body, f.Loaded)
    bench.tell(f.Undone(load.key, "a slip"))
    assert ASKS in bench.later(1).scan(fresh, "LINE1").note


def test_nothing_is_asked_where_nothing_fed_the_bead_or_it_has_ended_already() -> None:
    bench = Bench()
    jar = bench.ready()
    bench.scan(jar, "LINE1")
    assert "empty?" not in bench.card(Card.LOOKS_GOOD, "LINE1").note
    bench.later(1).scan(jar, "LINE1")
    bench.card(Card.EMPTY, "LINE1")
    _, note, asks = next_one(bench)
    assert "empty?" not in note
    assert Card.EMPTY not in asks


def test_nothing_is_asked_of_a_jar_that_is_not_on_record_here() -> None:
    bench = Bench()
    at = bench.clock.wall
    bench.tell(f.Loaded("K9-001", "1", "SN-4", "", None, True, at.replace(hour=21), (), False, by_label=True))
    _, note, _ = next_one(bench)
    assert "empty?" not in note


def test_a_jar_that_feeds_two_lines_is_ended_at_both() -> None:
    bench = Bench()
    last = bench.on_line()
    bench.later(1).scan(last, "LINE2")
    fresh, note, _ = next_one(bench)
    assert ASKS in note
    bench.card(Card.EMPTY, "LINE1")
    feeding = {name: bead.feeding for name in "12" if (bead := bench.position(name).bead) is not None}
    assert feeding == {"1": fresh, "2": None}
    assert bench.floor.positions_with(last) == ("1", "2")  # its paste still lies on both
