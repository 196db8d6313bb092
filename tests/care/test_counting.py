"""Counting a store: scans only mean "seen", what was seen is proved cold, and differences stand until seen to."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.care import counting
from station.care import facts as f
from station.care.counting_differences import Settled, differences, settle, summary, unsettled, ways
from station.care.counting_fold import Count
from station.care.fold_cold import PUT_BACK
from station.care.late import LateRefused
from station.care.makers_label import Carrier, MakersLabel
from station.care.scans import ContainerScan, MakersLabelScan, SeenLabel
from station.care.specification import Bin, Store
from station.care.words import Card, CountEnd, Ending, Finding, HoldReason, Settling, Storage
from station.services import lead_acts
from station.services.counting import begin_count, end_count, settle_difference
from station.services.outcome import Refusal
from station.services.site import PlaceSetting, Site
from station.services.station import Proof
from tests.care.bench import LEAD, LEAD_PIN, Bench, berlin, site_t
from tests.care.fleet import Fleet
from tests.care.test_late import told

LEADS = Proof(LEAD, LEAD_PIN)


def two_stores() -> Site:
    """Plant T with a second refrigerator and its door."""
    site = site_t()
    other = Store("COOLER", "Cooler", Storage.COLD, 2, 8, (Bin("C1", 9, leaded=False, hold=False),))
    plant = replace(site.plant, stores={**site.plant.stores, "COOLER": other})
    door = PlaceSetting("COOLER", site.place("FRIDGE").kind, "Cooler", "COOLER", ())
    return replace(site, plant=plant, places=(*site.places, door))


def begun(bench: Bench) -> Count:
    """The count of the refrigerator that goes on now."""
    begin_count(bench.station, "FRIDGE")
    found = counting.running(bench.floor, "FRIDGE")
    assert found is not None
    return found


def now(bench: Bench, count: Count) -> Count:
    """The count as it stands now."""
    return bench.station.ledger.counts[count.id]


def whole(bench: Bench, count: Count) -> Count:
    """Somebody says that this was all."""
    end_count(bench.station, count.id, CountEnd.WHOLE)
    return now(bench, count)


def found(bench: Bench, count: Count) -> dict[str, Finding]:
    """The differences that stand."""
    return {entry.container: entry.finding for entry in differences(bench.floor, now(bench, count))}


def settled(bench: Bench, count: Count, name: str, how: Settling, note: str = "searched twice") -> None:
    """One difference is seen to."""
    settle_difference(bench.station, Settled(count.id, name, how, note), LEADS)


def test_a_scan_in_a_count_takes_nothing_out_and_prints_nothing() -> None:
    bench = Bench()
    jars = [bench.cold(), bench.cold()]
    bench.later(60)
    begun(bench)
    first = bench.outcome(ContainerScan(jars[0]), "FRIDGE")
    assert first.verdict is not None
    assert (first.verdict.word, first.verdict.code, first.verdict.headline) == ("DONE", "counted", "1 OF 2")
    assert "Nothing is taken out" in first.verdict.why
    assert [fact.body.NAME for fact in first.facts] == ["counted"]
    assert bench.container(jars[0]).store == "FRIDGE"
    assert bench.scan(jars[1], "FRIDGE").headline == "2 OF 2"
    again = bench.later(0.5).outcome(ContainerScan(jars[0]), "FRIDGE")
    assert again.verdict is not None
    assert (again.verdict.word, again.verdict.code) == ("WAIT", "counted-before")


def test_whoever_scans_the_same_ones_again_is_still_counting() -> None:
    bench = Bench()
    jar = bench.cold()
    begun(bench)
    for _ in range(4):
        bench.later(1.5).scan(jar, "FRIDGE")
    assert counting.running(bench.floor, "FRIDGE") is not None


def test_the_same_store_or_door_is_not_counted_twice_at_once() -> None:
    bench = Bench(two_stores())
    begun(bench)
    with pytest.raises(counting.CountRefused, match="is being counted since"):
        begin_count(bench.station, "FRIDGE")
    begin_count(bench.station, "COOLER")
    with pytest.raises(counting.CountRefused, match="Only a store"):
        begin_count(bench.station, "LINE1")


def test_cards_do_nothing_in_a_count_and_a_badge_signs_in() -> None:
    bench = Bench()
    jar = bench.cold()
    begun(bench)
    bench.scan(jar, "FRIDGE")
    assert bench.card(Card.DISCARD, "FRIDGE").code == "counting"
    assert bench.container(jar).ended is None
    assert bench.badge(LEAD, "FRIDGE").code == "signed-in"
    assert bench.card(Card.SILENCE, "FRIDGE").code != "counting"


def test_what_was_scanned_just_before_the_count_is_not_said_again_in_it() -> None:
    bench = Bench()
    jar = bench.cold()
    begun(bench)
    assert bench.scan(jar, "FRIDGE").code == "counted"


def test_it_ends_by_itself_after_two_minutes_and_claims_nothing_as_missing() -> None:
    bench = Bench()
    seen, unseen = bench.cold(), bench.cold()
    bench.later(60)
    count = begun(bench)
    bench.later(1)
    bench.scan(seen, "FRIDGE")
    bench.later(1.99)
    assert counting.running(bench.floor, "FRIDGE") is not None
    assert counting.next_idle_end(bench.floor, 7) == now(bench, count).ends_at
    assert counting.time_left(bench.floor, now(bench, count)).total_seconds() < 1
    bench.later(0.01)
    over = now(bench, count)
    assert counting.next_idle_end(bench.floor, 7) is None
    assert (over.how, over.missing, over.whole) == (CountEnd.IDLE, (), False)
    assert found(bench, count) == {}
    end_count(bench.station, count.id, CountEnd.WHOLE_LATER)
    assert found(bench, count) == {unseen: Finding.MISSING}
    with pytest.raises(counting.CountRefused):
        end_count(bench.station, count.id, CountEnd.WHOLE_LATER)


def test_whoever_counts_on_without_looking_up_takes_nothing_out_by_it() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(60)
    begun(bench)
    bench.later(3)
    surprised = bench.scan(jar, "FRIDGE")
    assert (surprised.word, surprised.code) == ("WAIT", "count-over")
    assert bench.container(jar).store == "FRIDGE"
    assert bench.later(0.1).scan(jar, "FRIDGE").code == "taken-out"


def test_after_ten_minutes_a_scan_at_the_door_means_what_it_always_means() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(60)
    begun(bench)
    bench.later(13)
    assert bench.badge(LEAD, "FRIDGE").code == "signed-in"
    assert bench.scan(jar, "FRIDGE").code == "taken-out"


def test_a_count_left_open_by_a_crash_is_ended_at_the_start_as_incomplete() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(60)
    count = begun(bench)
    bench.restart()
    assert now(bench, count).how is CountEnd.RESTART
    assert found(bench, count) == {}
    assert bench.scan(jar, "FRIDGE").code == "count-over"


def test_another_stations_open_count_is_left_to_it() -> None:
    bench = Bench()
    bench.tell(f.CountBegun("K9-C001", "FRIDGE", "ELSEWHERE", counting.IDLE))
    bench.restart().later(10)
    assert bench.station.ledger.counts["K9-C001"].ended_at is None


def test_what_is_told_of_a_count_nobody_began_makes_none() -> None:
    bench = Bench()
    bench.tell(f.CountEnded("K9-C001", CountEnd.WHOLE, ()))
    assert bench.station.ledger.counts == {}
    bench.tell(f.CountBegun("K9-C002", "FRIDGE", "ELSEWHERE", counting.IDLE))
    bench.tell(f.CountBegun("K9-C002", "COOLER", "ELSEWHERE", counting.IDLE))
    assert bench.station.ledger.counts["K9-C002"].store == "FRIDGE"


def test_a_count_ended_by_two_stations_keeps_the_first_end_and_what_it_claimed() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(60)
    count = begun(bench)
    end_count(bench.station, count.id, CountEnd.BROKEN_OFF)
    bench.tell(f.CountEnded(count.id, CountEnd.IDLE, ()))
    assert now(bench, count).how is CountEnd.BROKEN_OFF
    end_count(bench.station, count.id, CountEnd.WHOLE_LATER)
    bench.tell(f.CountEnded(count.id, CountEnd.WHOLE, ()))
    assert now(bench, count).missing == (jar,)
    with pytest.raises(counting.CountRefused):
        end_count(bench.station, "K7-C999", CountEnd.WHOLE)


# ---------------------------------------------------------------------- what is found


def test_what_should_not_be_in_the_store_is_stopped_and_stands_among_the_differences() -> None:
    bench = Bench(two_stores())
    out, opened, gone, never = bench.ready(), bench.on_line(), bench.cold(), bench.receive()
    elsewhere = bench.receive()
    bench.scan(elsewhere, "COOLER")
    bench.station.scanned(ContainerScan(gone), "DESK")
    bench.card(Card.DISCARD, "DESK")
    bench.later(5)
    count = begun(bench)
    wanted = {
        out: (Finding.OUT, "RECORDED AS OUT"),
        opened: (Finding.OPEN, "OPEN, NOT IN HERE"),
        gone: (Finding.ENDED, "ENDED BEFORE"),
        never: (Finding.NEVER_AWAY, "NEVER PUT AWAY"),
        elsewhere: (Finding.ELSEWHERE, "RECORDED ELSEWHERE"),
        "K7-999": (Finding.UNKNOWN, "NOT KNOWN HERE"),
    }
    for name, (_, headline) in wanted.items():
        verdict = bench.scan(name, "FRIDGE")
        assert (verdict.word, verdict.code, verdict.headline) == ("STOP", "count-difference", headline), name
    assert "(Cooler)" in bench.later(0.1).scan(elsewhere, "FRIDGE").why
    whole(bench, count)
    assert found(bench, count) == {name: finding for name, (finding, _) in wanted.items()}


def test_paste_past_its_shelf_life_or_on_hold_in_a_common_bin_is_a_difference() -> None:
    bench = Bench()
    old, held, kept = bench.cold(expires=berlin("2026-11-09T00:00").date()), bench.cold(), bench.cold(leaking=True)
    bench.tell_own(f.Held(held, HoldReason.PERSON, "looked dented"))
    bench.at("2026-11-12T08:00")
    count = begun(bench)
    assert [bench.scan(name, "FRIDGE").headline for name in (old, held)] == ["PAST ITS LIMIT", "ON HOLD, WRONG BIN"]
    assert bench.scan(kept, "FRIDGE").code == "counted"
    whole(bench, count)
    assert found(bench, count) == {old: Finding.EXPIRED, held: Finding.HELD}
    bench.release_all(held)
    assert found(bench, count) == {old: Finding.EXPIRED}
    settled(bench, count, old, Settling.DISCARDED)
    assert bench.container(old).ended == "discarded"
    assert unsettled(bench.floor) == ()


def test_a_label_newer_than_the_record_says_that_it_was_out() -> None:
    bench = Bench()
    jar = bench.cold()
    begun(bench)
    at = bench.clock.wall
    label = SeenLabel(1, at, at, at, counting.IDLE, 4, leaded=False)
    assert bench.scan(jar, "FRIDGE", label).headline == "RECORDED AS OUT"
    assert bench.container(jar).counted_at is None


def test_a_container_put_away_while_the_count_goes_on_is_not_missing() -> None:
    bench = Bench(two_stores())
    bench.cold()
    count = begun(bench)
    bench.later(1)
    bench.tell(f.PutAway(bench.receive(), "FRIDGE", "A1", returning=False))
    assert len(counting.expected(bench.floor, now(bench, count))) == 1


def test_a_seen_container_that_was_missing_before_is_no_difference_any_more() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(60)
    count = begun(bench)
    whole(bench, count)
    assert summary(bench.floor, now(bench, count), differences(bench.floor, now(bench, count))).startswith(
        "1 difference of the count of 13:00"
    )
    bench.later(1)
    second = begun(bench)
    bench.scan(jar, "FRIDGE")
    whole(bench, second)
    assert found(bench, count) == found(bench, second) == {}


# ---------------------------------------------------------------------- proof of cold


def test_a_counted_container_is_proved_cold_and_its_room_life_counts_from_there() -> None:
    """Seen warm at a printer after the count: what it may have been out for counts from the count, not the put-away."""
    bench = Bench()
    jar = bench.cold()
    bench.at("2026-11-10T09:00")
    begun(bench)
    bench.scan(jar, "FRIDGE")
    assert bench.container(jar).last_cold_at == berlin("2026-11-10T09:00")
    bench.at("2026-11-10T11:00").scan(jar, "LINE1")
    bench.at("2026-11-10T12:00").scan(jar, "FRIDGE")
    assert bench.container(jar).out_from == berlin("2026-11-10T09:00")


def test_a_count_is_no_proof_once_it_was_seen_outside_or_while_the_clock_is_in_doubt() -> None:
    bench = Bench()
    seen_warm, doubted = bench.cold(), bench.cold()
    bench.later(60)
    bench.scan(seen_warm, "LINE1")
    bench.step(30)
    begun(bench)
    assert bench.scan(seen_warm, "FRIDGE").headline == "RECORDED AS OUT"
    assert bench.scan(doubted, "FRIDGE").code == "counted"
    put_away = bench.container(doubted).put_away_at
    assert bench.container(doubted).last_cold_at == put_away
    assert bench.container(seen_warm).counted_at is None


def test_a_word_of_cold_that_came_after_it_was_taken_out_elsewhere_proves_nothing() -> None:
    bench = Bench()
    jar = bench.ready()
    bench.tell(f.Counted("K9-C001", jar, "FRIDGE", Finding.AS_RECORDED, "FRIDGE", cold=True))
    assert bench.container(jar).counted_at is None


def test_a_take_out_entered_late_cannot_lie_before_the_count() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.at("2026-11-10T09:00")
    begun(bench)
    bench.scan(jar, "FRIDGE")
    bench.at("2026-11-10T12:00")
    early, late = told(jar, "2026-11-10T08:00", "2026-11-10T11:00"), told(jar, "2026-11-10T09:30", "2026-11-10T11:00")
    with pytest.raises(LateRefused, match=r"It was counted .*09:00"):
        lead_acts.take_out_late(bench.station, early, LEADS)
    lead_acts.take_out_late(bench.station, late, LEADS)
    assert bench.container(jar).out_from == berlin("2026-11-10T09:30")


# ---------------------------------------------------------------------- settling


def test_a_missing_one_is_found_or_a_lead_says_that_it_was_not() -> None:
    bench = Bench()
    lost, elsewhere, late = bench.cold(), bench.cold(), bench.cold()
    bench.later(60)
    count = begun(bench)
    whole(bench, count)
    settle_difference(bench.station, Settled(count.id, elsewhere, Settling.FOUND, "behind the tray"), None)
    assert bench.container(elsewhere).store == "FRIDGE"
    said = Settled(count.id, lost, Settling.NOT_FOUND, "searched")
    with pytest.raises(Refusal, match="shift lead's badge and PIN"):
        settle_difference(bench.station, said, None)
    with pytest.raises(counting.CountRefused, match="Only a shift lead"):
        settle(bench.floor, said, "P12")
    settled(bench, count, lost, Settling.NOT_FOUND)
    assert bench.container(lost).ended == "not found"
    assert found(bench, count) == {late: Finding.MISSING}
    lead_acts.take_out_late(bench.station, told(late, "2026-11-08T12:30", "2026-11-08T12:50"), LEADS)
    assert unsettled(bench.floor) == ()


def test_a_difference_is_settled_once_in_a_way_that_fits_and_with_a_reason() -> None:
    bench = Bench()
    jar = bench.cold()
    bench.later(60)
    count = begun(bench)
    bench.scan("K7-999", "FRIDGE")
    with pytest.raises(counting.CountRefused, match="does not stand"):
        settled(bench, count, jar, Settling.NOT_FOUND)
    whole(bench, count)
    with pytest.raises(counting.CountRefused, match="can't be settled so"):
        settled(bench, count, "K7-999", Settling.DISCARDED)
    with pytest.raises(counting.CountRefused, match="few words"):
        settled(bench, count, jar, Settling.NOT_FOUND, " ")
    with pytest.raises(counting.CountRefused, match="does not stand"):
        settle(bench.floor, Settled("K7-C999", jar, Settling.FOUND, "there"), LEAD)
    settled(bench, count, "K7-999", Settling.LOOKED_INTO)
    assert found(bench, count) == {jar: Finding.MISSING}


def test_a_difference_goes_by_itself_once_the_record_says_what_became_of_it() -> None:
    bench = Bench(two_stores())
    never, elsewhere, stranger = bench.receive(), bench.receive(), "K7-900"
    bench.scan(elsewhere, "COOLER")
    out, opened = bench.ready(), bench.on_line()
    count = begun(bench)
    for name in (never, elsewhere, stranger, out, opened):
        bench.scan(name, "FRIDGE")
    whole(bench, count)
    assert len(found(bench, count)) == 5
    bench.scan(never, "FRIDGE")
    bench.receive(container=stranger)
    bench.later(11).scan(elsewhere, "COOLER")
    bench.tell(f.Ended(out, Ending.USED_UP, "used", "", None))
    assert found(bench, count) == {opened: Finding.OPEN}


def test_what_lies_in_another_store_than_recorded_is_settled_by_moved_here() -> None:
    bench = Bench(two_stores())
    jar = bench.receive()
    bench.scan(jar, "COOLER")
    bench.later(60)
    count = begun(bench)
    assert bench.scan(jar, "FRIDGE").code == "count-difference"
    assert bench.card(Card.MOVED_HERE, "FRIDGE").code == "counting"
    whole(bench, count)
    assert found(bench, count) == {jar: Finding.ELSEWHERE}
    bench.scan(jar, "FRIDGE")
    assert bench.card(Card.MOVED_HERE, "FRIDGE").code == "moved-here"
    assert found(bench, count) == {}
    assert bench.container(jar).store == "FRIDGE"


def test_a_makers_label_is_not_counted() -> None:
    bench = Bench()
    begun(bench)
    answer = bench.outcome(MakersLabelScan(MakersLabel(next(iter(Carrier)), "[)>06")), "FRIDGE")
    assert answer.verdict is not None
    assert (answer.verdict.code, answer.facts) == ("counting", ())


@pytest.mark.parametrize("finding", list(Finding))
def test_every_finding_has_a_way_to_be_settled(finding: Finding) -> None:
    assert ways(finding)


# ---------------------------------------------------------------------- whatever is scanned


@settings(max_examples=25)
@given(
    scans=st.lists(
        st.tuples(st.sampled_from(["cold", "held", "out", "open", "gone", "dock", "K7-999"]), st.floats(0.05, 1.5)),
        max_size=8,
    )
)
def test_no_scan_in_a_count_changes_stage_or_clock_of_any_container(scans: list[tuple[str, float]]) -> None:
    bench = Bench()
    names = {
        "cold": bench.cold(),
        "held": bench.cold(leaking=True),
        "out": bench.ready(),
        "open": bench.on_line(),
        "gone": bench.cold(),
        "dock": bench.receive(),
    }
    bench.tell(f.Ended(names["gone"], Ending.USED_UP, "used", "", None))
    begun(bench)
    before = {name: _clocks(bench, name) for name in names.values()}
    for said, minutes in scans:
        bench.later(minutes).scan(names.get(said, said), "FRIDGE")
    assert {name: _clocks(bench, name) for name in names.values()} == before


def _clocks(bench: Bench, name: str) -> object:
    """All that stands of a container but where and when it was seen last, proof that it was cold, and the hold on
    what was out or open and lies in the cold again."""
    holds = tuple(hold for hold in bench.container(name).holds if hold.note != PUT_BACK)
    unseen = {"last_seen_at": None, "last_seen_where": "", "proofs": (), "dated_by": (), "holds": holds}
    return replace(bench.container(name), **unseen)  # type: ignore[arg-type]


def test_a_count_of_another_station_whose_end_is_never_heard_of_swallows_no_take_out() -> None:
    fleet = Fleet()
    jar = fleet["A"].cold()
    begun(fleet["A"])
    fleet.meet("A", "B")
    assert fleet["B"].scan(jar, "FRIDGE").code == "counted"
    fleet.later(15)
    assert counting.running(fleet["B"].floor, "FRIDGE") is None
    assert fleet["B"].scan(jar, "FRIDGE").code == "taken-out"
    assert begun(fleet["B"])
