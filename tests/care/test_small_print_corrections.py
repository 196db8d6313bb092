"""Small print of what is told afterwards: a receipt put right, and a take-out that nobody scanned."""

from datetime import date, timedelta

import pytest

from station.care import facts as f
from station.care.correction import Correction, CorrectionRefused, correct_receipt
from station.care.late import Late
from station.care.words import HoldReason, Limit
from station.services import lead_acts
from tests.care.bench import LEAD, Bench, berlin, site_f, site_t, with_room_paste
from tests.care.leading import PROOF, newer
from tests.care.told import kept, out_without_put_away

HOUR, DAY = timedelta(hours=1), timedelta(days=1)


def corrected(bench: Bench, jar: str, **told: object) -> f.Received:
    """What a corrected receipt says."""
    lead_acts.correct_receipt(bench.station, Correction(jar, "misread", **told), PROOF)  # type: ignore[arg-type]
    return kept(bench, f.ReceiptCorrected)[-1].received


def test_a_second_correction_keeps_the_kind_the_first_one_told() -> None:
    bench = Bench(with_room_paste(site_t()))
    jar = bench.receive()
    corrected(bench, jar, kind="CART-600")
    assert corrected(bench, jar, lot="102").kind == "CART-600"


def test_how_the_temperature_was_told_stays_unless_a_temperature_is_told() -> None:
    bench = Bench()
    jar = bench.receive(temperature_c=None, temperature_answer="not measured")
    assert corrected(bench, jar, lot="102").temperature_answer == "not measured"
    assert corrected(bench, jar, temperature_c=7.0).temperature_answer == "measured"


def test_the_time_to_the_cold_is_only_moved_with_the_arrival_or_the_paste() -> None:
    bench = Bench()
    jar = bench.receive()
    newer(bench, to_cold=6 * HOUR)
    assert corrected(bench, jar, lot="102").to_cold_by == berlin("2026-11-08T16:00")
    assert corrected(bench, jar, arrived_at=berlin("2026-11-08T11:00")).to_cold_by == berlin("2026-11-08T17:00")


@pytest.mark.parametrize("by", ["taken out", "opened"])
def test_handled_in_any_way_it_stays_the_paste_it_was_handled_as(by: str) -> None:
    bench = Bench()
    jar = bench.receive()
    out = out_without_put_away(bench, jar)
    bench.tell(out if by == "taken out" else f.Opened(jar, "2", early=False, open_end=bench.clock.wall + DAY))
    with pytest.raises(CorrectionRefused, match="handled as SN-4"):
        correct_receipt(bench.floor, Correction(jar, "misread", paste="PB-1"), LEAD)


def test_what_came_warm_and_was_judged_good_is_not_held_again_by_another_lot_code() -> None:
    bench = Bench()
    jar = bench.cold(temperature_c=40)
    bench.release_all(jar)
    corrected(bench, jar, lot="102")
    assert bench.container(jar).holds == ()


def test_a_limit_a_correction_moved_passes_anew_and_its_alarm_names_the_correction() -> None:
    bench = Bench()
    jar = bench.cold(expires=date(2026, 11, 9))
    bench.at("2026-11-10T06:00")
    corrected(bench, jar, expires=date(2026, 11, 11))
    bench.at("2026-11-12T06:00")
    (fact,) = [fact for fact in bench.journal.facts() if isinstance(fact.body, f.ReceiptCorrected)]
    assert bench.container(jar).moved == ((Limit.SHELF, fact.key),)
    assert any(alarm.endswith(f"/{fact.key}") for alarm in bench.alarms())


# ---------------------------------------------------------------------- told late


def test_a_late_take_out_records_the_store_and_what_time_out_of_the_cold_was_spent() -> None:
    bench = Bench()
    jar = bench.cold(arrived_at=berlin("2026-11-08T10:00"))
    bench.at("2026-11-09T12:00")
    outcome = lead_acts.take_out_late(
        bench.station, Late(jar, berlin("2026-11-09T07:00"), berlin("2026-11-09T08:30"), "card on bin A1"), PROOF
    )
    (told,) = [fact.body for fact in outcome.facts if isinstance(fact.body, f.TakenOut)]
    assert (told.container, told.store, told.cold_c, told.spent) == (jar, "FRIDGE", 5, 2 * HOUR)


@pytest.mark.parametrize(("seconds", "over"), [(0, False), (1, True)])
def test_told_in_the_last_minute_of_its_life_it_is_not_over_yet(seconds: float, over: bool) -> None:
    bench = Bench()
    jar = bench.cold()
    bench.at("2026-11-16T07:00").later(seconds / 60)
    late = Late(jar, berlin("2026-11-09T07:00"), berlin("2026-11-09T08:30"), "card on bin A1")
    verdict = lead_acts.take_out_late(bench.station, late, PROOF).verdict
    assert verdict is not None
    assert ("OVER" in verdict.headline) == over


def test_frozen_paste_is_held_as_not_thawed_from_the_freezer_and_from_a_refrigerator_it_never_thawed_in() -> None:
    """From the freezer although its thaw once began; in the refrigerator although nothing says that it began."""
    for puts in (("FREEZER", True), ("FRIDGE", False)):
        store, begun = puts
        bench = Bench(site_f())
        jar = bench.receive("FZ-7", temperature_c=-18)
        now = bench.clock.wall
        thaw = f.ThawBegun(jar, "FREEZER", now + 12 * HOUR, now + 48 * HOUR, "FZ-7 version 1")
        bench.tell(f.PutAway(jar, store, "F1", returning=False))
        if begun:
            bench.tell(thaw, f.PutAway(jar, store, "F1", returning=False))
        bench.later(20 * 60)
        at = bench.clock.wall
        lead_acts.take_out_late(bench.station, Late(jar, at, at, "seen on camera"), PROOF)
        assert [hold.reason for hold in bench.container(jar).holds] == [HoldReason.EVALUATION]
