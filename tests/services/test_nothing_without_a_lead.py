"""No act of a shift lead or a process engineer goes without badge and PIN: by service, by form, by scan, by command.

Every function of the services that takes a proof stands in the table; one that is added has to be put there.
"""

import importlib
import inspect
import pkgutil
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import Any, get_args

import pytest

import station.cli
import station.services
from station.care import facts as f
from station.care.alarms import Clearing
from station.care.answers import plain
from station.care.cold_readings_back import TakeBack
from station.care.cold_readings_rules import Mistake
from station.care.correction import Correction
from station.care.counting_differences import Settled
from station.care.delivery_correction import DeliveryCorrection
from station.care.extension import Extending
from station.care.figures import Figures
from station.care.late import Late
from station.care.paste_lists import ListTold
from station.care.proofs import PROVED, needs_proof
from station.care.scans import CardScan, ContainerScan, PlaceScan, Scan, TagScan
from station.care.shelving import Shelving
from station.care.stores import WholeStore
from station.care.verdict import Decision
from station.care.words import Card, Disposition, HoldReason, Limit, Role, Settling, Word
from station.labels.sheet_codes import SheetCode
from station.services import (
    alarm_words,
    attachments,
    badges,
    clearing,
    cold_readings,
    counting,
    delivery,
    given_out,
    lead_acts,
    people_acts,
    single_codes,
    specifications,
    stock,
)
from station.services.outcome import Refusal
from station.services.people_acts import PersonWord, record_person
from station.services.station import Proof, Station
from tests.care.bench import EXPIRES, LEAD, LEAD_PIN, Bench, berlin
from tests.care.leading import ENGINEER, ENGINEER_PROOF, OPERATOR, PROOF
from tests.care.test_alarm_floods import late_to_cold

AT = berlin("2026-11-09T06:00")
HOUR = timedelta(hours=1)
JAR = "K7-001"
CLEARING = Clearing("x", Disposition.DISCARDED, "why")
SETTLED = Settled("K7-C001", JAR, Settling.LOOKED_INTO, "why")
ROBIN = PersonWord("P41", "Robin Oak", (Role.OPERATOR,))
CODE = SheetCode("badge", "Badge", "Robin", "P1P12..X", "Signs in.")
Act = Callable[[Station, Proof], object]
LEADS: dict[str, Act] = {
    "attachments.clear_alarm": lambda s, p: attachments.clear_alarm(s, CLEARING, p, ()),
    "clearing.clear_together": lambda s, p: clearing.clear_together(s, ["x"], CLEARING, p),
    "clearing.shelve": lambda s, p: clearing.shelve(s, Shelving("x", HOUR, "why"), p),
    "clearing.unshelve": lambda s, p: clearing.unshelve(s, "x", p),
    "cold_readings.give_minutes_back": lambda s, p: cold_readings.give_minutes_back(s, JAR, "why", p),
    "cold_readings.see_excursions": lambda s, p: cold_readings.see_excursions(s, "FRIDGE", (), "why", p),
    "cold_readings.take_back_readings": lambda s, p: cold_readings.take_back_readings(
        s, TakeBack("FRIDGE", "x", next(iter(Mistake)), "why"), p
    ),
    "counting.settle_difference": lambda s, p: counting.settle_difference(s, SETTLED, p),
    "delivery.put_delivery_right": lambda s, p: delivery.put_delivery_right(s, DeliveryCorrection("D", "why"), p),
    "lead_acts.choose_version": lambda s, p: lead_acts.choose_version(s, JAR, 1, "why", p),
    "lead_acts.correct_receipt": lambda s, p: lead_acts.correct_receipt(s, Correction(JAR, "why"), p),
    "lead_acts.hold_lot": lambda s, p: lead_acts.hold_lot(s, "SN-4", "101", "why", p),
    "lead_acts.recertify_lot": lambda s, p: lead_acts.recertify_lot(s, "SN-4", "101", EXPIRES, "x", (p, p)),
    "lead_acts.release_counted": lambda s, p: lead_acts.release_counted(s, (JAR,), "why", p),
    "lead_acts.release_lot": lambda s, p: lead_acts.release_lot(s, "SN-4/101", "x", "why", p),
    "lead_acts.take_back": lambda s, p: lead_acts.take_back(s, ("container", JAR), "why", p),
    "lead_acts.take_out_late": lambda s, p: lead_acts.take_out_late(s, Late(JAR, AT, AT, "why"), p),
    "stock.move_store": lambda s, p: stock.move_store(s, WholeStore("FRIDGE", AT, "why", "COOL"), p),
    "stock.store_out_since": lambda s, p: stock.store_out_since(s, WholeStore("FRIDGE", AT, "why"), p),
    "Station.clear": lambda s, p: s.clear(CLEARING, p.badge, p.pin),
    "Station.confirm_clock": lambda s, p: s.confirm_clock(p.badge, p.pin),
    "Station.extend": lambda s, p: s.extend(Extending(JAR, Limit.OPEN, HOUR, "C 1"), p.badge, p.pin),
    "Station.release": lambda s, p: s.release(JAR, "x", "why", p.badge, p.pin),
}
ENGINEERS: dict[str, Act] = {
    "alarm_words.change_reaction": lambda s, p: alarm_words.change_reaction(s, Limit.OPEN, "x", p, at_line=True),
    "lead_acts.accept_figures": lambda s, p: lead_acts.accept_figures(s, Figures("JAR-500", HOUR, HOUR, (), "x"), p),
    "specifications.approve_draft": lambda s, p: specifications.approve_draft(s, "x", p),
    "specifications.set_paste_list": lambda s, p: specifications.set_paste_list(s, ListTold("POWER", ()), p),
    "specifications.withdraw_draft": lambda s, p: specifications.withdraw_draft(s, "x", "why", p),
    "specifications.write_drafts": lambda s, p: specifications.write_drafts(s, (), p),
}
EITHER: dict[str, Act] = {
    "badges.record_badges": lambda s, p: badges.record_badges(s, ("P12",), p),
    "given_out.ask_export": lambda s, p: given_out.ask_export(s, None, None, "out", p),
    "people_acts.record_person": lambda s, p: people_acts.record_person(s, ROBIN, p),
    "single_codes.print_badge": lambda s, p: single_codes.print_badge(s, CODE, "P12", p, s.place),
}
# of one's own: whoever knows the old PIN
OWN: dict[str, Act] = {"people_acts.change_pin": lambda s, p: people_acts.change_pin(s, p, "7391")}
ACTS = {**LEADS, **ENGINEERS, **EITHER, **OWN}
# how the others ask: they decide nothing themselves
ASKING = {"badges.lead_or_engineer", "people.hashed", "Station.prove", "Station.decided"}
UNPROVED = {"pin-wrong", "needs-role", "badge-unknown"}
GONE = Proof("P21", "7391")


def _takes_proof(function: object) -> bool:
    told = inspect.signature(function).parameters.values()  # type: ignore[arg-type]
    return any("Proof" in str(one.annotation) or one.name == "pin" for one in told)


def found() -> set[str]:
    """Every public function of the services, and method of the station, that takes a proof."""
    names = {f"Station.{name}" for name, method in vars(Station).items() if inspect.isfunction(method)}
    known = {name for name in names if _takes_proof(getattr(Station, name.removeprefix("Station.")))}
    for module in pkgutil.iter_modules(station.services.__path__):
        loaded = importlib.import_module(f"station.services.{module.name}")
        own = [one for one in vars(loaded).values() if inspect.isfunction(one) and one.__module__ == loaded.__name__]
        known |= {f"{module.name}.{one.__name__}" for one in own if one.__name__[0] != "_" and _takes_proof(one)}
    return known


@pytest.fixture(scope="module")
def bench() -> Bench:
    """A jar, an open alarm, and a lead who left."""
    made = late_to_cold(1)
    gone = PersonWord(GONE.badge, "Gone Elder", (Role.LEAD,), pin=GONE.pin)
    record_person(made.station, gone, ENGINEER_PROOF)
    record_person(made.station, PersonWord(GONE.badge, "Gone Elder", (Role.LEAD,), left=True), ENGINEER_PROOF)
    return made


def written(bench: Bench) -> list[str]:
    """What was recorded, but for wrong PINs and the program's own."""
    own = (f.PinRefused, f.PinProved, f.AlarmRaised, f.Held)
    return [fact.body.NAME for fact in bench.journal.facts() if not isinstance(fact.body, own)]


def test_every_function_that_takes_a_proof_stands_in_the_table() -> None:
    assert found() == set(ACTS) | ASKING


@pytest.mark.parametrize("name", sorted(ACTS))
def test_no_act_goes_without_the_badge_and_pin_of_who_may(bench: Bench, name: str) -> None:
    wrong = [Proof(LEAD, "0000"), Proof(OPERATOR, LEAD_PIN), Proof(OPERATOR, ""), Proof("P99", LEAD_PIN), GONE]
    wrong += [PROOF] if name in ENGINEERS else []
    wrong += [ENGINEER_PROOF] if name in LEADS and name != "lead_acts.release_lot" else []
    before = written(bench)
    for proof in wrong:
        bench.later(20)  # a badge that was tried too often is looked at again
        with pytest.raises(Refusal) as refused:
            ACTS[name](bench.station, proof)
        assert refused.value.code in UNPROVED
    assert written(bench) == before


# ---------------------------------------------------------------------- whatever leads there


# what happens, what a scan tells, what anybody may say; a released lot's and an ended container's word is in the others
ANYBODYS: set[type] = {
    *(f.Received, f.Delivered, f.PutAway, f.TakenOut, f.ThawBegun, f.Transferred, f.MoveBegun, f.BinChanged),
    *(f.LabelAsked, f.LabelSent, f.LabelFailed, f.LabelUnknown, f.LabelConfirmed, f.LabelsPaired),
    *(f.LabelsSwapped, f.Sighted, f.ScanRefused, f.ReturnRefused, f.Opened, f.Inspected, f.Loaded, f.Mounted),
    *(f.Dismounted, f.PositionSetUp, f.CarriedOver, f.Removed, f.Cleaned, f.Paused, f.Resumed, f.SameBead),
    *(f.Ended, f.Held, f.Undone, f.Mixed, f.Decanted, f.UsedPasteKept, f.AlarmRaised, f.AlarmAcknowledged),
    *(f.RoomRead, f.ScannerSetUp, f.NumbersReserved, f.Attached, f.RecordAsked, f.PinRefused, f.PinProved),
    *(f.CountBegun, f.Counted, f.CountEnded, f.DifferenceSettled, f.StockImported, f.ReadingsImported),
    *(
        f.StoreRead,
        f.ExcursionFound,
        f.ExcursionConfirmed,
        f.WarmCharged,
        f.ClockStepped,
        f.ClockCompared,
        f.StationStarted,
    ),
    f.StationStopped,
}


def test_of_every_fact_it_is_said_whose_word_it_is() -> None:
    """A new fact goes into `care.proofs.PROVED`, or here among what anybody may say."""
    assert set(PROVED) | ANYBODYS == set(get_args(f.Body))
    assert set(PROVED) & ANYBODYS == set()


def unproved(kind: Any) -> f.Body:
    """A fact of a kind; what else is in it does not matter."""
    if kind is f.LotHeld:
        return f.LotHeld("SN-4/101", "recall")
    body: f.Body = kind.__new__(kind)
    return body


@pytest.mark.parametrize("kind", PROVED, ids=lambda kind: str(kind.NAME))
def test_the_station_writes_no_leads_word_for_a_form_or_a_scan(
    bench: Bench, kind: type, monkeypatch: pytest.MonkeyPatch
) -> None:
    decision = Decision(plain(Word.DONE, "x", "X", "", ""), (unproved(kind),))
    before = written(bench)
    with pytest.raises(Refusal, match="Badge and PIN"):
        bench.station.said(lambda _floor: decision, "DESK")
    monkeypatch.setattr("station.services.station.decide", lambda *_told: decision)
    with pytest.raises(Refusal, match="Badge and PIN"):
        bench.card(Card.LOOK, "DESK")
    assert written(bench) == before


def test_a_lot_that_awaits_its_test_is_held_by_its_arrival() -> None:
    assert not needs_proof(f.LotHeld("SN-4/101", "", HoldReason.INCOMING_TEST))


@pytest.mark.parametrize("badge", [None, OPERATOR, LEAD, ENGINEER])
def test_no_scan_says_a_leads_word_whoever_stays_badged_in(badge: str | None) -> None:
    bench = Bench()
    jars = [bench.on_line(), bench.ready(), bench.cold()]
    lead_acts.hold_lot(bench.station, "SN-4", "101", "recall", PROOF)
    told = len(tuple(bench.journal.facts()))
    for place in ("FRIDGE", "LINE1", "DESK"):
        if badge is not None:
            bench.badge(badge, place)
        bench.later(3)
        for card in Card:
            before: tuple[Scan, ...] = (*map(ContainerScan, jars), TagScan("1"), PlaceScan(place))
            for scan in before:
                bench.outcome(scan, place)
                bench.outcome(CardScan(card), place)
    new = [fact.body for fact in tuple(bench.journal.facts())[told:]]
    assert new
    assert [body for body in new if needs_proof(body)] == []
    assert not any(isinstance(body, f.Held) and body.reason is HoldReason.PERSON for body in new)


def test_the_commands_that_write_are_those_whose_proof_is_tested() -> None:
    """`sheet` and `specs import` ask for the PIN, in their tests; the others take in what anybody may tell."""
    folder = Path(station.cli.__file__).parent
    writing = {path.stem for path in folder.glob("*.py") if "Journal.open(" in path.read_text(encoding="utf-8")}
    assert writing == {"sheet", "specs_import", "import_stock", "import_readings"}


def came_to(act: Act, station_: Station, proof: Proof) -> str:
    """What an act came to: "done", the code of a refusal, or the name of what the rules refused it with."""
    try:
        act(station_, proof)
    except Refusal as refused:
        return refused.code
    except Exception as refused:  # each rule has its own word for what is not there
        return type(refused).__name__
    return "done"


def test_with_the_right_proof_an_act_comes_as_far_as_the_rules() -> None:
    bench = late_to_cold(1)
    told = {
        name: came_to(act, bench.station, ENGINEER_PROOF if name in ENGINEERS else PROOF)
        for name, act in ACTS.items()
        if name not in OWN
    }
    assert told.pop("lead_acts.recertify_lot") == "needs-role"  # the second person is the same lead
    assert [name for name, came in told.items() if came in UNPROVED] == []
    assert {"done", "no-hold", "ClearingRefused"} <= set(told.values())
