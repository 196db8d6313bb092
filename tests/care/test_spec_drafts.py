"""Drafts of specifications: who writes them, what is refused, when they hold, and what approval does at once.

Figures on plant T are common practice, no source. A jar taken out on Sunday at 12:11 and opened at 15:11 has open life
until Monday 15:11 (24 h) and a bead until 23:11 (8 h).
"""

from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest

from station.care import facts as f
from station.care.rulebook import OpenDraft
from station.care.spec_drafts import (
    DraftTold,
    SpecificationRefused,
    approval_hint,
    approve_draft,
    draft_fault,
    may_approve,
    next_version,
    withdraw_draft,
    write_drafts,
)
from station.care.specification import Conditioning, FigureSource
from station.care.words import Alloy, Limit, Word
from station.services import specifications as acts
from station.services.outcome import Refusal
from station.services.station import Proof
from tests.care.bench import LEAD, Bench, berlin, site_t, with_limits, with_room_paste, with_rules
from tests.care.engineering import (
    SECOND_PROOF,
    SHEET,
    approved,
    content,
    drafted,
    new_paste,
    second_engineer,
    told,
)
from tests.care.leading import ENGINEER, ENGINEER_PROOF, PROOF

HOUR, DAY = timedelta(hours=1), timedelta(days=1)


def said(bench: Bench) -> list[str]:
    """The names of all facts on record."""
    return [fact.body.NAME for fact in bench.journal.facts()]


# ---------------------------------------------------------------------- writing


def test_a_draft_is_on_record_and_nothing_goes_by_it() -> None:
    bench = Bench()
    jar = bench.on_line()
    outcome = acts.write_drafts(
        bench.station, [told(bench, stencil_life=4 * HOUR, explanation="letter of 3 November")], ENGINEER_PROOF
    )
    assert outcome.verdict is not None
    assert (outcome.verdict.word, outcome.verdict.headline) == (Word.DONE, "DRAFT WRITTEN")
    assert "SN-4 version 2" in outcome.verdict.why
    (draft,) = bench.station.ledger.rulebook.drafts
    assert (draft.writer, draft.specification.version, draft.specification.approved_by) == (ENGINEER, 2, None)
    assert draft.explanation == "letter of 3 November"
    assert bench.limits().stencil_life == 8 * HOUR
    bench.restart().at("2026-11-08T22:00")
    assert bench.scan(jar, "LINE1").word is Word.USE
    assert bench.station.ledger.rulebook.drafts == (draft,)


@pytest.mark.parametrize("proof", [PROOF, replace(ENGINEER_PROOF, pin="9999")])
def test_only_an_engineer_with_the_right_pin_writes_or_approves(proof: Proof) -> None:
    bench = Bench()
    draft = drafted(bench, open_life=20 * HOUR)
    before = len(said(bench))
    with pytest.raises(Refusal):
        acts.write_drafts(bench.station, [told(bench, open_life=20 * HOUR)], proof)
    with pytest.raises(Refusal):
        acts.approve_draft(bench.station, draft.key, proof)
    with pytest.raises(Refusal):
        acts.withdraw_draft(bench.station, draft.key, "wrong", proof)
    assert set(said(bench)[before:]) <= {"pin-refused"}
    assert bench.limits().version == 1


def test_the_rules_themselves_let_no_shift_lead_write_approve_or_withdraw() -> None:
    bench = Bench()
    draft = drafted(bench, open_life=20 * HOUR)
    with pytest.raises(SpecificationRefused, match="process engineer"):
        write_drafts(bench.floor, (told(bench, open_life=10 * HOUR),), "", LEAD)
    with pytest.raises(SpecificationRefused, match="process engineer"):
        approve_draft(bench.floor, draft.key, LEAD)
    with pytest.raises(SpecificationRefused, match="process engineer"):
        withdraw_draft(bench.floor, draft.key, "no", LEAD)


def test_several_drafts_are_written_all_or_none() -> None:
    bench = Bench()
    good, bad = told(bench, open_life=20 * HOUR), told(bench, "PB-1", pause_knead=2 * HOUR)
    with pytest.raises(SpecificationRefused, match=r"PB-1: The pause before kneading is longer"):
        acts.write_drafts(bench.station, [good, bad], ENGINEER_PROOF)
    assert bench.station.ledger.rulebook.drafts == ()
    with pytest.raises(SpecificationRefused, match="SN-4 stands in it twice"):
        acts.write_drafts(bench.station, [good, good], ENGINEER_PROOF)
    with pytest.raises(SpecificationRefused, match="no draft"):
        acts.write_drafts(bench.station, [], ENGINEER_PROOF)
    both = [good, told(bench, "PB-1", open_life=20 * HOUR)]
    outcome = acts.write_drafts(bench.station, both, ENGINEER_PROOF, "pastes.toml")
    assert outcome.verdict is not None
    assert outcome.verdict.headline == "2 DRAFTS WRITTEN"
    drafts: tuple[OpenDraft, ...] = bench.station.ledger.rulebook.drafts
    assert [draft.source for draft in drafts] == ["pastes.toml", "pastes.toml"]


def test_two_new_pastes_of_one_number_do_not_go_together() -> None:
    bench = Bench()
    pastes = [new_paste(), new_paste(name="SN-10")]
    drafts = [DraftTold(content(bench, paste=paste.id), paste) for paste in pastes]
    with pytest.raises(SpecificationRefused, match="Number 77 stands in it twice"):
        acts.write_drafts(bench.station, drafts, ENGINEER_PROOF)


FAULTS: tuple[tuple[dict[str, Any], str], ...] = (
    ({"paste": "XX-1"}, "There is no paste XX-1 here"),
    ({"conditioning": ()}, "bought in no kind of container"),
    ({"conditioning": (Conditioning("CAN-5", HOUR),)}, "There is no container kind CAN-5. Use one of JAR-500"),
    ({"sources": (FigureSource("shelf", "letter", "1"),)}, "A source is given for shelf, which is no figure"),
    ({"open_life": 200 * HOUR, "open_extension": 56 * HOUR}, "more than the 255 h a label can carry"),
    ({"pause_knead": 2 * HOUR}, "longer than the one before replacing"),
    ({"floor_c": 24.0}, "The site's room air of 23 °C is colder than 24 °C"),
    ({"conditioning": (Conditioning("JAR-500", 7 * DAY),)}, "Room life is over before JAR-500 is ready"),
    (
        {"conditioning": (Conditioning("JAR-500", 69 * HOUR),)},
        "JAR-500 would take 69 h to be ready; a label can carry 68 h 15 min. Shorten its conditioning.",
    ),
    (SHEET, "These are the figures in force for SN-4"),
)


@pytest.mark.parametrize(("figures", "sentence"), FAULTS)
def test_a_draft_that_does_not_fit_is_refused_with_what_to_mend(figures: dict[str, Any], sentence: str) -> None:
    bench = Bench(with_limits(site_t(), "SN-4", **SHEET))
    assert sentence in draft_fault(bench.floor, DraftTold(content(bench, **figures)))


def test_what_warms_for_longer_than_a_label_can_carry_needs_a_lower_temperature_or_a_warmer_room() -> None:
    site = with_limits(site_t(), "SN-4", **SHEET)
    slow = {name: replace(kind, time_constant=15 * HOUR) for name, kind in site.plant.kinds.items()}
    bench = Bench(replace(site, plant=replace(site.plant, kinds=slow)))
    said = draft_fault(bench.floor, DraftTold(content(bench, floor_c=22.9)))
    assert "a label can carry 68 h 15 min. Lower the lowest temperature for use, or warm the room." in said


def test_no_figure_is_too_tight_and_its_prompt_comes_at_its_half() -> None:
    bench = Bench()
    jar = bench.on_line()
    approved(bench, stencil_life=timedelta(minutes=25), pause_knead=timedelta(minutes=5), to_cold=timedelta(minutes=10))
    assert bench.limits().near_for(Limit.STENCIL).before_end(timedelta(minutes=25)) == timedelta(minutes=12)
    assert bench.limits().near_for(Limit.PAUSE).before_end(timedelta(minutes=5)) == timedelta(minutes=2)
    assert bench.later(26).scan(jar, "LINE1").code == "bead-past"
    # a jar that came late in its own time is prompted as soon as ever
    assert bench.limits().near_for(Limit.ROOM).before_end(timedelta(minutes=10)) == timedelta(minutes=30)


def test_a_small_change_is_no_fault_and_neither_is_another_source_alone() -> None:
    bench = Bench()
    assert draft_fault(bench.floor, told(bench, open_life=23 * HOUR)) == ""
    assert draft_fault(bench.floor, told(bench)) == ""
    source = FigureSource("conditioning.JAR-500", "letter 4", "1", "measured by the supplier")
    assert draft_fault(bench.floor, told(bench, sources=(source,))) == ""
    assert "over 300 characters" in draft_fault(bench.floor, told(bench, open_life=HOUR * 23, explanation="x" * 301))


def test_a_draft_replaces_another_which_is_not_open_any_more() -> None:
    bench = Bench()
    first = drafted(bench, open_life=20 * HOUR)
    anew = replace(told(bench, open_life=22 * HOUR), replaces=first.key)
    acts.write_drafts(bench.station, [anew], ENGINEER_PROOF)
    (second,) = bench.station.ledger.rulebook.drafts
    assert second.specification.open_life == 22 * HOUR
    assert "not open any more" in draft_fault(bench.floor, anew)
    with pytest.raises(SpecificationRefused, match="not open any more"):
        acts.approve_draft(bench.station, first.key, ENGINEER_PROOF)


# ---------------------------------------------------------------------- approval


def test_an_approved_draft_tightens_what_is_in_use_at_once_and_survives_a_restart() -> None:
    bench = Bench()
    bench.on_line()
    outcome = approved(bench, stencil_life=6 * HOUR, open_life=20 * HOUR)
    assert outcome.verdict is not None
    assert outcome.verdict.headline == "SN-4 VERSION 2 IN FORCE"
    assert outcome.verdict.why == "It tightens 1 container and 1 bead at once."
    assert "REPRINT" in outcome.verdict.todo
    for _ in range(2):
        bead = bench.position("1").bead
        assert bead is not None
        assert bead.stencil_end == berlin("2026-11-08T21:11")
        assert (bench.limits().version, bench.limits().approved_by) == (2, ENGINEER)
        bench.restart()
    assert said(bench).count("specification-set") == len(site_t().specifications) + 1


def test_two_jars_and_two_beads_are_counted_and_a_looser_version_moves_nothing() -> None:
    bench = Bench()
    bench.on_line()
    bench.on_line("LINE2")
    outcome = approved(bench, stencil_life=6 * HOUR, open_life=20 * HOUR)
    assert outcome.verdict is not None
    assert outcome.verdict.why == "It tightens 2 containers and 2 beads at once."
    looser = approved(bench, stencil_life=10 * HOUR, open_life=30 * HOUR)
    assert looser.verdict is not None
    assert (looser.verdict.why, looser.verdict.todo) == ("No time of paste in use moves by it.", "Go on.")


def test_what_is_over_by_the_approved_version_is_stopped_and_alarmed() -> None:
    bench = Bench()
    jar = bench.on_line()
    bench.at("2026-11-08T20:00")
    approved(bench, stencil_life=4 * HOUR)
    (alarm,) = bench.station.ledger.alarms.values()
    assert (alarm.limit, alarm.since) == (Limit.STENCIL, berlin("2026-11-08T19:11"))
    assert bench.later(1).scan(jar, "LINE1").code == "bead-past"


def test_a_figure_needs_its_data_sheet_before_it_is_approved() -> None:
    bench = Bench()
    draft = drafted(bench, open_life=20 * HOUR, data_sheet="", page="")
    with pytest.raises(SpecificationRefused, match="data sheet edition and page are missing"):
        acts.approve_draft(bench.station, draft.key, ENGINEER_PROOF)
    assert bench.limits().version == 1


def test_a_draft_is_outdated_once_another_one_was_approved() -> None:
    bench = Bench()
    first, second = drafted(bench, open_life=20 * HOUR), drafted(bench, open_life=30 * HOUR)
    assert (first.specification.version, second.specification.version) == (2, 2)
    acts.approve_draft(bench.station, first.key, ENGINEER_PROOF)
    with pytest.raises(SpecificationRefused, match=r"Version 2 of SN-4 came into force since"):
        acts.approve_draft(bench.station, second.key, ENGINEER_PROOF)
    assert bench.limits().open_life == 20 * HOUR
    assert next_version(bench.floor, "SN-4") == 3


def test_with_two_people_the_writer_can_not_approve_and_another_engineer_can() -> None:
    bench = second_engineer(Bench(with_rules(site_t(), two_person=True)))
    outcome = acts.write_drafts(bench.station, [told(bench, open_life=20 * HOUR)], ENGINEER_PROOF)
    assert outcome.verdict is not None
    assert "Another process engineer approves it" in outcome.verdict.todo
    (draft,) = bench.station.ledger.rulebook.drafts
    assert approval_hint(bench.floor, draft) == "A process engineer other than Alex Linden (P30) approves it."
    with pytest.raises(SpecificationRefused, match="You wrote this draft"):
        acts.approve_draft(bench.station, draft.key, ENGINEER_PROOF)
    acts.approve_draft(bench.station, draft.key, SECOND_PROOF)
    assert (bench.limits().version, bench.limits().approved_by) == (2, "P31")


def test_without_that_rule_the_writer_approves_too() -> None:
    bench = Bench()
    draft = drafted(bench, open_life=20 * HOUR)
    assert (approval_hint(bench.floor, draft), may_approve(bench.floor, draft, ENGINEER)) == ("", "")
    assert "Only a process engineer" in may_approve(bench.floor, draft, LEAD)


def test_a_withdrawn_draft_can_not_be_approved() -> None:
    bench = Bench()
    draft = drafted(bench, open_life=20 * HOUR)
    with pytest.raises(SpecificationRefused, match="Say in a few words why"):
        acts.withdraw_draft(bench.station, draft.key, " ", ENGINEER_PROOF)
    outcome = acts.withdraw_draft(bench.station, draft.key, "wrong sheet", ENGINEER_PROOF)
    assert outcome.verdict is not None
    assert outcome.verdict.code == "draft-withdrawn"
    assert bench.station.ledger.rulebook.drafts == ()
    with pytest.raises(SpecificationRefused, match="not open any more"):
        acts.approve_draft(bench.station, draft.key, ENGINEER_PROOF)


# ---------------------------------------------------------------------- a paste nobody knew


def brought_in(bench: Bench, **changed: Any) -> OpenDraft:
    """An engineer writes the first draft of SN-9."""
    paste = replace(new_paste(), **changed)
    acts.write_drafts(bench.station, [DraftTold(content(bench, paste=paste.id), paste)], ENGINEER_PROOF)
    return bench.station.ledger.rulebook.drafts[-1]


def test_a_new_paste_is_known_from_its_approval_on() -> None:
    bench = Bench()
    draft = brought_in(bench)
    assert (draft.specification.version, "SN-9" in bench.floor.plant.pastes) == (1, False)
    acts.approve_draft(bench.station, draft.key, ENGINEER_PROOF)
    bench.restart()
    assert bench.floor.plant.pastes["SN-9"] == new_paste()
    assert bench.site.plant.pastes.get("SN-9") is None
    jar = bench.on_line(paste="SN-9")
    assert bench.container(jar).paste == "SN-9"
    found = bench.floor.plant.paste_numbered(77)
    assert found is not None
    assert found.id == "SN-9"


NEW_FAULTS: tuple[tuple[dict[str, Any], str], ...] = (
    ({"id": "SN-4"}, "A new paste can't be called SN-4"),
    ({"id": "sn 9"}, "A new paste can't be called sn 9"),
    ({"number": 4}, "The number 4 is that of SN-4"),
    ({"number": 1024}, "The number 1024 does not fit a label code"),
)


@pytest.mark.parametrize(("changed", "sentence"), NEW_FAULTS)
def test_a_new_paste_needs_an_id_and_a_number_of_its_own(changed: dict[str, object], sentence: str) -> None:
    bench = Bench()
    with pytest.raises(SpecificationRefused, match=sentence):
        brought_in(bench, **changed)


def test_a_new_paste_needs_a_bin_for_its_metal() -> None:
    site = site_t()
    stores = {
        name: replace(store, bins=tuple(bin_ for bin_ in store.bins if not bin_.leaded))
        for name, store in site.plant.stores.items()
    }
    bench = Bench(replace(site, plant=replace(site.plant, stores=stores)))
    with pytest.raises(SpecificationRefused, match=r"No cold store has a bin for leaded \(Pb\) paste"):
        brought_in(bench, alloy=Alloy.SN_PB)
    brought_in(bench)


def test_a_paste_of_the_shelf_waits_for_nothing() -> None:
    bench = Bench(with_room_paste(site_t()))
    assert draft_fault(bench.floor, told(bench, "BI-9", floor_c=24.0)) == ""


def test_the_facts_hold_the_whole_draft_and_its_digest() -> None:
    bench = Bench()
    approved(bench, open_life=20 * HOUR)
    (draft,) = (fact.body for fact in bench.journal.facts() if isinstance(fact.body, f.SpecificationDrafted))
    *_, put = (fact.body for fact in bench.journal.facts() if isinstance(fact.body, f.SpecificationSet))
    assert bench.station.ledger.fact(put.draft).body == draft  # type: ignore[union-attr]
    assert replace(put.specification, approved_by=None) == draft.specification
    assert put.digest != draft.digest
