"""Deliveries: all of one truck in one piece, every reason apart, and lots that await their test."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from station.care import facts as f
from station.care.correction import Correction
from station.care.delivery import Delivery, deliver
from station.care.delivery_rules import Box, Consequence, DeliveryRules, Packs
from station.care.lots import LotRefused
from station.care.receiving import Arrival, ArrivalRefused
from station.care.verdict import Verdict
from station.care.words import Card, HoldReason
from station.services.attaching import Enclosed
from station.services.delivery import receive_delivery
from station.services.lead_acts import correct_receipt, hold_lot, recertify_lot, release_lot
from station.services.outcome import Refusal
from tests.care.bench import EXPIRES, Bench, site_t, with_room_paste
from tests.care.fleet import Fleet
from tests.care.leading import ENGINEER_PROOF, PROOF, held_lot, released_lot

LOT = "SN-4/101"


def with_tests(months: int | None = None) -> Bench:
    """Plant T where every new lot of SN-4 awaits its incoming test."""
    site = site_t()
    paste = replace(site.plant.pastes["SN-4"], incoming_test=True, least_shelf_months=months)
    return Bench(replace(site, plant=replace(site.plant, pastes={**site.plant.pastes, "SN-4": paste})))


def ruled(**rules: Consequence) -> Bench:
    site = site_t()
    changed = replace(site.plant.rules, delivery=DeliveryRules(**rules))
    return Bench(replace(site, plant=replace(site.plant, rules=changed)))


def arrival(bench: Bench, **told: object) -> Arrival:
    name = bench.station.new_container()
    plain = Arrival(
        name, "SN-4", "JAR-500", "101", EXPIRES, None, bench.clock.wall, None, "not measured", leaking=False
    )
    return replace(plain, **told)  # type: ignore[arg-type]


def truck(bench: Bench, *told: dict[str, object], loggers: tuple[Enclosed, ...] = (), **about: object) -> Verdict:
    arrivals = [arrival(bench, **entry) for entry in told]
    delivery = replace(Delivery("", bench.clock.wall, 5.0, "measured"), **about)  # type: ignore[arg-type]
    verdict = receive_delivery(bench.station, delivery, arrivals, None, loggers).verdict
    assert verdict is not None
    return verdict


def holds(bench: Bench, name: str = "K7-001") -> list[HoldReason]:
    return [hold.reason for hold in bench.container(name).all_holds]


def written(bench: Bench) -> list[f.Body]:
    return [fact.body for fact in bench.journal.facts()]


def test_every_container_of_a_truck_has_its_dock_time_and_temperature() -> None:
    bench = Bench()
    at_dock = bench.clock.wall - timedelta(hours=1)
    truck(bench, {}, {"lot": "102"}, arrived_at=at_dock, temperature_c=4.0, days_under_way=3)
    told = [body for body in written(bench) if isinstance(body, f.Received)]
    (whole,) = [body for body in written(bench) if isinstance(body, f.Delivered)]
    assert {(body.arrived_at, body.temperature_c, body.temperature_answer) for body in told} == {
        (at_dock, 4.0, "measured")
    }
    assert {body.delivery for body in told} == {whole.delivery}
    assert (whole.days_under_way, whole.logger_in_box, whole.digests) == (3, False, ())


def test_one_wrong_lot_and_nothing_of_the_truck_is_recorded_and_no_file_kept() -> None:
    bench = Bench()
    before = len(written(bench))
    with pytest.raises(ArrivalRefused, match="lot is missing"):
        truck(bench, {}, {"lot": ""}, loggers=(Enclosed("a.csv", b"1"),))
    assert (len(written(bench)), list(bench.station.evidence.digests())) == (before, [])


@pytest.mark.parametrize(
    ("about", "sentence"), [({"days_under_way": 366}, "366 days"), ({"days_under_way": -1}, "-1 days")]
)
def test_days_that_no_truck_takes_are_refused(about: dict[str, object], sentence: str) -> None:
    with pytest.raises(ArrivalRefused, match=sentence):
        truck(Bench(), {}, **about)  # type: ignore[arg-type]


def test_a_delivery_of_nothing_and_a_number_told_twice_are_refused() -> None:
    bench = Bench()
    with pytest.raises(ArrivalRefused, match="Nothing was received"):
        truck(bench)
    jar = arrival(bench)
    with pytest.raises(ArrivalRefused, match="twice"):
        deliver(bench.station.floor(), None, [jar, jar])


@pytest.mark.parametrize(
    ("about", "held", "warned"),
    [
        ({"box": Box.DAMAGED}, [HoldReason.BOX_DAMAGED], ""),
        ({"box": Box.WET}, [], "Look at it: box wet on arrival."),
        ({"box": Box.SOUND, "packs": Packs.FROZEN}, [], ""),
        ({"packs": Packs.MELTED}, [], "Look at it: cold packs melted on arrival."),
        ({"packs": Packs.NONE}, [], "Look at it: no cold packs in the box."),
        ({"temperature_c": None, "temperature_answer": "indicator tripped"}, [HoldReason.INDICATOR], ""),
    ],
)
def test_the_look_of_a_box_warns_or_holds(about: dict[str, object], held: list[HoldReason], warned: str) -> None:
    """Common practice, no source."""
    bench = Bench()
    verdict = truck(bench, {}, {}, **about)  # type: ignore[arg-type]
    assert (holds(bench), holds(bench, "K7-002")) == (held, held)
    assert verdict.note.endswith(warned)
    assert ("Look at it" in verdict.note) == bool(warned)


def test_a_site_may_be_stricter_or_less_strict_and_each_reason_is_released_by_itself() -> None:
    bench = ruled(packs_melted=Consequence.HOLD, box_damaged=Consequence.LOG)
    truck(bench, {"leaking": True}, packs=Packs.MELTED, box=Box.DAMAGED)
    assert holds(bench) == [HoldReason.LEAKING, HoldReason.PACKS_MELTED]
    bench.station.release("K7-001", bench.container("K7-001").holds[1].key, "measured", PROOF.badge, PROOF.pin)
    assert holds(bench) == [HoldReason.LEAKING]


def test_melted_packs_say_nothing_of_paste_that_is_never_cold() -> None:
    bench = Bench(with_room_paste(site_t()))
    verdict = truck(bench, {"paste": "BI-9"}, packs=Packs.MELTED)
    assert "packs" not in verdict.note


def test_leaded_paste_is_said_in_the_headline() -> None:
    verdict = truck(Bench(), {"paste": "PB-1"}, {})
    assert verdict.headline == "2 RECEIVED, LEADED (Pb)"
    assert "LEADED (Pb): PB-1." in verdict.note


@pytest.mark.parametrize(
    ("months", "expires", "warned"),
    [
        (3, date(2027, 2, 8), ""),
        (3, date(2027, 2, 7), "less than the 3 months wanted"),
        (1, date(2026, 12, 7), "less than the 1 month wanted"),
        (None, date(2026, 11, 9), ""),
    ],
)
def test_the_least_shelf_life_at_the_dock_is_counted_to_the_day(months: int | None, expires: date, warned: str) -> None:
    """Received on 8 November 2026; three months on is 8 February, and that day is enough."""
    verdict = truck(with_tests(months), {"expires": expires})
    assert ("Look at it: lot 101 of SN-4 ends" in verdict.note) == bool(warned)
    assert warned in verdict.note


def test_a_new_lot_awaits_its_test_and_so_does_what_comes_of_it_later() -> None:
    bench = with_tests()
    verdict = truck(bench, {}, {"lot": " 101 "})
    assert "On hold: awaits incoming test" in verdict.note
    truck(bench, {})
    assert [holds(bench, name) for name in ("K7-001", "K7-003")] == [[HoldReason.INCOMING_TEST]] * 2
    assert sum(isinstance(body, f.LotHeld) for body in written(bench)) == 1


def test_a_lot_received_by_itself_awaits_its_test_too() -> None:
    bench = with_tests()
    assert holds(bench, bench.receive()) == [HoldReason.INCOMING_TEST]


def test_a_document_releases_the_lot_once_for_all_with_its_certificate() -> None:
    bench = with_tests()
    truck(bench, {})
    hold = bench.station.ledger.lots[LOT].holds[0].key
    with pytest.raises(LotRefused, match="certificate or test report"):
        release_lot(bench.station, LOT, hold, "passed", PROOF)
    with pytest.raises(Refusal):
        release_lot(bench.station, LOT, hold, "passed", replace(PROOF, badge="P12"), "Report 12")
    file = Enclosed("report.pdf", b"passed")
    release_lot(bench.station, LOT, hold, "passed", ENGINEER_PROOF, "Report 12", (file,))
    kept = [body for body in written(bench) if isinstance(body, f.Attached)][-1]
    assert (kept.about, kept.note, bench.station.evidence.fetch(kept.digest)) == (f"lot:{LOT}", "Report 12", b"passed")
    truck(bench, {})
    assert [holds(bench, name) for name in ("K7-001", "K7-002")] == [[], []]


def test_one_test_ends_what_two_stations_told_but_no_other_hold() -> None:
    bench = with_tests()
    truck(bench, {})
    bench.tell(f.LotHeld(LOT, "", HoldReason.INCOMING_TEST))
    held_lot(bench)
    first, _, _ = bench.station.ledger.lots[LOT].holds
    release_lot(bench.station, LOT, first.key, "passed", PROOF, "Report 12")
    assert holds(bench) == [HoldReason.LOT]
    released_lot(bench)
    assert holds(bench) == []


def test_an_engineer_alone_releases_no_recall() -> None:
    bench = Bench()
    bench.receive()
    held_lot(bench)
    recall = bench.station.ledger.lots[LOT].holds[0].key
    with pytest.raises(Refusal):
        release_lot(bench.station, LOT, recall, "fine", ENGINEER_PROOF, "Report 12")


def test_a_corrected_lot_that_is_new_awaits_its_test() -> None:
    bench = with_tests()
    truck(bench, {})
    correct_receipt(bench.station, Correction("K7-001", "misread", lot="201"), PROOF)
    assert holds(bench) == [HoldReason.INCOMING_TEST]
    assert bench.station.ledger.lots["SN-4/201"].holds


def test_files_are_kept_with_a_delivery_a_held_lot_and_a_new_expiry() -> None:
    bench = Bench()
    truck(bench, {}, loggers=(Enclosed("box.csv", b"1;4"),))
    hold_lot(bench.station, "SN-4", "101", "recall", PROOF, (Enclosed("letter.pdf", b"x"),))
    both = (PROOF, ENGINEER_PROOF)
    recertify_lot(bench.station, "SN-4", "101", date(2027, 6, 30), "letter 7", both, (Enclosed("seven.pdf", b"y"),))
    whole = next(body for body in written(bench) if isinstance(body, f.Delivered))
    kept = [(body.about, body.name) for body in written(bench) if isinstance(body, f.Attached)]
    assert kept == [
        (f"delivery:{whole.delivery}", "box.csv"),
        (f"lot:{LOT}", "letter.pdf"),
        (f"lot:{LOT}", "seven.pdf"),
    ]
    assert whole.logger_in_box
    assert bench.station.evidence.fetch(whole.digests[0]) == b"1;4"


# ---------------------------------------------------------------------- stations with other settings


def apart() -> Fleet:
    """A's settings ask for no incoming test, B's do; the two have not met."""
    fleet = Fleet(site=with_tests().site)
    fleet["A"].site = replace(site_t(), station=7)
    fleet["A"].restart()
    return fleet


def test_a_lot_that_came_in_where_no_test_is_asked_awaits_it_where_one_is() -> None:
    fleet = apart()
    jar = fleet["A"].cold()
    fleet.meet("A", "B")
    fleet.later(1)
    assert holds(fleet["B"], jar) == [HoldReason.INCOMING_TEST]
    assert fleet.later(11)["B"].scan(jar, "FRIDGE").code == "held"
    fleet.meet("A", "B")
    assert holds(fleet["A"], jar) == [HoldReason.INCOMING_TEST]
    lot = fleet["B"].station.ledger.lots[LOT]
    release_lot(fleet["B"].station, LOT, lot.holds[0].key, "passed", PROOF, "Report 12")
    fleet["B"].restart()
    second = fleet["A"].cold()
    fleet.meet("A", "B")
    fleet.later(1)
    assert [holds(fleet["B"], name) for name in (jar, second)] == [[], []]


def test_power_lost_before_it_was_told_the_next_start_tells_it() -> None:
    fleet = apart()
    jar = fleet["A"].cold()
    fleet["B"].journal.take(fleet["A"].journal.facts())
    fleet["B"].restart()
    assert holds(fleet["B"], jar) == [HoldReason.INCOMING_TEST]


def test_what_has_ended_elsewhere_and_paste_no_setting_has_here_is_not_asked_about() -> None:
    fleet = apart()
    jar = fleet["A"].cold()
    fleet.later(11)["A"].scan(jar, "DESK")
    fleet["A"].card(Card.EMPTY, "DESK")
    receipt = next(body for body in written(fleet["A"]) if isinstance(body, f.Received))
    stranger = replace(receipt, container="K7-009", paste="OLD-1")
    fleet["A"].tell_own(stranger)
    fleet["B"].journal.take(fleet["A"].journal.facts())
    fleet.later(1)
    fleet["B"].restart()
    assert not [body for body in written(fleet["B"]) if isinstance(body, f.LotHeld)]


def test_the_next_of_a_lot_that_came_before_any_test_was_asked_awaits_it() -> None:
    bench = Bench()
    jar = bench.receive()
    bench.site = with_tests().site
    bench.restart()
    assert holds(bench, jar) == []
    correct_receipt(bench.station, Correction(jar, "misread", temperature_c=9), PROOF)
    assert holds(bench, jar) == []
    bench.receive()
    assert holds(bench, jar) == [HoldReason.INCOMING_TEST]
