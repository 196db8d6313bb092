"""Used paste: a removed bead kept in a container of its own, with the stencil time it lay spent for good."""

from datetime import timedelta

import pytest

from station.care import facts as f
from station.care.choice import better_take_out, usable_instead
from station.care.correction import CorrectionRefused, take_back
from station.care.scans import CardScan, SeenLabel
from station.care.words import Card, HoldReason, Limit
from station.labels.timecode import unpack
from station.services.label_job import label_job
from station.services.reading import Reader
from tests.care.bench import LEAD, Bench, berlin, with_limits
from tests.care.places import site_d

HOUR = timedelta(hours=1)


def lain(hours: float, bench: Bench | None = None, place: str = "LINE1", position: str = "1") -> Bench:
    """A bead that lay for so long and was just taken off."""
    made = bench or Bench(site_d())
    made.on_line(place)
    made.later(hours * 60)
    assert made.tag_card(position, Card.REMOVE, place).code == "removed"
    return made


def kept(hours: float, bench: Bench | None = None) -> tuple[Bench, str]:
    made = lain(hours, bench)
    verdict = made.card(Card.KEEP_USED, "LINE1")
    assert verdict.code == "used-paste-kept", verdict
    return made, verdict.container or ""


def loaded(bench: Bench, name: str, place: str = "LINE1") -> tuple[str, str]:
    """Scanned at a line and found good."""
    bench.later(0.2)
    verdict = bench.scan(name, place)
    if verdict.code == "opening-check":
        verdict = bench.card(Card.LOOKS_GOOD, place)
    return verdict.code, verdict.headline


def test_right_after_its_removal_a_bead_is_kept_with_a_label_of_its_own() -> None:
    bench = Bench(site_d())
    jar = bench.on_line()
    bench.later(6 * 60)
    bench.tag("1", "LINE1")
    assert bench.card(Card.REMOVE, "LINE1").note == "To keep it in a container of its own, scan KEEP USED now."
    outcome = bench.outcome(CardScan(Card.KEEP_USED), "LINE1")
    assert [fact.body.NAME for fact in outcome.facts] == ["used-paste-kept", "label-asked", "label-sent"]
    verdict = outcome.verdict
    assert verdict is not None
    assert (verdict.word, verdict.headline) == ("DONE", "K7 002")
    assert verdict.why == (
        "The bead of 15:11 is kept; 6 h of its stencil life is already spent. "
        "Discard it by Mon 9 Nov 15:11 (open life)."
    )
    assert "beside it the maker's hazard information" in verdict.todo
    assert verdict.todo.endswith("Never back into K7 001.")
    found = bench.container("K7-002")
    assert (found.sources, found.stencil_spent, found.last_seen_where) == ((jar,), 6 * HOUR, "1")


def test_what_is_left_of_the_stencil_life_is_all_it_gets() -> None:
    bench, used = kept(6)
    assert loaded(bench, used) == ("use", "BEAD ENDS 23:11")
    bead = bench.position("1").bead
    assert bead is not None
    assert bead.stencil_end == berlin("2026-11-08T23:11")
    assert (bench.later(121).scan(used, "LINE1").word, len(bench.alarms())) == ("STOP", 1)


def test_kept_again_both_times_on_a_stencil_are_spent() -> None:
    bench, used = kept(3)
    assert loaded(bench, used)[0] == "use"
    bench.later(2 * 60)
    bench.tag_card("1", Card.REMOVE, "LINE1")
    again = bench.card(Card.KEEP_USED, "LINE1").container
    assert again == "K7-003"
    # 3 h and 2 h; the bead's clock was rounded down to the minute it began in
    assert 5 * HOUR <= bench.container(again).stencil_spent <= 5 * HOUR + timedelta(minutes=2)
    assert set(bench.container(again).sources) == {used}


def test_topped_up_with_used_paste_a_bead_ends_earlier_and_says_so_first() -> None:
    bench, used = kept(6)
    bench.later(1)
    bench.tag_card("1", Card.CLEANED, "LINE1")
    fresh = bench.ready()
    assert loaded(bench, fresh) == ("use", "BEAD ENDS 08:23")
    check = bench.later(1).scan(used, "LINE1")
    assert check.note == "The bead would then end 02:24."
    verdict = bench.card(Card.LOOKS_GOOD, "LINE1")
    assert (verdict.word, verdict.headline) == ("USE", "BEAD ENDS 02:24")
    assert bench.position("1").bead.stencil_end == berlin("2026-11-09T02:24")  # type: ignore[union-attr]
    assert bench.later(1).scan(fresh, "LINE1").headline == "BEAD ENDS 02:24"


def test_asked_first_where_the_check_was_answered_before() -> None:
    bench, used = kept(6)
    assert loaded(bench, used)[0] == "use"
    bench.tag_card("1", Card.REMOVE, "LINE1")
    fresh = bench.ready()
    assert loaded(bench.later(1), fresh)[0] == "use"
    verdict = bench.later(1).scan(used, "LINE1")
    assert (verdict.word, verdict.code) == ("WAIT", "would-shorten")
    assert verdict.why == "The stencil life of K7 002 ends before the bead on line 1 does."
    assert bench.later(0.1).scan(used, "LINE1").word == "USE"


def test_fresh_paste_never_asks_about_stencil_life() -> None:
    bench = Bench(site_d())
    bench.on_line()
    second = bench.ready()
    assert bench.scan(second, "LINE1").note == ""


def test_in_a_head_whose_life_is_shorter_nothing_may_be_left() -> None:
    bench, used = kept(6.5)
    assert bench.later(1).scan(used, "HEAD").code == "stencil-life"
    assert bench.later(1).scan(used, "LINE1").code == "opening-check"


def test_with_the_whole_stencil_life_spent_it_stops_everywhere() -> None:
    bench, used = kept(6)
    spent = f.UsedPasteKept(
        "K7-009", ("K7-001",), "SN-4", "JAR-500", "101", "bead", 8 * HOUR, bench.clock.wall + 8 * HOUR
    )
    bench.tell(spent)
    for place in ("LINE1", "DESK"):
        assert bench.later(1).scan("K7-009", place).headline == "STENCIL LIFE IS OVER"
    assert used == "K7-002"


def test_its_own_life_runs_from_the_removal_and_its_sources_go_on_in_it() -> None:
    bench = Bench(with_limits(site_d(), "SN-4", used_paste_life=2 * HOUR))
    jar = bench.on_line()
    bench.later(60)
    bench.tag_card("1", Card.REMOVE, "LINE1")
    bench.later(10).tag_card("1", Card.KEEP_USED, "LINE1")
    running = dict(bench.floor.standing(bench.container("K7-002")).limits)
    assert running[Limit.USED_PASTE] == berlin("2026-11-08T18:11")
    assert running[Limit.OPEN] == bench.container(jar).open_end
    assert bench.container("K7-002").stencil_spent == 70 * timedelta(minutes=1)
    assert bench.later(111).scan("K7-002", "DESK").headline == "USED-PASTE LIFE IS OVER"


def test_two_jars_in_the_bead_are_both_its_sources_and_both_can_stop_it() -> None:
    bench = Bench(site_d())
    one = bench.on_line()
    other = bench.ready(lot="102")
    bench.scan(other, "LINE1")
    bench.card(Card.LOOKS_GOOD, "LINE1")
    bench.tag_card("1", Card.REMOVE, "LINE1")
    bench.card(Card.KEEP_USED, "LINE1")
    found = bench.container("K7-003")
    assert (found.sources, found.lot) == ((one, other), "several")
    job = label_job(bench.floor, found, bench.station.keys, "")
    assert job.content.kind == "used paste of K7 001 + 1"
    label = unpack(job.content.code, bench.station.keys)
    assert label.earliest_use == bench.container(other).earliest_use
    bench.tell(f.Held(one, HoldReason.PERSON, ""))
    assert bench.later(1).scan("K7-003", "LINE1").code == "held"


# ---------------------------------------------------------------------- what is thrown away instead


def refused(bench: Bench, place: str = "LINE1", position: str = "1") -> tuple[str, str, str]:
    bench.later(0.2)
    verdict = bench.tag_card(position, Card.KEEP_USED, place)
    assert not any(found.sources for found in bench.station.ledger.containers.values())
    return verdict.word, verdict.code, verdict.why


def test_nothing_came_off_a_moment_ago() -> None:
    bench = Bench(site_d())
    assert refused(bench) == ("STOP", "nothing-to-keep", "No bead came off line 1 a moment ago.")
    bench = lain(1)
    assert refused(bench.later(16))[1] == "nothing-to-keep"


def test_the_specification_may_forbid_it() -> None:
    bench = Bench(site_d())
    bench.on_line(paste="PB-1")
    bench.later(60)
    bench.tag("1", "LINE1")
    assert bench.card(Card.REMOVE, "LINE1").note == ""
    assert refused(bench)[1:] == (
        "used-not-allowed",
        "The specification of PB-1 does not allow used paste to be kept.",
    )


def test_a_bead_past_its_end_is_thrown_away() -> None:
    bench = Bench(site_d())
    bench.on_line()
    bench.later(8 * 60 + 1)
    bench.tag("1", "LINE1")
    assert bench.card(Card.REMOVE, "LINE1").note == ""
    assert refused(bench)[1] == "bead-past"


def test_a_bead_whose_end_passes_before_it_is_kept_too() -> None:
    assert refused(lain(7.9).later(10))[1] == "bead-past"


def test_open_life_that_does_not_count_on_a_stencil_counts_in_a_jar() -> None:
    site = with_limits(site_d(), "SN-4", stencil_time_counts_as_open=False, open_life=2 * HOUR, near=())
    assert refused(lain(3, Bench(site)))[1:] == ("bead-past", "The open life of its paste is over.")


def test_held_paste_is_not_kept() -> None:
    bench = lain(1)
    bench.tell(f.Held("K7-001", HoldReason.PERSON, ""))
    assert refused(bench)[1] == "held"


def test_a_bead_that_dried_in_a_pause_is_not_kept_and_a_short_pause_does_not_matter() -> None:
    for minutes, code in ((20, "used-paste-kept"), (61, "bead-replace")):
        bench = Bench(site_d())
        bench.on_line()
        bench.tag_card("1", Card.PAUSE, "LINE1")
        bench.later(minutes)
        bench.tag_card("1", Card.REMOVE, "LINE1")
        bench.later(0.2)
        assert bench.tag_card("1", Card.KEEP_USED, "LINE1").code == code


def test_what_came_off_before_it_was_told_is_not_kept() -> None:
    bench = Bench(site_d())
    bench.on_line()
    bench.later(60)
    bench.tag_card("1", Card.NEW_BEAD, "LINE1")
    assert refused(bench)[1] == "off-unknown"


def test_paste_of_a_container_without_a_record_is_not_kept() -> None:
    bench = Bench(site_d())
    bench.on_line()
    end = bench.clock.wall + HOUR
    bench.tell(f.Loaded("K9-001", "1", "SN-4", "7", None, False, end, ((Limit.OPEN, end),), False, by_label=True))
    bench.tag_card("1", Card.REMOVE, "LINE1")
    assert refused(bench)[1] == "source-unknown"


def test_a_dispenser_leaves_no_bead() -> None:
    assert refused(Bench(site_d()), "DOTS", "D1")[1] == "nothing-to-keep"


def test_a_bead_is_kept_once() -> None:
    bench, _ = kept(1)
    assert bench.card(Card.KEEP_USED, "LINE1").note == "Just scanned: nothing was recorded twice."
    bench.later(1)
    verdict = bench.tag_card("1", Card.KEEP_USED, "LINE1")
    assert (verdict.code, verdict.why) == ("kept-before", "That bead is kept in K7 002.")
    assert verdict.todo == "It lies in K7 002 with its label; nothing more to do."


def test_only_paste_that_is_spent_is_sent_to_the_waste() -> None:
    """A bead on hold is judged by a person first; leaded waste has its own place."""
    held = lain(1)
    held.tell(f.Held("K7-001", HoldReason.PERSON, ""))
    verdict = held.tag_card("1", Card.KEEP_USED, "LINE1")
    assert (verdict.code, verdict.todo) == ("held", "Keep it apart, marked, and call the shift lead.")
    spent = lain(7.9).later(10).tag_card("1", Card.KEEP_USED, "LINE1")
    assert (spent.code, spent.todo) == ("bead-past", "Put it in the paste waste by the local rules.")
    leaded = Bench(site_d())
    leaded.on_line(paste="PB-1")
    assert leaded.tag_card("1", Card.REMOVE, "LINE1").todo.endswith("Keep tools, wipes and waste apart: leaded (Pb).")
    waste = leaded.tag_card("1", Card.KEEP_USED, "LINE1")
    assert waste.todo == "Put it in the paste waste by the local rules; leaded (Pb) waste apart."


def test_a_kept_bead_does_not_go_back_on_the_stencil() -> None:
    bench, _ = kept(1)
    bench.later(1)
    verdict = bench.tag_card("1", Card.UNDO, "LINE1")
    assert (verdict.word, verdict.why) == ("STOP", "The bead of line 1 was kept in K7 002, so it can't go back.")
    with pytest.raises(CorrectionRefused, match="kept in K7 002"):
        take_back(bench.floor, "position", "1", "a slip", LEAD)
    assert bench.position("1").bead is None


def test_the_jar_it_came_out_of_may_still_take_back_its_end() -> None:
    bench = Bench(site_d())
    jar = bench.on_line()
    bench.later(1).scan(jar, "LINE1")
    bench.card(Card.EMPTY, "LINE1")
    bench.tag_card("1", Card.REMOVE, "LINE1")
    bench.card(Card.KEEP_USED, "LINE1")
    bench.scan(jar, "DESK")
    assert bench.card(Card.UNDO, "DESK").code == "undone"
    bench.later(1).scan("K7-002", "DESK")
    assert bench.card(Card.UNDO, "DESK").code == "nothing-to-undo"


def test_used_paste_is_never_decanted_or_mixed() -> None:
    bench, used = kept(1)
    bench.later(1).scan(used, "BENCH")
    assert bench.card(Card.DECANT, "BENCH").headline == "NEVER USED PASTE"
    bench.scan(used, "BENCH")
    assert bench.card(Card.MIXED, "BENCH").why.startswith("Used paste is never mixed; this was run 1 of K7 002.")


# ---------------------------------------------------------------------- what else knows of it


def test_nobody_is_sent_to_used_paste_while_there_is_fresh_and_nobody_kept_from_the_door_by_it() -> None:
    bench, used = kept(1)
    loaded(bench, used)
    bench.tag_card("1", Card.REMOVE, "LINE1")
    jar = bench.container("K7-001")
    other = bench.container(bench.cold())
    found = usable_instead(bench.floor, other, "1")
    assert found is not None
    assert found.id == jar.id
    bench.scan(jar.id, "DESK")
    bench.card(Card.EMPTY, "DESK")
    found = usable_instead(bench.floor, other, "1")
    assert found is not None
    assert found.id == used
    assert better_take_out(bench.floor, other) is None


def test_a_shorter_stencil_life_by_another_version_shortens_it_by_as_much() -> None:
    bench, used = kept(3)
    loaded(bench, used)
    bead = bench.position("1").bead
    assert bead is not None
    bench.site = with_limits(bench.site, "SN-4", version=2, stencil_life=7 * HOUR)
    after = bench.restart().position("1").bead
    assert after is not None
    assert bead.stencil_end - after.stencil_end == HOUR


def test_by_its_label_alone_used_paste_is_not_used() -> None:
    bench, used = kept(1)
    found = bench.container(used)
    code = label_job(bench.floor, found, bench.station.keys, "").content.code
    assert unpack(code, bench.station.keys).governing is Limit.USED_PASTE
    other = Bench(site_d(), start="2026-11-08T16:30")
    scan = Reader(other.site, other.station.keys).read((code,))
    assert isinstance(label := getattr(scan, "label", None), SeenLabel)
    assert label.used_paste
    verdict = other.answer(scan, "LINE1")
    assert (verdict.word, verdict.code, verdict.by_label) == ("STOP", "stencil-life", True)


def test_a_bead_that_is_kept_already_is_never_sent_to_the_waste() -> None:
    bench = Bench()
    bench.on_line()
    bench.tag_card("1", Card.REMOVE, "LINE1")
    assert bench.card(Card.KEEP_USED, "LINE1").code == "used-paste-kept"
    again = bench.later(1).tag_card("1", Card.KEEP_USED, "LINE1")
    assert again.headline == "KEPT ALREADY"
    assert "waste" not in again.todo
