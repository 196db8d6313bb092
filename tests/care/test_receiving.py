"""Arrivals: shelf life from dates, and what is held at once."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from station.care.receiving import Arrival, ArrivalRefused, months_after
from station.care.verdict import Verdict
from station.care.words import HoldReason, Stage
from tests.care.bench import EXPIRES, Bench, site_t, with_limits, with_room_paste
from tests.care.leading import held_lot


@given(st.dates(date(2000, 1, 1), date(2099, 12, 31)), st.integers(1, 60))
def test_months_are_counted_as_dateutil_counts_them(anchor: date, months: int) -> None:
    # python-dateutil's relativedelta, an independent implementation
    assert months_after(anchor, months) == anchor + relativedelta(months=months)


def test_br_35_each_month_is_counted_from_the_anchor_so_the_31st_does_not_stick_at_the_28th() -> None:
    steps = [months_after(date(2027, 1, 31), count) for count in (1, 2, 3)]
    assert steps == [date(2027, 2, 28), date(2027, 3, 31), date(2027, 4, 30)]


def test_br_36_a_year_from_29_february_ends_on_28_february() -> None:
    assert months_after(date(2028, 2, 29), 12) == date(2029, 2, 28)
    assert months_after(date(2027, 8, 31), 6) == date(2028, 2, 29)


def test_br_36_paste_made_on_a_leap_day_is_received_like_any_other() -> None:
    bench = Bench(with_limits(site_t(), "SN-4", shelf_months=12), start="2028-02-29T12:00")
    jar = bench.receive(expires=None, made=date(2028, 2, 29))
    assert bench.container(jar).expires == date(2029, 2, 28)


def test_the_date_on_the_label_counts_before_the_date_of_manufacture() -> None:
    bench = Bench(with_limits(site_t(), "SN-4", shelf_months=6))
    jar = bench.receive(expires=date(2027, 1, 15), made=date(2026, 11, 1))
    assert bench.container(jar).expires == date(2027, 1, 15)


@pytest.mark.parametrize(
    ("told", "sentence"),
    [
        ({"paste": "SN-5"}, "no paste 'SN-5'"),
        ({"kind": "BARREL"}, "no container kind 'BARREL'"),
        ({"lot": "  "}, "lot is missing"),
        ({"expires": None}, "expiry date is missing"),
    ],
)
def test_what_is_missing_is_said_and_nothing_is_recorded(told: dict[str, object], sentence: str) -> None:
    bench = Bench()
    before = len(tuple(bench.journal.facts()))
    with pytest.raises(ArrivalRefused, match=sentence):
        bench.receive(**told)  # type: ignore[arg-type]
    assert len(tuple(bench.journal.facts())) == before


def test_an_arrival_lies_in_the_past() -> None:
    bench = Bench()
    with pytest.raises(ArrivalRefused, match="in the future"):
        bench.receive(arrived_at=bench.clock.wall + timedelta(minutes=1))


def test_a_number_is_received_once() -> None:
    bench = Bench()
    jar = bench.receive()
    with pytest.raises(ArrivalRefused, match="was received before"):
        bench.receive(container=jar)


def test_a_kind_without_limits_is_refused() -> None:
    bench = Bench(with_limits(with_room_paste(site_t()), "SN-4", conditioning=()))
    with pytest.raises(ArrivalRefused, match="no limits for JAR-500"):
        bench.receive()


@pytest.mark.parametrize(
    # arriving above 100 F (37.8 C) is a red flag: common practice, no source
    ("told", "reasons"),
    [
        ({"temperature_c": 37.8}, []),
        ({"temperature_c": 37.9}, [HoldReason.ARRIVED_WARM]),
        ({"temperature_c": 0}, []),
        ({"temperature_c": -0.1}, [HoldReason.ARRIVED_FROZEN]),
        ({"temperature_c": None, "temperature_answer": "not measured"}, []),
        ({"temperature_c": None, "temperature_answer": "indicator tripped"}, [HoldReason.INDICATOR]),
        ({"leaking": True}, [HoldReason.LEAKING]),
        ({"temperature_c": 40, "leaking": True}, [HoldReason.ARRIVED_WARM, HoldReason.LEAKING]),
    ],
)
def test_each_thing_wrong_on_arrival_is_a_hold_of_its_own(told: dict[str, object], reasons: list[str]) -> None:
    bench = Bench()
    jar = bench.receive(**told)  # type: ignore[arg-type]
    assert [hold.reason for hold in bench.container(jar).holds] == reasons


@pytest.mark.parametrize(
    # 25 C, 37.8 C (100 F) and 0 C: common practice, no source
    ("told", "note"),
    [
        ({"temperature_c": 25}, ""),
        ({"temperature_c": 25.1}, "It came at 25.1 C, above 25 C: put it away at once and tell the shift lead."),
        ({"temperature_c": 37.8}, "It came at 37.8 C, above 25 C: put it away at once and tell the shift lead."),
        ({"temperature_c": 37.9}, "On hold: arrived too warm (37.9 C on arrival)."),
        ({"temperature_c": -0.1}, "On hold: arrived below freezing (-0.1 C on arrival)."),
        ({"temperature_c": None, "temperature_answer": "not measured"}, ""),
        ({"temperature_c": None, "temperature_answer": "indicator tripped"}, "On hold: temperature indicator tripped."),
        (
            {"temperature_c": 26, "leaking": True},
            "On hold: leaking or damaged on arrival. "
            "It came at 26 C, above 25 C: put it away at once and tell the shift lead. LEAKING: K7 001. Gloves on, keep"
            " it apart, upright in a tray or a closed bag, by the safety data sheet and your local rules; its label"
            " goes on that one.",
        ),
    ],
)
def test_whoever_receives_hears_what_is_held_and_what_came_warm(told: dict[str, object], note: str) -> None:
    bench = Bench()
    verdict = received(bench, told)
    headline = "1 RECEIVED, ON HOLD" if "On hold" in note else "1 RECEIVED"
    assert (verdict.word, verdict.headline, verdict.why) == ("DONE", headline, "K7 001 received.")
    assert verdict.note == note


@pytest.mark.parametrize(("fahrenheit", "held"), [("100", False), ("100.0", False), ("100.2", True), ("32", False)])
def test_100_f_is_the_last_that_is_not_held_and_100_2_f_is_held(fahrenheit: str, held: bool) -> None:
    # 100 F is 37.78 C, 100.2 F is 37.89 C
    bench = Bench()
    jar = bench.receive(temperature_c=round((float(fahrenheit) - 32) * 5 / 9, 2))
    assert bench.container(jar).held is held


def test_several_of_one_delivery_are_told_together() -> None:
    verdict = received(Bench(), {"temperature_c": 30}, {"temperature_c": 30})
    assert (verdict.headline, verdict.why) == ("2 RECEIVED", "K7 001 to K7 002 received.")
    assert verdict.note.count("30 C") == 1


def test_what_is_held_of_a_delivery_stands_in_the_headline_and_where_it_goes() -> None:
    verdict = received(Bench(), {"temperature_c": 8}, {"temperature_c": 40})
    assert verdict.headline == "2 RECEIVED, 1 ON HOLD"
    assert verdict.todo.endswith("What is on hold: into a hold bin, and call the shift lead.")
    assert received(Bench(), {"temperature_c": 40}, {"temperature_c": 40}).headline == "2 RECEIVED, ON HOLD"


def test_a_delivery_of_a_held_lot_is_on_hold_at_once_with_what_the_lead_wrote() -> None:
    bench = Bench()
    held_lot(bench, note="recall by the maker.")
    verdict = received(bench, {}, {})
    assert verdict.headline == "2 RECEIVED, ON HOLD"
    assert verdict.note == "On hold: lot on hold since 12:00: recall by the maker."


def test_one_that_came_too_late_for_the_cold_is_received_on_hold() -> None:
    bench = Bench()
    verdict = received(bench, {"arrived_at": bench.clock.wall - timedelta(hours=5)})
    assert (verdict.headline, verdict.note) == ("1 RECEIVED, ON HOLD", "On hold: late to cold storage.")


def received(bench: Bench, *told: dict[str, object]) -> Verdict:
    arrivals = []
    for entry in told:
        name = bench.station.new_container()
        arrival = Arrival(name, "SN-4", "JAR-500", "101", EXPIRES, None, bench.clock.wall, 8, "measured", leaking=False)
        arrivals.append(replace(arrival, **entry))  # type: ignore[arg-type]
    verdict = bench.station.receive(arrivals, None).verdict
    assert verdict is not None
    return verdict


def test_the_four_hours_to_cold_storage_run_from_the_dock_and_the_last_minute_belongs_to_them() -> None:
    bench = Bench()
    jar = bench.receive()
    bench.later(240)
    assert bench.alarms() == []
    bench.later(0.02)
    assert [alarm.split("/")[0] for alarm in bench.alarms()] == ["time to cold storage"]
    assert [hold.reason for hold in bench.container(jar).holds] == [HoldReason.LATE_TO_COLD]


def test_room_class_paste_has_no_time_to_cold_storage_but_must_reach_its_shelf_before_use() -> None:
    bench = Bench(with_room_paste(site_t()))
    jar = bench.receive("BI-9")
    assert bench.container(jar).to_cold_by is None
    assert bench.floor.stage(bench.container(jar)) is Stage.RECEIVED
    verdict = bench.scan(jar, "LINE1")
    assert (verdict.word, verdict.headline) == ("STOP", "NOT ON ITS SHELF YET")
    bench.scan(jar, "SHELF")
    bench.later(1)
    assert bench.scan(jar, "LINE1").code == "opening-check"
