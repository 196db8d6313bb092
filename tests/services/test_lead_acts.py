"""Acts of leads and engineers at the station: proved by badge and PIN, written in one piece, or not at all."""

from collections.abc import Callable, Sequence
from datetime import date, timedelta

import pytest

from station.care import facts as f
from station.care.correction import Correction
from station.care.facts import Fact
from station.care.figures import Figures
from station.care.late import Late
from station.care.refused import Refused
from station.care.words import Card, Word
from station.services import lead_acts
from station.services.memory import MemoryJournal
from station.services.outcome import Outcome, Refusal
from station.services.ports import Draft, JournalTrouble
from station.services.station import Proof
from tests.care.bench import LEAD, Bench
from tests.care.leading import ENGINEER_PROOF, PROOF, newer
from tests.services.test_station import NoPaper, named

Act = Callable[[Bench, Proof], Outcome]
JAR = "K7-001"


def late(bench: Bench, proof: Proof) -> Outcome:
    jar = bench.cold()
    return lead_acts.take_out_late(bench.station, Late(jar, bench.clock.wall, bench.clock.wall, "seen"), proof)


def releasing(bench: Bench, proof: Proof) -> Outcome:
    lot = bench.station.ledger.lots.get("SN-4/101")
    hold = lot.holds[0].key if lot is not None else ""
    return lead_acts.release_lot(bench.station, "SN-4/101", hold, "judged good", proof)


FIGURES = Figures("JAR-500", timedelta(minutes=50), timedelta(minutes=5), ("run.csv",), "bench")
ACTS: dict[str, tuple[Act, str]] = {
    "lot-held": (lambda bench, proof: lead_acts.hold_lot(bench.station, "SN-4", "101", "recall", proof), "lot-held"),
    "lot-released": (releasing, "lot-released"),
    "lot-recertified": (
        lambda bench, proof: lead_acts.recertify_lot(
            bench.station, "SN-4", "101", date(2027, 6, 30), "letter 7", (proof, ENGINEER_PROOF)
        ),
        "lot-recertified",
    ),
    "taken-out-late": (late, "taken-out"),
    "corrected": (
        lambda bench, proof: lead_acts.correct_receipt(bench.station, Correction(JAR, "misread", lot="102"), proof),
        "receipt-corrected",
    ),
    "undone": (
        lambda bench, proof: lead_acts.take_back(bench.station, ("container", JAR), "a slip", proof),
        "undone",
    ),
    "version-chosen": (
        lambda bench, proof: lead_acts.choose_version(bench.station, JAR, 1, "letter 9", proof),
        "specification-applied",
    ),
}


def prepared(act: str) -> Bench:
    """A jar in use, on a newer version than the one it was opened under; its lot on hold where that is released."""
    bench = Bench()
    bench.on_line()
    newer(bench, room_life=timedelta(days=5))
    if act == "lot-released":
        lead_acts.hold_lot(bench.station, "SN-4", "101", "recall", PROOF)
    return bench


@pytest.mark.parametrize("act", ACTS)
def test_a_proved_shift_lead_gets_the_verdict_and_stands_in_the_record(act: str) -> None:
    do, fact = ACTS[act]
    outcome = do(prepared(act), PROOF)
    assert outcome.verdict is not None
    assert (outcome.verdict.word, outcome.verdict.code) == (Word.DONE, act)
    assert (fact, LEAD) in [(told.body.NAME, told.who) for told in outcome.facts]


@pytest.mark.parametrize("act", ACTS)
@pytest.mark.parametrize(
    ("badge", "pin", "code"),
    [
        ("P20", "2021", "pin-wrong"),
        ("P12", "2020", "needs-role"),
        ("P30", "3030", "needs-role"),
        ("P99", "1", "badge-unknown"),
    ],
)
def test_nobody_else_decides_and_nothing_of_the_act_is_recorded(act: str, badge: str, pin: str, code: str) -> None:
    bench = prepared(act)
    do, fact = ACTS[act]
    before = named(bench).count(fact)
    with pytest.raises(Refusal) as refused:
        do(bench, Proof(badge, pin))
    assert refused.value.code == code
    assert named(bench).count(fact) == before


@pytest.mark.parametrize(
    ("second", "code"),
    [(Proof("P30", "3031"), "pin-wrong"), (Proof("P20", "2020"), "needs-role"), (Proof("P99", ""), "badge-unknown")],
)
def test_a_new_expiry_is_not_recorded_unless_the_engineer_is_proved_too(second: Proof, code: str) -> None:
    bench = Bench()
    before = named(bench)
    with pytest.raises(Refusal) as refused:
        lead_acts.recertify_lot(bench.station, "SN-4", "101", date(2027, 6, 30), "letter", (PROOF, second))
    assert refused.value.code == code
    assert [name for name in named(bench) if name != "pin-refused"] == before


def test_a_new_expiry_names_both_people_and_the_document() -> None:
    bench = Bench()
    outcome = ACTS["lot-recertified"][0](bench, PROOF)
    (fact,) = outcome.facts
    assert (fact.who, fact.body.second, fact.body.document) == (LEAD, "P30", "letter 7")  # type: ignore[union-attr]
    assert outcome.verdict is not None
    assert outcome.verdict.why == ("Lot 101 of SN-4 may be used until Wed 30 Jun 2027 23:59 by its shelf life.")


@pytest.mark.parametrize("act", ["lot-held", "lot-released", "taken-out-late", "corrected", "version-chosen"])
def test_what_the_rules_refuse_leaves_no_trace_though_the_pin_was_right(act: str) -> None:
    bench = prepared("")
    before = named(bench)
    refused: dict[str, Callable[[], Outcome]] = {
        "lot-held": lambda: lead_acts.hold_lot(bench.station, "SN-4", "101", " ", PROOF),
        "lot-released": lambda: lead_acts.release_lot(bench.station, "SN-4/101", "", "good", PROOF),
        "taken-out-late": lambda: lead_acts.take_out_late(
            bench.station, Late(JAR, bench.clock.wall, bench.clock.wall, "seen"), PROOF
        ),
        "corrected": lambda: lead_acts.correct_receipt(bench.station, Correction(JAR, "misread"), PROOF),
        "version-chosen": lambda: lead_acts.choose_version(bench.station, JAR, 9, "letter", PROOF),
    }
    with pytest.raises(Refused):
        refused[act]()
    assert named(bench) == before


def test_only_an_engineer_accepts_figures() -> None:
    bench = Bench()
    with pytest.raises(Refusal, match="process engineer"):
        lead_acts.accept_figures(bench.station, FIGURES, PROOF)
    outcome = lead_acts.accept_figures(bench.station, FIGURES, ENGINEER_PROOF)
    assert outcome.verdict is not None
    assert (outcome.verdict.code, outcome.facts[0].body.NAME) == ("figures-accepted", "figures-accepted")


def test_the_hold_of_a_lot_sounds_at_its_beads_in_the_same_act() -> None:
    bench = prepared("")
    bench.order("WO7", "CTRL", "LINE1")
    bench.tag_card("1", Card.CARRY_OVER, "LINE1")
    outcome = lead_acts.hold_lot(bench.station, "SN-4", " 101 ", "recall", PROOF)
    assert [fact.body.NAME for fact in outcome.facts] == ["lot-held", "alarm-raised"]
    assert outcome.verdict is not None
    assert outcome.verdict.headline == "LOT 101 OF SN-4 ON HOLD"
    assert outcome.verdict.why == (
        "1 container of it is here. Stop there and take it off: line 1. Work orders built with it: WO7."
    )


def test_a_late_take_out_is_on_record_though_its_label_did_not_print() -> None:
    bench = Bench()
    bench.station.target = NoPaper()
    outcome = late(bench, PROOF)
    assert [fact.body.NAME for fact in outcome.facts] == ["taken-out", "label-asked", "label-failed"]
    assert outcome.trouble == ("The label printer has no paper for SN-4. Copy the three times by hand; the clocks run.")
    assert bench.container(JAR).has_been_out


class FullDisk(MemoryJournal):
    """A journal whose disk has no room any more from the first label of a take-out on."""

    full = False

    def append(self, drafts: Sequence[Draft]) -> tuple[Fact, ...]:
        """Store them while there is room."""
        self.full = self.full or any(isinstance(draft.body, f.TakenOut) for draft in drafts)
        if self.full and not any(isinstance(draft.body, f.TakenOut) for draft in drafts):
            raise JournalTrouble("full", "The disk is full. Make room.")
        return super().append(drafts)


def test_a_disk_that_fails_after_the_decision_says_so_and_the_decision_stands() -> None:
    bench = Bench(journal=FullDisk())
    outcome = late(bench, PROOF)
    assert outcome.trouble == "The disk is full. Make room."
    assert [fact.body.NAME for fact in outcome.facts] == ["taken-out"]
    assert bench.container(JAR).has_been_out


def test_what_fell_due_before_the_decision_is_noticed_first() -> None:
    bench = Bench()
    bench.on_line()
    bench.clock.go_on(timedelta(hours=9))
    lead_acts.hold_lot(bench.station, "SN-4", "101", "recall", PROOF)
    order = [name for name in named(bench) if name in ("alarm-raised", "lot-held")]
    assert order == ["alarm-raised", "lot-held", "alarm-raised"]


def test_taken_back_names_the_act_and_the_line() -> None:
    bench = prepared("")
    bench.tag_card("1", Card.REMOVE, "LINE1")
    verdict = lead_acts.take_back(bench.station, ("position", "1"), "a slip", PROOF).verdict
    assert verdict is not None
    assert verdict.why == "The act 'removed' of line 1 is taken back; the record keeps both."
