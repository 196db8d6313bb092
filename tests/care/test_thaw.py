"""Frozen paste: out of the freezer, through the refrigerator, into the room, and never back into the freezer."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from station.care import facts as f
from station.care.alarms import Clearing, ClearingRefused
from station.care.choice import take_next
from station.care.limits import starts_of
from station.care.reasons import against
from station.care.scans import ContainerScan
from station.care.specification import BestChoice
from station.care.thaw import is_thawing
from station.care.words import Card, Disposition, HoldReason, Limit, Stage
from tests.care.bench import EXPIRES, LEAD, LEAD_PIN, Bench, berlin, site_f, with_limits, with_rules
from tests.care.test_cold_cycles import with_shelf
from tests.care.test_folds import picture, replayed

HOUR, MINUTE = timedelta(hours=1), timedelta(minutes=1)


def frozen(bench: Bench, paste: str = "FZ-7", expires: date = EXPIRES) -> str:
    """A container that has lain in the freezer for a while."""
    name = bench.receive(paste, temperature_c=-18, expires=expires)
    bench.scan(name, "FREEZER")
    bench.later(11)
    return name


def thawing(bench: Bench) -> str:
    """A container put into the refrigerator straight from the freezer."""
    name = frozen(bench)
    bench.scan(name, "FREEZER")
    bench.later(1).scan(name, "FRIDGE")
    bench.later(11)
    return name


def thawed(bench: Bench) -> str:
    """A container that has lain in the refrigerator for 12 h."""
    name = thawing(bench)
    bench.later(12 * 60)
    return name


def test_frozen_paste_is_not_put_into_a_refrigerator_on_arrival() -> None:
    bench = Bench(site_f())
    jar = bench.receive("FZ-7", temperature_c=-18)
    verdict = bench.scan(jar, "FRIDGE")
    assert (verdict.word, verdict.code) == ("STOP", "wrong-store")
    assert verdict.why == "FZ-7 is kept frozen; Refrigerator is for cold storage."


def test_out_of_the_freezer_it_is_told_where_to_go_and_until_when_and_gets_no_label_yet() -> None:
    bench = Bench(site_f(), start="2026-11-09T06:00")
    jar = frozen(bench)
    outcome = bench.outcome(ContainerScan(jar), "FREEZER")
    verdict = outcome.verdict
    assert verdict is not None
    assert (verdict.word, verdict.headline) == ("DONE", "THAW UNTIL 18:11")
    assert "Put it in Refrigerator now and scan it at that door." in verdict.todo
    assert dict(verdict.times) == {
        "thaw until": berlin("2026-11-09T18:11"),
        "out by": berlin("2026-11-11T06:11"),
    }
    assert [fact.body.NAME for fact in outcome.facts] == ["thaw-begun"]
    assert bench.floor.stage(bench.container(jar)) is Stage.COLD


def test_begun_inside_a_minute_the_thaw_is_rounded_to_its_safe_side() -> None:
    bench = Bench(site_f(), start="2026-11-09T06:00")
    jar = frozen(bench)
    bench.later(0.5).scan(jar, "FREEZER")
    container = bench.container(jar)
    assert container.thaw_not_before == berlin("2026-11-09T18:12")
    assert container.thaw_not_after == berlin("2026-11-11T06:11")


@pytest.mark.parametrize(("minutes", "code"), [(0.1, "already-thawing"), (5, "already-thawing"), (5.02, "never-back")])
def test_a_second_scan_within_5_min_offers_to_take_it_back_and_later_it_never_goes_back(
    minutes: float, code: str
) -> None:
    bench = Bench(site_f())
    jar = frozen(bench)
    bench.scan(jar, "FREEZER")
    verdict = bench.later(minutes).scan(jar, "FREEZER")
    assert verdict.code == code
    assert (Card.UNDO in verdict.asks) == (code == "already-thawing")


def test_what_lies_in_the_refrigerator_is_never_put_back_into_the_freezer() -> None:
    bench = Bench(site_f())
    jar = frozen(bench)
    bench.scan(jar, "FREEZER")
    bench.later(1).scan(jar, "FRIDGE")
    outcome = bench.later(1).outcome(ContainerScan(jar), "FREEZER")
    assert outcome.verdict is not None
    assert (outcome.verdict.word, outcome.verdict.headline) == ("STOP", "NEVER BACK IN THE FREEZER")
    assert [fact.body.NAME for fact in outcome.facts] == ["return-refused"]
    assert bench.container(jar).store == "FRIDGE"


def test_taken_back_it_lies_in_the_freezer_as_before_and_may_be_taken_anew() -> None:
    bench = Bench(site_f())
    jar = frozen(bench)
    bench.scan(jar, "FREEZER")
    bench.later(1).scan(jar, "FREEZER")
    verdict = bench.card(Card.UNDO, "FREEZER")
    assert verdict.why == "The beginning of the thaw of K7 001 is undone; the record keeps both."
    assert verdict.todo == "Put it back into the freezer now."
    container = bench.container(jar)
    assert (container.store, container.bin, container.thaw_key, container.thaw_not_after) == (
        "FREEZER",
        "F1",
        None,
        None,
    )
    assert bench.later(20).scan(jar, "FREEZER").code == "thaw-begun"


def test_only_the_way_from_freezer_to_refrigerator_counts_as_time_out_of_the_cold() -> None:
    bench = Bench(site_f())
    jar = frozen(bench)
    bench.scan(jar, "FREEZER")
    verdict = bench.later(25).scan(jar, "FRIDGE")
    assert (verdict.headline, verdict.why.partition(". ")[2]) == (
        "BIN A1",
        "Time out of cold so far 25 min. It thaws until Mon 9 Nov 00:11.",
    )
    bench.later(20 * 60)
    now = bench.clock.wall
    assert bench.scan(jar, "FRIDGE").code == "taken-out"
    container = bench.container(jar)
    assert container.warm_spent == 25 * MINUTE
    assert container.room_end == now + 168 * HOUR - 25 * MINUTE


def test_between_its_two_instants_it_is_taken_out_like_any_other_and_warms_from_the_refrigerators_lower_limit() -> None:
    bench = Bench(site_f())
    jar = thawed(bench)
    verdict = bench.scan(jar, "FRIDGE")
    # 5 to 23 C by the figures of the jar: 1 h 49, as for paste kept cold
    assert "supplier 3 h, warm-up 1 h 49" in verdict.why
    assert bench.container(jar).print_sent == 1
    bench.later(180)
    assert bench.scan(jar, "LINE1").code == "opening-check"


def test_frozen_paste_that_goes_straight_to_the_room_warms_from_the_freezers_lower_limit() -> None:
    bench = Bench(site_f())
    jar = frozen(bench, "FS-8")
    verdict = bench.scan(jar, "FREEZER")
    # by hand: 10 min + 45 min x ln(45 / 2) from -22 to 21 C
    assert "warm-up 2 h 31" in verdict.why
    assert verdict.code == "taken-out"
    assert bench.container(jar).thaw_key is None


@pytest.mark.parametrize(("minutes", "code"), [(-0.02, "thawing"), (0, "taken-out"), (36 * 60, "taken-out")])
def test_both_its_minutes_belong_to_the_thaw(minutes: float, code: str) -> None:
    bench = Bench(site_f(), start="2026-11-09T06:00")
    jar = thawing(bench)
    bench.later((berlin("2026-11-09T18:11") - bench.clock.wall) / MINUTE + minutes)
    assert bench.scan(jar, "FRIDGE").code == code


def test_too_soon_it_waits_and_says_until_when() -> None:
    bench = Bench(site_f(), start="2026-11-09T06:00")
    jar = thawing(bench)
    verdict = bench.scan(jar, "FRIDGE")
    assert (verdict.word, verdict.headline) == ("WAIT", "THAWING UNTIL 18:11")
    assert verdict.todo == "Leave it in the refrigerator. Never heat paste."


def test_just_put_into_the_refrigerator_it_is_already_away() -> None:
    bench = Bench(site_f())
    jar = frozen(bench)
    bench.scan(jar, "FREEZER")
    bench.later(1).scan(jar, "FRIDGE")
    assert bench.later(5).scan(jar, "FRIDGE").code == "already-away"


def test_one_second_past_its_longest_it_is_held_with_an_alarm_although_nobody_scans() -> None:
    bench = Bench(site_f(), start="2026-11-09T06:00")
    jar = thawing(bench)
    bench.at("2026-11-11T06:11")
    assert bench.alarms() == []
    bench.later(0.02)
    key = bench.container(jar).thaw_key
    assert bench.alarms() == [f"thaw in the refrigerator/{jar}/{key}"]
    alarm = bench.station.ledger.alarms[bench.alarms()[0]]
    assert alarm.since == berlin("2026-11-11T06:11")
    assert [hold.reason for hold in bench.container(jar).holds] == [HoldReason.THAWED_LONG]
    verdict = bench.scan(jar, "FRIDGE")
    assert (verdict.word, verdict.code) == ("STOP", "held")
    assert verdict.why == "K7 001 is on hold: thawed too long."


def test_what_passed_while_the_program_was_off_is_raised_with_its_true_minute() -> None:
    bench = Bench(site_f(), start="2026-11-09T06:00")
    jar = thawing(bench)
    bench.clock.go_on(60 * HOUR)
    bench.restart()
    assert bench.station.ledger.alarms[bench.alarms()[0]].since == berlin("2026-11-11T06:11")
    assert bench.container(jar).held


def test_even_before_anything_was_raised_the_rules_stop_it() -> None:
    bench = Bench(site_f())
    jar = thawing(bench)
    bench.clock.go_on(60 * HOUR)
    codes = [reason.code for reason in against(bench.floor, bench.container(jar), None)]
    assert codes == ["thawed-long", "not-taken-out"]
    assert against(bench.floor, bench.container(jar), None)[0].headline == "THAWED TOO LONG"


def test_a_shift_lead_clears_and_releases_and_then_it_may_be_taken_out() -> None:
    bench = Bench(site_f())
    jar = thawing(bench)
    bench.later(60 * 60)
    with pytest.raises(ClearingRefused, match="can't be cleared as limit extended"):
        bench.station.clear(Clearing(bench.alarms()[0], Disposition.EXTENDED, "please"), LEAD, LEAD_PIN)
    bench.station.clear(Clearing(bench.alarms()[0], Disposition.CHECKED, "soft and cold"), LEAD, LEAD_PIN)
    assert bench.scan(jar, "FRIDGE").code == "held"
    bench.release_all(jar)
    assert bench.later(1).scan(jar, "FRIDGE").code == "taken-out"
    assert bench.later(200).alarms() == []


def test_another_hold_released_leaves_the_longest_thaw_running() -> None:
    bench = Bench(site_f())
    jar = thawing(bench)
    bench.tell(f.Held(jar, HoldReason.PERSON, ""))
    bench.release_all(jar)
    assert bench.container(jar).thaw_not_after is not None


def test_the_printer_stops_what_still_thaws_and_says_where_it_is() -> None:
    bench = Bench(site_f(), start="2026-11-09T06:00")
    jar = thawing(bench)
    verdict = bench.scan(jar, "LINE1")
    assert (verdict.word, verdict.code) == ("STOP", "not-taken-out")
    assert verdict.why == "K7 001 came out of the freezer and thaws in a refrigerator until 18:11."
    bench.at("2026-11-09T19:00")
    assert bench.later(1).scan(jar, "LINE1").code == "not-taken-out"


def test_seen_at_a_line_while_it_thaws_it_is_held_at_the_take_out_and_ages_from_the_refrigerator() -> None:
    bench = Bench(site_f())
    jar = thawing(bench)
    in_the_cold_since = bench.container(jar).put_away_at
    bench.scan(jar, "LINE1")
    bench.later(12 * 60).scan(jar, "FRIDGE")
    container = bench.container(jar)
    assert container.out_from == in_the_cold_since
    assert [hold.reason for hold in container.holds] == [HoldReason.SEEN_WARM]


def test_seen_at_a_line_while_recorded_frozen_it_is_held_and_has_been_warm_since_it_was_put_away() -> None:
    bench = Bench(site_f())
    jar = frozen(bench)
    bench.scan(jar, "LINE1")
    bench.later(49)
    verdict = bench.scan(jar, "FREEZER")
    assert "It goes on hold, because it was seen outside before." in verdict.why
    assert [hold.reason for hold in bench.container(jar).holds] == [HoldReason.SEEN_WARM]
    put_away = bench.later(10).scan(jar, "FRIDGE")
    assert (put_away.headline, put_away.why.partition(". ")[2]) == ("BIN H1", "It stays on hold.")
    assert bench.container(jar).warm_spent == 70 * MINUTE


def test_it_belongs_in_no_other_store_while_it_thaws() -> None:
    bench = Bench(with_shelf(site_f()))
    jar = frozen(bench)
    bench.scan(jar, "FREEZER")
    verdict = bench.scan(jar, "SHELF")
    assert (verdict.word, verdict.code) == ("STOP", "wrong-store")
    assert verdict.why == "FZ-7 is kept cold while it thaws; Shelf is for room storage."


def test_a_thawing_one_in_another_refrigerator_is_taken_out_there() -> None:
    bench = Bench(site_f())
    jar = thawing(bench)
    bench.tell(f.PutAway(jar, "FRIDGE-2", "C1", returning=False))
    assert bench.later(11).scan(jar, "FRIDGE").code == "other-store"


def test_while_the_clock_is_in_doubt_no_thaw_is_over() -> None:
    bench = Bench(site_f())
    jar = thawing(bench)
    bench.step(13 * 60)
    verdict = bench.scan(jar, "FRIDGE")
    assert (verdict.word, verdict.code) == ("WAIT", "clock-doubt")


def test_a_clock_found_wrong_makes_the_thaw_longer_and_its_end_sooner_never_the_other_way() -> None:
    ahead = Bench(site_f())
    jar = thawing(ahead)
    before = ahead.container(jar)
    ahead.step(60)
    ahead.station.confirm_clock(LEAD, LEAD_PIN)
    after = ahead.container(jar)
    assert before.thaw_not_before is not None
    assert (after.thaw_not_before, after.thaw_not_after) == (before.thaw_not_before + HOUR, before.thaw_not_after)
    back = Bench(site_f())
    jar = thawing(back)
    before = back.container(jar)
    back.step(-60)
    back.station.confirm_clock(LEAD, LEAD_PIN)
    after = back.container(jar)
    assert before.thaw_not_after is not None
    assert (after.thaw_not_before, after.thaw_not_after) == (before.thaw_not_before, before.thaw_not_after - HOUR)


def test_a_clock_found_wrong_while_it_is_carried_counts_the_longer_way() -> None:
    bench = Bench(site_f())
    jar = frozen(bench)
    bench.scan(jar, "FREEZER")
    bench.later(10).step(-8)
    bench.station.confirm_clock(LEAD, LEAD_PIN)
    bench.scan(jar, "FRIDGE")
    assert bench.container(jar).warm_spent == 10 * MINUTE


def test_a_released_one_stays_without_a_longest_when_the_clock_is_confirmed() -> None:
    bench = Bench(site_f())
    jar = thawing(bench)
    bench.later(60 * 60)
    bench.release_all(jar)
    bench.step(-60)
    bench.station.confirm_clock(LEAD, LEAD_PIN)
    assert bench.container(jar).thaw_not_after is None


def begun(jar: str, bench: Bench, minutes: float) -> f.ThawBegun:
    at = bench.clock.wall + minutes * MINUTE
    return f.ThawBegun(jar, "FREEZER", at + 12 * HOUR, at + 48 * HOUR, "FZ-7 version 1")


def test_two_stations_that_saw_it_leave_keep_the_narrower_window_and_the_place_it_lies_in() -> None:
    bench = Bench(site_f())
    jar = thawing(bench)
    first = bench.container(jar)
    bench.tell(begun(jar, bench, 30), begun(jar, bench, -30))
    container = bench.container(jar)
    assert container.thaw_not_before == bench.clock.wall + 12.5 * HOUR
    assert container.thaw_not_after == bench.clock.wall + 47.5 * HOUR
    assert (container.store, container.thaw_key, container.thaw_from) == ("FRIDGE", first.thaw_key, None)
    facts = list(bench.journal.facts())
    assert picture(replayed(facts[::-1])) == picture(replayed(facts))


def test_told_again_on_the_way_it_has_been_out_since_the_earlier() -> None:
    bench = Bench(site_f())
    jar = frozen(bench)
    bench.scan(jar, "FREEZER")
    since = bench.container(jar).thaw_from
    bench.later(3)
    bench.tell(begun(jar, bench, 0))
    assert bench.container(jar).thaw_from == since


def test_a_thaw_told_again_after_a_release_has_its_longest_again() -> None:
    bench = Bench(site_f())
    jar = thawing(bench)
    bench.later(60 * 60)
    bench.release_all(jar)
    bench.tell(begun(jar, bench, -60))
    assert bench.container(jar).thaw_not_after == bench.clock.wall + 47 * HOUR


def test_a_thaw_told_late_of_what_is_in_the_room_already_changes_nothing() -> None:
    bench = Bench(site_f())
    jar = thawed(bench)
    bench.scan(jar, "FRIDGE")
    before = bench.container(jar).thaw_not_after
    bench.tell(begun(jar, bench, 0))
    assert bench.container(jar).thaw_not_after == before
    assert bench.container(jar).has_been_out


def test_the_longest_thaw_counts_as_near_by_its_own_length() -> None:
    bench = Bench(site_f())
    jar = frozen(bench)
    bench.scan(jar, "FREEZER")
    on_its_way = bench.container(jar)
    assert starts_of(on_its_way)[Limit.THAW] == bench.clock.wall
    bench.later(5).scan(jar, "FRIDGE")
    assert starts_of(bench.container(jar))[Limit.THAW] == bench.clock.wall
    assert bench.floor.standing(bench.container(jar)).governing is Limit.THAW


def test_an_ended_one_thaws_no_more() -> None:
    bench = Bench(site_f())
    jar = thawing(bench)
    assert is_thawing(bench.container(jar))
    bench.scan(jar, "DESK")
    bench.card(Card.DISCARD, "DESK")
    assert not is_thawing(bench.container(jar))
    assert bench.later(60 * 60).alarms() == []


# ---------------------------------------------------------------------- which one first


def test_what_has_thawed_goes_before_what_is_still_in_the_freezer() -> None:
    bench = Bench(with_rules(site_f(), best_choice=BestChoice.WARN))
    older_frozen = frozen(bench)
    first = thawed(bench)
    newer = frozen(bench)
    verdict = bench.scan(newer, "FREEZER")
    assert (verdict.word, verdict.instead) == ("WAIT", first)
    assert verdict.why.startswith("K7 002 is in bin A1, 35 h ")
    assert bench.scan(first, "FRIDGE").code == "taken-out"
    assert bench.scan(older_frozen, "FREEZER").code == "thaw-begun"


def test_what_still_thaws_is_no_better_choice_and_not_offered_to_take() -> None:
    bench = Bench(with_rules(site_f(), best_choice=BestChoice.WARN))
    jar = thawing(bench)
    assert take_next(bench.floor, "FRIDGE", 5) == ()
    other = frozen(bench)
    assert bench.scan(other, "FREEZER").code == "thaw-begun"
    bench.later(12 * 60)
    assert [found.id for found in take_next(bench.floor, "FRIDGE", 5)] == [jar]


def test_of_two_thawed_ones_the_one_that_must_go_sooner_goes_first() -> None:
    bench = Bench(with_rules(site_f(), best_choice=BestChoice.WARN))
    first, second = thawing(bench), thawing(bench)
    bench.later(13 * 60)
    assert bench.scan(second, "FRIDGE").instead == first
    assert bench.scan(first, "FRIDGE").code == "taken-out"


def test_an_older_frozen_one_goes_first_out_of_the_freezer() -> None:
    bench = Bench(with_rules(site_f(), best_choice=BestChoice.WARN))
    old, new = frozen(bench, expires=date(2027, 1, 31)), frozen(bench)
    assert bench.scan(new, "FREEZER").instead == old


def test_where_a_site_has_no_refrigerator_any_is_named() -> None:
    site = site_f()
    only = {"FREEZER": site.plant.stores["FREEZER"]}
    bench = Bench(replace(site, plant=replace(site.plant, stores=only)))
    jar = frozen(bench)
    assert "Put it in a refrigerator now" in bench.scan(jar, "FREEZER").todo


def test_a_specification_without_a_thaw_lets_what_thaws_go_on_as_it_began() -> None:
    bench = Bench(site_f())
    jar = thawed(bench)
    bench.site = with_limits(bench.site, "FZ-7", thaw=None, version=2)
    bench.restart()
    assert bench.scan(jar, "FRIDGE").code == "taken-out"
