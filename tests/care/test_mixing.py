"""Runs in a mixing machine: counted, never a way round the time to warm, and too many of them put paste on hold."""

from station.care import facts as f
from station.care.mixing import runs_of
from station.care.words import Card, HoldReason
from tests.care.bench import Bench
from tests.care.places import site_d


def names(bench: Bench, name: str) -> list[str]:
    return [fact.body.NAME for fact in bench.station.ledger.history("container", name)]


def mix(bench: Bench, name: str, place: str = "BENCH") -> tuple[str, str, str]:
    bench.later(1).scan(name, place)
    verdict = bench.card(Card.MIXED, place)
    return verdict.word, verdict.code, verdict.todo


def test_a_ready_container_may_be_mixed_as_often_as_its_specification_says() -> None:
    bench = Bench(site_d())
    jar = bench.ready()
    assert mix(bench, jar) == ("DONE", "mixed", "It may be mixed once more at most.")
    assert mix(bench, jar) == ("DONE", "mixed", "Do not mix it again.")
    word, code, todo = mix(bench, jar)
    assert (word, code) == ("STOP", "mixed-often")
    assert todo == "Set it aside and call the shift lead, who judges whether it still prints."
    assert [hold.reason for hold in bench.container(jar).holds] == [HoldReason.MIXED_OFTEN]
    assert bench.container(jar).mixings == 3
    assert bench.later(1).scan(jar, "LINE1").code == "held"


def test_released_by_a_shift_lead_it_is_usable_but_the_next_run_holds_it_again() -> None:
    bench = Bench(site_d())
    jar = bench.ready()
    for _ in range(3):
        mix(bench, jar)
    bench.release_all(jar)
    assert bench.later(1).scan(jar, "LINE1").code == "opening-check"
    assert mix(bench, jar, "DESK")[1] == "mixed-often"


def test_many_runs_are_said_in_the_plural() -> None:
    bench = Bench(site_d())
    jar = bench.ready()
    bench.tell(*(f.Mixed(jar, "BENCH") for _ in range(3)))
    bench.later(1).scan(jar, "BENCH")
    verdict = bench.card(Card.MIXED, "BENCH")
    assert verdict.why == "SN-4 may be mixed 2 times; this was run 4 of K7 001. It is on hold from now."


def test_mixing_changes_no_clock_of_an_open_jar() -> None:
    bench = Bench(site_d())
    jar = bench.on_line()
    before = bench.floor.standing(bench.container(jar)).limits
    bench.later(1).scan(jar, "LINE1")
    assert bench.card(Card.MIXED, "LINE1").why == "K7 001 is recorded as mixed. Its open life went on."
    assert bench.floor.standing(bench.container(jar)).limits == before


def test_mixing_is_no_substitute_for_the_time_to_warm() -> None:
    bench = Bench(site_d())
    jar = bench.cold()
    bench.later(11).scan(jar, "FRIDGE")
    earliest = bench.container(jar).earliest_use
    bench.later(60).scan(jar, "BENCH")
    verdict = bench.card(Card.MIXED, "BENCH")
    assert (verdict.word, verdict.code) == ("WAIT", "conditioning")
    assert verdict.note == (
        "The run is recorded. A mixer warms paste unevenly: it is no substitute for the time to warm."
    )
    assert (bench.container(jar).earliest_use, bench.container(jar).mixings) == (earliest, 1)


def test_a_container_from_the_cold_at_the_mixer_was_seen_out_of_it() -> None:
    bench = Bench(site_d())
    jar = bench.cold()
    word, code, _ = mix(bench, jar)
    assert (word, code) == ("STOP", "not-taken-out")
    assert bench.container(jar).sighted_warm_at is not None


def test_a_lid_that_stays_closed_does_not_mind_the_room() -> None:
    bench = Bench(site_d())
    jar = bench.ready()
    bench.station.read_room(23, 95, None)
    assert mix(bench, jar)[:2] == ("DONE", "mixed")


def test_what_is_on_hold_stays_so_and_the_run_is_counted() -> None:
    bench = Bench(site_d())
    jar = bench.ready()
    bench.tell(f.Held(jar, HoldReason.PERSON, ""))
    assert mix(bench, jar)[:2] == ("STOP", "held")
    assert bench.container(jar).mixings == 1


def test_paste_that_is_never_mixed_goes_on_hold_at_once() -> None:
    bench = Bench(site_d())
    jar = bench.ready("PB-1")
    bench.later(1).scan(jar, "BENCH")
    verdict = bench.card(Card.MIXED, "BENCH")
    assert verdict.why == "PB-1 is never mixed; this was run 1 of K7 001. It is on hold from now."


def test_an_ended_container_is_not_mixed() -> None:
    bench = Bench(site_d())
    jar = bench.ready()
    bench.scan(jar, "DESK")
    bench.card(Card.DISCARD, "DESK")
    assert mix(bench, jar)[:2] == ("STOP", "ended")
    assert bench.container(jar).mixings == 0


def test_a_trigger_that_bounces_counts_one_run() -> None:
    bench = Bench(site_d())
    jar = bench.ready()
    bench.scan(jar, "BENCH")
    bench.card(Card.MIXED, "BENCH")
    verdict = bench.card(Card.MIXED, "BENCH")
    assert (verdict.code, verdict.note) == ("mixed", "Just scanned: nothing was recorded twice.")
    assert bench.container(jar).mixings == 1
    bench.later(0.1)
    assert bench.card(Card.MIXED, "BENCH").code == "card-alone"


def test_what_was_decanted_brings_the_runs_of_before_along_and_none_of_later() -> None:
    bench = Bench(site_d())
    jar = bench.ready()
    mix(bench, jar)
    bench.scan(jar, "BENCH")
    assert bench.card(Card.DECANT, "BENCH").code == "decanted"
    assert runs_of(bench.floor, bench.container("K7-002")) == 1
    mix(bench, jar)
    assert runs_of(bench.floor, bench.container("K7-002")) == 1
    assert mix(bench, "K7-002")[2] == "Do not mix it again."
    assert mix(bench, "K7-002")[1] == "mixed-often"


def test_a_run_taken_back_is_not_brought_along() -> None:
    bench = Bench(site_d())
    jar = bench.ready()
    (run,) = bench.tell(f.Mixed(jar, "BENCH"))
    bench.tell(f.Undone(run.key, "not run at all"))
    bench.scan(jar, "BENCH")
    bench.card(Card.DECANT, "BENCH")
    assert runs_of(bench.floor, bench.container("K7-002")) == 0
    assert names(bench, jar).count("mixed") == 1
