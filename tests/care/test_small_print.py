"""Small print of the rules that a day at the line seldom shows: what a fact records, and ends told by two stations."""

from datetime import UTC, date, timedelta
from zoneinfo import ZoneInfo

import pytest

from station.care import facts as f
from station.care.excursions import Reading, survey
from station.care.filled import lot_of
from station.care.kinetic import mean_kinetic_c
from station.care.late import Late
from station.care.moments import end_of_day, minute_up_span
from station.care.outside import Limits, Span
from station.care.saying import loud_a
from station.care.words import Card
from station.services import lead_acts
from tests.care.bench import Bench, berlin
from tests.care.leading import PROOF

HOUR, MINUTE, SECOND = timedelta(hours=1), timedelta(minutes=1), timedelta(seconds=1)


@pytest.mark.parametrize(("seconds", "minutes"), [(0, 0), (1, 1), (60, 1), (61, 2), (119, 2), (120, 2)])
def test_a_length_is_rounded_up_to_whole_minutes(seconds: float, minutes: float) -> None:
    assert minute_up_span(seconds * SECOND) == minutes * MINUTE


def test_the_end_of_a_day_is_an_instant_in_utc() -> None:
    assert end_of_day(date(2027, 4, 30), ZoneInfo("Europe/Berlin")).tzinfo is UTC


def test_a_headline_keeps_the_whole_name_behind_its_article() -> None:
    assert loud_a("Sn-Ag-Cu paste, fine") == "AN Sn-Ag-Cu paste, fine"


def test_what_was_filled_from_one_lot_keeps_its_code_and_from_several_says_so() -> None:
    bench = Bench()
    jars = [bench.container(bench.cold(lot=lot)) for lot in ("A7", "A7", "B1")]
    assert lot_of(jars[:2]) == "A7"
    assert lot_of(jars) == "several"


def test_a_late_take_out_records_every_figure_it_was_reckoned_with() -> None:
    bench = Bench(start="2026-11-08T12:00")
    jar = bench.cold()
    bench.station.read_room(22, 45, None)
    bench.at("2026-11-09T12:00")
    late = Late(jar, berlin("2026-11-09T07:00"), berlin("2026-11-09T08:30"), "card on bin A1")
    outcome = lead_acts.take_out_late(bench.station, late, PROOF)
    (told,) = [fact.body for fact in outcome.facts if isinstance(fact.body, f.TakenOut)]
    limits = bench.limits()
    assert (told.supplier_minimum, told.room_life) == (3 * HOUR, limits.room_life)
    assert (told.room_c, told.humidity, told.cold_c, told.zone) == (22, 45, 5, "Europe/Berlin")
    assert told.warm_up is not None
    assert told.dew_wait is not None
    # 10 min + 45 min * ln(17 / 2), from 5 C to within 2 K of 22 C
    assert told.warm_up == pytest.approx(timedelta(minutes=106.3), abs=6 * SECOND)
    assert HOUR > told.dew_wait > timedelta(0)
    assert told.specification == "SN-4 version 1"


def test_a_pause_begun_by_a_clock_found_slow_is_not_made_shorter() -> None:
    bench = Bench()
    bench.on_line()
    bench.tag_card("1", Card.PAUSE, "LINE1")
    before = bench.position("1").bead
    bench.step(30)
    bench.station.confirm_clock(PROOF.badge, PROOF.pin)
    after = bench.position("1").bead
    assert before is not None
    assert after is not None
    assert after.paused_at == before.paused_at


def test_a_pause_begun_by_a_clock_found_fast_counts_from_the_earlier_instant() -> None:
    bench = Bench()
    bench.on_line()
    bench.tag_card("1", Card.PAUSE, "LINE1")
    before = bench.position("1").bead
    bench.step(-30)
    bench.station.confirm_clock(PROOF.badge, PROOF.pin)
    after = bench.position("1").bead
    assert before is not None
    assert before.paused_at is not None
    assert after is not None
    assert after.paused_at == before.paused_at - 30 * MINUTE


def test_a_long_cool_spell_weighs_more_in_the_kinetic_mean_than_a_short_warm_one() -> None:
    """20 h at 5 C and 4 h at 23 C make 11.65 C (dH/R = 10000 K, USP <1160>)."""
    start = berlin("2026-11-24T00:00")
    readings = [Reading(start, 5.0), Reading(start + 20 * HOUR, 23.0), Reading(start + 24 * HOUR, 23.0)]
    seen = survey(readings, Limits(2, 8, 0.5, timedelta(0)), 24 * HOUR, Span(start, start + 24 * HOUR))
    assert seen.kinetic_c == pytest.approx(mean_kinetic_c([5, 23], [20, 4]), abs=1e-9)
    assert seen.kinetic_c == pytest.approx(11.650721, abs=1e-5)


def test_a_scan_that_was_asked_about_is_recorded_with_its_code_and_container() -> None:
    bench = Bench(start="2026-11-08T14:00")  # the bead ends 01:11, the shelf life of the other jar at 23:59
    bench.on_line(expires=date(2026, 12, 31))
    short = bench.ready(expires=date(2026, 11, 8))
    bench.scan(short, "LINE2")
    bench.card(Card.LOOKS_GOOD, "LINE2")
    bench.later(1).scan(short, "LINE1")
    refused = [fact.body for fact in bench.journal.facts() if isinstance(fact.body, f.ScanRefused)]
    assert [(body.container, body.code) for body in refused] == [(short, "would-shorten")]


def test_an_unread_scan_is_recorded_with_the_first_of_its_text() -> None:
    bench = Bench()
    bench.station.scan(("Q" * 200,), "LINE1")
    (refused,) = [fact.body for fact in bench.journal.facts() if isinstance(fact.body, f.ScanRefused)]
    assert (refused.code, refused.text) == ("unread", "Q" * 80)
