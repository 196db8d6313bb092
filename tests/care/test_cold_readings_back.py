"""A file of another store or read with the wrong zone is taken back by a lead; excursions are seen by one."""

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.care import facts as f
from station.care.cold_readings_back import TakeBack, seen, take_back
from station.care.cold_readings_given_back import give_back, to_decide
from station.care.cold_readings_record import ColdRecord
from station.care.cold_readings_rules import Mistake, Policy
from station.care.day_list import DayKind, day_list
from station.care.outside import Side
from station.care.refused import Refused
from station.care.words import HoldReason
from station.readings.track import Track
from station.services.cold_readings import give_minutes_back, see_excursions, take_back_readings
from station.services.outcome import Outcome, Refusal
from station.services.station import Proof
from tests.care.bench import LEAD, Bench, berlin
from tests.care.fleet import Fleet
from tests.care.leading import OPERATOR, PROOF
from tests.services.test_cold_readings import NIGHT, WARM_HALF_AN_HOUR, in_the_morning, plant, take_in, track


def files(bench: Bench) -> list[str]:
    return [fact.key for fact in bench.station.ledger.cold.files("FRIDGE")]


def standing(bench: Bench) -> list[str]:
    return [f"{one.start:%H:%M}" for one in bench.station.ledger.cold.excursions("FRIDGE")]  # UTC


def back(bench: Bench, place: int = -1, mistake: Mistake = Mistake.ZONE, reason: str = "it was summer time") -> Outcome:
    return take_back_readings(bench.station, TakeBack("FRIDGE", files(bench)[place], mistake, reason), PROOF)


def wrong_zone(policy: Policy) -> tuple[Bench, str]:
    """A file of the night, read an hour too early."""
    bench, jar = in_the_morning(policy)
    take_in(bench, track("2026-11-09T21:00", *WARM_HALF_AN_HOUR), "night.csv", content=b"night", zone="UTC+02:00")
    return bench, jar


def test_a_file_taken_back_counts_no_more_and_is_read_in_with_the_right_zone() -> None:
    bench, jar = wrong_zone(Policy.HOLD)
    with pytest.raises(Refusal, match=r"read otherwise with its clock in UTC\+02:00"):
        take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR), "night.csv", content=b"night")
    outcome = back(bench)
    assert outcome.verdict is not None
    assert (outcome.verdict.headline, files(bench), standing(bench)) == ("TAKEN BACK", [], [])
    assert "1 excursion rested on it alone and counts no more." in outcome.verdict.why
    assert bench.station.ledger.cold.last_reading("FRIDGE") is None
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR), "night.csv", content=b"night")
    assert standing(bench) == ["21:10"]
    assert bench.station.ledger.cold.taken_back("FRIDGE")[0].start == berlin("2026-11-09T21:10")
    assert len(bench.container(jar).holds) == 2


def test_a_hold_it_came_to_stands_until_a_lead_releases_it() -> None:
    """A wrong file must not let paste go by being taken back: BR-87 and the safe side."""
    bench, jar = wrong_zone(Policy.HOLD)
    verdict = back(bench).verdict
    assert verdict is not None
    assert "Still on hold: K7 001." in verdict.todo
    assert [hold.reason for hold in bench.container(jar).holds] == [HoldReason.STORE_OUT]
    bench.later(30).restart()
    assert bench.scan(jar, "FRIDGE").word == "STOP"
    bench.release_all(jar)
    bench.later(30).restart()
    assert bench.container(jar).holds == ()


def test_minutes_charged_by_it_stay_charged_and_are_named() -> None:
    bench, jar = wrong_zone(Policy.CHARGE)
    spent = bench.container(jar).warm_spent
    (fact,) = back(bench).facts
    assert isinstance(fact.body, f.ReadingsWithdrawn)
    assert (fact.body.containers, fact.who) == ((jar,), LEAD)
    assert bench.container(jar).warm_spent == spent


def test_charged_paste_is_not_said_to_be_held_and_waits_by_name_until_a_lead_gives_it_back() -> None:
    bench, jar = wrong_zone(Policy.CHARGE)
    assert to_decide(bench.floor) == ()
    verdict = back(bench).verdict
    assert verdict is not None
    assert verdict.todo.startswith("Minutes still charged: K7 001.")
    assert "on hold" not in verdict.todo
    assert [(one.id, charged) for one, charged in to_decide(bench.floor)] == [(jar, timedelta(minutes=30))]
    give(bench, jar)
    assert to_decide(bench.floor) == ()


def give(bench: Bench, jar: str, reason: str = "the file was wrong") -> Outcome:
    return give_minutes_back(bench.station, jar, reason, PROOF)


def test_minutes_are_given_back_by_a_lead_and_charged_again_when_the_file_comes_again() -> None:
    bench, jar = in_the_morning(Policy.CHARGE)
    before, series = bench.container(jar).warm_spent, track(NIGHT, *WARM_HALF_AN_HOUR)
    take_in(bench, series)
    with pytest.raises(Refused, match="No minute of it"):
        give(bench, jar)
    back(bench)
    with pytest.raises(Refused, match="why"):
        give(bench, jar, " ")
    with pytest.raises(Refused, match="Only a shift lead"):
        give_back(bench.floor, jar, "wrong", OPERATOR)
    verdict = give(bench, jar).verdict
    assert verdict is not None
    assert verdict.why.startswith("30 min charged to K7 001")
    assert (bench.container(jar).warm_spent, bench.container(jar).charged) == (before, ())
    bench.later(30).restart()
    assert bench.container(jar).warm_spent == before
    with pytest.raises(Refused, match="No minute of it"):
        give(bench, jar)
    take_in(bench, series)
    assert bench.container(jar).warm_spent == before + timedelta(minutes=30)


def test_minutes_another_file_tells_of_are_not_given_back() -> None:
    """The wrong file was taken back, and the right one says it was warm at that time too."""
    bench, jar = in_the_morning(Policy.CHARGE)
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR), "a.csv")
    back(bench)
    take_in(bench, track("2026-11-09T22:11", *WARM_HALF_AN_HOUR), "b.csv")
    with pytest.raises(Refused, match="other files tell of the same time"):
        give(bench, jar)


def test_two_stations_that_meet_charge_what_the_other_one_has_a_file_of() -> None:
    """One takes its file back and gives the minutes back, the other has read a longer one meanwhile."""
    fleet = Fleet(site=plant(Policy.CHARGE), start="2026-11-09T12:00")
    a, b = fleet["A"], fleet["B"]
    jar = a.cold()
    fleet.at("2026-11-10T08:00")
    take_in(a, track(NIGHT, *WARM_HALF_AN_HOUR))
    fleet.meet("A", "B")
    b.station.evidence = a.station.evidence  # kept files went with the facts
    charged = a.container(jar).warm_spent
    take_in(b, track(NIGHT, *WARM_HALF_AN_HOUR, 7.0, 7.0), "longer.csv")
    back(a)
    give(a, jar)
    assert a.container(jar).warm_spent < charged
    fleet.meet("A", "B")
    fleet.later(1)
    assert [standing(bench) for bench in (a, b)] == [["21:10"]] * 2
    assert [bench.container(jar).warm_spent for bench in (a, b)] == [charged] * 2


def test_a_jar_only_this_station_knows_is_held_for_what_another_one_read() -> None:
    fleet = Fleet(site=plant(), start="2026-11-09T12:00")
    a, b = fleet["A"], fleet["B"]
    jar = a.cold()
    fleet.at("2026-11-10T08:00")
    take_in(b, track(NIGHT, *WARM_HALF_AN_HOUR))
    fleet.meet("A", "B")
    fleet.later(1)
    assert [hold.reason for hold in a.container(jar).holds] == [HoldReason.STORE_OUT]
    assert a.scan(jar, "FRIDGE").word == "STOP"


def test_who_was_released_before_is_not_named_again() -> None:
    bench, jar = wrong_zone(Policy.HOLD)
    bench.release_all(jar)
    (fact,) = back(bench, mistake=Mistake.OTHER).facts
    assert isinstance(fact.body, f.ReadingsWithdrawn)
    assert fact.body.containers == ()


def test_a_file_of_another_store_is_read_in_there_once_it_was_taken_back() -> None:
    site = in_the_morning(Policy.WARN)[0].site
    stores = {**site.plant.stores, "SECOND": replace(site.plant.stores["FRIDGE"], id="SECOND", title="Second")}
    bench = Bench(replace(site, plant=replace(site.plant, stores=stores)), "2026-11-10T08:00")
    series = track(NIGHT, *WARM_HALF_AN_HOUR)
    take_in(bench, series)
    with pytest.raises(Refusal, match=r"as the readings of FRIDGE\. Let a shift lead take that file back first"):
        take_in(bench, series, store="SECOND")
    back(bench, mistake=Mistake.STORE, reason="of the other refrigerator")
    again = take_in(bench, series, store="SECOND")
    assert [type(fact.body).NAME for fact in again.facts] == ["readings-imported", "excursion-found"]
    assert standing(bench) == []
    assert [one.store for one in bench.station.ledger.cold.excursions("SECOND")] == ["SECOND"]


def test_an_excursion_that_a_right_file_tells_of_too_stands() -> None:
    bench, _ = in_the_morning(Policy.WARN)
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    take_in(bench, track("2026-11-09T22:02", *WARM_HALF_AN_HOUR), "wrong.csv")
    before = standing(bench)
    (fact,) = back(bench).facts
    assert isinstance(fact.body, f.ReadingsWithdrawn)
    assert (fact.body.excursions, standing(bench)) == ((), before)
    back(bench)
    assert standing(bench) == []


def test_a_longer_file_that_told_nothing_new_keeps_the_excursion_when_the_first_is_taken_back() -> None:
    """The second file has the same readings and more: it must speak for the excursion without telling it again."""
    bench, _ = in_the_morning(Policy.WARN)
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    longer = take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR, 7.0, 7.0), "longer.csv")
    assert longer.verdict is not None
    assert longer.verdict.headline == "READINGS IN"
    back(bench, 0)
    assert standing(bench) == ["21:10"]
    assert bench.station.ledger.cold.taken_back("FRIDGE") == ()
    bench.restart()
    back(bench)
    assert standing(bench) == []


def test_what_became_part_of_a_standing_excursion_is_not_called_taken_back() -> None:
    bench, _ = in_the_morning(Policy.WARN)
    take_in(bench, track("2026-11-09T22:20", *WARM_HALF_AN_HOUR[4:]))
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR), "whole.csv")
    back(bench, 0)
    assert (standing(bench), bench.station.ledger.cold.taken_back("FRIDGE")) == (["21:10"], ())


def test_a_right_file_that_saw_nothing_keeps_no_wrong_excursion() -> None:
    bench, _ = in_the_morning(Policy.WARN)
    take_in(bench, track(NIGHT, *([7.0] * 13)))
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR), "wrong.csv")
    assert standing(bench) == ["21:10"]
    back(bench)
    assert standing(bench) == []


def test_what_was_recorded_before_series_were_noted_goes_with_the_files_of_its_time() -> None:
    bench, _ = in_the_morning(Policy.WARN)
    take_in(bench, track(NIGHT, *([7.0] * 13)))
    half = timedelta(minutes=30)
    start, end = berlin("2026-11-09T22:10"), berlin("2026-11-09T22:40")
    old = f.ExcursionFound("x", "FRIDGE", "T1", Side.HIGH, start, end, 12.0, half, True, None, half, (), ())
    bench.tell(old, f.ExcursionFound("y", "FRIDGE", "T9", Side.HIGH, start, end, 12.0, half, True, None, half, (), ()))
    (fact,) = back(bench).facts
    assert isinstance(fact.body, f.ReadingsWithdrawn)
    assert fact.body.excursions == ("x",)


def test_both_stations_imports_of_one_file_are_taken_back_together() -> None:
    bench, _ = in_the_morning(Policy.WARN)
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    bench.tell(bench.station.ledger.cold.imports("FRIDGE")[0])
    (fact,) = back(bench).facts
    assert isinstance(fact.body, f.ReadingsWithdrawn)
    assert len(fact.body.imports) == 2
    assert standing(bench) == []


@settings(max_examples=30)
@given(st.randoms(use_true_random=False))
def test_taken_back_and_seen_come_to_the_same_in_any_order(chance: object) -> None:
    bench, _ = in_the_morning(Policy.WARN)
    take_in(bench, track("2026-11-09T18:00", *WARM_HALF_AN_HOUR), "early.csv")
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    see(bench)
    back(bench)
    told = list(bench.journal.facts())
    chance.shuffle(told)  # type: ignore[attr-defined]
    other = ColdRecord()
    for fact in told:
        other.note(fact)
    cold = bench.station.ledger.cold
    assert other.excursions("FRIDGE") == cold.excursions("FRIDGE")
    assert other.files("FRIDGE") == cold.files("FRIDGE")
    assert (other.unseen("FRIDGE"), other.taken_back("FRIDGE")) == ((), cold.taken_back("FRIDGE"))


@pytest.mark.parametrize(
    ("told", "said"),
    [
        (TakeBack("FRIDGE", "?", Mistake.STORE, "wrong store"), "does not count any more"),
        (TakeBack("FRIDGE", "?", Mistake.STORE, " "), "what was wrong"),
        (TakeBack("CELLAR", "?", Mistake.STORE, "wrong store"), "does not count any more"),
    ],
)
def test_what_can_not_be_taken_back_is_refused(told: TakeBack, said: str) -> None:
    bench, _ = in_the_morning()
    with pytest.raises(Refused, match=said):
        take_back(bench.floor, told, LEAD)


def test_only_a_lead_takes_back_and_sees() -> None:
    bench, _ = wrong_zone(Policy.WARN)
    with pytest.raises(Refused, match="Only a shift lead"):
        take_back(bench.floor, TakeBack("FRIDGE", files(bench)[0], Mistake.ZONE, "zone"), OPERATOR)
    with pytest.raises(Refused, match="Only a shift lead"):
        seen(bench.floor, "FRIDGE", (), "door", None)
    with pytest.raises(Refusal):
        see_excursions(bench.station, "FRIDGE", unseen(bench), "door", Proof(OPERATOR, "1212"))


# ---------------------------------------------------------------------- seen


def unseen(bench: Bench) -> tuple[f.ExcursionFound, ...]:
    return bench.station.ledger.cold.unseen("FRIDGE")


def see(bench: Bench) -> Outcome:
    return see_excursions(bench.station, "FRIDGE", unseen(bench), "door stood open", PROOF)


def test_what_a_lead_has_seen_is_seen_until_it_goes_further() -> None:
    bench, jar = in_the_morning()
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR[:6]))
    with pytest.raises(Refused, match="what you found"):
        see_excursions(bench.station, "FRIDGE", unseen(bench), " ", PROOF)
    verdict = see(bench).verdict
    assert verdict is not None
    assert "1 excursion of Refrigerator" in verdict.why
    assert (unseen(bench), len(bench.container(jar).holds)) == ((), 1)
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR), "more.csv")
    assert len(unseen(bench)) == 1


def test_a_peak_that_grows_is_to_be_seen_again() -> None:
    bench, _ = in_the_morning(Policy.LOG)
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    see(bench)
    take_in(bench, track("2026-11-09T22:21", 12.0, 15.0, 12.0), "b.csv")
    assert [one.peak_c for one in unseen(bench)] == [15.0]


def test_what_was_not_shown_is_not_seen() -> None:
    """The file came in while the lead was reading the list."""
    bench, _ = in_the_morning(Policy.LOG)
    nothing = unseen(bench)
    with pytest.raises(Refused, match="A shift lead has seen all of these"):
        see_excursions(bench.station, "FRIDGE", nothing, "door", PROOF)
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR[:5]))
    shown = unseen(bench)
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR), "more.csv")
    with pytest.raises(Refused, match="has grown since"):
        see_excursions(bench.station, "FRIDGE", shown, "door", PROOF)
    take_in(bench, track("2026-11-09T18:00", *WARM_HALF_AN_HOUR), "early.csv")
    both = see_excursions(bench.station, "FRIDGE", unseen(bench), "door", PROOF)
    assert len(both.facts) == 2
    with pytest.raises(Refused, match="A shift lead has seen all of these"):
        see_excursions(bench.station, "FRIDGE", shown, "door", PROOF)


def test_every_hold_is_named_however_many() -> None:
    bench = Bench(in_the_morning()[0].site, "2026-11-09T12:00")
    jars = [bench.cold() for _ in range(7)]
    bench.at("2026-11-10T08:00")
    first, second = track(NIGHT, *WARM_HALF_AN_HOUR), track("2026-11-10T02:00", *WARM_HALF_AN_HOUR)
    take_in(bench, Track(first.at + second.at, first.celsius + second.celsius))
    outcome = back(bench)
    assert outcome.verdict is not None
    named = ", ".join(f"K7 {number:03}" for number in range(1, 8))
    assert f"Still on hold: {named}." in outcome.verdict.todo
    assert "2 excursions rested on it alone and count no more." in outcome.verdict.why
    assert all(bench.container(jar).holds for jar in jars)


def test_a_store_that_the_settings_name_no_more_is_named_by_its_id() -> None:
    bench, _ = in_the_morning(Policy.LOG)
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    bench.tell(*(fact_of_cellar(one) for one in bench.station.ledger.cold.excursions("FRIDGE")))
    shown = bench.station.ledger.cold.unseen("CELLAR")
    _, verdict = seen(bench.floor, "CELLAR", shown, "door", LEAD)
    assert "1 excursion of CELLAR" in verdict.why


def fact_of_cellar(one: f.ExcursionFound) -> f.ExcursionFound:
    return f.ExcursionFound(
        "c", "CELLAR", one.logger, one.side, one.start, one.end, one.peak_c, one.outside, one.ended, None,
        one.longest_gap, (), (),
    )  # fmt: skip


def test_the_day_list_names_each_store_until_a_lead_has_seen_it() -> None:
    bench, _ = in_the_morning(Policy.LOG)
    take_in(bench, track(NIGHT, *WARM_HALF_AN_HOUR))
    rows = [row for row in day_list(bench.floor) if row.kind is DayKind.EXCURSION]
    assert [(row.subject, row.what, row.since) for row in rows] == [
        ("FRIDGE", "Refrigerator: 1 excursion, too warm, at worst 13.5 °C", berlin("2026-11-09T22:10"))
    ]
    take_in(bench, track("2026-11-10T02:00", 6.0, *([3.0] * 6), *([6.0] * 6)), "cold.csv")
    (row,) = [row for row in day_list(bench.floor) if row.kind is DayKind.EXCURSION]
    assert row.what == "Refrigerator: 2 excursions, too cold and too warm, at worst 13.5 °C"
    see(bench)
    assert [row for row in day_list(bench.floor) if row.kind is DayKind.EXCURSION] == []
    bench.restart()
    assert [row for row in day_list(bench.floor) if row.kind is DayKind.EXCURSION] == []
