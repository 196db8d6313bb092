"""Two labels on one jar: paired by scanning both, swapped ones stopped, a busy door never accused, USE never broken."""

from datetime import timedelta
from random import Random

import pytest

from station.care import facts as f
from station.care.choice import usable_instead
from station.care.pairing import is_unpaired, unpaired
from station.care.reasons import against
from station.care.scans import ContainerScan, SeenLabel
from station.care.specification import Pairing
from station.care.verdict import Verdict
from station.care.words import Card, HoldReason
from tests.care.bench import LEAD, Bench, site_t, with_room_paste, with_rules
from tests.care.places import site_d

OFF = with_rules(site_t(), label_pairing=Pairing.OFF)


def seconds(bench: Bench, count: float) -> Bench:
    return bench.later(count / 60)


def time_label(bench: Bench, name: str, number: int | None = None) -> SeenLabel:
    """What the newest time label of a container says."""
    now = bench.container(name).out_from or bench.container(name).arrived_at
    printed = bench.container(name).print_number if number is None else number
    hours = timedelta(hours=1)
    return SeenLabel(printed, now, now + 3 * hours, now + 168 * hours, 24 * hours, 4, leaded=False)


def identity(bench: Bench, name: str, place: str = "FRIDGE") -> Verdict:
    return seconds(bench, 4).scan(name, place)


def times(bench: Bench, name: str, place: str = "FRIDGE", number: int | None = None) -> Verdict:
    return seconds(bench, 4).scan(name, place, time_label(bench, name, number))


def out(count: int = 2, bench: Bench | None = None) -> tuple[Bench, list[str]]:
    """Some jars taken out one after the other, a minute ago."""
    bench = bench or Bench()
    jars = [bench.cold() for _ in range(count)]
    bench.later(11)
    for jar in jars:
        assert seconds(bench, 15).scan(jar, "FRIDGE").code == "taken-out"
    bench.later(1)
    return bench, jars


def told(bench: Bench) -> list[str]:
    return [fact.body.NAME for fact in bench.journal.facts()]


def with_benches() -> tuple[Bench, list[str]]:
    """The same on a plant that has a preparation bench."""
    return out(bench=Bench(with_room_paste(site_t())))


# ------------------------------------------------------------------ one jar


def test_a_jar_is_paired_by_two_scans_and_no_touch() -> None:
    bench, (jar, _) = out()
    assert identity(bench, jar).code == "already-out"
    verdict = times(bench, jar)
    assert (verdict.word, verdict.headline) == ("DONE", "LABELS PAIRED")
    assert verdict.why == "Identity label and time label 1 both name K7 001."
    assert verdict.note == ""
    assert told(bench)[-2:] == ["label-confirmed", "labels-paired"]
    assert not is_unpaired(bench.container(jar))


def test_the_time_label_may_come_first() -> None:
    bench, (jar, _) = out()
    times(bench, jar)
    assert identity(bench, jar).code == "labels-paired"
    assert told(bench).count("label-confirmed") == 1


def test_the_take_out_itself_is_a_scan_of_the_identity_label() -> None:
    bench = Bench()
    jar = bench.cold()
    assert bench.later(11).scan(jar, "FRIDGE").note.endswith("scan identity label and new label, one after the other.")
    assert times(bench, jar).code == "labels-paired"


def test_labels_are_paired_once() -> None:
    bench, (jar, _) = out()
    for scan in (identity, times):
        scan(bench, jar)
    assert [scan(bench, jar).code for scan in (identity, times)] == ["already-out", "already-out"]
    assert told(bench).count("labels-paired") == 1


def test_ten_seconds_later_it_is_another_scan() -> None:
    bench, (jar, _) = out()
    identity(bench, jar)
    seconds(bench, 7)
    assert times(bench, jar).code == "already-out"
    assert is_unpaired(bench.container(jar))


@pytest.mark.parametrize("between", [Card.LOOK, Card.SILENCE])
def test_any_scan_between_the_two_parts_them(between: Card) -> None:
    bench, (jar, _) = out()
    identity(bench, jar)
    seconds(bench, 1).card(between, "FRIDGE")
    assert times(bench, jar).code != "labels-paired"


def test_a_badge_between_the_two_parts_them() -> None:
    bench, (jar, _) = out()
    identity(bench, jar)
    bench.badge("P12", "FRIDGE")
    assert times(bench, jar).code == "already-out"


def test_what_is_only_looked_at_is_paired_with_nothing() -> None:
    bench, (jar, _) = with_benches()
    bench.card(Card.LOOK, "BENCH")
    assert seconds(bench, 1).scan(jar, "BENCH").code == "look"
    assert times(bench, jar, "BENCH").code == "look"
    assert is_unpaired(bench.container(jar))


def test_after_a_swap_nothing_is_paired_before_ten_seconds_without_a_scan() -> None:
    bench, (jar, other) = out()
    assert [identity(bench, jar).code, times(bench, other).code] == ["already-out", "labels-swapped"]
    facts = len(told(bench))
    for scan, name in ((times, other), (identity, jar), (times, jar), (identity, other), (times, other)):
        assert scan(bench, name).code == "already-out"
    assert len(told(bench)) == facts + 2  # the first reads of both labels
    seconds(bench, 11)
    assert [identity(bench, other).code, times(bench, other).code] == ["already-out", "labels-paired"]


def test_after_a_while_the_same_label_is_a_new_scan() -> None:
    bench, (jar, _) = out()
    identity(bench, jar), times(bench, jar)
    seconds(bench, 7)
    assert times(bench, jar).code == "already-out"


def test_two_reads_of_one_label_are_no_pair() -> None:
    bench, (jar, _) = out()
    times(bench, jar)
    assert times(bench, jar).code == "already-out"


def test_a_trigger_that_bounced_changes_nothing() -> None:
    bench, (jar, other) = out()
    identity(bench, jar)
    bench.scan(jar, "FRIDGE")
    assert times(bench, jar).code == "labels-paired"
    assert seconds(bench, 1).scan(jar, "FRIDGE", time_label(bench, jar)).code == "labels-paired"
    assert identity(bench, other).code == "already-out"
    assert told(bench).count("labels-paired") == 1


def test_a_reprinted_label_is_paired_at_the_desk() -> None:
    bench, (jar, _) = out()
    identity(bench, jar), times(bench, jar)
    identity(bench, jar, "DESK")
    bench.card(Card.REPRINT, "DESK")
    assert is_unpaired(bench.container(jar))
    identity(bench, jar, "DESK")
    assert times(bench, jar, "DESK").code == "labels-paired"


def test_the_label_that_was_replaced_pairs_with_nothing() -> None:
    bench, (jar, _) = out()
    identity(bench, jar, "DESK")
    bench.card(Card.REPRINT, "DESK")
    identity(bench, jar, "DESK")
    verdict = times(bench, jar, "DESK", number=1)
    assert verdict.code == "look"
    assert "label 2 replaced it" in verdict.note
    assert is_unpaired(bench.container(jar))


def test_what_else_is_against_a_jar_is_not_hidden_by_its_labels() -> None:
    bench, (jar, _) = out()
    bench.tell(f.Held(jar, HoldReason.PERSON, ""))
    identity(bench, jar)
    verdict = times(bench, jar)
    assert verdict.code == "labels-paired"
    assert verdict.note == "Not to be used all the same: K7 001 is on hold: held by a person."


def test_whoever_tries_to_put_a_jar_back_is_refused_whatever_they_scan() -> None:
    bench, (jar, _) = out()
    bench.later(6)
    assert [identity(bench, jar).code, times(bench, jar).code] == ["never-back", "never-back"]
    assert told(bench).count("return-refused") == 2
    assert is_unpaired(bench.container(jar))


def test_a_take_out_is_undone_after_its_labels_were_paired() -> None:
    bench, (jar, _) = out()
    identity(bench, jar), times(bench, jar), identity(bench, jar)
    assert seconds(bench, 1).card(Card.UNDO, "FRIDGE").code == "undone"
    assert not is_unpaired(bench.container(jar))


# ------------------------------------------------------------------ two jars


def test_swapped_labels_are_stopped_and_both_are_named() -> None:
    bench, (jar, other) = out()
    identity(bench, jar)
    verdict = times(bench, other)
    assert (verdict.word, verdict.headline) == ("STOP", "LABELS SWAPPED")
    assert verdict.why == ("The identity label is of K7 001, the time label of K7 002. Neither may be used now.")
    assert verdict.todo.startswith("Put each time label on the one with its number")
    assert told(bench)[-3:] == ["labels-swapped", "labels-swapped", "scan-refused"]
    assert bench.container(other).print_confirmed == 0


def test_neither_of_two_swapped_jars_is_used_until_it_is_paired() -> None:
    bench, (jar, other) = out()
    identity(bench, jar), times(bench, other)
    bench.later(180)
    for name in (jar, other):
        verdict = identity(bench, name, "LINE1")
        assert (verdict.word, verdict.code) == ("STOP", "labels-swapped")
        assert verdict.instead is None
    identity(bench, jar, "DESK")
    assert times(bench, jar, "DESK").code == "labels-paired"
    assert identity(bench, jar, "LINE1").code == "opening-check"
    assert identity(bench, other, "LINE1").code == "labels-swapped"


def test_a_swap_is_sorted_out_where_it_is_found_at_the_line_too() -> None:
    bench, (jar, other) = out()
    identity(bench, jar), times(bench, other)
    bench.later(180)
    identity(bench, jar, "LINE1")
    assert times(bench, other, "LINE1").code == "labels-swapped"  # still on the wrong one
    identity(bench, jar, "LINE1")
    assert times(bench, jar, "LINE1").code == "labels-paired"
    assert identity(bench, jar, "LINE1").code == "opening-check"


def test_at_a_dispenser_nothing_is_paired_but_a_swap() -> None:
    bench = Bench(site_d())
    jars = [bench.cold("SN-4", "CART-600") for _ in range(2)]
    bench.later(11)
    for jar in jars:
        seconds(bench, 15).scan(jar, "FRIDGE")
    bench.later(200)
    assert identity(bench, jars[0], "DOTS").code == "opening-check"
    assert times(bench, jars[0], "DOTS").code == "opening-check"


def test_the_halves_of_a_swap_make_no_pair_with_what_comes_after() -> None:
    """Both jars wear the other's label: no order of scans may ever pair one of them."""
    bench, (jar, other) = out()
    codes = [scan(bench, name).code for scan, name in ((identity, jar), (times, other), (identity, other))]
    assert codes == ["already-out", "labels-swapped", "already-out"]
    assert times(bench, jar).code == "already-out"
    seconds(bench, 11)
    assert [identity(bench, other).code, times(bench, jar).code] == ["already-out", "labels-swapped"]
    assert "labels-paired" not in told(bench)


def test_label_first_all_the_way_pairs_nothing_that_is_swapped() -> None:
    bench, (jar, other) = out()
    for label_of, identity_of in ((other, jar), (jar, other)):
        seconds(bench, 11)
        times(bench, label_of)
        verdict = identity(bench, identity_of)
        assert (verdict.word, verdict.code) == ("WAIT", "labels-unsure")
        assert "scan the identity label of one of them" in verdict.todo
    assert "labels-paired" not in told(bench)
    assert "labels-swapped" not in told(bench)


@pytest.mark.parametrize("seed", range(20))
def test_in_whatever_order_swapped_jars_are_scanned_none_is_ever_paired(seed: int) -> None:
    """Each jar is taken in hand by itself and both its labels are read, in either order, with bounces and pauses."""
    random = Random(seed)
    bench, (jar, other) = out()
    for _ in range(8):
        worn = random.choice(((jar, other), (other, jar)))  # whose identity label, whose time label
        halves = [(identity, worn[0]), (times, worn[1])]
        random.shuffle(halves)
        for scan, name in halves:
            for _ in range(random.choice((1, 1, 2))):
                assert scan(bench, name).code in ("already-out", "labels-swapped", "labels-unsure", "never-back")
        seconds(bench, random.choice((0, 1, 9, 11)))
    assert "labels-paired" not in told(bench)


def test_a_busy_door_accuses_nobody() -> None:
    """The second jar was just taken out when somebody scans the label of the first."""
    bench = Bench()
    jar, other = bench.cold(), bench.cold()
    bench.later(11).scan(jar, "FRIDGE")
    seconds(bench, 20).scan(other, "FRIDGE")
    verdict = times(bench, jar)
    assert (verdict.word, verdict.code) == ("WAIT", "labels-unsure")
    assert verdict.why == "This label is of K7 001, the one before it of K7 002."
    assert bench.container(jar).swapped_with is None
    seconds(bench, 11)
    assert [identity(bench, jar).code, times(bench, jar).code] == ["already-out", "labels-paired"]


def test_many_jars_taken_out_in_a_row_are_all_taken_out() -> None:
    bench = Bench()
    jars = [bench.cold() for _ in range(6)]
    bench.later(11)
    assert {seconds(bench, 2).scan(jar, "FRIDGE").code for jar in jars} == {"taken-out"}


def test_a_jar_whose_own_labels_are_paired_is_no_partner_of_a_swap() -> None:
    bench, (jar, other) = out()
    identity(bench, other), times(bench, other)
    identity(bench, jar)
    assert times(bench, other).code == "already-out"
    assert bench.container(jar).swapped_with is None


def test_at_the_bench_a_swap_is_stopped_at_the_desk_it_is_only_said() -> None:
    bench, (jar, other) = with_benches()
    identity(bench, jar, "DESK")
    verdict = times(bench, other, "DESK")
    assert verdict.code == "look"
    assert verdict.note == "Not paired: the label before this one is of K7 001."
    identity(bench, jar, "DESK")
    assert bench.container(jar).swapped_with is None
    seconds(bench, 20)
    identity(bench, jar, "BENCH")
    assert times(bench, other, "BENCH").code == "labels-swapped"


def test_the_door_says_that_a_swap_is_still_to_be_put_right() -> None:
    bench, (jar, other) = out()
    identity(bench, jar), times(bench, other)
    assert identity(bench, jar).note == "Its labels and those of K7 002 are still to be put right."


def test_a_new_label_alone_does_not_end_a_swap() -> None:
    bench, (jar, other) = out()
    identity(bench, jar), times(bench, other)
    identity(bench, jar, "DESK")
    bench.card(Card.REPRINT, "DESK")
    bench.later(180)
    assert identity(bench, jar, "LINE1").code == "labels-swapped"


def test_nobody_is_sent_for_a_jar_with_swapped_labels() -> None:
    bench, (jar, other, third) = out(3)
    identity(bench, jar), times(bench, other)
    bench.later(180)
    assert usable_instead(bench.floor, bench.container(third), None) is None


@pytest.mark.parametrize("known", [True, False])
def test_a_label_of_a_container_nobody_knows_here_is_paired_with_nothing(known: bool) -> None:
    bench, (jar, _) = out()
    stranger = SeenLabel(1, *(time_label(bench, jar).thaw_start,) * 3, timedelta(hours=24), 4, leaded=False)
    bench.scan("K7-999", "FRIDGE", None if known else stranger)
    assert times(bench, jar).code == "already-out"
    identity(bench, jar)
    assert bench.answer(ContainerScan("K7-999", stranger), "FRIDGE").code == "unknown"


# ------------------------------------------------------------------ reminders, and sites that do not pair


def test_the_end_of_a_shift_lists_what_was_never_paired() -> None:
    bench, (jar, other) = out()
    assert [found.id for found in unpaired(bench.floor)] == [jar, other]
    identity(bench, other), times(bench, other)
    assert [found.id for found in unpaired(bench.floor)] == [jar]


def test_an_open_jar_is_listed_only_while_its_labels_are_in_doubt() -> None:
    bench, (jar, other) = out()
    bench.later(180)
    identity(bench, jar, "LINE1")
    assert [found.id for found in unpaired(bench.floor)] == [other]
    bench.tell(f.LabelsSwapped(jar, other))
    assert [found.id for found in unpaired(bench.floor)] == [jar, other]


def test_a_label_that_never_left_the_printer_can_not_be_paired_and_is_not_asked_for() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(11)
    fact = bench.outcome(ContainerScan(jar), "FRIDGE").facts
    assert "label-sent" in [told.body.NAME for told in fact]
    assert is_unpaired(bench.container(jar))
    bench.tell(f.LabelFailed(jar, 1, "The job was taken back."))
    assert unpaired(bench.floor) == ()


def test_a_label_that_was_scanned_is_there_whatever_the_printer_says_later() -> None:
    bench, (jar, _) = out()
    times(bench, jar)
    bench.tell(f.LabelFailed(jar, 1, "The job was taken back."))
    assert bench.container(jar).newest_label == 1


def test_a_label_is_not_torn_off_for_one_that_did_not_come() -> None:
    bench, (jar, _) = out()
    bench.tell(f.LabelAsked(jar, 2, ""), f.LabelFailed(jar, 2, "No paper."))
    verdict = times(bench, jar, "DESK", number=1)
    assert "Tear it off" not in verdict.note
    assert bench.container(jar).print_confirmed == 1


def test_a_failed_identity_label_says_nothing_of_time_labels() -> None:
    bench, (jar, _) = out()
    bench.tell(f.LabelFailed(jar, 0, "No paper."))
    assert bench.container(jar).newest_label == 1


def test_used_paste_has_no_identity_label_to_pair() -> None:
    bench = Bench(with_room_paste(site_t()))
    bench.badge(LEAD, "BENCH")
    jar = bench.ready()
    bench.scan(jar, "BENCH")
    filled = bench.card(Card.DECANT, "BENCH").container
    assert filled is not None
    assert filled != jar
    assert bench.container(filled).newest_label == 1
    assert not is_unpaired(bench.container(filled))


def test_at_first_opening_the_label_says_that_it_was_never_paired_and_nothing_else_changes() -> None:
    bench, (jar, other) = out()
    identity(bench, other), times(bench, other)
    bench.later(180)
    verdict = times(bench, jar, "LINE1")
    assert verdict.code == "opening-check"
    assert verdict.note == "Its labels were never paired: see that both say K7 001."
    assert seconds(bench, 5).card(Card.LOOKS_GOOD, "LINE1").word == "USE"
    assert times(bench, other, "LINE2").note == ""


def test_a_site_that_does_not_pair_is_asked_nothing_and_stopped_by_nothing() -> None:
    bench, (jar, other) = out(bench=Bench(OFF))
    assert "label" not in identity(bench, jar).note
    assert times(bench, other).code == "already-out"
    assert unpaired(bench.floor) == ()
    bench.later(180)
    assert times(bench, jar, "LINE1").note == ""
    assert bench.card(Card.LOOKS_GOOD, "LINE1").word == "USE"


def test_a_take_out_where_nobody_pairs_asks_for_no_second_scan() -> None:
    bench = Bench(OFF)
    jar = bench.cold()
    assert bench.later(11).scan(jar, "FRIDGE").note == ""


def test_a_late_word_of_an_older_label_does_not_take_the_newer_one_away() -> None:
    bench, (jar, _) = out()
    bench.tell(f.LabelAsked(jar, 2, ""), f.LabelSent(jar, 2, "printer"), f.LabelFailed(jar, 1, "Taken back."))
    assert bench.container(jar).newest_label == 2
    assert "Tear it off" in times(bench, jar, "DESK", number=1).note


def test_a_swap_found_late_stops_what_the_paste_already_went_into() -> None:
    """The bead it lies in takes no fresh paste, and what was decanted from it is not used, until both are paired."""
    bench = Bench(site_d())
    jar, fresh = bench.on_line(), bench.ready()
    bench.later(1).scan(jar, "BENCH")
    filled = bench.card(Card.DECANT, "BENCH").container
    assert filled is not None
    bench.tell(f.LabelsSwapped(jar, "K7-099"))
    assert [reason.code for reason in against(bench.floor, bench.container(filled), None)] == ["labels-swapped"]
    assert bench.later(1).scan(fresh, "LINE1").code == "labels-swapped"
    bench.tell(f.LabelsPaired(jar, 1))
    assert against(bench.floor, bench.container(filled), None) == ()
    assert bench.later(1).scan(fresh, "LINE1").code == "opening-check"
