"""A take-out that nobody scanned, told afterwards: conditioning runs from its latest instant, every life from its
earliest.

Worked by hand on plant T: three hours of warming from the latest instant; seven days of room life, less what it had
spent before, from the earliest (common practice, no source).
"""

from datetime import date, timedelta
from random import Random

import pytest

from station.care import facts as f
from station.care.correction import CorrectionRefused, take_back
from station.care.late import Late, LateRefused, taken_out_late
from station.care.words import Card, Ending, HoldReason, Word
from station.labels.timecode import unpack
from station.services import lead_acts
from station.services.label_job import label_job
from station.services.outcome import Outcome
from tests.care.bench import LEAD, Bench, berlin, site_f, site_t, with_limits, with_room_paste
from tests.care.fleet import Fleet
from tests.care.leading import PROOF
from tests.care.test_folds import picture, replayed

HOUR = timedelta(hours=1)


def cold(at: str = "2026-11-09T12:00", **told: object) -> tuple[Bench, str]:
    """A jar put away on Sunday at 12:00, looked at on Monday at noon."""
    bench = Bench(start="2026-11-08T12:00")
    jar = bench.cold(**told)  # type: ignore[arg-type]
    bench.at(at)
    return bench, jar


def told(
    jar: str, earliest: str = "2026-11-09T07:00", latest: str = "2026-11-09T08:30", reason: str = "card on bin A1"
) -> Late:
    return Late(jar, berlin(earliest), berlin(latest), reason)


def entered(bench: Bench, late: Late) -> Outcome:
    return lead_acts.take_out_late(bench.station, late, PROOF)


# ---------------------------------------------------------------------- refused


def refusal(bench: Bench, late: Late, person: str | None = LEAD) -> str:
    with pytest.raises(LateRefused) as refused:
        taken_out_late(bench.floor, late, person)
    return str(refused.value)


@pytest.mark.parametrize("person", ["P12", "P30", None])
def test_only_a_shift_lead_tells_it(person: str | None) -> None:
    bench, jar = cold()
    said = refusal(bench, told(jar), person)
    assert said == "Only a shift lead enters a take-out afterwards. Badge in with your PIN."


NOT_COLD = "It is not recorded as lying in cold storage, so there is no take-out to enter. Scan it to see its story."


def test_what_does_not_lie_in_the_cold_has_no_take_out_to_enter() -> None:
    bench, jar = cold()
    assert refusal(bench, told("K7-999")) == NOT_COLD
    bench.scan(jar, "FRIDGE")
    assert refusal(bench, told(jar)) == NOT_COLD


def unseen(**received: object) -> tuple[Bench, str]:
    """Arrived on Monday at 06:00 and received; nothing more was recorded. It is noon."""
    bench = Bench(start="2026-11-09T06:00")
    jar = bench.receive(**received)  # type: ignore[arg-type]
    bench.at("2026-11-09T12:00")
    return bench, jar


def test_what_was_never_put_away_counts_as_out_since_it_arrived() -> None:
    """The station was down; the jar came in at 06:00 and was taken out by hand before 08:30."""
    bench, jar = unseen()
    verdict = entered(bench, told(jar)).verdict
    assert verdict is not None
    assert (verdict.code, verdict.headline) == ("taken-out-late", "NOT BEFORE 11:30")
    assert verdict.why.startswith("K7 001 counts as out since 06:00 at the earliest and 08:30 at the latest.")
    assert bench.container(jar).room_end == berlin("2026-11-16T06:00")


@pytest.mark.parametrize(("latest", "reasons"), [("10:00", []), ("10:01", [HoldReason.LATE_TO_COLD])])
def test_it_is_on_hold_where_it_may_have_stood_at_the_dock_for_too_long(latest: str, reasons: list[HoldReason]) -> None:
    """Four hours from the dock to the cold on plant T; entered while the limit still runs at another station."""
    bench = Bench(start="2026-11-09T06:00")
    jar = bench.receive()
    container = bench.container(jar)
    assert container.to_cold_by == berlin("2026-11-09T10:00")
    late = Late(jar, berlin("2026-11-09T07:00"), berlin(f"2026-11-09T{latest}"), "written on the sheet")
    bench.clock.go_on(5 * HOUR)
    held = [body.reason for body in taken_out_late(bench.floor, late, LEAD).bodies if isinstance(body, f.Held)]
    assert held == reasons


def test_it_is_held_for_the_dock_once() -> None:
    bench, jar = unseen()
    bench.station.tick()
    assert held_for(bench, jar) == [HoldReason.LATE_TO_COLD]
    entered(bench, told(jar, latest="2026-11-09T11:00"))
    assert held_for(bench, jar) == [HoldReason.LATE_TO_COLD]
    assert bench.later(4 * 60).scan(jar, "LINE1").code == "held"
    bench.release_all(jar)
    assert bench.later(1).scan(jar, "LINE1").code == "opening-check"


def test_it_was_not_out_before_it_arrived() -> None:
    bench, jar = unseen()
    assert refusal(bench, told(jar, earliest="2026-11-09T05:59")) == (
        "It arrived Mon 9 Nov 06:00, so it can't have been taken out before. Check the earliest time."
    )


def test_of_frozen_paste_nobody_says_afterwards_how_it_thawed() -> None:
    bench = Bench(site_f())
    jar = bench.receive("FZ-7", temperature_c=-18)
    now = bench.clock.wall
    assert refusal(bench, Late(jar, now, now, "seen on camera")) == NOT_COLD


def test_what_has_ended_is_not_taken_out_though_a_late_put_away_is_told_of_it() -> None:
    bench, jar = cold()
    bench.tell(f.Ended(jar, Ending.DISCARDED, "", "DESK", None), f.PutAway(jar, "FRIDGE", "A1", returning=False))
    assert bench.container(jar).store == "FRIDGE"
    assert refusal(bench, told(jar)) == NOT_COLD


def test_paste_kept_at_room_temperature_is_never_taken_out() -> None:
    bench = Bench(with_room_paste(site_t()))
    roll = bench.receive("BI-9", "CART-600")
    bench.scan(roll, "SHELF")
    assert refusal(bench, told(roll, "2026-11-08T12:00", "2026-11-08T12:00")) == NOT_COLD


@pytest.mark.parametrize(
    ("late", "sentence"),
    [
        (
            ("2026-11-09T08:31", "2026-11-09T08:30"),
            "The earliest time lies after the latest. Give the earlier one first.",
        ),
        (
            ("2026-11-08T11:59", "2026-11-09T08:30"),
            "It was put away Sun 8 Nov 12:00, so it can't have been taken out before. Check the earliest time.",
        ),
        (
            ("2026-11-09T07:00", "2026-11-09T12:01"),
            "The latest time lies in the future. Give a time up to now.",
        ),
    ],
)
def test_times_that_cannot_be_are_refused(late: tuple[str, str], sentence: str) -> None:
    bench, jar = cold()
    assert refusal(bench, told(jar, *late)) == sentence


def test_both_ends_of_what_can_be_are_taken() -> None:
    bench, jar = cold()
    entered(bench, told(jar, "2026-11-08T12:00", "2026-11-09T12:00"))
    other, same = cold()
    entered(other, told(same, "2026-11-09T12:00", "2026-11-09T12:00"))
    assert bench.container(jar).out_from == berlin("2026-11-08T12:00")
    assert other.container(same).out_from == other.container(same).out_to == berlin("2026-11-09T12:00")


def test_how_it_is_known_stands_in_the_record() -> None:
    bench, jar = cold()
    said = refusal(bench, told(jar, reason="  "))
    assert said == "Say in a few words how the time is known; it stands in the record."


def test_it_was_out_by_the_time_it_was_seen_outside() -> None:
    bench, jar = cold("2026-11-09T09:00")
    assert bench.scan(jar, "LINE1").code == "not-taken-out"
    bench.at("2026-11-09T12:00")
    said = refusal(bench, told(jar, latest="2026-11-09T09:01"))
    assert said == "It was seen outside Mon 9 Nov 09:00, so it was out by then. Check the latest time."
    entered(bench, told(jar, latest="2026-11-09T09:00"))


def test_it_was_out_by_the_time_another_station_opened_it() -> None:
    bench, jar = cold("2026-11-09T09:00")
    bench.tell(f.Opened(jar, "2", early=False, open_end=berlin("2026-11-10T09:00")))
    bench.at("2026-11-09T12:00")
    assert "seen outside Mon 9 Nov 09:00" in refusal(bench, told(jar, latest="2026-11-09T09:01"))


# ---------------------------------------------------------------------- what it comes to


def test_it_is_ready_by_the_latest_time_and_ends_by_the_earliest() -> None:
    bench, jar = cold()
    outcome = entered(bench, told(jar))
    verdict, container = outcome.verdict, bench.container(jar)
    assert verdict is not None
    assert (verdict.word, verdict.code, verdict.headline) == (Word.DONE, "taken-out-late", "NOT BEFORE 11:30")
    assert verdict.why == "K7 001 counts as out since 07:00 at the earliest and 08:30 at the latest."
    assert verdict.todo == "Stick the new label on the body, not over the maker's label."
    assert verdict.governing == "room life"
    assert dict(verdict.times) == {
        "thaw start": berlin("2026-11-09T07:00"),
        "earliest use": berlin("2026-11-09T11:30"),
        "discard by": berlin("2026-11-16T07:00"),
    }
    assert (container.earliest_use, container.room_end) == (berlin("2026-11-09T11:30"), berlin("2026-11-16T07:00"))
    assert [fact.body.NAME for fact in outcome.facts] == ["taken-out", "label-asked", "label-sent"]
    assert [fact.body.told_late for fact in outcome.facts if isinstance(fact.body, f.TakenOut)] == ["card on bin A1"]


@pytest.mark.parametrize(
    ("at", "code"), [("2026-11-09T11:29:59", "conditioning"), ("2026-11-09T11:30", "opening-check")]
)
def test_it_waits_to_the_minute(at: str, code: str) -> None:
    bench, jar = cold("2026-11-09T09:00")
    entered(bench, told(jar))
    assert bench.at(at).scan(jar, "LINE1").code == code


@pytest.mark.parametrize(("at", "code"), [("2026-11-16T07:00", "opening-check"), ("2026-11-16T07:00:01", "room-life")])
def test_it_ends_to_the_minute(at: str, code: str) -> None:
    bench, jar = cold()
    entered(bench, told(jar))
    assert bench.at(at).scan(jar, "LINE1").code == code


def test_seconds_are_rounded_to_the_safe_side() -> None:
    bench, jar = cold()
    entered(bench, told(jar, "2026-11-09T07:00:59", "2026-11-09T08:30:01"))
    container = bench.container(jar)
    assert (container.earliest_use, container.room_end) == (berlin("2026-11-09T11:31"), berlin("2026-11-16T07:00"))


def test_time_at_the_dock_is_taken_off_as_at_any_take_out() -> None:
    # 3 h at the dock before it was put away at 12:00
    bench, jar = cold(arrived_at=berlin("2026-11-08T09:00"))
    entered(bench, told(jar))
    assert bench.container(jar).room_end == berlin("2026-11-16T04:00")


def test_a_shelf_life_that_ends_first_is_what_governs() -> None:
    bench, jar = cold(expires=date(2026, 11, 12))
    verdict = entered(bench, told(jar)).verdict
    assert verdict is not None
    assert (verdict.governing, dict(verdict.times)["discard by"]) == ("shelf life", berlin("2026-11-12T23:59"))


def test_between_put_away_and_a_sighting_a_shift_lead_says_when_and_nothing_else_holds_it() -> None:
    bench, jar = cold("2026-11-09T09:00")
    assert bench.scan(jar, "LINE1").code == "not-taken-out"
    entered(bench.at("2026-11-09T09:30"), told(jar))
    container = bench.container(jar)
    assert (container.out_from, container.held) == (berlin("2026-11-09T07:00"), False)
    assert bench.at("2026-11-09T11:30").scan(jar, "LINE1").code == "opening-check"


def test_what_is_over_by_now_is_said_to_be_thrown_away() -> None:
    bench, jar = cold("2026-11-17T12:00")
    verdict = entered(bench, told(jar)).verdict
    assert verdict is not None
    assert (verdict.headline, verdict.todo) == (
        "ROOM LIFE IS OVER",
        "Do not use it. Discard it by the local rules for paste waste.",
    )
    assert [alarm.split("/")[0] for alarm in bench.alarms()] == ["room life"]


def test_what_is_on_hold_stays_so() -> None:
    bench, jar = cold(leaking=True)
    verdict = entered(bench, told(jar)).verdict
    assert verdict is not None
    assert verdict.why.endswith("It is on hold.")
    assert verdict.todo == "Set it aside until a shift lead has released it."
    assert bench.scan(jar, "LINE1").code == "held"


@pytest.mark.parametrize(("temperature", "humidity"), [(18.5, 40), (23, 95)])
def test_in_a_room_that_forbids_use_it_is_out_without_a_time_and_without_a_label(
    temperature: float, humidity: float
) -> None:
    bench, jar = cold()
    bench.station.read_room(temperature, humidity, None)
    outcome = entered(bench, told(jar))
    verdict = outcome.verdict
    assert verdict is not None
    assert (verdict.headline, verdict.todo) == (
        "ROOM UNSUITABLE",
        "Leave it closed; nobody can say when it is ready.",
    )
    assert "earliest use" not in dict(verdict.times)
    assert [fact.body.NAME for fact in outcome.facts] == ["taken-out"]
    assert bench.scan(jar, "LINE1").code == "no-time"
    assert bench.scan(jar, "DESK").word is Word.WAIT
    assert bench.card(Card.REPRINT, "DESK").code == "card-alone"


# ---------------------------------------------------------------------- frozen paste


def frozen(bench: Bench) -> str:
    name = bench.receive("FZ-7", temperature_c=-18)
    bench.scan(name, "FREEZER")
    bench.later(11)
    return name


def held_for(bench: Bench, name: str) -> list[HoldReason]:
    return [hold.reason for hold in bench.container(name).holds]


def test_frozen_paste_that_went_to_the_room_without_its_thaw_is_held_until_it_is_judged() -> None:
    bench = Bench(site_f())
    jar = frozen(bench)
    now = bench.clock.wall
    verdict = entered(bench, Late(jar, now, now, "seen on camera")).verdict
    assert verdict is not None
    assert "It is on hold." in verdict.why
    assert held_for(bench, jar) == [HoldReason.EVALUATION]
    assert bench.later(30 * 60).scan(jar, "LINE1").code == "held"


@pytest.mark.parametrize(
    ("before", "after", "reasons"),
    [(timedelta(minutes=-1), 0, [HoldReason.EVALUATION]), (timedelta(0), 0, []), (timedelta(0), 1, [])],
)
def test_thawed_paste_is_held_if_it_may_have_left_before_its_time(
    before: timedelta, after: int, reasons: list[HoldReason]
) -> None:
    bench = Bench(site_f())
    jar = frozen(bench)
    bench.scan(jar, "FREEZER")
    bench.later(1).scan(jar, "FRIDGE")
    thawed = bench.container(jar).thaw_not_before
    assert thawed is not None
    bench.later(20 * 60)
    entered(bench, Late(jar, thawed + before, thawed + after * HOUR, "seen on camera"))
    assert held_for(bench, jar) == reasons


@pytest.mark.parametrize(("over", "count"), [(0, 0), (1, 1)])
def test_thawed_paste_that_may_have_left_too_late_is_held_once(over: int, count: int) -> None:
    bench = Bench(site_f())
    jar = frozen(bench)
    bench.scan(jar, "FREEZER")
    bench.later(1).scan(jar, "FRIDGE")
    until = bench.container(jar).thaw_not_after
    assert until is not None
    bench.clock.go_on(until + timedelta(minutes=1) - bench.clock.wall)  # nobody looked: no tick meanwhile
    floor = bench.station.floor()
    late = Late(jar, until - HOUR, until + timedelta(minutes=over), "seen on camera")
    held = [body for body in taken_out_late(floor, late, LEAD).bodies if isinstance(body, f.Held)]
    assert [body.reason for body in held] == [HoldReason.THAWED_LONG] * count
    bench.station.tick()
    held = [body for body in taken_out_late(bench.floor, late, LEAD).bodies if isinstance(body, f.Held)]
    assert held == []  # the tick has held it already


def test_frozen_paste_that_needs_no_thaw_goes_straight_to_the_room() -> None:
    bench = Bench(with_limits(site_f(), "FZ-7", thaw=None))
    jar = frozen(bench)
    now = bench.clock.wall
    entered(bench, Late(jar, now, now, "seen on camera"))
    assert held_for(bench, jar) == []


# ---------------------------------------------------------------------- taken back


def test_no_operator_takes_back_what_a_shift_lead_told() -> None:
    bench, jar = cold()
    entered(bench, told(jar))
    bench.scan(jar, "DESK")
    assert bench.card(Card.UNDO, "DESK").code == "nothing-to-undo"
    assert bench.container(jar).has_been_out


def test_a_shift_lead_takes_it_back_and_tells_it_better() -> None:
    bench, jar = cold()
    entered(bench, told(jar))
    lead_acts.take_back(bench.station, ("container", jar), "wrong jar", PROOF)
    assert bench.container(jar).store == "FRIDGE"
    entered(bench, told(jar, earliest="2026-11-09T06:00"))
    assert bench.container(jar).room_end == berlin("2026-11-16T06:00")


def test_an_ordinary_take_out_is_not_taken_back_by_a_lead_long_after() -> None:
    bench, jar = cold()
    bench.scan(jar, "FRIDGE")
    with pytest.raises(CorrectionRefused, match="not one that can be taken back"):
        take_back(bench.floor, "container", jar, "wrong jar", LEAD)


# ---------------------------------------------------------------------- several stations


@pytest.mark.parametrize("seed", range(8))
def test_told_late_here_and_scanned_there_it_is_the_widest_interval(seed: int) -> None:
    fleet = Fleet(start="2026-11-08T12:00")
    a, b = fleet["A"], fleet["B"]
    jar = a.cold()
    fleet.meet("A", "B", seed)
    fleet.at("2026-11-09T09:00")
    b.scan(jar, "FRIDGE")
    fleet.at("2026-11-09T12:00")
    entered(a, told(jar))
    fleet.later(1).meet("A", "B", seed)
    for bench in (a, b):
        container = bench.container(jar)
        assert (container.out_from, container.out_to) == (berlin("2026-11-09T07:00"), berlin("2026-11-09T09:00"))
        assert container.earliest_use == berlin("2026-11-09T12:00")
        assert container.room_end == berlin("2026-11-16T07:00")
    facts = list(a.journal.facts())
    shuffled = list(facts)
    Random(seed).shuffle(shuffled)
    assert picture(replayed(shuffled)) == picture(replayed(facts))


def test_its_label_says_what_conditioning_was_counted_from_and_when_it_ends() -> None:
    bench, jar = cold()
    entered(bench, told(jar))
    code = label_job(bench.floor, bench.container(jar), bench.station.keys, "").content.code
    label = unpack(code, bench.station.keys)
    assert (label.thaw_start, label.earliest_use, label.discard_by) == (
        berlin("2026-11-09T08:30"),
        berlin("2026-11-09T11:30"),
        berlin("2026-11-16T07:00"),
    )


# ---------------------------------------------------------------------- the room as it was then


def read_at(bench: Bench, *readings: tuple[str, float, float]) -> None:
    for at, temperature, humidity in readings:
        bench.at(at).station.read_room(temperature, humidity, None)


def test_the_room_of_then_makes_the_wait_not_the_room_of_now() -> None:
    now_warm, jar = cold("2026-11-09T05:00")
    read_at(now_warm, ("2026-11-09T06:00", 19.1, 40), ("2026-11-09T09:00", 25, 40))
    entered(now_warm.at("2026-11-09T12:00"), told(jar))
    fact = next(fact.body for fact in now_warm.journal.facts() if isinstance(fact.body, f.TakenOut))
    assert (fact.room_c, fact.humidity) == (19.1, 40)
    # until the paste is at the floor of 19 C in a room of 19.1 C: longer than the supplier's three hours
    assert fact.earliest_use is not None
    assert fact.earliest_use > berlin("2026-11-09T11:30")


def test_a_room_too_cold_then_counts_from_the_reading_that_says_it_is_warm() -> None:
    bench, jar = cold("2026-11-09T05:00")
    read_at(bench, ("2026-11-09T06:00", 15, 40), ("2026-11-09T10:00", 23, 40), ("2026-11-09T11:00", 23, 45))
    verdict = entered(bench.at("2026-11-09T12:00"), told(jar)).verdict
    assert verdict is not None
    assert verdict.headline == "NOT BEFORE 13:00"
    assert bench.container(jar).out_to == berlin("2026-11-09T08:30")


def test_a_room_good_then_and_too_humid_now_gives_no_time() -> None:
    bench, jar = cold("2026-11-09T05:00")
    read_at(bench, ("2026-11-09T06:00", 23, 40), ("2026-11-09T10:00", 23, 95))
    assert entered(bench.at("2026-11-09T12:00"), told(jar)).verdict is not None
    assert bench.container(jar).earliest_use is None


def test_a_room_never_read_before_is_taken_as_the_site_assumes_it() -> None:
    bench, jar = cold("2026-11-09T05:00")
    read_at(bench, ("2026-11-09T09:00", 24, 50))
    entered(bench.at("2026-11-09T12:00"), told(jar))
    fact = next(fact.body for fact in bench.journal.facts() if isinstance(fact.body, f.TakenOut))
    assert (fact.room_c, fact.earliest_use) == (site_t().plant.rules.assumed_room_c, berlin("2026-11-09T11:30"))


def test_a_store_that_only_another_stations_settings_have_is_named() -> None:
    bench = Bench()
    jar = bench.receive()
    bench.tell(f.PutAway(jar, "ANNEX", "A1", returning=False))
    bench.later(60)
    late = Late(jar, bench.clock.wall, bench.clock.wall, "seen on the bench")
    with pytest.raises(LateRefused, match="ANNEX is in no setting of this station"):
        lead_acts.take_out_late(bench.station, late, PROOF)
