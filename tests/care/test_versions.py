"""Another version of a specification: tighter limits hold at once, looser ones only by a shift lead's word.

Worked by hand on plant T (all limits common practice, no source): a jar put away on Sunday at 12:00, taken out at
12:11 and opened at 15:11 has room life until the next Sunday 12:11 (seven days), open life until Monday 15:11 (a
day) and a bead until 23:11 (eight hours). A version with less of it takes off the difference.
"""

from dataclasses import replace
from datetime import datetime, timedelta
from random import Random

import pytest

from station.care import facts as f
from station.care.correction import Correction
from station.care.specification import Conditioning, Thaw
from station.care.versions import VersionRefused, choose_version, differing, named
from station.care.words import Card, Limit, Word
from station.services.lead_acts import choose_version as chosen_version
from station.services.lead_acts import correct_receipt
from station.services.outcome import Outcome
from tests.care.bench import LEAD, Bench, berlin, site_f, site_t, with_limits, with_rules
from tests.care.fleet import Fleet
from tests.care.leading import ENGINEER, OPERATOR, PROOF, newer
from tests.care.places import site_d
from tests.care.test_folds import picture, replayed

HOUR, DAY = timedelta(hours=1), timedelta(days=1)


def chosen(bench: Bench, jar: str, version: int, reason: str = "letter 9 of the supplier") -> Outcome:
    return chosen_version(bench.station, jar, version, reason, PROOF)


def applied(bench: Bench) -> list[str]:
    """The names of the facts by which versions were put in force."""
    names = ("specification-applied", "bead-life-applied")
    return [fact.body.NAME for fact in bench.journal.facts() if fact.body.NAME in names]


def ends(bench: Bench, jar: str) -> tuple[datetime | None, datetime | None]:
    container = bench.container(jar)
    return container.room_end, container.open_end


def bead_end(bench: Bench, position: str = "1") -> datetime:
    bead = bench.position(position).bead
    assert bead is not None
    return bead.stencil_end


# ---------------------------------------------------------------------- tighter, by itself


def test_a_tighter_version_shortens_what_runs_when_the_program_starts_with_it() -> None:
    bench = Bench()
    jar = bench.on_line()
    newer(bench, room_life=5 * DAY, open_life=20 * HOUR, stencil_life=6 * HOUR)
    assert ends(bench, jar) == (berlin("2026-11-13T12:11"), berlin("2026-11-09T11:11"))
    assert bead_end(bench) == berlin("2026-11-08T21:11")
    assert applied(bench) == ["specification-applied", "bead-life-applied"]


def test_what_was_spent_at_the_dock_stays_spent() -> None:
    bench = Bench()
    jar = bench.ready(arrived_at=berlin("2026-11-08T10:00"))
    assert bench.container(jar).room_end == berlin("2026-11-15T10:11")
    newer(bench, room_life=5 * DAY)
    assert bench.container(jar).room_end == berlin("2026-11-13T10:11")


def test_what_is_over_by_the_tighter_version_is_stopped_with_its_true_time() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.at("2026-11-08T20:00")
    newer(bench, stencil_life=4 * HOUR)
    (alarm,) = bench.station.ledger.alarms.values()
    assert (alarm.limit, alarm.since) == (Limit.STENCIL, berlin("2026-11-08T19:11"))
    assert bench.later(1).scan(jar, "LINE1").code == "bead-past"


def test_readiness_gets_later_and_never_earlier() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(11).scan(jar, "FRIDGE")
    for version, hours, expected in ((2, 4, "16:11"), (3, 2, "16:11"), (4, 3, "16:11")):
        newer(bench, version=version, conditioning=(Conditioning("JAR-500", hours * HOUR),))
        assert bench.container(jar).earliest_use == berlin(f"2026-11-08T{expected}")
    bench.at("2026-11-08T16:10:59")
    assert bench.scan(jar, "LINE1").code == "conditioning"
    assert bench.at("2026-11-08T16:11").scan(jar, "LINE1").code == "opening-check"


def test_the_time_to_the_cold_of_what_stands_at_the_dock_gets_shorter() -> None:
    bench = Bench()
    jar = bench.receive()
    lying = bench.cold()
    bench.later(150)
    newer(bench, to_cold=2 * HOUR)
    assert bench.container(jar).to_cold_by == berlin("2026-11-08T14:00")
    assert [alarm.since for alarm in bench.station.ledger.alarms.values()] == [berlin("2026-11-08T14:00")]
    assert (bench.container(jar).held, bench.container(lying).held) == (True, False)


def test_decanted_and_used_paste_end_by_the_tighter_version() -> None:
    bench = Bench(site_d())
    jar = bench.ready()
    bench.scan(jar, "BENCH")
    small = bench.card(Card.DECANT, "BENCH").container
    bench.on_line()
    bench.later(60).tag_card("1", Card.REMOVE, "LINE1")
    removed_at = bench.clock.wall
    bench.later(5).tag("1", "LINE1")
    used = bench.card(Card.KEEP_USED, "LINE1").container
    assert small is not None
    assert used is not None
    newer(bench, decanted_life=6 * HOUR, used_paste_life=10 * HOUR)
    assert bench.container(small).content_end == berlin("2026-11-08T21:11")
    assert bench.container(used).content_end == removed_at + 10 * HOUR
    newer(bench, version=3, decanted_life=None, used_paste_life=None)
    assert bench.container(small).content_end == berlin("2026-11-08T15:11")
    assert bench.container(used).content_end == removed_at
    newer(bench, version=4, decanted_life=8 * HOUR, used_paste_life=24 * HOUR)
    assert bench.container(used).content_end == removed_at


def test_paste_on_its_way_through_the_thaw_gets_the_narrower_window() -> None:
    bench = Bench(site_f())
    jar = bench.receive("FZ-7", temperature_c=-18)
    bench.scan(jar, "FREEZER")
    bench.later(11).scan(jar, "FREEZER")
    begun = bench.clock.wall
    newer(bench, "FZ-7", thaw=Thaw(14 * HOUR, 40 * HOUR))
    container = bench.container(jar)
    assert (container.thaw_not_before, container.thaw_not_after) == (begun + 14 * HOUR, begun + 40 * HOUR)
    newer(bench, "FZ-7", version=3, thaw=Thaw(10 * HOUR, 60 * HOUR))
    newer(bench, "FZ-7", version=4, thaw=None)
    assert bench.container(jar).thaw_not_after == begun + 40 * HOUR


def test_a_version_that_forbids_enclosed_heads_ends_the_bead_in_one_now() -> None:
    bench = Bench(site_d())
    jar = bench.on_line("HEAD")
    bench.later(60)
    newer(bench, enclosed_life=None)
    (alarm,) = bench.station.ledger.alarms.values()
    assert (alarm.subject, alarm.limit, alarm.in_use) == ("H1", Limit.STENCIL, True)
    verdict = bench.later(1).scan(jar, "HEAD")
    assert (verdict.word, verdict.code) == (Word.STOP, "not-in-head")
    assert bench.tag_card("H1", Card.SAME_BEAD, "HEAD").code == "bead-past"


def test_a_shorter_life_in_a_head_leaves_beads_on_open_stencils_alone() -> None:
    bench = Bench(site_d())
    bench.on_line("HEAD")
    bench.on_line("LINE1")
    before = bead_end(bench)
    newer(bench, enclosed_life=5 * HOUR)
    assert (bead_end(bench, "H1"), bead_end(bench)) == (berlin("2026-11-08T20:11"), before)


def test_a_bead_with_used_paste_in_it_loses_the_difference_too() -> None:
    bench = Bench(site_d())
    bench.on_line()
    bench.later(60.5).tag_card("1", Card.REMOVE, "LINE1")
    used = bench.card(Card.KEEP_USED, "LINE1").container
    assert used is not None
    bench.later(1).scan(used, "LINE1")
    bench.card(Card.LOOKS_GOOD, "LINE1")
    before = bead_end(bench)
    bench.restart()
    assert applied(bench) == []
    newer(bench, stencil_life=7 * HOUR)
    assert bead_end(bench) == before - HOUR


@pytest.mark.parametrize("at", ["2026-11-08T12:00:00", "2026-11-08T12:00:37"])
def test_the_same_limits_again_or_a_restart_change_nothing(at: str) -> None:
    bench = Bench(start=at)
    bench.receive()
    bench.cold()
    bench.later(0.25)
    jar = bench.ready(arrived_at=berlin("2026-11-08T11:59:13"))
    bench.later(1.3).scan(jar, "LINE1")
    assert bench.card(Card.LOOKS_GOOD, "LINE1").word is Word.USE
    newer(bench, page="2")
    bench.restart()
    assert applied(bench) == []


def test_ended_jars_other_pastes_and_lines_that_are_gone_are_left_alone() -> None:
    bench = Bench()
    jar = bench.on_line()
    leaded = bench.on_line("LINE2", "PB-1")
    bench.later(1).scan(jar, "LINE1")
    bench.card(Card.EMPTY, "LINE1")
    before = bead_end(bench)
    positions = {name: position for name, position in bench.plant.positions.items() if name != "1"}
    bench.site = replace(bench.site, plant=replace(bench.plant, positions=positions))
    newer(bench, room_life=5 * DAY, stencil_life=6 * HOUR)
    assert (bead_end(bench), applied(bench)) == (before, [])
    assert bench.container(leaded).room_given == 7 * DAY


def test_open_life_that_counted_on_the_stencil_goes_on_counting_for_a_bead_that_lies_there() -> None:
    bench = Bench(with_limits(site_t(), "SN-4", open_life=4 * HOUR))
    jar = bench.on_line()
    newer(bench, stencil_time_counts_as_open=False)
    bead = bench.position("1").bead
    assert bead is not None
    assert bench.floor.bead_end(bead) == (Limit.OPEN, berlin("2026-11-08T19:11"))
    bench.tag_card("1", Card.REMOVE, "LINE1")
    bench.later(1).scan(jar, "LINE1")
    fresh = bench.position("1").bead
    assert fresh is not None
    assert bench.floor.bead_end(fresh)[0] is Limit.STENCIL


def resumed_after(bench: Bench, minutes: float) -> str:
    bench.tag_card("1", Card.PAUSE, "LINE1")
    bench.later(minutes)
    return bench.tag_card("1", Card.RESUME, "LINE1").code


@pytest.mark.parametrize(("minutes", "code"), [(30, "resumed"), (31, "knead"), (60, "knead"), (61, "bead-replace")])
def test_a_newer_version_with_longer_pauses_does_not_loosen_a_bead_that_lies_there(minutes: float, code: str) -> None:
    # 30 min wipe and knead, 60 min replace: plant T; common practice, no source
    bench = Bench()
    bench.on_line()
    newer(bench, pause_knead=1.5 * HOUR, pause_replace=2 * HOUR)
    bench.restart()
    assert "Over 30 min wipe and knead; over 1 h replace" in bench.tag_card("1", Card.PAUSE, "LINE1").todo
    bench.tag_card("1", Card.RESUME, "LINE1")
    assert resumed_after(bench, minutes) == code


def test_one_with_shorter_pauses_holds_at_once_and_a_bead_begun_later_has_the_longer_ones() -> None:
    bench = Bench()
    jar = bench.on_line()
    newer(bench, pause_knead=0.2 * HOUR, pause_replace=0.5 * HOUR)
    newer(bench, version=3, pause_knead=1.5 * HOUR, pause_replace=2 * HOUR)
    assert resumed_after(bench, 31) == "bead-replace"
    bench.tag_card("1", Card.REMOVE, "LINE1")
    bench.later(1).scan(jar, "LINE1")
    assert resumed_after(bench, 80) == "resumed"


# ---------------------------------------------------------------------- looser, only by a lead


def test_a_looser_version_changes_nothing_by_itself_but_what_begins_under_it() -> None:
    bench = Bench()
    jar = bench.on_line()
    before = (ends(bench, jar), bead_end(bench))
    newer(bench, room_life=9 * DAY, open_life=30 * HOUR, stencil_life=10 * HOUR, to_cold=6 * HOUR)
    bench.restart()
    assert (ends(bench, jar), bead_end(bench)) == before
    assert applied(bench) == []
    assert bench.container(bench.ready()).room_given == 9 * DAY


def test_a_shift_lead_gives_one_jar_the_looser_version_and_the_other_keeps_its_own() -> None:
    bench = Bench()
    jar, other = bench.on_line(), bench.on_line("LINE2")
    newer(bench, room_life=9 * DAY, open_life=30 * HOUR)
    outcome = chosen(bench, jar, 2)
    assert [fact.who for fact in outcome.facts] == [LEAD]
    assert ends(bench, jar) == (berlin("2026-11-17T12:11"), berlin("2026-11-09T21:11"))
    assert bench.container(other).open_given == DAY
    verdict = outcome.verdict
    assert verdict is not None
    assert (verdict.word, verdict.headline) == (Word.DONE, "DISCARD BY Mon 9 Nov 21:11")
    assert verdict.why == "SN-4 version 2 holds for K7 001 now."
    assert verdict.todo == "Scan it at the shift desk, then the REPRINT card. Tear the old label off."
    assert dict(verdict.times)["discard by"] == berlin("2026-11-09T21:11")


def test_what_the_lead_reads_counts_what_was_extended_before() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.tell(f.LimitExtended(jar, Limit.OPEN, HOUR, "C-1"))
    newer(bench, open_life=20 * HOUR)
    verdict = chosen(bench, jar, 1).verdict
    assert verdict is not None
    assert verdict.headline == "DISCARD BY Mon 9 Nov 16:11"


def test_a_lead_who_keeps_the_old_version_for_a_jar_is_followed_by_verdict_and_alarm() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.tag_card("1", Card.REMOVE, "LINE1")
    bench.at("2026-11-09T13:00")
    newer(bench, open_life=20 * HOUR)
    assert bench.later(1).scan(jar, "LINE1").code == "open-life"
    (first,) = bench.station.ledger.alarms.values()
    assert (first.limit, first.since) == (Limit.OPEN, berlin("2026-11-09T11:11"))
    chosen(bench, jar, 1)
    assert bench.at("2026-11-09T15:11").scan(jar, "LINE1").word is Word.USE
    assert bench.later(1 / 60).scan(jar, "LINE1").word is Word.STOP
    bench.restart()
    since = sorted(alarm.since for alarm in bench.station.ledger.alarms.values() if alarm.subject == jar)
    assert since == [berlin("2026-11-09T11:11"), berlin("2026-11-09T15:11")]


def test_the_lead_s_word_outlives_restarts_until_the_next_version() -> None:
    bench = Bench()
    jar = bench.on_line()
    newer(bench, room_life=5 * DAY)
    chosen(bench, jar, 1)
    bench.restart()
    assert bench.container(jar).room_end == berlin("2026-11-15T12:11")
    newer(bench, version=3, room_life=6 * DAY)
    assert bench.container(jar).room_end == berlin("2026-11-14T12:11")


def test_a_lead_may_also_choose_the_tighter_one() -> None:
    bench = Bench(with_limits(site_t(), "SN-4", version=1, room_life=5 * DAY))
    newer(bench, version=2, room_life=7 * DAY)
    jar = bench.ready()
    chosen(bench, jar, 1)
    assert bench.container(jar).room_end == berlin("2026-11-13T12:11")


def test_at_the_dock_a_chosen_version_moves_the_time_to_the_cold() -> None:
    bench = Bench()
    jar = bench.receive()
    newer(bench, to_cold=2 * HOUR)
    bench.later(150)
    assert len(bench.alarms()) == 1
    verdict = chosen(bench, jar, 1).verdict
    assert verdict is not None
    assert (verdict.headline, verdict.todo) == ("VERSION SET", "Go on.")
    assert bench.container(jar).to_cold_by == berlin("2026-11-08T16:00")
    bench.at("2026-11-08T16:01")
    assert len(bench.alarms()) == 2


def test_another_mark_than_that_of_the_moved_limit_raises_no_second_alarm() -> None:
    bench = Bench()
    jar = bench.on_line()
    newer(bench, room_life=5 * DAY)
    bench.at("2026-11-10T06:00")
    before = sorted(bench.station.ledger.alarms)
    chosen(bench, jar, 1)
    assert sorted(bench.station.ledger.alarms) == before


@pytest.mark.parametrize("person", [OPERATOR, ENGINEER, None])
def test_only_a_shift_lead_chooses(person: str | None) -> None:
    bench = Bench()
    with pytest.raises(VersionRefused) as refused:
        choose_version(bench.floor, bench.ready(), 1, "letter", person)
    assert str(refused.value) == (
        "Only a shift lead decides which version holds for a container. Badge in with your PIN."
    )


@pytest.mark.parametrize("which", ["unknown", "ended", "version", "draft", "reason", "cold", "decanted"])
def test_what_cannot_be_chosen_is_refused_with_what_to_mend(which: str) -> None:
    bench = Bench(site_d())
    jar, version, reason = bench.ready(), 1, "letter"
    sentence = "Only for a container in use. Scan its label to see its story."
    if which == "unknown":
        jar = "K7-999"
    elif which == "ended":
        bench.scan(jar, "DESK")
        bench.card(Card.DISCARD, "DESK")
    elif which == "version":
        version, sentence = 7, "There is no version 7 of the specification of SN-4 on record."
    elif which == "draft":
        newer(bench, approved_by=None)
        version, sentence = 2, "Version 2 of SN-4 is a draft. The process engineer approves it first."
    elif which == "reason":
        reason, sentence = " ", "Say in a few words why; it stands in the record."
    elif which == "cold":
        jar = bench.cold()
        sentence = "No limit of a version runs for K7 002 yet. It gets the newest one when it leaves."
    else:
        bench.scan(jar, "BENCH")
        small = bench.card(Card.DECANT, "BENCH").container
        assert small is not None
        jar, sentence = small, "The clocks of K7 002 are those of K7 001. Decide there."
    with pytest.raises(VersionRefused) as refused:
        choose_version(bench.floor, jar, version, reason, LEAD)
    assert str(refused.value) == sentence


def test_in_a_demo_a_draft_may_be_chosen() -> None:
    bench = Bench(with_limits(with_rules(site_t(), demo=True), "SN-4", approved_by=None))
    assert choose_version(bench.floor, bench.ready(), 1, "letter", LEAD)[0].specification == "SN-4 version 1"
    assert named(bench.limits()) == "SN-4 version 1"


def test_a_lead_is_shown_which_jars_the_newest_version_would_change_and_to_what() -> None:
    bench = Bench(site_d())
    jar = bench.ready()
    bench.cold()
    bench.scan(jar, "BENCH")
    bench.card(Card.DECANT, "BENCH")
    assert differing(bench.floor) == ()
    newer(bench, room_life=9 * DAY)
    ((now, then),) = differing(bench.floor)
    assert (now.id, now.room_end, then.room_end) == (jar, berlin("2026-11-15T12:11"), berlin("2026-11-17T12:11"))
    chosen(bench, jar, 2)
    assert differing(bench.floor) == ()


# ---------------------------------------------------------------------- in any order, and at several stations


def busy_day() -> Bench:
    bench = Bench()
    jar = bench.on_line()
    bench.receive()
    newer(bench, room_life=5 * DAY, open_life=20 * HOUR, stencil_life=6 * HOUR, to_cold=2 * HOUR)
    chosen(bench, jar, 1)
    correct_receipt(bench.station, Correction(jar, "misread", arrived_at=berlin("2026-11-08T10:00")), PROOF)
    newer(bench, version=3, room_life=4 * DAY)
    bench.at("2026-11-14T06:00")
    return bench


@pytest.mark.parametrize("seed", range(12))
def test_versions_add_up_the_same_in_any_order_of_delivery(seed: int) -> None:
    bench = busy_day()
    facts = list(bench.journal.facts())
    shuffled = list(facts)
    Random(seed).shuffle(shuffled)
    assert picture(replayed(shuffled)) == picture(replayed(facts)) == picture(bench.station.ledger)


@pytest.mark.parametrize("busy", ["A", "B"])
@pytest.mark.parametrize("seed", range(4))
def test_paste_used_by_the_old_version_elsewhere_comes_under_the_new_one_when_stations_meet(
    busy: str, seed: int
) -> None:
    fleet = Fleet(start="2026-11-08T12:00")
    a, b = fleet["A"], fleet["B"]
    jar = a.cold()
    fleet.meet("A", "B", seed)
    for _ in range(9):  # whoever wrote more facts stands later in the common order
        fleet[busy].station.read_room(23, 40, None)
    fleet.later(11)
    newer(a, room_life=5 * DAY, open_life=20 * HOUR, stencil_life=6 * HOUR, to_cold=2 * HOUR)
    b.scan(jar, "FRIDGE")
    fleet.later(180)
    b.scan(jar, "LINE2")
    b.card(Card.LOOKS_GOOD, "LINE2")
    assert b.container(jar).open_end == berlin("2026-11-09T15:11")
    fleet.later(1).meet("A", "B", seed)
    for bench in (a, b):
        assert ends(bench, jar) == (berlin("2026-11-13T12:11"), berlin("2026-11-09T11:11"))
        assert bench.container(jar).earliest_use == berlin("2026-11-08T15:11")
        assert bead_end(bench, "2") == berlin("2026-11-08T21:11")
    for _ in range(2):  # both wrote it down; met again they have nothing more to say
        before = len(list(a.journal.facts()))
        fleet.later(1).meet("A", "B", seed)
    assert len(list(a.journal.facts())) == len(list(b.journal.facts())) == before
    assert a.container(jar) == b.container(jar)


@pytest.mark.parametrize("busy", ["A", "B"])
def test_an_earlier_take_out_another_station_tells_of_stays_the_earlier_one(busy: str) -> None:
    fleet = Fleet(start="2026-11-08T12:00")
    a, b = fleet["A"], fleet["B"]
    jar = a.cold()
    fleet.meet("A", "B")
    for _ in range(9):
        fleet[busy].station.read_room(23, 40, None)
    fleet.later(11)
    b.scan(jar, "FRIDGE")
    fleet.later(60)
    a.scan(jar, "FRIDGE")
    newer(a, room_life=5 * DAY)
    fleet.later(1).meet("A", "B")
    for bench in (a, b):
        assert bench.container(jar).room_end == berlin("2026-11-13T12:11")
        assert bench.container(jar).earliest_use == berlin("2026-11-08T16:11")


def test_an_opening_another_station_made_by_a_shorter_life_is_not_shortened_twice() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.tell(f.Opened(jar, "2", early=False, open_end=berlin("2026-11-09T11:11")))
    newer(bench, open_life=20 * HOUR)
    assert bench.container(jar).open_end == berlin("2026-11-09T11:11")


@pytest.mark.parametrize("room_life", [None, 9 * DAY])
def test_a_take_out_by_a_longer_life_than_the_one_in_force_is_shortened_at_the_next_start(
    room_life: timedelta | None,
) -> None:
    bench = Bench()
    jar = bench.cold()
    at = bench.clock.wall
    out = f.TakenOut(
        container=jar,
        store="FRIDGE",
        thaw_from=at,
        thaw_to=at,
        earliest_use=at + 3 * HOUR,
        room_end=at + 9 * DAY,
        supplier_minimum=3 * HOUR,
        warm_up=None,
        dew_wait=None,
        room_c=23,
        humidity=40,
        cold_c=5,
        specification="SN-4 version 0",
        zone="Europe/Berlin",
        room_life=room_life,
    )
    bench.tell(out)
    bench.restart()
    assert bench.container(jar).room_end == at + 7 * DAY
    assert bench.container(jar).room_given == 7 * DAY


def test_a_bead_told_by_a_station_without_the_shorter_life_ends_by_it_and_only_once_shorter() -> None:
    bench = Bench()
    jar = bench.on_line()
    newer(bench, stencil_life=6 * HOUR)
    told = f.Loaded(jar, "1", "SN-4", "101", None, True, berlin("2026-11-08T22:41"), (), False, life=8 * HOUR)
    bench.tell(told)
    assert bead_end(bench) == berlin("2026-11-08T20:41")
    bench.restart()
    assert bead_end(bench) == berlin("2026-11-08T20:41")


def test_an_earlier_opening_told_by_a_station_without_the_shorter_life_ends_by_it() -> None:
    bench = Bench()
    jar = bench.on_line()
    newer(bench, open_life=20 * HOUR)
    early = f.Fact(
        2,
        900,
        900,
        berlin("2026-11-08T14:00"),
        8,
        None,
        f.Segment("b", 0),
        f.Opened(jar, "2", early=False, open_end=berlin("2026-11-09T14:00")),
    )
    bench.station.learn(bench.journal.take([early]))
    assert bench.container(jar).open_end == berlin("2026-11-09T10:00")
    assert bench.container(jar).open_given == 20 * HOUR


def test_a_version_two_stations_put_in_force_shortens_a_bead_once() -> None:
    bench = Bench()
    bench.on_line()
    newer(bench, stencil_life=6 * HOUR)
    bead = bench.position("1").bead
    assert bead is not None
    bench.tell(f.BeadLifeApplied("1", bead.key, "SN-4 version 2", 6 * HOUR))
    assert bench.position("1").bead == bead


def test_the_lead_s_word_outlives_another_station_that_gets_the_same_version_later() -> None:
    fleet = Fleet(start="2026-11-08T12:00")
    a, b = fleet["A"], fleet["B"]
    jar = a.ready()
    fleet["B"].at("2026-11-08T15:11")
    newer(a, room_life=5 * DAY)
    chosen(a, jar, 1)
    newer(b, room_life=5 * DAY)
    for seed in range(3):
        fleet.later(1).meet("A", "B", seed)
        assert a.container(jar).room_end == b.container(jar).room_end == berlin("2026-11-15T12:11")
    a.restart()
    assert a.container(jar).room_end == berlin("2026-11-15T12:11")


def test_a_tighter_version_that_comes_back_holds_at_once_again() -> None:
    bench = Bench(with_limits(site_t(), "SN-4", room_life=5 * DAY))
    jar = bench.ready()
    newer(bench, version=2, room_life=7 * DAY)
    chosen(bench, jar, 2)
    assert bench.container(jar).room_end == berlin("2026-11-15T12:11")
    newer(bench, version=3, room_life=5 * DAY)
    assert bench.container(jar).room_end == berlin("2026-11-13T12:11")


def test_a_station_with_outdated_settings_does_not_bring_the_older_version_back() -> None:
    newer = with_limits(site_t(), "SN-4", version=2, stencil_life=timedelta(hours=6))
    bench = Bench(newer)
    bench.site = site_t()
    bench.restart()
    assert bench.limits().version == 2
    assert bench.limits().stencil_life == timedelta(hours=6)
    behind = bench.station.start("again").trouble
    assert "SN-4 version 1 (in force is version 2)" in behind
    assert "process engineer" in behind


def test_the_highest_version_is_in_force_whichever_station_said_it_last() -> None:
    fleet = Fleet()
    older = fleet["A"].limits()
    newer = replace(older, version=2, open_life=timedelta(hours=12))
    fleet["A"].tell_own(f.SpecificationSet(newer, "n"))
    fleet["B"].later(1).tell_own(f.SpecificationSet(older, "o"), f.SpecificationSet(older, "o"))
    for seed in range(5):
        fleet.meet("A", "B", seed)
    assert fleet["A"].limits() == fleet["B"].limits() == newer
