"""What was said wrongly of a whole delivery, put right: holds that follow come, and none goes by itself."""

from datetime import timedelta

import pytest

from station.care import facts as f
from station.care.correction import Correction, CorrectionRefused
from station.care.delivery_correction import DeliveryCorrection, as_told, correct_delivery, delivery_of, no_longer
from station.care.delivery_rules import Box, Consequence, Packs
from station.care.words import Ending, HoldReason
from station.services.delivery import put_delivery_right
from station.services.lead_acts import correct_receipt
from station.services.outcome import Outcome, Refusal
from station.services.station import Proof
from tests.care.bench import LEAD, Bench, site_t, with_room_paste
from tests.care.fleet import Fleet
from tests.care.leading import OPERATOR, PROOF
from tests.care.test_delivery import holds, ruled, truck, written
from tests.care.test_folds import picture, replayed

DELIVERY = "DK7-001"
SECOND = "K7-002"


def put_right(bench: Bench, **told: object) -> Outcome:
    return put_delivery_right(bench.station, DeliveryCorrection(DELIVERY, "misread", **told), PROOF)  # type: ignore[arg-type]


def refusal(bench: Bench, told: DeliveryCorrection, person: str | None = LEAD) -> str:
    with pytest.raises(CorrectionRefused) as refused:
        correct_delivery(bench.floor, told, person)
    return str(refused.value)


def todo(outcome: Outcome) -> str:
    assert outcome.verdict is not None
    return outcome.verdict.todo


# ------------------------------------------------------------------ refused


@pytest.mark.parametrize("person", [OPERATOR, None])
def test_only_a_shift_lead_corrects_a_delivery(person: str | None) -> None:
    bench = Bench()
    truck(bench, {})
    told = DeliveryCorrection(DELIVERY, "misread", box=Box.WET)
    assert refusal(bench, told, person) == "Only a shift lead corrects a delivery. Badge in with your PIN."
    with pytest.raises(Refusal):
        put_delivery_right(bench.station, told, Proof(LEAD, "0000"))


@pytest.mark.parametrize(
    ("told", "sentence"),
    [
        (DeliveryCorrection("DK7-009", "misread", box=Box.WET), "no delivery of it"),
        (DeliveryCorrection(DELIVERY, " ", box=Box.WET), "what was wrong"),
        (DeliveryCorrection(DELIVERY, "misread"), "Nothing differs"),
        (DeliveryCorrection(DELIVERY, "misread", temperature_answer="measured", temperature_c=5.0), "Nothing differs"),
        (DeliveryCorrection(DELIVERY, "misread", temperature_answer="measured"), "Give the temperature"),
    ],
)
def test_what_can_not_be_corrected_is_refused_and_nothing_recorded(told: DeliveryCorrection, sentence: str) -> None:
    bench = Bench()
    truck(bench, {})
    before = len(written(bench))
    assert sentence in refusal(bench, told)
    assert len(written(bench)) == before


def test_one_received_by_itself_came_with_no_delivery() -> None:
    bench = Bench()
    jar = bench.receive()
    assert delivery_of(bench.floor, bench.container(jar)) == ""
    assert no_longer(bench.floor, ()) == ()


# ------------------------------------------------------------------ what follows


def test_a_box_that_was_damaged_after_all_holds_every_container_that_came_in_it() -> None:
    bench = Bench()
    truck(bench, {}, {"lot": "102"}, box=Box.SOUND)
    other = bench.receive()
    outcome = put_right(bench, box=Box.DAMAGED)
    assert outcome.verdict is not None
    assert "On hold now: K7 001, K7 002." in outcome.verdict.why
    assert (holds(bench), holds(bench, SECOND), holds(bench, other)) == (
        [HoldReason.BOX_DAMAGED],
        [HoldReason.BOX_DAMAGED],
        [],
    )
    told = as_told(bench.floor, DELIVERY)
    assert told is not None
    assert (told[1].box, told[1].packs, told[1].temperature_c) == ("damaged", "", 5.0)


def test_a_warm_truck_corrects_every_receipt_and_holds() -> None:
    """Plant T: on hold above 37.8 C (100 F)."""
    bench = Bench()
    truck(bench, {}, {})
    put_right(bench, temperature_answer="measured", temperature_c=41.0)
    assert holds(bench) == holds(bench, SECOND) == [HoldReason.ARRIVED_WARM]
    assert bench.container(SECOND).temperature_c == 41.0
    corrected = [body for body in written(bench) if isinstance(body, f.ReceiptCorrected)]
    assert [body.received.temperature_answer for body in corrected] == ["measured", "measured"]


def test_still_too_warm_by_the_right_figure_it_is_held_once() -> None:
    bench = Bench()
    truck(bench, {}, temperature_c=41.0)
    put_right(bench, temperature_answer="measured", temperature_c=42.0)
    assert holds(bench) == [HoldReason.ARRIVED_WARM]


def test_a_tripped_indicator_holds() -> None:
    bench = Bench()
    truck(bench, {})
    put_right(bench, temperature_answer="indicator tripped", temperature_c=5.0)
    assert holds(bench) == [HoldReason.INDICATOR]
    assert bench.container("K7-001").temperature_c is None


def test_a_receipt_that_was_corrected_by_itself_keeps_its_own_temperature() -> None:
    bench = Bench()
    truck(bench, {}, {})
    correct_receipt(bench.station, Correction(SECOND, "its own logger", temperature_c=8), PROOF)
    put_right(bench, temperature_answer="measured", temperature_c=41.0)
    assert (bench.container(SECOND).temperature_c, holds(bench, SECOND)) == (8, [])


def test_a_warning_is_said_anew_and_that_of_a_short_shelf_life_stays() -> None:
    bench = Bench(with_room_paste(site_t()))
    truck(bench, {}, {"paste": "BI-9", "kind": "CART-600"}, box=Box.WET)
    put_right(bench, box=Box.SOUND, packs=Packs.MELTED)
    told = as_told(bench.floor, DELIVERY)
    assert told is not None
    assert told[1].warned == ("cold packs melted on arrival",)
    bench.tell(f.Delivered("DX", bench.clock.wall, 5.0, "measured", "", "wet", None, False, (), ("lot A ends soon",)))
    (body, *_) = correct_delivery(bench.floor, DeliveryCorrection("DX", "misread", box=Box.SOUND), LEAD)
    assert isinstance(body, f.DeliveryCorrected)
    assert body.warned == ("lot A ends soon",)


def test_ended_containers_are_left_alone() -> None:
    bench = Bench()
    truck(bench, {}, {})
    bench.tell(f.Ended("K7-001", Ending.DISCARDED, "", "", None))
    put_right(bench, box=Box.DAMAGED)
    assert (holds(bench), holds(bench, SECOND)) == ([], [HoldReason.BOX_DAMAGED])


# ------------------------------------------------------------------ what no longer follows


def test_what_no_longer_follows_stays_on_hold_until_a_lead_releases_it() -> None:
    bench = Bench()
    truck(bench, {}, {"leaking": True}, box=Box.DAMAGED)
    said = todo(put_right(bench, box=Box.SOUND))
    assert said == "These holds no longer follow; judge and release each: K7 001, K7 002."
    assert holds(bench) == [HoldReason.BOX_DAMAGED]
    bench.release_all("K7-001")
    assert holds(bench) == []


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ((41.0, "measured"), (5.0, "measured")),
        ((None, "indicator tripped"), (5.0, "measured")),
        ((-3.0, "measured"), (None, "not measured")),
    ],
)
def test_of_a_temperature_too(before: tuple[float | None, str], after: tuple[float | None, str]) -> None:
    bench = Bench()
    truck(bench, {}, temperature_c=before[0], temperature_answer=before[1])
    standing = holds(bench)
    assert len(standing) == 1
    outcome = put_right(bench, temperature_c=after[0], temperature_answer=after[1])
    assert todo(outcome) == "These holds no longer follow; judge and release each: K7 001."
    assert holds(bench) == standing


def test_what_still_follows_is_not_named_and_not_held_twice() -> None:
    bench = ruled(box_damaged=Consequence.HOLD)
    truck(bench, {}, box=Box.DAMAGED, temperature_c=None, temperature_answer="indicator tripped")
    assert todo(put_right(bench, packs=Packs.MELTED)) == "Go on."
    assert holds(bench) == [HoldReason.INDICATOR, HoldReason.BOX_DAMAGED]


def test_what_a_lead_released_stays_released_when_something_else_is_corrected() -> None:
    bench = Bench()
    truck(bench, {}, box=Box.DAMAGED)
    bench.release_all("K7-001")
    put_right(bench, packs=Packs.MELTED)
    assert holds(bench) == []


def test_corrected_twice_the_later_word_stands_and_a_restart_has_the_same() -> None:
    bench = Bench()
    truck(bench, {}, box=Box.SOUND)
    put_right(bench, box=Box.WET)
    bench.later(1)
    put_right(bench, box=Box.DAMAGED)
    told = as_told(bench.floor, DELIVERY)
    assert told is not None
    assert told[1].box == "damaged"
    assert picture(replayed(list(bench.journal.facts())))[:1] == picture(bench.station.ledger)[:1]
    assert as_told(bench.restart().floor, DELIVERY) == told


def test_a_delivery_of_another_station_is_corrected_here_once_they_have_met() -> None:
    fleet = Fleet()
    truck(fleet["A"], {}, box=Box.SOUND)
    assert as_told(fleet["B"].floor, DELIVERY) is None
    fleet.later(5).meet("A", "B")
    put_right(fleet["B"], box=Box.DAMAGED)
    for seed in range(3):
        fleet.meet("A", "B", seed)
    assert holds(fleet["A"]) == [HoldReason.BOX_DAMAGED]
    assert fleet["A"].clock.wall - fleet["A"].container("K7-001").arrived_at == timedelta(minutes=5)
